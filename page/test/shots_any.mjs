// Pictures of the rooms of roofs that are more than one gable, at both sizes, to be looked at. Argument: the folder they go to.

import { mkdirSync, readFileSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import { LAPTOP, PHONE, browser, opened } from "./page.mjs";

const folder = process.argv[2] ?? "target/page/shots";
mkdirSync(folder, { recursive: true });
const chrome = await browser();
const root = new URL("../../", import.meta.url);
const ROOFS = { hip: "tests/data/roofs/01-hip-both-ends.toml", shed: "tests/data/roofs/04-shed.toml", ell: "docs/guide/l-shape.toml" };

for (const [size, viewport] of [["phone", PHONE], ["laptop", LAPTOP]]) {
  for (const [name, file] of Object.entries(ROOFS)) {
    const packed = deflateRawSync(readFileSync(new URL(file, root))).toString("base64url");
    const { page, context, errors } = await opened(chrome, viewport, { hash: `#roof=${packed}` });
    const shot = async (view) => {
      await page.waitForTimeout(150);
      await page.screenshot({ path: `${folder}/${size}-${name}-${view}.png` });
    };
    const down = async (view, selector) => {
      await page.locator(selector).first().scrollIntoViewIfNeeded();
      await shot(view);
    };
    await shot("plan");
    await page.click('button.value[data-field="building.span"]');
    await shot("plan-span");
    await page.click(".typed button.strong");
    await down("plan-figures", ".figures");
    await page.click("details.faces summary");
    await down("plan-faces", "details.faces table");
    await down("plan-blocks", ".blocks .files");
    if (name === "ell") {
      await page.click(".blocks summary");
      await down("plan-block", ".blocks summary");
    }
    await page.click('nav button:has-text("CUT")');
    await shot("cut");
    const hip = page.locator('.stack li:has(details)').first();
    await hip.locator("summary").first().click();
    await hip.scrollIntoViewIfNeeded();
    await shot("cut-card");
    await down("cut-card-how", ".stack details[open] :is(.how, .drawn)");
    await page.click('nav button:has-text("LAY")');
    await page.locator(".rows input").nth(0).check();
    await shot("lay");
    await page.click('nav button:has-text("BUY")');
    await page.waitForSelector(".bars", { timeout: 60_000 });
    await shot("buy");
    await page.click('nav button:has-text("CHECK")');
    await shot("check");
    await page.click(".to-model");
    await page.waitForSelector('.model-picture[data-state="drawn"]');
    await shot("model");
    await page.click('.tabs button:text-is("Sticks")');
    await page.locator(".marks button").first().click();
    await shot("model-card");
    if (errors.length > 0) console.log(size, name, errors);
    await context.close();
  }
}
await chrome.close();
