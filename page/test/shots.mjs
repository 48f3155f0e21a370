// Pictures of every view at both sizes, to be looked at. Argument: the folder they go to.

import { mkdirSync } from "node:fs";
import { LAPTOP, PHONE, browser, opened } from "./page.mjs";

const folder = process.argv[2] ?? "target/page/shots";
mkdirSync(folder, { recursive: true });
const chrome = await browser();
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
  await down("check-walk", ".walk li:nth-child(2)");
  await down("check-files", ".files button:last-of-type");
  await page.click('.units button:text-is("mm")');
  await page.click('nav button:has-text("PLAN")');
  await shot("plan-metric");
  if (errors.length > 0) console.log(name, errors);
  await context.close();
}
await chrome.close();
