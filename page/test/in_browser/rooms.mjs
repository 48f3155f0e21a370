// The five rooms: numbers, ticks, links, files; what is refused and what is hostile.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { deflateRawSync } from "node:zlib";
import axe from "axe-core";
import { ask, chrome, count, done, figure, kept, kestrel, plan, program, refusal, room, saved, test, type, value } from "../harness.mjs";
import { FIVE, LAPTOP, PHONE, opened, roofs } from "../page.mjs";

for (const viewport of [PHONE, LAPTOP]) {
  await test("it opens on the example and every room shows", viewport, async (page) => {
    assert.match(await page.textContent("h1"), /Kestrel Yard.*Example/);
    const told = plan(kestrel).ok;
    for (const one of told.figures) assert.equal(await figure(page, one.key), one.value, one.key);
    for (const [name, heading] of [["CUT", "The stack"], ["LAY", "Before you start"], ["CHECK", "Save files"], ["BUY", "Cutting plans"]]) {
      await room(page, name);
      await page.waitForSelector(`:is(h3, summary):has-text("${heading}")`, { timeout: 60_000 });
      assert.ok(await page.isVisible(".sight svg"), `${name} has a drawing`);
    }
  });

  await test("axe finds nothing serious", viewport, async (page) => {
    const look = async (where) => {
      await page.evaluate(axe.source);
      const found = await page.evaluate(() => window.axe.run(document));
      const serious = found.violations.filter((one) => ["serious", "critical"].includes(one.impact));
      assert.deepEqual(serious.map((one) => `${where}: ${one.id} ${one.nodes[0].target}`), []);
    };
    await look("PLAN");
    await type(page, "building.span", "16-3");
    await refusal(page);
    await look("a refused field");
    await page.click('.meant button >> nth=0');
    await done(page);
    for (const name of ["CUT", "LAY", "CHECK", "BUY"]) {
      await room(page, name);
      await page.waitForSelector(".room :is(h3, summary)", { state: "attached" });
      if (name === "BUY") await page.waitForSelector(".bars", { timeout: 60_000 });
      await look(name);
    }
  });

  await test("targets are 48 px, letters 16 px", viewport, async (page) => {
    for (const name of ["PLAN", "CUT", "LAY", "CHECK"]) {
      await room(page, name);
      const small = await page.evaluate(() => {
        const seen = (one) => one.getClientRects().length > 0;
        const targets = [...document.querySelectorAll("button, select, summary, label.tick, input:not([type=checkbox]):not([type=file])")].filter(seen)
          .filter((one) => { const box = one.getBoundingClientRect(); return box.width < 47.5 || box.height < 47.5; })
          .map((one) => `${one.tagName} ${one.textContent.slice(0, 20)}`);
        const letters = [...document.querySelectorAll("#page *")].filter((one) => seen(one) && !one.closest("svg") && one.childNodes[0]?.nodeType === 3)
          .filter((one) => parseFloat(getComputedStyle(one).fontSize) < 16).map((one) => one.textContent.slice(0, 20));
        return { targets, letters, wide: document.documentElement.scrollWidth - innerWidth };
      });
      assert.deepEqual(small, { targets: [], letters: [], wide: 0 }, name);
    }
  });
}

await test("five fields of random roofs give the engine's figures, and what is refused is refused at its field", PHONE, async (page) => {
  let refusals = 0;
  for (const roof of roofs(count, 11)) {
    for (const [name, field] of Object.entries(FIVE)) {
      const before = await kept(page);
      await type(page, field, roof[name]);
      const wanted = plan(ask({ ask: "edit", roof: before, set: [[field, roof[name]]] }).ok);
      if (wanted.refused) {
        refusals += 1;
        const words = await refusal(page);
        for (const one of wanted.refused) assert.ok(words.includes(one.message.toLowerCase()), `${words}: ${one.message}`);
        assert.ok(await page.isVisible(".sight.stale svg"), "the last good roof stays, grayed");
        assert.equal(await kept(page), before, "the roof is as it was");
      }
      await done(page);
    }
    const units = (await saved(page)).units;
    const told = plan(await kept(page), units).ok;
    for (const one of told.figures) assert.equal(await figure(page, one.key), one.value, `${JSON.stringify(roof)} ${one.key}`);
    for (const field of Object.values(FIVE)) {
      assert.equal(await value(page, field), told.values.find((one) => one.key === field).value, field);
    }
  }
  console.log(`page: ${count} random roofs read back, ${refusals} refusals at their fields`);
});

await test("what can't be built or read is refused at its field, and the roof stays", PHONE, async (page) => {
  for (const [field, text] of [
    ["building.span", "1in"], ["building.span", "16-3"], ["building.span", "16"], ["building.span", ""], ["building.span", "900ft"],
    ["roof.pitch", "1/4"], ["roof.pitch", "30/12"], ["roof.pitch", "0/12"], ["roof.pitch", "steep"],
    ["eave.overhang", "90ft"], ["eave.overhang", "-3in"], ["ridge.board", "15ft"], ["ridge.board", "oak"],
    ["rafter.stock", "2x99"], ["rafter.stock", "6"], ["rafter.stock", "<b>2x6</b>"],
  ]) {
    await type(page, field, text);
    const wanted = plan(ask({ ask: "edit", roof: kestrel, set: [[field, text]] }).ok).refused;
    assert.ok(wanted?.length > 0, `${field} ${text} is refused`);
    const words = await refusal(page);
    const own = wanted.find((one) => one.field === field) ?? wanted[0];
    assert.ok(words.includes(own.message.toLowerCase()) && words.includes(own.help.toLowerCase()), `${text}: ${words}`);
    assert.ok(await page.isVisible(".sight.stale svg"), "the last good roof stays, grayed");
    await done(page);
    assert.equal(await kept(page), kestrel);
  }
});

await test("keys of our own write a length; what could mean two things has two buttons", PHONE, async (page) => {
  await page.click('button.value[data-field="building.span"]');
  for (const key of ["1", "6", "ft", "3", "1/2"]) await page.click(`.pad button:text-is("${key}")`);
  assert.equal(await page.inputValue(".typed input"), "16ft 3-1/2in");
  assert.match(await page.textContent(".reads"), /16' 3-1\/2", sixteen feet three and a half inches/);
  await page.fill(".typed input", "16-3");
  assert.equal(await page.locator(".meant button").count(), 2);
  await page.click('.meant button:text-is("16ft3in")');
  await done(page);
  assert.equal(await value(page, "building.span"), "16' 3\"");
});

await test("steppers, what changed, undo and redo, all of it after a reload too", PHONE, async (page) => {
  const start = await figure(page, "rafter_length");
  await page.click('[aria-label="Span: one step up"]');
  assert.equal(await value(page, "building.span"), "14' 1\"");
  const longer = await figure(page, "rafter_length");
  assert.notEqual(longer, start);
  const moved = await page.textContent(".changed");
  assert.ok(moved.includes(start) && moved.includes(longer), moved);
  await page.click('[aria-label="Overhang: one step down"]');
  const last = await figure(page, "rafter_length");
  await page.reload();
  await page.waitForSelector("nav button");
  assert.equal(await figure(page, "rafter_length"), last, "kept over a reload");
  await page.click('.tools button:text-is("Undo")');
  assert.equal(await figure(page, "rafter_length"), longer);
  await page.click('.tools button:text-is("Undo")');
  assert.equal(await figure(page, "rafter_length"), start);
  assert.ok(await page.isDisabled('.tools button:text-is("Undo")'));
  await page.reload();
  await page.waitForSelector("nav button");
  await page.click('.tools button:text-is("Redo")');
  await page.click('.tools button:text-is("Redo")');
  assert.equal(await figure(page, "rafter_length"), last);
  // a field that is typed letter by letter is one step; the box takes the first letter that follows the touch
  await page.click('button.value[data-field="building.span"]');
  await page.keyboard.type("20ft 6in", { delay: 5 });
  await done(page);
  assert.equal(await value(page, "building.span"), "20' 6\"");
  await page.click('.tools button:text-is("Undo")');
  assert.equal(await value(page, "building.span"), "14' 1\"");
});

await test("feet and millimeters at one touch", PHONE, async (page) => {
  await page.click('.units button:text-is("mm")');
  assert.equal(await value(page, "building.span"), "4267 mm");
  for (const one of plan(kestrel, "metric").ok.figures) assert.equal(await figure(page, one.key), one.value, one.key);
  await page.click('[aria-label="Span: one step up"]');
  assert.equal(await value(page, "building.span"), "4270 mm");
});

await test("ticks stay", PHONE, async (page) => {
  await room(page, "CUT");
  for (let press = 0; press < 3; press++) await page.click('[aria-label="R1: +1 cut"]');
  await room(page, "LAY");
  await page.locator(".rows input").nth(0).check();
  await page.locator(".rows input").nth(1).check();
  await room(page, "CHECK");
  await page.click('summary:has-text("The walk")');
  await page.click('.walk button:text-is("Does not meet")');
  await page.click('.walk button:has-text("Add a note")');
  // the box has the keys once it is drawn
  await page.waitForFunction(() => document.activeElement?.matches('[data-walk="note"]'));
  await page.keyboard.type("the note is ready to be typed");
  await page.fill('.walk [data-walk="measured"]', "16 in, measured twice");
  await page.reload();
  await page.waitForSelector("nav button");
  await room(page, "CUT");
  assert.match(await page.textContent(".stack li >> nth=0"), /3 of \d+ cut/);
  await room(page, "LAY");
  assert.equal(await page.locator(".rows input:checked").count(), 2);
  assert.ok(await page.locator(".rows li").nth(2).evaluate((row) => row.classList.contains("next")));
  await room(page, "CHECK");
  assert.equal(await page.getAttribute('.walk button:text-is("Does not meet")', "aria-pressed"), "true");
  assert.equal(await page.inputValue('.walk [data-walk="note"]'), "the note is ready to be typed");
  assert.equal(await page.inputValue('.walk [data-walk="measured"]'), "16 in, measured twice");
});

await test("every setting is found by search, changed, and taken back", PHONE, async (page) => {
  await page.fill('input[type="search"]', "ground snow");
  await page.click('.setting[data-field="loads.snow"]');
  await page.fill(".typed input", "55 psf");
  await done(page);
  assert.match(await kept(page), /snow = "55 psf"/);
});

await test("failures stand first, and the order is the engine's", LAPTOP, async (page) => {
  await room(page, "CHECK");
  const told = ask({ ask: "room", room: "check", roof: kestrel, units: null, wide: 3, high: 2 }).ok;
  const first = await page.locator(".findings li").first().getAttribute("data-finding");
  assert.equal(first, told.findings[0].id);
  await room(page, "BUY");
  await page.waitForSelector(".bars", { timeout: 60_000 });
  const buy = ask({ ask: "room", room: "buy", roof: kestrel, units: null, wide: 3, high: 2 }).ok;
  for (const line of buy.trades.flatMap((trade) => trade.lines)) {
    const row = await page.textContent(`[data-line="${line.key}"]`);
    assert.ok(row.includes(line.count) && row.includes(line.called), `${line.key}: ${row}`);
  }
});

await test("files are saved with the engine's bytes, and a roof file opens again", LAPTOP, async (page) => {
  await room(page, "CHECK");
  for (const [words, to, name] of [["Drawing, DXF", "dxf", "roof.dxf"], ["Sheets to print, PDF", "pdf", "set.pdf"]]) {
    const [download] = await Promise.all([page.waitForEvent("download", { timeout: 60_000 }), page.click(`.files button:has-text("${words}")`)]);
    assert.equal(download.suggestedFilename(), name);
    const own = ask({ ask: "file", to, roof: kestrel, units: null }).ok.base64;
    assert.ok(readFileSync(await download.path()).equals(Buffer.from(own, "base64")), to);
  }
  const other = kestrel.replaceAll("Kestrel Yard", "Heron Shed").replace("pitch = \"6/12\"", "pitch = \"7/12\"");
  const file = { mimeType: "text/plain", buffer: Buffer.from(other), name: "heron.toml" };
  await page.setInputFiles('input[type="file"]', file);
  await page.waitForSelector('h1:has-text("Heron Shed")');
  assert.equal(await kept(page), other);
  await page.setInputFiles('input[type="file"]', { ...file, buffer: Buffer.from("span = 3") });
  await page.waitForSelector(".room .refused");
  assert.equal(await kept(page), other);
});

await test("a link opens the same roof, and keeps it from its first change on", PHONE, async (page) => {
  await page.click('[aria-label="Span: one step up"]');
  const roof = await kept(page);
  await room(page, "CHECK");
  await page.click('button:has-text("Make a link")');
  const link = await page.inputValue("input.link");
  const other = await opened(chrome, PHONE, { hash: "#" + link.split("#")[1] });
  assert.equal(await value(other.page, "building.span"), "14' 1\"");
  assert.equal(await other.page.evaluate(() => localStorage.length), 0, "an untouched one is not kept");
  await other.page.click('[aria-label="Span: one step up"]');
  await other.page.reload();
  await other.page.waitForSelector("nav button");
  assert.equal(await value(other.page, "building.span"), "14' 2\"");
  assert.deepEqual(other.errors, []);
  await other.context.close();
  assert.equal(await kept(page), roof);
});

for (const [name, hash] of [["1 MiB", "#roof=" + "A".repeat(1 << 20)], ["no roof", "#roof=%%%"], ["a bomb", "#roof=" + Buffer.from(deflateRawSync(Buffer.alloc(30 << 20))).toString("base64url")]]) {
  await test(`a link that holds ${name} does nothing`, PHONE, async (page) => {
    assert.match(await page.textContent("h1"), /Kestrel Yard/);
    assert.match(await page.textContent(".news"), /holds no roof/);
  }, { hash });
}

await test("names that would be markup stay names", PHONE, async (page) => {
  for (const name of ["<script>window.bad=1</script>", "<img src=x onerror=window.bad=1>", "\"'></svg><script>window.bad=1</script>", "${window.bad=1}", "屋根 ½ 𝒜"]) {
    const text = ask({ ask: "edit", roof: kestrel, set: [["job.name", name]] }).ok;
    await room(page, "CHECK");
    await page.setInputFiles('input[type="file"]', { mimeType: "text/plain", buffer: Buffer.from(text), name: "a.toml" });
    await page.waitForFunction((name) => document.querySelector("h1").textContent === name, name);
    for (const to of ["PLAN", "CUT", "LAY", "CHECK"]) await room(page, to);
    assert.equal(await page.evaluate(() => window.bad), undefined, name);
  }
});

const folder = mkdtempSync(join(tmpdir(), "stepoff-page-"));
const hostile = "</script><script>window.bad=1</script>";
writeFileSync(join(folder, "roof.toml"), ask({ ask: "edit", roof: kestrel, set: [["job.name", hostile], ["building.span", "15ft"]] }).ok);
execFileSync(program, ["page", join(folder, "roof.toml"), "-o", join(folder, "page.html"), "--quiet"]);
await test("the program's page opens with its roof, whatever its name is, and keeps it apart", PHONE, async (page) => {
  assert.equal(await page.textContent("h1"), hostile);
  assert.equal(await page.evaluate(() => window.bad), undefined);
  assert.equal(await value(page, "building.span"), "15' 0\"");
  await page.click('[aria-label="Span: one step up"]');
  await page.reload();
  await page.waitForSelector("nav button");
  assert.equal(await value(page, "building.span"), "15' 1\"");
  assert.equal(await page.evaluate(() => localStorage.getItem("stepoff.page.2")), null);
}, { file: pathToFileURL(join(folder, "page.html")) });
rmSync(folder, { recursive: true });

await test("a script that gets in is not run, and nothing gets out", PHONE, async (page) => {
  const stopped = await page.evaluate(async () => {
    const script = document.createElement("script");
    script.textContent = "window.bad = 1";
    document.body.append(script);
    let out = "";
    try { await fetch("https://example.invalid/"); out = "fetched"; } catch { out = "refused"; }
    return { bad: window.bad, out };
  });
  assert.deepEqual(stopped, { bad: undefined, out: "refused" });
  // the browser writes down that the page's policy refused both
}, { refuses: true });
