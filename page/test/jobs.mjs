// The eight jobs by which the page is judged, done on a phone's screen with one thumb: presses, swipes to reach what is pressed,
// and the page's own time for them (from each press until the screen is drawn anew). Argument: the name of one job.
// The figures are for docs/guide/page.md; a job that can't be done ends with an error.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { PHONE, browser, opened } from "./page.mjs";

const kestrel = readFileSync(new URL("../../examples/kestrel-yard.toml", import.meta.url), "utf8");
const chrome = await browser();

/** A thumb on the page. */
class Thumb {
  presses = 0;
  swipes = 0;
  seconds = 0;

  constructor(page) {
    this.page = page;
  }

  /** What is pressed has to be in sight: a swipe brings it there. */
  async reach(one) {
    const inSight = await one.evaluate((element) => {
      const box = element.getBoundingClientRect();
      const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
      return element === top || element.contains(top);
    });
    if (inSight) return;
    this.swipes += 1;
    await one.scrollIntoViewIfNeeded();
  }

  async press(what, until) {
    const one = typeof what === "string" ? this.page.locator(what).first() : what;
    await one.waitFor({ state: "attached" });
    await this.reach(one);
    this.presses += 1;
    const start = performance.now();
    await one.click();
    if (until) await this.page.waitForSelector(until, { timeout: 60_000, state: "attached" });
    await this.page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
    this.seconds += (performance.now() - start) / 1000;
  }

  room(name, until) {
    return this.press(`nav button:has-text("${name}")`, until);
  }

  async keys(field, keys) {
    await this.press(`button.value[data-field="${field}"]`);
    for (const key of keys) await this.press(`.pad button:text-is("${key}"), .choices button:text-is("${key}")`);
    await this.press(".typed button.strong");
  }

  /** A word written with the phone's own keyboard: one press opens it. */
  async write(selector, text) {
    const one = this.page.locator(selector).first();
    await this.press(one);
    await one.fill(text);
    this.presses += text.length;
  }

  async read(selector) {
    const one = this.page.locator(selector).first();
    await one.waitFor();
    await this.reach(one);
    return (await one.textContent()).trim();
  }
}

/** The roof of somebody's plan, as if its file had been opened before. */
async function open(page, text) {
  await page.click('nav button:has-text("CHECK")');
  await page.setInputFiles('.files label:has-text("Open a roof file") input', { mimeType: "text/plain", name: "roof.toml", buffer: Buffer.from(text) });
  await page.waitForFunction(() => !document.querySelector(".badge"));
  await page.click('nav button:has-text("PLAN")');
}

const JOBS = {
  "from a plan's five numbers to the pattern's marks": async (thumb) => {
    await thumb.keys("building.span", ["1", "6", "ft", "3", "1/2"]);
    await thumb.keys("roof.pitch", ["8", "/12"]);
    await thumb.keys("eave.overhang", ["1", "4", "in"]);
    await thumb.keys("ridge.board", ["3/4in"]);
    await thumb.keys("rafter.stock", ["2x8"]);
    await thumb.room("CUT");
    assert.match(await thumb.read("table td.big"), /"/);
  },
  "mark plate A of 18 pairs without losing the place after a phone call": async (thumb) => {
    await thumb.room("LAY");
    const rows = thumb.page.locator(".rows label");
    const count = await rows.count();
    for (let row = 0; row < count; row++) {
      if (row === 10) {
        const next = await thumb.page.textContent(".rows .next");
        await thumb.page.waitForTimeout(300);
        await thumb.page.reload();
        await thumb.page.waitForSelector(".rows .next");
        assert.equal(await thumb.page.textContent(".rows .next"), next);
      }
      await thumb.press(rows.nth(row));
    }
    assert.match(await thumb.page.textContent(".room"), new RegExp(`${count} of ${count} marked`));
  },
  "why does the birdsmouth fail, and mend it": async (thumb) => {
    await open(thumb.page, kestrel.replace("stock = \"2x6\"", "stock = \"2x6\"\nseat = '4-1/2\"'"));
    await thumb.press("button.open");
    assert.match(await thumb.read('[data-finding="notch_end"]'), /too deep/);
    await thumb.press('main [data-cures="notch_end"] button');
    assert.equal(await thumb.page.locator('.findings [data-finding="notch_end"] .fails').count(), 0);
  },
  "what do I order, and what does one foot more overhang cost": async (thumb) => {
    await thumb.room("BUY", ".bars");
    for (const [key, price] of [["2x6 20'", "14.20"], ["sheet 24/16", "18.5"]]) {
      const one = thumb.page.locator(`[data-price^="${key.split(" ")[0]} "]`).first();
      await thumb.press(one);
      await one.fill(price);
      thumb.presses += price.length;
    }
    const total = async () => {
      await thumb.page.waitForTimeout(900);
      await thumb.page.waitForFunction(() => document.querySelector("[data-total]") && !document.querySelector(".working"), null, { timeout: 60_000 });
      return thumb.read("[data-total]");
    };
    await total();
    await thumb.room("PLAN");
    await thumb.keys("eave.overhang", ["2", "ft"]);
    await thumb.page.waitForSelector("[data-cost], [data-unpriced]", { timeout: 60_000 });
    // a line that only the longer overhang needs has no price yet
    for (let lines = 0; lines < 40 && (await thumb.page.locator("[data-cost]").count()) === 0; lines++) {
      await thumb.press("[data-unpriced]");
      await thumb.page.waitForSelector("[data-price]:focus", { timeout: 60_000 });
      await thumb.page.locator("[data-price]:focus").fill("16.80");
      thumb.presses += "16.80".length;
      await thumb.page.waitForTimeout(900);
      await thumb.page.waitForSelector("[data-cost], [data-unpriced]", { timeout: 60_000 });
      await thumb.page.waitForFunction(() => !document.querySelector(".working"), null, { timeout: 60_000 });
      await thumb.page.waitForTimeout(900);
    }
    const cost = await thumb.read("[data-cost]");
    assert.match(cost, /\d+\.\d\d \d+\.\d\d/);
  },
  "show the inspector the walk and fill it in": async (thumb) => {
    await thumb.page.evaluate(() => { window.print = () => { window.printed = true; }; });
    await thumb.room("CHECK");
    await thumb.press('button:text-is("Walk the roof")', ".walk .one");
    const count = Number((await thumb.page.textContent('.room details[open] [role="status"]')).match(/of (\d+)/)[1]);
    await thumb.write('[data-walk="measured"]', "15-7/8 in");
    for (let at = 0; at < count; at++) await thumb.press('.walk button:text-is("Meets")');
    await thumb.write('[data-sign="name"]', "A. Name");
    await thumb.press('button:text-is("Today")');
    await thumb.press('button:text-is("Print the walk")');
    assert.ok(await thumb.page.evaluate(() => window.printed));
  },
  "send the roof to the other phone": async (thumb) => {
    await thumb.page.evaluate(() => { navigator.share = async (what) => { window.sent = what.text; }; });
    await thumb.room("CHECK");
    await thumb.press('button:text-is("Make a link")', "input.link");
    await thumb.press('button:text-is("Share the link")');
    const link = await thumb.page.evaluate(() => window.sent);
    const other = await opened(chrome, PHONE, { hash: "#" + link.split("#")[1] });
    assert.match(await other.page.textContent("h1"), /Kestrel Yard/);
    await other.context.close();
  },
  "print the pattern's page and the template true to size": async (thumb) => {
    await thumb.page.evaluate(() => { window.print = () => { window.printed = (window.printed ?? 0) + 1; }; });
    await thumb.room("CUT");
    for (const kind of ["pattern", "template"]) {
      await thumb.press(`[data-print="${kind}"]`, ".prints .paper");
      await thumb.page.waitForFunction(() => window.printed);
      await thumb.page.evaluate(() => { window.printed = 0; dispatchEvent(new Event("afterprint")); });
    }
  },
  "find the ridge height in metric": async (thumb) => {
    await thumb.press('.units button:text-is("mm")');
    assert.match(await thumb.read('[data-figure="ridge_top"] dd'), /mm/);
  },
};

for (const [name, job] of Object.entries(JOBS)) {
  if (!name.includes(process.argv[2] ?? "")) continue;
  const { page, context, errors } = await opened(chrome, PHONE);
  page.on("dialog", (dialog) => dialog.accept());
  const thumb = new Thumb(page);
  try {
    await job(thumb);
    assert.deepEqual(errors, []);
    console.log(`${name}: ${thumb.presses} presses, ${thumb.swipes} swipes, ${thumb.seconds.toFixed(1)} s`);
  } catch (error) {
    console.log(`${name}: NOT DONE: ${error.message.split("\n")[0]}`);
    process.exitCode = 1;
  }
  await context.close();
}
await chrome.close();
