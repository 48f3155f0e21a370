// How long the page takes with the processor throttled four times: from opening to the first numbers, from a press to the roof
// drawn anew, by a drag too, from a press to the frame in 3-D, and from a press to the set of sheets as PDF. Figures for docs/speed.md; nothing is decided by them.

import { FILE, PHONE, browser } from "./page.mjs";

const chrome = await browser();
const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const openings = [];
const changes = [];
const sets = [];
const models = [];
const drags = [];

/** A page that is throttled. A browser throttles no worker: without one the page works in its own thread, which is slow as well. */
async function throttled(worker) {
  const context = await chrome.newContext({ viewport: PHONE, offline: true, acceptDownloads: true });
  const page = await context.newPage();
  if (!worker) await page.addInitScript(() => { window.Worker = undefined; });
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  const start = performance.now();
  await page.goto(FILE.href);
  await page.waitForSelector("[data-figure]");
  return { context, page, seconds: performance.now() - start };
}

for (let run = 0; run < 5; run++) {
  const { context, page, seconds } = await throttled(true);
  openings.push(seconds);
  for (let press = 0; press < 20; press++) {
    const name = ["Span", "Pitch", "Overhang", "Ridge board", "Rafters"][press % 5];
    const way = press % 10 < 5 ? "up" : "down";
    changes.push(await page.evaluate(async (label) => {
      const begin = performance.now();
      document.querySelector(`[aria-label="${label}"]`).click();
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
      return performance.now() - begin;
    }, `${name}: one step ${way}`));
  }
  // the points of the drawing: held by a real press, then moved within the page as the changes are made
  const grip = await page.locator('[data-grip="roof.pitch"]').boundingBox();
  const at = [grip.x + grip.width / 2, grip.y + grip.height / 2];
  await page.mouse.move(...at);
  await page.mouse.down();
  for (let part = 1; part <= 10; part++) {
    drags.push(await page.evaluate(async ([x, y]) => {
      const begin = performance.now();
      document.querySelector('[data-grip="roof.pitch"]').dispatchEvent(new PointerEvent("pointermove", { clientX: x, clientY: y, isPrimary: true, bubbles: true }));
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
      return performance.now() - begin;
    }, [at[0], at[1] - part * 3]));
  }
  await page.mouse.up();
  // and the frame in 3-D: from a press to its picture
  for (let time = 0; time < 2; time++) {
    const begin = performance.now();
    await page.click(".to-model");
    await page.waitForFunction(() => document.querySelector(".model canvas")?.picture?.drawn > 0);
    if (time === 0) models.push(performance.now() - begin);
    await page.click('.model-top button:text-is("Close")');
  }
  await context.close();

  const alone = await throttled(false);
  await alone.page.click('nav button:has-text("CHECK")');
  const button = alone.page.locator('[data-file="pdf"]');
  await button.scrollIntoViewIfNeeded();
  const press = performance.now();
  await Promise.all([alone.page.waitForEvent("download", { timeout: 60_000 }), button.click()]);
  sets.push(performance.now() - press);
  await alone.context.close();
}
await chrome.close();
const told = (what, list) => console.log(`${what}: median ${(middle(list) / 1000).toFixed(2)} s, fastest ${(Math.min(...list) / 1000).toFixed(2)} s of ${list.length}`);
told("first numbers", openings);
console.log(`a change: median ${middle(changes).toFixed(0)} ms, fastest ${Math.min(...changes).toFixed(0)} ms of ${changes.length}`);
told("the PDF set", sets);
told("the frame in 3-D, first opened", models);
console.log(`a drag: median ${middle(drags).toFixed(0)} ms of ${drags.length}`);
