// A browser of Debian's with the page in it, opened as a file, with no network to go to.

import { readFileSync } from "node:fs";
import { chromium } from "playwright-core";
import { contents } from "../src/packed.js";

export const FILE = new URL(`../../${process.env.STEPOFF_PAGE ?? "docs/page/stepoff.html"}`, import.meta.url);
export const PHONE = { width: 390, height: 844 };
export const LAPTOP = { width: 1280, height: 800 };

export async function browser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync",
      // 3-D pictures by the processor alone
      "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
  });
}

/** A page of its own, with what it asked of the network and what went wrong in it. */
export async function opened(chrome, viewport, { file = FILE, hash = "", scheme = "light" } = {}) {
  const context = await chrome.newContext({ viewport, offline: true, hasTouch: viewport.width < 600, colorScheme: scheme, acceptDownloads: true });
  const page = await context.newPage();
  const asked = [];
  const errors = [];
  page.on("request", (request) => {
    if (!/^(file|blob|data):/.test(request.url())) asked.push(request.url());
  });
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  await page.goto(file.href + hash);
  await page.waitForSelector("nav button");
  return { context, page, asked, errors };
}

/** The engine that lies in a page's file, under node. */
export async function engine(file = FILE) {
  const html = readFileSync(file, "utf8");
  const letters = html.match(/<script type="application\/octet-stream" id="engine">([^<]*)</)[1];
  return ofBytes(await contents(letters));
}

export async function ofBytes(bytes) {
  const module = await WebAssembly.compile(bytes);
  const imports = {};
  for (const wanted of WebAssembly.Module.imports(module)) {
    (imports[wanted.module] ??= {})[wanted.name] = wanted.name.startsWith("__wbg_now_")
      ? Date.now
      : () => { throw new Error(`${wanted.name} is not here`); };
  }
  (imports.page ??= {}).hears = () => {};
  const { exports } = await WebAssembly.instantiate(module, imports);
  const ask = (question) => {
    const text = new TextEncoder().encode(JSON.stringify(question));
    const address = exports.alloc(text.length);
    new Uint8Array(exports.memory.buffer, address, text.length).set(text);
    const answer = BigInt.asUintN(64, exports.ask(address, text.length));
    const [at, len] = [Number(answer >> 32n), Number(answer & 0xffffffffn)];
    const json = new TextDecoder().decode(new Uint8Array(exports.memory.buffer, at, len));
    exports.free(at, len);
    return JSON.parse(json);
  };
  ask.bytes = () => exports.memory.buffer.byteLength;
  return ask;
}

/** Random roofs, the same for every run: a small generator of our own, so that no library decides. */
export function roofs(count, seed = 7) {
  let state = seed >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const one = (list) => list[Math.floor(next() * list.length)];
  const whole = (low, high) => low + Math.floor(next() * (high - low + 1));
  return Array.from({ length: count }, () => {
    const metric = next() < 0.25;
    const span = metric ? `${whole(2400, 9000)}mm` : `${whole(8, 30)}ft ${whole(0, 11)}-${one(["1/2", "3/8", "5/16"])}in`;
    const overhang = metric ? `${whole(0, 600)}mm` : `${whole(0, 30)}in`;
    const pitch = metric ? `${whole(12, 55)}deg` : `${whole(2, 16)}/12`;
    const ridge = one(["none", "3/4in", "1-1/2in", "1-3/4in", "2x8"]);
    const stock = one(["2x4", "2x6", "2x8", "2x10", "2x12"]);
    return { span, pitch, overhang, ridge, stock, metric };
  });
}

export const FIVE = {
  span: "building.span", pitch: "roof.pitch", overhang: "eave.overhang", ridge: "ridge.board", stock: "rafter.stock",
};
