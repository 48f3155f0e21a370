// Roofs that are more than one gable: opened as a file, each room shows them; wings, dormers and openings are changed by hand.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import axe from "axe-core";
import { ask, done, figure, kept, refusal, room, test } from "../harness.mjs";
import { LAPTOP, PHONE } from "../page.mjs";

const root = new URL("../../../", import.meta.url);
const HIP = "tests/data/roofs/01-hip-both-ends.toml";
const SHED = "tests/data/roofs/04-shed.toml";
const ELL = "docs/guide/l-shape.toml";
const text = (name) => readFileSync(new URL(name, root), "utf8");
const of = (name, roof) => ask({ ask: "room", room: name, roof, units: null, wide: 3, high: 2 }).ok;

/** Opens a roof file in the page, as somebody does who has one. */
async function open(page, name) {
  await room(page, "CHECK");
  await page.setInputFiles('.files input[type="file"]', new URL(name, root).pathname);
  await room(page, "PLAN");
  await page.waitForFunction((sticks) => document.querySelector('[data-figure="sticks"] dd')?.textContent.trim() === sticks,
    of("plan", text(name)).figures.find((one) => one.key === "sticks").value);
}

/** Nothing serious for axe, no target under 48 px, nothing wider than the screen. */
async function look(page, where) {
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const { violations } = await window.axe.run(document);
    const seen = (one) => one.getClientRects().length > 0;
    const small = [...document.querySelectorAll("button, select, summary, label.tick, input:not([type=checkbox]):not([type=file])")].filter(seen)
      .filter((one) => { const box = one.getBoundingClientRect(); return box.width < 47.5 || box.height < 47.5; });
    return [
      ...violations.filter((one) => ["serious", "critical"].includes(one.impact)).map((one) => `${one.id} ${one.nodes[0].target}`),
      ...small.map((one) => `small: ${one.textContent.slice(0, 30)}`),
      ...(document.documentElement.scrollWidth > innerWidth ? ["wider than the screen"] : []),
    ];
  });
  assert.deepEqual(found, [], where);
}

for (const viewport of [PHONE, LAPTOP]) {
  for (const name of [HIP, SHED, ELL]) {
    await test(`every room shows ${name}`, viewport, async (page) => {
      const roof = text(name);
      await open(page, name);
      for (const one of of("plan", roof).figures) assert.equal(await figure(page, one.key), one.value, one.key);
      assert.ok(await page.isVisible(".sight svg"), "the plan is drawn");
      await look(page, "PLAN");
      await room(page, "CUT");
      const cut = of("cut", roof);
      assert.equal(await page.locator(".stack > li").count(), cut.sticks.length);
      assert.equal(await page.locator(".room .none").count(), cut.pattern ? 0 : 1, "it says so where there is no pattern");
      await page.locator(".stack details summary").first().click();
      assert.ok(await page.isVisible(".stack details[open] svg"), "a card is drawn");
      await look(page, "CUT");
      await room(page, "LAY");
      const lay = of("lay", roof);
      assert.equal(await page.locator(".rows input").count(), lay.lines[0].rows.length);
      await page.locator(".rows input").first().check();
      await look(page, "LAY");
      await room(page, "CHECK");
      assert.equal(await page.locator(".room .findings > li[data-finding]").count(), of("check", roof).findings.length);
      await look(page, "CHECK");
      await room(page, "BUY");
      await page.waitForSelector(".bars", { timeout: 120_000 });
      await look(page, "BUY");
      await page.click(".to-model");
      await page.locator('.model-picture[data-state="drawn"]').waitFor();
      await page.waitForFunction(() => document.querySelector(".model canvas").picture.drawn > 0);
      const names = await page.evaluate(() => document.querySelector(".model canvas").picture.names());
      assert.equal(names.length, of("model", roof).count, "every stick is in the model");
      await page.click('.model-top button:text-is("Close")');
    });
  }

  await test("a wing is listed, changed, refused at its field, taken out and put back", viewport, async (page) => {
    await open(page, ELL);
    const block = page.locator('[data-block="wing.1"]');
    assert.match(await block.locator("summary").textContent(), /ell.*14' 0" wide/i);
    await block.locator("summary").click();
    await page.click('[data-field="wing.1.span"]');
    await page.fill(".typed input", "12ft");
    await done(page);
    assert.match(await kept(page), /span = "12ft"\nprojection/);
    await page.waitForFunction(() => /12' 0" wide/.test(document.querySelector('[data-block="wing.1"] summary').textContent));
    // its ridge would stand above the one that it dies into
    if (!(await block.locator(".settings").isVisible())) await block.locator("summary").click();
    await page.click('[data-field="wing.1.span"]');
    await page.fill(".typed input", "26ft");
    const before = await kept(page);
    const wanted = ask({ ask: "room", room: "plan", roof: ask({ ask: "edit", roof: before, set: [["wing.1.span", "26ft"]] }).ok, units: null, wide: 3, high: 2 }).refused;
    const own = wanted.find((one) => one.field === "wing.1.span");
    const words = await refusal(page);
    assert.ok(words.includes(own.message.toLowerCase()) && words.includes(own.help.toLowerCase()), words);
    await done(page);
    assert.equal(await kept(page), before);
    if (!(await page.isVisible('[data-block="wing.1"] [data-remove]'))) await block.locator("summary").click();
    await page.click('[data-block="wing.1"] [data-remove]');
    await block.waitFor({ state: "detached" });
    assert.ok(!(await kept(page)).includes("[[wing]]"));
    await page.click('.tools button:text-is("Undo")');
    await block.waitFor();
    assert.equal(await kept(page), before);
  });

  await test("an opening is added where it has room; a hip end is a choice like any other", viewport, async (page) => {
    await page.click('[data-add="opening"]');
    await page.locator('[data-block="opening.1"]').waitFor();
    assert.match(await kept(page), /\[\[opening\]\]\nname = "s1"/);
    await page.click('.tools button:text-is("Undo")');
    await page.locator('[data-block="opening.1"]').waitFor({ state: "detached" });
    await page.fill('input[type="search"]', "roof.near_end");
    await page.click('.settings [data-field="roof.near_end"]');
    await page.click('.choices button:text-is("hip")');
    await done(page);
    assert.match(await kept(page), /near_end = "hip"/);
    assert.ok(Number(await figure(page, "hips")) === 2, "two hips");
  });
}
