// How long the page takes with the processor throttled four times: from opening to the first numbers, and from a press to the
// roof drawn anew. Figures for docs/speed.md; nothing is decided by them.

import { FILE, PHONE, browser } from "./page.mjs";

const chrome = await browser();
const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const openings = [];
const changes = [];
for (let run = 0; run < 5; run++) {
  const context = await chrome.newContext({ viewport: PHONE, offline: true });
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  const start = performance.now();
  await page.goto(FILE.href);
  await page.waitForSelector("[data-figure]");
  openings.push(performance.now() - start);
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
  await context.close();
}
await chrome.close();
console.log(`first numbers: median ${(middle(openings) / 1000).toFixed(2)} s, fastest ${(Math.min(...openings) / 1000).toFixed(2)} s of ${openings.length}`);
console.log(`a change: median ${middle(changes).toFixed(0)} ms, fastest ${Math.min(...changes).toFixed(0)} ms of ${changes.length}`);
