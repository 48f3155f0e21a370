// For use on the site: prices, the walk and its signature, printing at true scale, reading in sun, at night and by ear.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ask, done, kept, kestrel, program, refusal, room, test, type } from "../harness.mjs";
import { LAPTOP, PHONE } from "../page.mjs";
import { contrasts, measured, printed, rulersOf, tight } from "../look.mjs";

const ROOMS = ["PLAN", "CUT", "LAY", "BUY", "CHECK"];
const SLOW = { timeout: 60_000 };
const reload = async (page) => {
  await page.waitForTimeout(300);
  await page.reload();
  await page.waitForSelector("nav button");
};
async function bought(page) {
  await page.waitForSelector(".bars", SLOW);
  await page.waitForFunction(() => !document.querySelector(".working"), null, SLOW);
}
const price = (page, key) => page.locator(`[data-price="${key}"]`);

await test("prices typed at the lines cost what the program says, and stay", PHONE, async (page) => {
  await room(page, "BUY");
  await bought(page);
  const lines = await page.evaluate(() => [...document.querySelectorAll("[data-line]")].map((one) => one.dataset.line));
  const priced = lines.filter((key) => !/^\d/.test(key)).slice(0, 3);
  for (const [at, key] of priced.entries()) await price(page, key).fill(`${at + 2}.5${at}`);
  await price(page, lines.find((key) => key.startsWith("2x6 "))).fill("9.48");
  await page.waitForSelector("[data-total]", SLOW);
  await bought(page);
  const all = () => page.evaluate(() => [...document.querySelectorAll("[data-line]")].map((one) => one.dataset.line));
  assert.deepEqual(await all(), lines, "one price takes no length out of the list");
  assert.ok(!(await page.textContent(".room")).includes("onger than every"), "and nothing is called too long");
  const text = await page.evaluate(() => localStorage.getItem("stepoff.prices"));
  const folder = mkdtempSync(join(tmpdir(), "stepoff-prices-"));
  const [roof, prices] = [join(folder, "roof.toml"), join(folder, "prices.toml")];
  writeFileSync(roof, kestrel);
  writeFileSync(prices, text);
  const own = JSON.parse(execFileSync(program, ["order", roof, "--prices", prices, "--format", "json", "--quiet"], { maxBuffer: 1 << 28 }));
  rmSync(folder, { recursive: true });
  assert.ok(own.total_cents > 0);
  assert.equal(await page.textContent("[data-total]"), (own.total_cents / 100).toFixed(2));
  const without = own.lines.filter((line) => line.each_cents === null).length;
  assert.match(await page.textContent(".sum"), new RegExp(`${without} lines without a price`));
  for (const trade of ask({ ask: "room", room: "buy", roof: kestrel, units: null, wide: 3, high: 2, prices: text }).ok.trades) {
    assert.equal(await page.textContent(`[data-trade="${trade.trade}"]`), trade.lines.some((line) => line.cost) ? `together ${trade.cost}` : "no prices yet");
  }
  await reload(page);
  await bought(page);
  assert.equal(await page.textContent("[data-total]"), (own.total_cents / 100).toFixed(2), "kept");
  await price(page, priced[0]).fill("ten");
  assert.match(await page.textContent(".goods .refused"), /"ten" is no price/i);
  assert.equal(await page.evaluate(() => localStorage.getItem("stepoff.prices")), text, "what is no price is not kept");
});

await test("a yard's prices file is taken in, and goes out as the program reads it", LAPTOP, async (page) => {
  await room(page, "BUY");
  await bought(page);
  const yard = { mimeType: "text/csv", name: "yard.csv", buffer: Buffer.from("key,length,price,code\n2x6,16',11.25,A1\n2x6,12',8.40,A2\nnails 16d common,,2.10,N1\n") };
  await page.setInputFiles("input[data-prices]", yard);
  await page.waitForSelector("[data-total]", SLOW);
  const [saved] = await Promise.all([page.waitForEvent("download"), page.click('button:has-text("Save prices")')]);
  const own = ask({ ask: "prices", name: "yard.csv", text: yard.buffer.toString() }).ok;
  assert.equal(readFileSync(await saved.path(), "utf8"), own);
  await page.setInputFiles("input[data-prices]", { ...yard, buffer: Buffer.from("key,cost\ngold,1\n") });
  await page.waitForSelector(".room .refused");
  for (const [words, to, name] of [["Order, CSV", "order-csv", "order.csv"], ["Order, XLSX", "order-xlsx", "order.xlsx"], ["Price list to fill in", "prices-csv", "prices.csv"]]) {
    const [file] = await Promise.all([page.waitForEvent("download", SLOW), page.click(`button:has-text("${words}")`)]);
    assert.equal(file.suggestedFilename(), name);
    const told = ask({ ask: "file", to, roof: kestrel, units: null, prices: own }).ok.base64;
    assert.ok(readFileSync(await file.path()).equals(Buffer.from(told, "base64")), to);
  }
});

await test("the order is shared, or copied, or saved", PHONE, async (page) => {
  await page.evaluate(() => { navigator.share = async (what) => { window.sent = what; }; });
  await room(page, "BUY");
  await bought(page);
  await page.click('button:text-is("Share the list")');
  await page.waitForFunction(() => window.sent);
  const sent = await page.evaluate(() => window.sent.text);
  const own = ask({ ask: "room", room: "buy", roof: kestrel, units: null, wide: 3, high: 2 }).ok;
  assert.equal(sent, own.text);
  for (const line of own.trades.flatMap((trade) => trade.lines)) assert.ok(sent.includes(`${line.count} ${line.unit} ${line.called}`), line.key);
  await page.evaluate(() => {
    navigator.share = undefined;
    Object.defineProperty(navigator, "clipboard", { value: { writeText: () => Promise.reject(new Error("no")) } });
  });
  const [file] = await Promise.all([page.waitForEvent("download"), page.click('button:text-is("Share the list")')]);
  assert.equal(readFileSync(await file.path(), "utf8"), own.text);
});

await test("the walk: one at a time, notes when wanted, signed, kept and printed", PHONE, async (page) => {
  await page.evaluate(() => { window.print = () => { window.printed = true; }; });
  await room(page, "CHECK");
  const inSight = (selector) => page.locator(selector).first().evaluate((one) => {
    const box = one.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    return one === top || one.contains(top);
  });
  assert.ok(await inSight('button:text-is("Walk the roof")'), "the walk begins at the top of the room");
  await page.click('button:text-is("Walk the roof")');
  await page.waitForTimeout(200);
  assert.equal(await page.locator(".walk .asked-of").count(), 1);
  assert.ok(await inSight(".walk .one .asked-of b"), "the first finding comes into sight");
  assert.equal(await page.locator('[data-walk="measured"]').count(), 1, "what is measured is asked");
  assert.equal(await page.locator('[data-walk="note"]').count(), 0, "a note is not");
  await page.click('.walk button:text-is("Meets")');
  await page.click('.walk button:text-is("Does not meet")');
  await page.click('.walk button:has-text("Add a note")');
  await page.fill('[data-walk="measured"]', "15-7/8 in");
  await page.fill('[data-walk="note"]', "north bay only");
  await page.fill('[data-sign="name"]', "屋根 Ünal");
  await page.fill('[data-sign="date"]', "29 November 2026");
  const pad = page.locator(".pad-of-hand");
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  await page.mouse.move(box.x + 30, box.y + 80);
  await page.mouse.down();
  for (let at = 0; at < 12; at++) await page.mouse.move(box.x + 30 + at * 20, box.y + 80 + (at % 2 ? 40 : -40));
  await page.mouse.up();
  await reload(page);
  assert.match(await page.textContent('.room details[open] [role="status"]'), /^2 of \d+ looked at, 1 not met/);
  assert.equal(await page.inputValue('[data-walk="measured"]'), "15-7/8 in", "the place is kept");
  assert.equal(await page.getAttribute('.walk button:text-is("Does not meet")', "aria-pressed"), "true", "and what was found");
  assert.equal(await page.inputValue('[data-sign="name"]'), "屋根 Ünal");
  const drawn = await page.getAttribute(".pad-of-hand path", "d");
  assert.ok(drawn.split("L").length > 10, drawn);
  await page.evaluate(() => { window.print = () => { window.printed = true; }; });
  await page.click('button:text-is("Print the walk")');
  await page.waitForFunction(() => window.printed);
  const printed = await page.textContent(".prints .walked");
  for (const words of ["What you found: does not meet", "15-7/8 in", "north bay only", "屋根 Ünal", "29 November 2026", "Kestrel Yard"]) assert.ok(printed.includes(words), words);
  assert.equal((printed.match(/☑/g) ?? []).length, 2);
  const rows = ask({ ask: "room", room: "check", roof: kestrel, units: null, wide: 3, high: 2 }).ok.walk.flatMap((stop) => stop.rows);
  assert.equal((printed.match(/[☑☐]/g) ?? []).length, rows.length);
  assert.equal(await page.getAttribute(".prints svg path", "d"), drawn);
  await page.emulateMedia({ media: "print" });
  assert.ok(await page.isVisible(".prints .walked") && !(await page.isVisible("nav")), "paper has the walk alone");
});

for (const [paper, wide, high] of [["Letter", 8.5, 11], ["A4", 210 / 25.4, 297 / 25.4]]) {
  await test(`sheets print at true scale on ${paper}`, PHONE, async (page) => {
    await page.evaluate(() => { window.print = () => { window.printed = true; }; });
    await room(page, "CUT");
    await page.click(`.to-print button:text-is("${paper}")`);
    await page.click('[data-print="template"]');
    await page.waitForFunction(() => window.printed, null, SLOW);
    const paperOf = printed(await page.pdf({ preferCSSPageSize: true }));
    const { sheets } = ask({ ask: "sheets", roof: kestrel, units: null, paper: paper.toLowerCase(), only: ["template"] }).ok;
    const rulers = rulersOf(sheets);
    assert.ok(rulers.length >= 4, "4 in and 100 mm, across and upright");
    for (const one of measured(rulers, paperOf.lines)) assert.ok(Math.abs(one.is / one.says - 1) < 0.002, `${one.is} in for ${one.says} in`);
    assert.equal(paperOf.pages.length, sheets.length);
    for (const sides of paperOf.pages) {
      assert.ok(Math.abs(Math.min(...sides) - wide) < 0.01 && Math.abs(Math.max(...sides) - high) < 0.01, `${sides}`);
    }
  });
}

await test("a whole set and one sheet of it print, each on its own page", LAPTOP, async (page) => {
  await page.evaluate(() => { window.print = () => { window.printed = (window.printed ?? 0) + 1; }; });
  await room(page, "CHECK");
  await page.click('[data-print="all"]');
  await page.waitForFunction(() => window.printed === 1, null, SLOW);
  const sheets = ask({ ask: "sheets", roof: kestrel, units: null, paper: "letter", only: null }).ok.sheets;
  const all = printed(await page.pdf({ preferCSSPageSize: true }));
  assert.equal(all.pages.length, sheets.length);
  await page.click('[data-print="list"]');
  await page.waitForSelector(".sheets", SLOW);
  assert.equal(await page.locator(".sheets > li").count(), sheets.length);
  await page.locator('.sheets button:text-is("Print this sheet")').nth(2).click();
  await page.waitForFunction(() => window.printed === 2);
  assert.equal(printed(await page.pdf({ preferCSSPageSize: true })).pages.length, 1);
});

for (const scheme of ["light", "dark"]) {
  await test(`all text has a contrast of 7 to 1, ${scheme}`, PHONE, async (page) => {
    const poor = async (where) => assert.deepEqual(await page.evaluate(contrasts), [], `${where}, ${scheme}`);
    assert.equal(await page.evaluate(() => document.documentElement.classList.contains("night")), scheme === "dark", "as the phone is set");
    for (const name of ROOMS) {
      await room(page, name);
      if (name === "BUY") await bought(page);
      await page.evaluate(() => { for (const one of document.querySelectorAll("details")) one.open = true; });
      await page.waitForTimeout(50);
      await poor(name);
    }
    await room(page, "PLAN");
    await type(page, "building.span", "16-3");
    await refusal(page);
    await poor("a refused field");
    await done(page);
    await page.click('[aria-label="Span: one step up"]');
    await poor("what changed");
  }, { scheme });
}

await test("day and night change at one press, and stay", PHONE, async (page) => {
  const back = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const day = await back();
  await page.click('button:text-is("Night")');
  assert.notEqual(await back(), day);
  await reload(page);
  assert.notEqual(await back(), day, "kept");
  await page.click('button:text-is("Night")');
  assert.equal(await back(), day);
});

await test("targets are 48 px with 8 px between them in every room, and nothing scrolls sideways", PHONE, async (page) => {
  for (const name of ROOMS) {
    await room(page, name);
    if (name === "BUY") await bought(page);
    await page.evaluate(() => { for (const one of document.querySelectorAll("details")) one.open = true; });
    await page.waitForTimeout(100);
    assert.deepEqual(await page.evaluate(tight), [], name);
  }
});

await test("letters twice as large lose nothing", PHONE, async (page) => {
  const session = await page.context().newCDPSession(page);
  await session.send("Page.setFontSizes", { fontSizes: { standard: 32, fixed: 32 } });
  for (const name of ROOMS) {
    await room(page, name);
    if (name === "BUY") await bought(page);
    const lost = await page.evaluate(() => {
      const letters = parseFloat(getComputedStyle(document.body).fontSize);
      const cut = [...document.querySelectorAll("#page *")].filter((one) => {
        const style = getComputedStyle(one);
        return one.getClientRects().length > 0 && !one.closest("svg, .drawn, .bar, .sight, thead") && style.overflowX === "hidden" && one.scrollWidth > one.clientWidth + 1;
      });
      const out = [...document.querySelectorAll("#page button, #page p, #page li, #page label")].filter((one) => {
        const box = one.getBoundingClientRect();
        return box.width > 0 && !one.closest(".drawn, .bar") && (box.right > innerWidth + 1 || box.left < -1);
      });
      return { letters, wide: document.documentElement.scrollWidth - innerWidth, cut: cut.map((one) => one.className), out: out.map((one) => one.textContent.slice(0, 40)) };
    });
    assert.deepEqual(lost, { letters: 32, wide: 0, cut: [], out: [] }, name);
  }
});

await test("the keyboard alone goes through every room, and shows where it is", LAPTOP, async (page) => {
  for (const name of ROOMS) {
    await page.locator(`nav button:has-text("${name}")`).focus();
    await page.keyboard.press("Enter");
    if (name === "BUY") await bought(page);
    const wanted = await page.evaluate(() => {
      const all = [...document.querySelectorAll("button, input, select, summary, [tabindex='0']")];
      const shown = all.filter((one) => one.checkVisibility() && one.getClientRects().length > 0 && !one.disabled);
      shown.forEach((one, at) => { one.dataset.stop = String(at); });
      return shown.map((one) => `${one.tagName} ${(one.getAttribute("aria-label") ?? one.textContent).slice(0, 30)}`);
    });
    await page.evaluate(() => { document.activeElement.blur(); getSelection().removeAllRanges(); });
    const seen = new Set();
    let unseen = 0;
    for (let press = 0; press < wanted.length + 20; press++) {
      await page.keyboard.press("Tab");
      const now = await page.evaluate(() => {
        const one = document.activeElement;
        if (one === document.body) return null;
        const style = getComputedStyle(one.matches(".button input") ? one.parentElement : one);
        return { stop: one.dataset.stop, ring: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 };
      });
      if (!now) continue;
      if (!now.ring) unseen += 1;
      seen.add(now.stop);
    }
    assert.equal(unseen, 0, `${name}: focus is always seen`);
    assert.deepEqual(wanted.filter((_, at) => !seen.has(String(at))), [], `${name}: all are reached`);
  }
});

await test("every control has a name and a role for a screen reader", PHONE, async (page) => {
  const session = await page.context().newCDPSession(page);
  for (const name of ROOMS) {
    await room(page, name);
    if (name === "BUY") await bought(page);
    const { nodes } = await session.send("Accessibility.getFullAXTree");
    const nameless = nodes.filter((node) => !node.ignored && ["button", "textbox", "checkbox", "combobox", "image", "searchbox", "progressbar"].includes(node.role?.value) && !node.name?.value);
    assert.deepEqual(nameless.map((node) => node.role.value), [], name);
    assert.ok(nodes.some((node) => node.role?.value === "heading"), name);
    assert.ok(nodes.some((node) => node.role?.value === "navigation"), name);
  }
});

await test("the place in a long line is found again after a call", PHONE, async (page) => {
  const long = ask({ ask: "edit", roof: kestrel, set: [["building.length", "120ft"]] }).ok;
  await room(page, "CHECK");
  await page.setInputFiles('input[type="file"]', { mimeType: "text/plain", buffer: Buffer.from(long), name: "long.toml" });
  await page.waitForFunction(() => !document.querySelector(".badge"));
  await room(page, "LAY");
  assert.ok(await page.locator(".rows li").count() > 80);
  for (let row = 0; row < 40; row++) await page.locator(".rows input").nth(row).check();
  const next = await page.textContent(".rows .next");
  await reload(page);
  assert.equal(await page.textContent(".rows .next"), next);
  assert.ok(await page.locator(".rows .next").evaluate((row) => {
    const box = row.getBoundingClientRect();
    const main = document.querySelector("main").getBoundingClientRect();
    return box.top >= main.top - 1 && box.bottom <= main.bottom + 1;
  }), "the next row is in sight");
  assert.ok((await page.locator(".rows li").first().boundingBox()).height >= 72, "a row is as large as a thumb");
  assert.equal(await kept(page), long);
});

await test("while a list is ticked the screen stays on, and the marks are read aloud", PHONE, async (page) => {
  await page.evaluate(() => {
    window.said = [];
    Object.defineProperty(navigator, "wakeLock", { value: { request: async (what) => { window.awake = what; return { release: async () => { window.awake = null; } }; } } });
    speechSynthesis.speak = (words) => window.said.push(words.text);
  });
  await room(page, "LAY");
  await page.click('button:text-is("Read aloud as I tick")');
  await page.locator(".rows input").nth(0).check();
  await page.locator(".rows input").nth(1).check();
  assert.equal(await page.evaluate(() => window.awake), "screen");
  const lines = ask({ ask: "room", room: "lay", roof: kestrel, units: null, wide: 3, high: 2 }).ok.lines[0].rows;
  await page.waitForFunction(() => window.said.length >= 3);
  const said = await page.evaluate(() => window.said);
  assert.equal(said.length, 3);
  for (const [at, words] of said.entries()) assert.ok(words.startsWith(lines[at].said), words);
  await room(page, "PLAN");
  await page.waitForFunction(() => window.awake === null);
});

await test("a stack of 200 sticks shows and counts", PHONE, async (page) => {
  const many = ask({ ask: "edit", roof: kestrel, set: [["building.length", "130ft"]] }).ok;
  await room(page, "CHECK");
  await page.setInputFiles('input[type="file"]', { mimeType: "text/plain", buffer: Buffer.from(many), name: "many.toml" });
  await page.waitForFunction(() => !document.querySelector(".badge"));
  await room(page, "CUT");
  assert.match(await page.textContent(".stack li"), /0 of (19\d|2\d\d) cut/);
  const start = performance.now();
  for (let press = 0; press < 20; press++) await page.click('[aria-label="R1: +1 cut"]');
  assert.match(await page.textContent(".stack li"), /20 of/);
  assert.ok(performance.now() - start < 20_000);
});

await test("only lengths with a price are bought once that is wanted, as the program buys them", PHONE, async (page) => {
  await room(page, "BUY");
  await bought(page);
  await price(page, "2x6 10'").fill("6.3");
  await page.waitForSelector('button:text-is("Buy only lengths with a price")', SLOW);
  await bought(page);
  await page.click('button:text-is("Buy only lengths with a price")');
  await page.waitForFunction(() => document.querySelector(".room").textContent.includes("onger than every length with a price"), null, SLOW);
  const text = await page.evaluate(() => localStorage.getItem("stepoff.prices"));
  const folder = mkdtempSync(join(tmpdir(), "stepoff-prices-"));
  const [roof, prices] = [join(folder, "roof.toml"), join(folder, "prices.toml")];
  writeFileSync(roof, kestrel);
  writeFileSync(prices, text);
  const own = JSON.parse(execFileSync(program, ["order", roof, "--prices", prices, "--format", "json", "--quiet"], { maxBuffer: 1 << 28 }));
  rmSync(folder, { recursive: true });
  assert.equal(await page.textContent("[data-total]"), (own.total_cents / 100).toFixed(2));
  await page.click('button:text-is("Buy only lengths with a price")');
  await page.waitForFunction(() => !document.querySelector(".room").textContent.includes("onger than every"), null, SLOW);
});

await test("a change says what it does to the order's cost, where prices are known", PHONE, async (page) => {
  await page.click('[aria-label="Overhang: one step up"]');
  await page.waitForTimeout(1200);
  assert.equal(await page.locator("[data-cost]").count(), 0, "no prices, no cost");
  await page.click('.tools button:text-is("Undo")');
  await room(page, "BUY");
  await bought(page);
  const nails = await page.evaluate(() => [...document.querySelectorAll("[data-price]")].map((one) => one.dataset.price).find((key) => key.startsWith("nails ")));
  await price(page, nails).fill("2.15");
  await page.waitForSelector("[data-total]", SLOW);
  await room(page, "PLAN");
  await page.click('[aria-label="Span: one step up"]');
  // a difference is told where every line that changes has a price
  for (let lines = 0; lines < 40; lines++) {
    await page.waitForFunction(() => !document.querySelector(".working") && document.querySelector("[data-cost], [data-unpriced]"), null, SLOW);
    if ((await page.locator("[data-unpriced]").count()) === 0) break;
    const left = await page.textContent("[data-unpriced]");
    await page.click("[data-unpriced]");
    await page.waitForSelector("[data-price]:focus", SLOW);
    await page.locator("[data-price]:focus").fill("1.10");
    await page.waitForFunction((left) => document.querySelector("[data-unpriced]")?.textContent !== left, left, SLOW);
    await page.waitForTimeout(800);
  }
  await page.waitForSelector("[data-cost]", SLOW);
  const prices = await page.evaluate(() => localStorage.getItem("stepoff.prices"));
  const total = (roof) => ask({ ask: "room", room: "buy", roof, units: null, wide: 3, high: 2, prices }).ok.cost.total;
  const [was, now] = [total(kestrel), total(await kept(page))];
  const told = await page.textContent("[data-cost]");
  assert.ok(told.includes(now) && told.includes(was), `${told}: ${was} ${now}`);
  // taken back, it says the way back
  await page.click('button:text-is("Take it back")');
  await page.waitForFunction((was) => document.querySelector("[data-cost]")?.textContent.includes(was), was, SLOW);
});

await test("what leaves the page is named after the job, says so in sight, and a file's address is no link", PHONE, async (page) => {
  await page.evaluate(() => {
    navigator.share = undefined;
    Object.defineProperty(navigator, "clipboard", { value: { writeText: async (text) => { window.copied = text; } } });
  });
  await room(page, "CHECK");
  const [file] = await Promise.all([page.waitForEvent("download"), page.click('button:text-is("The roof file, TOML")')]);
  assert.equal(file.suggestedFilename(), "kestrel-yard.toml");
  await page.click('button:text-is("Make a link")');
  const link = await page.inputValue("input.link");
  assert.ok(link.startsWith("#roof="), "pasted behind the address of the page on the other phone");
  assert.match(await page.textContent(".room"), /open Jobs and press "Paste a roof somebody sent"/);
  await page.click('button:text-is("Share the link")');
  await page.waitForSelector(".sending .said");
  await page.waitForTimeout(100);
  const seen = await page.locator(".sending .said").evaluate((one) => {
    const [box, inside] = [one.getBoundingClientRect(), document.querySelector("main").getBoundingClientRect()];
    return box.top >= inside.top - 1 && box.bottom <= inside.bottom + 1;
  });
  assert.ok(seen, "the word is in sight");
  assert.equal(await page.evaluate(() => window.copied), link);
  assert.ok(!(await page.textContent(".to-print")).includes("as your units go") || (await page.textContent(".to-print")).includes("Letter, as"));
  await page.click('.units button:text-is("mm")');
  assert.match(await page.textContent(".to-print"), /A4, as your units go/);
  await page.click('.to-print button:text-is("Letter")');
  assert.ok(!(await page.textContent(".to-print")).includes("as your units go"), "what was chosen stays");
});

await test("CUT's table has the marks of its drawing", PHONE, async (page) => {
  await room(page, "CUT");
  const { marks, drawing } = ask({ ask: "room", room: "cut", roof: kestrel, units: null, wide: 3, high: 2 }).ok.pattern;
  const drawn = [...drawing.svg.matchAll(/<text[^>]*>\s*(\d+)\s*</g)].map((one) => Number(one[1]));
  assert.deepEqual(marks.map((mark) => mark.number).sort((a, b) => a - b), drawn.sort((a, b) => a - b));
  assert.equal(await page.locator("table").first().locator("tbody tr").count(), drawn.length);
});
