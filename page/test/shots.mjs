// Pictures of every view at both sizes, to be looked at. Argument: the folder they go to.

import { mkdirSync } from "node:fs";
import { LAPTOP, PHONE, browser, opened } from "./page.mjs";
import { questions } from "./shots_questions.mjs";

const folder = process.argv[2] ?? "target/page/shots";
mkdirSync(folder, { recursive: true });
const chrome = await browser();

/** For use on the site: prices, the walk, printing, night. */
async function site(page, shot, down) {
  await page.click('nav button:has-text("BUY")');
  await page.waitForSelector(".bars", { timeout: 60_000 });
  for (const [begin, price] of [["2x6 ", "12.40"], ["nails ", "2.15"], ["sheet ", "18.50"]]) {
    await page.locator(`[data-price^="${begin}"]`).first().fill(price);
  }
  await page.waitForSelector("[data-total]", { timeout: 60_000 });
  await page.waitForFunction(() => !document.querySelector(".working"), null, { timeout: 60_000 });
  await down("buy-total", ".sum");
  await page.click('summary:has-text("Other lengths")');
  await down("buy-lengths", ".lengths");
  await page.evaluate(() => localStorage.removeItem("stepoff.prices"));
  await page.click('nav button:has-text("CHECK")');
  if (!(await page.isVisible(".walk"))) await page.click('summary:has-text("The walk")');
  await page.click('.walk button:has-text("Add a note")');
  await page.fill('[data-walk="measured"]', "16 psf on the plan");
  await down("walk-note", ".walk .one");
  await page.fill('[data-sign="name"]', "A. Name");
  const pad = page.locator(".pad-of-hand");
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  await page.mouse.move(box.x + 40, box.y + 90);
  await page.mouse.down();
  for (let at = 1; at < 40; at++) await page.mouse.move(box.x + 40 + at * 5, box.y + 90 + 40 * Math.sin(at / 2) * Math.cos(at / 9));
  await page.mouse.up();
  await down("walk-sign", ".pad-of-hand");
  await down("print", ".to-print");
  await page.click('button:text-is("Night")');
  for (const room of ["PLAN", "CUT", "LAY", "CHECK"]) {
    await page.click(`nav button:has-text("${room}")`);
    await shot(`night-${room.toLowerCase()}`);
  }
  await page.click('button:text-is("Night")');
}
for (const [name, viewport] of [["phone", PHONE], ["laptop", LAPTOP]]) {
  const { page, context, errors } = await opened(chrome, viewport);
  const shot = async (view) => {
    await page.waitForTimeout(150);
    await page.screenshot({ path: `${folder}/${name}-${view}.png` });
  };
  const down = async (view, selector) => {
    await page.locator(selector).first().scrollIntoViewIfNeeded();
    await shot(view);
  };
  await shot("plan");
  await page.click('[aria-label="Pitch: one step up"]');
  await shot("plan-changed");
  await page.click('.tools button:text-is("Undo")');
  await page.click('button.value[data-field="building.span"]');
  await shot("plan-keypad");
  await page.fill(".typed input", "16-3");
  await shot("plan-two-readings");
  await page.fill(".typed input", "1in");
  await shot("plan-refused");
  await page.fill(".typed input", "14ft");
  await page.click('.typed button:has-text("Done")');
  await down("plan-settings", 'input[type="search"]');
  await page.click('nav button:has-text("CUT")');
  await shot("cut");
  await down("cut-stack", ".stack li:nth-child(3)");
  await page.locator(".stack details summary").first().click();
  await down("cut-card", ".stack details[open] .drawn");
  await page.click('nav button:has-text("LAY")');
  await page.locator(".rows input").nth(0).check();
  await page.locator(".rows input").nth(1).check();
  await shot("lay");
  await page.click('nav button:has-text("BUY")');
  await page.waitForSelector(".bars", { timeout: 60_000 });
  await shot("buy");
  await down("buy-plans", ".bars li:nth-child(2)");
  await page.click('nav button:has-text("CHECK")');
  await shot("check");
  await page.click('summary:has-text("The walk")');
  await down("check-walk", ".walk .one");
  await down("check-files", ".files button:last-of-type");
  await page.click('.units button:text-is("mm")');
  await page.click('nav button:has-text("PLAN")');
  await shot("plan-metric");
  await page.click('.units button:text-is("feet")');
  await site(page, shot, down);
  await questions(page, shot);
  if (errors.length > 0) console.log(name, errors);
  await context.close();
}
await chrome.close();
