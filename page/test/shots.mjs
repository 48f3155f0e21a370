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
  await page.click(".typed button.strong");
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
  await model(page, shot);
  if (errors.length > 0) console.log(name, errors);
  await context.close();
}
await chrome.close();

/** The frame in 3-D: as it opens, a card, a verdict's sticks, taken apart, each step of the erection; and the spacing's drawing. */
async function model(page, shot) {
  await page.click('.units button:text-is("feet")');
  await page.click(".to-spacing");
  await shot("plan-spacing");
  await page.click(".to-spacing");
  await page.click(".to-model");
  await page.waitForSelector('.model-picture[data-state="drawn"]');
  await shot("model");
  await page.click('.tabs button:text-is("Sticks")');
  await page.locator(".marks button").first().click();
  await shot("model-card");
  await page.click('.card button:text-is("Unlight")');
  await page.click('.tabs button:text-is("Look")');
  for (const look of ["Above", "Eave", "Side A", "Near end"]) {
    await page.click(`.controls button:text-is("${look}")`);
    await shot(`model-${look.toLowerCase().replaceAll(" ", "-")}`);
  }
  await page.click('.controls button:text-is("Home")');
  await page.fill(".apart input", "10");
  await shot("model-apart");
  await page.fill(".apart input", "0");
  await page.click('.tabs button:text-is("Put it up")');
  for (const step of ["First", "Next", "Next"]) await page.click(`.steps button:text-is("${step}")`);
  await shot("model-step");
  await page.click('.model-top button:text-is("Close")');
  await page.click('nav button:has-text("CHECK")');
  await page.click('summary:has-text("What meets")');
  await page.click('[data-finding="rafter_span"] .in-frame');
  await page.waitForSelector('.model-picture[data-state="drawn"]');
  await shot("model-verdict");
  await page.click('.model-top button:text-is("Close")');
}
