// The engine as the page has it against the program itself: the same JSON for every command, the same files.
// Texts, structure and counts are equal; figures are equal but for their last bits, for the tangents and arc tangents of wasm
// and of the machine's own library may differ there.
// Arguments: the program, and how many random roofs.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { constants, inflateSync } from "node:zlib";
import { FILE, FIVE, engine, roofs } from "./page.mjs";

const [program, count] = [process.argv[2], Number(process.argv[3] ?? 20)];
const ask = await engine(FILE);
const folder = mkdtempSync(join(tmpdir(), "stepoff-page-"));
const root = new URL("../../", import.meta.url).pathname;

/** What the program writes; status 1 says that a finding fails. */
function run(...args) {
  try {
    return execFileSync(program, args, { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 28 });
  } catch (error) {
    if (error.status === 1) return error.stdout;
    if (error.status === 2) return null;
    throw error;
  }
}

const examples = [
  ["examples/kestrel-yard.toml", readFileSync(join(root, "examples/kestrel-yard.toml"), "utf8")],
  ...readdirSync(join(root, "examples/odd")).filter((name) => name.endsWith(".toml"))
    .map((name) => [`examples/odd/${name}`, readFileSync(join(root, "examples/odd", name), "utf8")]),
  ...["docs/guide/l-shape.toml", ...readdirSync(join(root, "tests/data/roofs")).filter((name) => name.endsWith(".toml")).map((name) => `tests/data/roofs/${name}`)]
    .map((name) => [name, readFileSync(join(root, name), "utf8")]),
];
const kestrel = examples[0][1];
const random = roofs(count).map((roof, at) => {
  const set = Object.entries(FIVE).map(([name, key]) => [key, roof[name]]);
  const edited = ask({ ask: "edit", roof: kestrel, set });
  return [`random roof ${at}: ${JSON.stringify(roof)}`, edited.ok];
});

const near = (a, b) => a === b || Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));

/** Equal but for the last bits of numbers. */
function same(told, own, where) {
  if (typeof told === "number" && typeof own === "number") {
    assert.ok(near(told, own), `${where}: ${told} is not ${own}`);
  } else if (told !== null && own !== null && typeof told === "object" && typeof own === "object") {
    assert.deepEqual(Object.keys(told), Object.keys(own), where);
    for (const key of Object.keys(told)) same(told[key], own[key], `${where}.${key}`);
  } else {
    assert.equal(told, own, where);
  }
}

/** A PDF's streams unpacked (the packer's bytes go by the machine, and with them the file's own ids), without the lengths and places that go by how well they pack; any other text as it is. */
function unpacked(text) {
  if (!text.startsWith("%PDF")) return text;
  return [...text.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)].map((stream) => {
    try {
      return inflateSync(Buffer.from(stream[1], "latin1"), { finishFlush: constants.Z_SYNC_FLUSH }).toString("latin1");
    } catch {
      return stream[1];
    }
  }).join("\n").replace(/(InstanceID|DocumentID)>[^<]*/g, "$1>");
}

/** Files that are equal byte for byte, or whose texts are equal but for the last digits of numbers. */
function sameFile(told, own, where) {
  if (told.equals(own)) return true;
  const number = /-?\d+\.\d+(?:[eE][-+]?\d+)?/g;
  const [a, b] = [told, own].map((file) => unpacked(file.toString("latin1")));
  assert.equal(a.replace(number, "#"), b.replace(number, "#"), where);
  const [left, right] = [a.match(number), b.match(number)];
  left.forEach((text, at) => assert.ok(Math.abs(Number(text) - Number(right[at])) <= 1e-6, `${where}: ${text} is not ${right[at]}`));
  return false;
}

let compared = 0;
let equal = 0;
let files = 0;
let refused = 0;
for (const [name, text] of [...examples, ...random]) {
  const file = join(folder, "roof.toml");
  writeFileSync(file, text);
  for (const of of ["rafter", "frame", "layout", "check", "ties"]) {
    const own = run(of, file, "--format", "json", "--quiet");
    const told = ask({ ask: "facts", of, roof: text });
    if (own === null) {
      assert.ok(told.refused?.length > 0, `${name}, ${of}: the program refuses, the page answers`);
      refused += 1;
    } else {
      same(told.ok, JSON.parse(own), `${name}, ${of}`);
      compared += 1;
    }
  }
}
// every file of Kestrel Yard, and of a roof that is more than one gable
const ell = examples.find(([name]) => name === "docs/guide/l-shape.toml");
const FILES = [
  ["dxf", "feet", ["export", "--to", "dxf"], "a.dxf"],
  ["ifc", "metric", ["export", "--to", "ifc", "--unit", "mm"], "a.ifc"],
  ["gltf", "feet", ["export", "--to", "gltf"], "a.glb"],
  ["obj", "feet", ["export", "--to", "obj"], "a.obj"],
  ["csv", "feet", ["export", "--to", "csv"], "a.csv"],
  ["json", "feet", ["export", "--to", "json"], "a.json"],
  ["pdf", "feet", ["sheets", "--units", "feet"], "a.pdf"],
  ["html", "feet", ["sheets", "--units", "feet"], "a.html"],
  ["xlsx", "feet", ["export", "--to", "xlsx"], "a.xlsx"],
  ["order-xlsx", "feet", ["order", "--units", "feet"], "order.xlsx"],
  ["order-csv", "feet", ["order", "--units", "feet", "--format", "csv"], null],
  ["prices-csv", "feet", ["prices"], "prices.csv"],
];
for (const [from, roof] of [examples[0], ell]) {
  for (const [to, units, args, saved] of FILES) {
    // equal figures stand once in an IFC file, and the last digit of an angle decides which are equal; a workbook is packed
    if (from === ell[0] && (to === "ifc" || to === "xlsx")) continue;
    files += 1;
    const file = join(folder, saved ?? "rows.csv");
    const [command, ...rest] = args;
    const out = saved === null ? [] : [to === "order-xlsx" ? "--xlsx" : "-o", file];
    rmSync(file, { force: true });
    const own = run(command, join(root, from), ...rest, ...out, "--quiet");
    if (saved === null) writeFileSync(file, own);
    const told = ask({ ask: "file", to, roof, units });
    assert.ok(told.ok, `${from}, ${to}: ${JSON.stringify(told)}`);
    if (sameFile(Buffer.from(told.ok.base64, "base64"), readFileSync(file), `${from}, ${to} file`)) equal += 1;
  }
}
rmSync(folder, { recursive: true });

// a thousand changes take no more room than a hundred
let changing = kestrel;
const change = (at) => {
  changing = ask({ ask: "nudge", roof: changing, field: Object.values(FIVE)[at % 4], up: at % 8 < 4, units: null }).ok;
  assert.ok(ask({ ask: "room", room: "plan", roof: changing, units: null, wide: 3, high: 2 }));
};
for (let at = 0; at < 104; at++) change(at);
const room = ask.bytes();
for (let at = 0; at < 1000; at++) change(at);
assert.equal(ask.bytes(), room, "memory grows");
console.log(`page engine: ${compared} answers equal the program's, ${refused} refusals agree, ${files} files agree, ${equal} of them byte for byte`);
