// What somebody new stumbled over: the row under the thumb, costs that say nothing, roofs that were lost, findings that read as met.

import assert from "node:assert/strict";
import { deflateRawSync } from "node:zlib";
import { ask, chrome, done, kept, kestrel, refusal, room, saved, test, type } from "../harness.mjs";
import { LAPTOP, PHONE, opened } from "../page.mjs";

const SLOW = { timeout: 60_000 };
const hash = (roof) => "#roof=" + deflateRawSync(Buffer.from(roof)).toString("base64url");
const named = (name) => ask({ ask: "edit", roof: kestrel, set: [["job.name", name]] }).ok;
/** What lies at a place of the screen. */
const at = (page, x, y, what) => page.evaluate(([x, y, what]) => document.elementFromPoint(x, y)?.closest(what)?.getAttribute("aria-label") ?? null, [x, y, what]);
async function bought(page) {
  await page.waitForSelector(".bars", SLOW);
  await page.waitForFunction(() => !document.querySelector(".working"), null, SLOW);
}

await test("a second press in the same place hits the same row", PHONE, async (page) => {
  for (const name of ["Span: one step up", "Overhang: one step down", "Pitch: one step up"]) {
    const box = await page.locator(`[aria-label="${name}"]`).boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    for (let press = 0; press < 3; press++) {
      assert.equal(await at(page, x, y, "button"), name, `press ${press + 1}`);
      await page.touchscreen.tap(x, y);
      await page.waitForTimeout(60);
    }
    assert.ok(await page.isVisible(".changed"), "and what changed is said");
  }
  // also where it fails now, and cures come
  const box = await page.locator('[aria-label="Seat: one step down"]').boundingBox();
  await page.locator("main").evaluate((main) => { main.scrollTop = 160; });
  const seat = await page.locator('[aria-label="Seat: one step down"]').boundingBox();
  assert.notEqual(seat.y, box.y);
  const [x, y] = [seat.x + 20, seat.y + 20];
  for (let press = 0; press < 30 && (await page.locator(".news .open").count()) === 0; press++) await page.touchscreen.tap(x, y);
  await page.waitForSelector(".news .cures button", SLOW);
  assert.equal(await at(page, x, y, "button"), "Seat: one step down");
});

await test("no number of what changed is cut off", PHONE, async (page) => {
  for (const [field, text] of [["eave.overhang", "2ft 3-1/16in"], ["building.span", "17ft 7-1/16in"], ["roof.pitch", "11-1/4 in 12"]]) {
    await type(page, field, text);
    await done(page);
    const cut = await page.evaluate(() => {
      const box = document.querySelector(".changed p").getBoundingClientRect();
      const inSight = [...document.querySelectorAll(".changed .move")].filter((one) => one.getBoundingClientRect().left < box.right);
      const cut = inSight.flatMap((one) => [...one.querySelectorAll("s, b:not(:has(*))")]).filter((one) => {
        const lines = [...one.getClientRects()];
        return lines.length > 1 || lines.some((line) => line.bottom > box.bottom + 1 || line.right > box.right + 1);
      });
      return { moves: inSight.length > 0, cut: cut.map((one) => one.textContent) };
    });
    assert.deepEqual(cut, { moves: true, cut: [] }, field);
  }
  await room(page, "CHECK");
  assert.equal(await page.locator(".changed").count(), 0, "another room does not speak of it");
});

await test("the next mark comes under the thumb, from the first on", PHONE, async (page) => {
  await room(page, "LAY");
  const box = await page.locator(".rows li").first().boundingBox();
  const [x, y] = [box.x + 60, box.y + box.height / 2];
  for (let mark = 1; mark <= 5; mark++) {
    await page.touchscreen.tap(x, y);
    await page.waitForTimeout(60);
    assert.equal(await page.locator(".rows input:checked").count(), mark);
    assert.ok(await page.locator(".rows li").nth(mark - 1).locator("input").isChecked(), `mark ${mark}`);
  }
  for (const row of await page.locator(".rows input").all()) await row.check();
  await page.click("[data-next-line]");
  assert.match(await page.textContent('.room [role="status"]'), /^0 of/);
});

await test("a change that needs other lengths gives no difference, and leads to the lines without a price", PHONE, async (page) => {
  await room(page, "BUY");
  await bought(page);
  assert.ok(!(await page.textContent(".room")).includes("0.00"), "nothing reads as free");
  await page.fill(`[data-price="2x6 10'"]`, "14.2");
  await page.waitForSelector("[data-total]", SLOW);
  await bought(page);
  assert.match(await page.textContent(".sum"), /Order so far/);
  assert.ok((await page.locator(".trade-head p").allTextContents()).every((text) => !text.includes("0.00") || /[1-9]/.test(text)), "no trade reads as free");
  const prices = await page.evaluate(() => localStorage.getItem("stepoff.prices"));
  await room(page, "PLAN");
  await type(page, "eave.overhang", "2ft");
  await done(page);
  await page.waitForSelector("[data-unpriced], [data-cost]", SLOW);
  const lines = (roof) => ask({ ask: "room", room: "buy", roof, units: null, wide: 3, high: 2, prices }).ok.trades.flatMap((trade) => trade.lines).filter((line) => !line.in_hand);
  const [was, now] = [lines(kestrel), lines(await kept(page))];
  const priced = (all) => all.filter((line) => line.cost !== null).map((line) => line.key);
  assert.notDeepEqual([priced(was), was.length], [priced(now), now.length], "other lines have a price");
  const open = (all) => all.filter((line) => line.cost === null).map((line) => `${line.count} ${line.key}`);
  const differ = (one, other) => [...one.filter((key) => !other.includes(key)), ...other.filter((key) => !one.includes(key))];
  const needed = [...new Set(differ(open(now), open(was)).map((line) => line.slice(line.indexOf(" "))))];
  assert.equal(await page.locator("[data-cost]").count(), 0);
  assert.equal(await page.textContent("[data-unpriced]"), needed.length === 1 ? "1 changed line needs a price" : `${needed.length} changed lines need a price`);
  await page.click("[data-unpriced]");
  assert.equal(await page.getAttribute('nav button:text-is("BUY")', "aria-current"), "page");
});

await test("a roof from a link is kept at its first change, and an untouched one is not", PHONE, async (page) => {
  const jobs = () => page.evaluate(() => Object.keys(localStorage).filter((key) => /^stepoff\.page\.2[^:]*\//.test(key)).length);
  const before = await jobs();
  await page.evaluate((text) => { location.hash = text; }, hash(named("Sent Roof")));
  await page.waitForFunction(() => document.querySelector(".jobname").textContent.includes("Sent Roof"));
  assert.equal(await jobs(), Math.max(before, 1), "nothing is kept yet");
  await page.click('[aria-label="Overhang: one step up"]');
  assert.equal((await saved(page)).roof.changes.length, 1);
  assert.match(await kept(page), /Sent Roof/);
  await page.reload();
  await page.waitForSelector("nav button");
  assert.match(await page.textContent(".jobname"), /Sent Roof/, "after a reload too");
  // a second one, ticked
  await page.evaluate((text) => { location.hash = text; }, hash(named("Second Roof")));
  await page.waitForFunction(() => document.querySelector(".jobname").textContent.includes("Second Roof"));
  await room(page, "LAY");
  await page.locator(".rows input").first().check();
  assert.match(await kept(page), /Second Roof/);
  // a third one, only looked at
  await page.evaluate((text) => { location.hash = text; }, hash(named("Third Roof")));
  await page.waitForFunction(() => document.querySelector(".jobname").textContent.includes("Third Roof"));
  assert.match(await kept(page), /Second Roof/);
  await page.evaluate(() => { location.hash = "#roof=no"; });
  await page.waitForSelector(".news .refused");
});

await test("what somebody sent is pasted in Jobs, and a roof is sent from there", PHONE, async (page) => {
  await page.click(".jobname");
  await page.click('summary:text-is("Paste a roof somebody sent")');
  await page.fill("[data-paste]", "no roof");
  await page.click('.jobs details button:text-is("Open")');
  await page.waitForSelector(".jobs .refused");
  await page.fill("[data-paste]", `Look: https://example.org/page.html${hash(named("Pasted Roof"))} Regards`);
  await page.click('.jobs details button:text-is("Open")');
  await page.waitForFunction(() => document.querySelector(".jobname").textContent.includes("Pasted Roof"));
  assert.match(await kept(page), /Pasted Roof/);
  await page.click(".jobname");
  await page.click('.joblist .now button:text-is("Send")');
  await page.waitForTimeout(300);
  const box = await page.locator(".sending h3").boundingBox();
  const main = await page.locator("main").boundingBox();
  assert.ok(box.y >= main.y - 1 && box.y < main.y + main.height, "the sending place is in sight");
  const [file] = await Promise.all([page.waitForEvent("download"), page.click(".sending button.strong")]);
  assert.equal(file.suggestedFilename(), "pasted-roof.toml");
  assert.match(await page.textContent(".sending .said"), /Saved as pasted-roof\.toml; ticks and notes stay here/);
});

await test("what was found not to meet reads so everywhere, and no finding says so", PHONE, async (page) => {
  await room(page, "CHECK");
  await page.click('button:text-is("Walk the roof")');
  const of = ".walk .asked-of";
  assert.match(await page.textContent(of), /by the plan: meets/);
  assert.equal(await page.locator(`${of} .verdict`).count(), 0, "the plan's verdict is not what was found");
  const style = (what) => page.locator(of).evaluate((one, what) => getComputedStyle(one)[what], what);
  await page.click('.walk button:text-is("Does not meet")');
  const [edge, fails] = [await style("borderLeftColor"), await page.locator(`${of} .verdict`).evaluate((one) => getComputedStyle(one).color)];
  assert.equal(edge, fails, "an edge in the color of what fails");
  assert.match(await page.textContent(`${of} .verdict`), /does not meet/);
  assert.match(await page.textContent(".news"), /1 does not meet by your walk; Nothing fails by the plan/);
  assert.equal(await page.locator(".news .verdict.meets").count(), 0, "and not in green");
  await page.click('.walk button:text-is("Could not see")');
  assert.match(await page.textContent(`${of} .verdict`), /could not see/);
  assert.match(await page.textContent('.walking [role="status"]'), /^0 of \d+ looked at, 1 could not be seen/);
  await page.click('.walk button:text-is("Could not see")');
  assert.match(await page.textContent(".news"), /Nothing fails or needs design/, "pressed again, it has no finding");
  // the answers stay under the thumb
  const at = await page.locator('.walk button:text-is("Meets")').boundingBox();
  for (let next = 0; next < 5; next++) {
    await page.touchscreen.tap(at.x + at.width / 2, at.y + at.height / 2);
    await page.waitForTimeout(120);
  }
  assert.match(await page.textContent('.walking [role="status"]'), /^5 of/);
  await page.fill('[data-walk="measured"]', "1-3/8");
  assert.ok(await page.isEnabled('button:text-is("Clear the walk")'));
  page.on("dialog", (dialog) => void dialog.accept());
  await page.click('button:text-is("Clear the walk")');
  assert.equal(await page.inputValue('[data-walk="measured"]'), "");
});

await test("nothing fails is not green while things are not checked", LAPTOP, async () => {
  const unknown = ask({ ask: "edit", roof: kestrel, set: [["loads.wind", null]] }).ok;
  const counts = ask({ ask: "room", room: "plan", roof: unknown, units: null, wide: 3, high: 2 }).ok.counts;
  const words = counts.find((count) => count.verdict === "not checked")?.words;
  assert.ok(words, JSON.stringify(counts));
  const { context, page } = await opened(chrome, PHONE, { hash: hash(unknown) });
  assert.match(await page.textContent(".news .none"), new RegExp(`Nothing fails by the plan; ${words}`));
  assert.equal(await page.locator(".news .verdict.meets").count(), 0);
  // what is missing is set where it is missed
  await room(page, "CHECK");
  const wind = page.locator('[data-finding] [data-opens="loads.wind"]').first();
  assert.match(await wind.textContent(), /^Set Design wind speed$/);
  assert.doesNotMatch(await page.textContent('[data-finding]:has([data-opens="loads.wind"])'), /loads\.wind/);
  await wind.click();
  assert.match(await page.textContent(".keypad .name"), /Design wind speed/);
  await context.close();
});

await test("what a change moved is in sight, however much else there is to say", PHONE, async (page) => {
  for (const press of ["Pitch: one step up", "Overhang: one step up", "Spacing: one step up", "Rafters: one step down", "Ridge board: one step up"]) {
    await page.click(`[aria-label="${press}"]`);
    const [band, sight] = [await page.locator(".over").boundingBox(), await page.locator(".sight").boundingBox()];
    const first = await page.locator(".changed .move").first().boundingBox();
    const button = await page.locator(".changed button").boundingBox();
    assert.ok(button.x + button.width <= PHONE.width, `${press}: can be taken back`);
    assert.ok(first.y >= band.y && first.y + first.height <= band.y + band.height + 1, press);
    assert.ok(band.y > sight.y + sight.height / 4, `${press}: the drawing stays in sight`);
  }
});

await test("a number that can't stand is refused once, at its field", PHONE, async (page) => {
  await type(page, "building.span", "0");
  assert.match(await refusal(page), /span of zero/);
  assert.equal(await page.locator(".keypad .refused li").count(), 1);
  assert.equal(await page.locator(".staleness").count(), 0, "no other box peeps out behind it");
  for (const word of ["Undo", "Redo"]) {
    const [tool, box] = [await page.locator(`.tools button:text-is("${word}")`).boundingBox(), await page.locator(".wrong").boundingBox()];
    assert.ok(tool.y + tool.height <= box.y, `${word} stays free`);
  }
});
