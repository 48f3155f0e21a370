// What every test in the browser uses. Arguments of the process: the program, and how many random roofs.
// ONLY=WORDS runs the tests whose names have these words; GO_ON=1 goes on after a failure and ends with all of them.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { browser, engine, opened } from "./page.mjs";

export const [program, count] = [process.argv[2], Number(process.argv[3] ?? 10)];
export const ask = await engine();
export const kestrel = readFileSync(new URL("../../examples/kestrel-yard.toml", import.meta.url), "utf8");
export const chrome = await browser();
export let passed = 0;
export const failed = [];

/** Runs a test in a page of its own; it may ask nothing of a network, and nothing may go wrong in it. */
export async function test(name, viewport, body, options) {
  if (!name.includes(process.env.ONLY ?? "")) return;
  const { context, page, asked, errors } = await opened(chrome, viewport, options);
  try {
    await body(page);
    assert.deepEqual(asked, [], "nothing is asked of a network");
    if (!options?.refuses) assert.deepEqual(errors, [], "nothing goes wrong in the page");
    passed += 1;
  } catch (error) {
    error.message = `${name} at ${viewport.width}x${viewport.height}: ${error.message}`;
    if (!process.env.GO_ON) throw error;
    failed.push(error.message);
  } finally {
    await context.close();
  }
}

export const room = (page, name) => page.click(`nav button:has-text("${name}")`);
export const figure = async (page, key) => (await page.textContent(`[data-figure="${key}"] dd`)).trim();
export const value = async (page, field) => (await page.textContent(`button.value[data-field="${field}"] .figure`)).trim();

/** Opens a field of the five, types into it as a keyboard does, and closes it. */
export async function type(page, field, text) {
  await page.click(`button.value[data-field="${field}"]`);
  await page.fill(".typed input", text);
}
/** Closes it; a value that is refused is left after it was said. */
export async function done(page) {
  await page.click(".typed button.strong");
  const leave = page.locator('.typed button:text-is("Leave it")');
  if (await leave.count() > 0) await leave.click();
}

/** What is said of the open field: nothing is called wrong before Done. */
export async function refusal(page) {
  if (await page.locator(".keypad .refused").count() > 0) throw new Error("called wrong while it is typed");
  await page.click(".typed button.strong");
  return (await page.textContent(".keypad .refused")).toLowerCase();
}

/** The job that is open, as the browser keeps it. */
export const saved = (page) => page.evaluate(() => {
  const list = Object.keys(localStorage).find((key) => /^stepoff\.page\.2[^/:]*$/.test(key));
  return JSON.parse(localStorage.getItem(`${list}/${JSON.parse(localStorage.getItem(list)).now}`));
});

/** Its roof file. */
export const kept = async (page) => {
  const { roof } = await saved(page);
  return roof.changes.slice(0, roof.done).reduce((text, one) => text.slice(0, one.at) + one.into + text.slice(one.at + one.out.length), roof.start);
};

export const plan = (roof, units = null) => ask({ ask: "room", room: "plan", roof, units, wide: 3, high: 2 });
