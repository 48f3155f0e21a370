// Two files of the page against each other: the same questions have the same answers, and the page around them is the same.
// Arguments: the committed file, and the one built afresh.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { FIVE, engine, roofs } from "./page.mjs";

const [kept, fresh] = process.argv.slice(2).map((name) => pathToFileURL(name));
const [old, built] = [await engine(kept), await engine(fresh)];
const kestrel = readFileSync(new URL("../../examples/kestrel-yard.toml", import.meta.url), "utf8");
const rebuild = "docs/page/stepoff.html is older than its sources: run bash page/build.sh and commit it";

const random = roofs(10, 3).map((roof) => built({ ask: "edit", roof: kestrel, set: Object.entries(FIVE).map(([name, key]) => [key, roof[name]]) }).ok);
let questions = 0;
for (const [at, roof] of [kestrel, ...random].entries()) {
  for (const units of [null, "metric"]) {
    for (const room of ["plan", "cut", "lay", "check", "model", ...(at === 0 ? ["buy"] : [])]) {
      const question = { ask: "room", room, roof, units, wide: 3.2, high: 2.2 };
      assert.deepEqual(old(question), built(question), rebuild);
      questions += 1;
    }
  }
  for (const of of ["rafter", "frame", "layout", "check", "ties"]) {
    assert.deepEqual(old({ ask: "facts", of, roof }), built({ ask: "facts", of, roof }), rebuild);
    questions += 1;
  }
}
// how well the blocks pack goes by the machine; the model's script is compared by its hash in the policy
const around = (file) => readFileSync(file, "utf8").replace(/(id="(?:engine|model)")[^<]*/g, "$1");
assert.equal(around(kept), around(fresh), rebuild);
console.log(`page: the committed file answers ${questions} questions as the one built afresh does`);
