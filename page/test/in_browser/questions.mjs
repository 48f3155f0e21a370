// What the page asks and is asked: six questions for a new roof, jobs by name, one number found, roofs compared, cures,
// every field. The other side of each comparison is the program itself.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import axe from "axe-core";
import { ask, chrome, done, figure, kept, kestrel, plan, program, refusal, room, saved, test, type, value } from "../harness.mjs";
import { LAPTOP, PHONE, opened } from "../page.mjs";

const folder = mkdtempSync(join(tmpdir(), "stepoff-questions-"));
const file = join(folder, "roof.toml");

/** The program's JSON; status 1 says that something fails or has no solution. */
function run(...args) {
  try {
    return JSON.parse(execFileSync(program, [...args, "--format", "json", "--quiet"], { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 28 }));
  } catch (error) {
    if (error.status === 1) return JSON.parse(error.stdout);
    throw error;
  }
}

/** Equal but for the last bits of numbers. */
function same(told, own, where) {
  if (typeof told === "number" && typeof own === "number") {
    assert.ok(Math.abs(told - own) <= 1e-6 * Math.max(1, Math.abs(own)), `${where}: ${told} is not ${own}`);
  } else if (told !== null && own !== null && typeof told === "object" && typeof own === "object") {
    assert.deepEqual(Object.keys(told), Object.keys(own), where);
    for (const key of Object.keys(told)) same(told[key], own[key], `${where}.${key}`);
  } else assert.equal(told, own, where);
}

/** Nothing serious for axe, no target under 48 px, nothing wider than the screen. */
async function look(page, where) {
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const { violations } = await window.axe.run(document);
    const seen = (one) => one.getClientRects().length > 0;
    const small = [...document.querySelectorAll("button, select, summary, label.tick, input:not([type=checkbox]):not([type=file])")].filter(seen)
      .filter((one) => { const box = one.getBoundingClientRect(); return box.width < 47.5 || box.height < 47.5; }).map((one) => one.textContent.slice(0, 30));
    const serious = violations.filter((one) => ["serious", "critical"].includes(one.impact)).map((one) => `${one.id} ${one.nodes[0].target}`);
    return { serious, small, wide: document.documentElement.scrollWidth - innerWidth };
  });
  assert.deepEqual(found, { serious: [], small: [], wide: 0 }, where);
}

const ready = (page) => page.waitForSelector("nav button");
const reload = async (page) => { await page.reload(); await ready(page); };
const name = async (page) => (await page.textContent("h1 .jobname")).trim();
const press = (page, text, within = "") => page.click(`${within} button:text-is("${text}")`);
const jobs = (page) => page.click("h1 .jobname");
/** Opens a roof file as a job. */
async function open(page, text) {
  await jobs(page);
  await page.setInputFiles('.jobs input[type="file"]', { name: "roof.toml", mimeType: "text/plain", buffer: Buffer.from(text) });
  await page.waitForSelector(".jobs", { state: "detached" });
}

const ANSWERS = [["building.span", "15' 6\""], ["roof.pitch", "7/12"], ["building.length", "26'"], ["eave.overhang", null], ["rafter.stock", "2x8"], ["ridge.board", null]];

/** The program's own starter file for these answers: asked at a terminal, which `script` gives it. */
function starter() {
  const keys = ANSWERS.map(([, answer]) => `printf '%s\\r' ${JSON.stringify(answer ?? "")}; sleep 0.3`).join("; ");
  execFileSync("bash", ["-c", `(sleep 1; ${keys}; sleep 1) | script -qec '${program} start --ask --force ${file}' /dev/null >/dev/null`]);
  return readFileSync(file, "utf8");
}
const own_starter = starter();

for (const viewport of [PHONE, LAPTOP]) {
  await test("six questions make a roof of one's own, as the program's starter does, and the example stays", viewport, async (page) => {
    const example = await kept(page);
    await press(page, "Start my own");
    for (const [at, [field, answer]] of ANSWERS.entries()) {
      assert.match(await page.textContent(".start h2"), new RegExp(`${at + 1} of 6`));
      assert.ok(await page.isVisible(".sight svg"), "a drawing follows");
      if (at === 1) await look(page, "a question");
      const skip = page.locator(".start .skip");
      if (answer === null) {
        const usual = ask({ ask: "questions" }).ok.questions[at].default;
        assert.ok((await skip.textContent()).includes(usual), `what may be left says its default ${usual}`);
        await skip.click();
        continue;
      }
      if (field === "roof.pitch") {
        assert.equal(await skip.count(), 0, "the pitch must be answered");
        // back, and forward again: the answer before is kept
        await press(page, "Back", ".start");
        assert.equal(await page.inputValue(".typed input"), "15' 6\"");
        await press(page, "Next", ".start");
        await page.fill(".typed input", "1/4");
        assert.equal(await page.locator(".start .refused").count(), 0, "nothing is called wrong while it is typed");
        await press(page, "Next", ".start");
        assert.ok((await page.textContent(".start .refused")).length > 10, "refused at the question");
        assert.match(await page.textContent(".start h2"), /2 of 6/, "and not gone on");
      }
      const before = await page.innerHTML(".sight");
      await page.fill(".typed input", answer);
      if (at < 2) assert.notEqual(await page.innerHTML(".sight"), before, "the drawing follows the answer");
      if (at === 2) await reload(page);
      if (at === 2) assert.equal(await page.inputValue(".typed input"), answer, "every letter is kept");
      await press(page, "Next", ".start");
    }
    await page.fill(".start form input", 'Heron "Shed" \\ 1');
    await look(page, "the name");
    await page.click('.start button:has-text("Start")');
    await page.waitForSelector(".fives");
    assert.equal(await name(page), 'Heron "Shed" \\ 1');
    const made = await kept(page);
    const but_name = (text) => text.split("\n").filter((line) => !/^(# )?name = /.test(line));
    assert.deepEqual(but_name(made), but_name(own_starter), "as the program writes it");
    writeFileSync(file, made);
    assert.ok(run("rafter", file).pattern_rafter.run_in > 0, "the program reads it");
    assert.equal((await page.isVisible(".badge")), false, "it is no example");
    // the example is as it was, one press away
    await jobs(page);
    await page.click('.joblist li:has(.badge) button:text-is("Open")');
    assert.equal(await kept(page), example);
  });

  await test("axe finds nothing serious in jobs, fit, compare and cures", viewport, async (page) => {
    await jobs(page);
    await look(page, "jobs");
    await press(page, "Close");
    await press(page, "Find one number");
    await page.click('.fit button:text-is("ridge top")');
    await page.fill(".fit .typed input", "13ft 6in");
    await press(page, "Done", ".fit");
    await page.click('.fit button:text-is("pitch")');
    await press(page, "Find the pitch");
    await page.waitForSelector(".fit .answer");
    await look(page, "fit");
    await press(page, "Compare roofs");
    await look(page, "compare");
    await open(page, kestrel.replace("[rafter]", "[rafter]\nseat = \"3-1/2in\""));
    await page.waitForSelector(".news .cures button");
    await look(page, "cures");
  });
}

await test("jobs are kept by name: over a reload, renamed, copied, deleted and taken back", PHONE, async (page) => {
  await open(page, kestrel.replaceAll("Kestrel Yard", "Heron Shed"));
  assert.equal(await name(page), "Heron Shed");
  await page.click('[aria-label="Span: one step up"]');
  await room(page, "CUT");
  await page.click('[aria-label="R1: +1 cut"]');
  const heron = await kept(page);
  // another job: its ticks and history are its own
  await open(page, kestrel.replaceAll("Kestrel Yard", "Wren Barn").replace('pitch = "6/12"', 'pitch = "9/12"'));
  await room(page, "CUT");
  assert.match(await page.textContent(".stack li >> nth=0"), /0 of \d+ cut/);
  assert.ok(await page.isDisabled('.tools button:text-is("Undo")'));
  await reload(page);
  assert.equal(await name(page), "Wren Barn");
  await jobs(page);
  assert.deepEqual(await page.locator(".joblist > li > p > b").allTextContents(), ["Wren Barn", "Heron Shed", "Kestrel Yard"]);
  await page.click('.joblist li:has-text("Heron Shed") button:text-is("Open")');
  assert.equal(await kept(page), heron);
  await room(page, "CUT");
  assert.match(await page.textContent(".stack li >> nth=0"), /1 of \d+ cut/);
  assert.ok(await page.isEnabled('.tools button:text-is("Undo")'), "its history came back");
  // rename one that is not open
  await jobs(page);
  await page.click('.joblist li:has-text("Wren Barn") button:text-is("Rename")');
  await page.fill(".joblist form input", "Wren House");
  await page.click(".joblist form button");
  await page.waitForSelector('.joblist li:has-text("Wren House")');
  // copy
  await page.click('.joblist li:has-text("Wren House") button:text-is("Copy")');
  assert.equal(await name(page), "Wren House, copy");
  assert.match(await kept(page), /pitch = "9\/12"/);
  // delete the one that is open, and take it back over a reload
  await jobs(page);
  await page.click('.joblist li.now button:text-is("Delete")');
  assert.equal(await page.locator('.jobs > .joblist > li:not(.changed):has-text("Wren House, copy")').count(), 0);
  await reload(page);
  await jobs(page);
  await page.click('summary:has-text("Deleted jobs")');
  await page.click('details .joblist button:text-is("Take it back")');
  await page.click('.joblist li:has-text("Wren House, copy") button:text-is("Open")');
  assert.match(await kept(page), /Wren House, copy/);
  // and at once
  await jobs(page);
  await page.click('.joblist li:has-text("Heron Shed") button:text-is("Delete")');
  await page.click('.jobs .changed button:text-is("Take it back")');
  assert.equal(await page.locator('.jobs > .joblist > li:has-text("Heron Shed")').count(), 1);
  // the file that is saved is the roof file
  const [download] = await Promise.all([page.waitForEvent("download"), page.click('.joblist li:has-text("Heron Shed") button:text-is("Save the roof file")')]);
  assert.equal(download.suggestedFilename(), "heron-shed.toml");
  assert.equal(readFileSync(await download.path(), "utf8"), heron);
});

await test("the example comes back as it was at one press, and undo takes that back", PHONE, async (page) => {
  await page.click('[aria-label="Span: one step up"]');
  await page.click('[aria-label="Pitch: one step up"]');
  const changed = await kept(page);
  await jobs(page);
  await press(page, "Show the example as it was");
  assert.equal(await kept(page), kestrel);
  await press(page, "Undo", ".tools");
  assert.equal(await kept(page), changed);
});

await test("a job of an older page is read, one of a newer page is left alone and said", PHONE, async (page) => {
  await page.click('[aria-label="Span: one step up"]');
  const job = await saved(page);
  const roof = await kept(page);
  await page.evaluate((job) => {
    localStorage.clear();
    delete job.version;
    localStorage.setItem("stepoff.page.1", JSON.stringify(job));
  }, job);
  await reload(page);
  assert.equal(await kept(page), roof);
  assert.ok(await page.isEnabled('.tools button:text-is("Undo")'), "with its history");
  const newer = JSON.stringify({ version: 3, other: true });
  await page.evaluate((newer) => {
    localStorage.setItem("stepoff.page.3", newer);
    const list = JSON.parse(localStorage.getItem("stepoff.page.2"));
    localStorage.setItem("stepoff.page.2/strange", newer);
    list.jobs.push({ id: "strange", name: "Strange", changed: 1, fails: "", deleted: null });
    localStorage.setItem("stepoff.page.2", JSON.stringify(list));
  }, newer);
  await reload(page);
  await jobs(page);
  assert.match(await page.textContent(".jobs"), /A newer page keeps jobs/);
  assert.match(await page.textContent('.joblist li:has-text("Strange")'), /newer page wrote this job/);
  assert.equal(await page.locator('.joblist li:has-text("Strange") button').count(), 0);
  assert.deepEqual(await page.evaluate(() => [localStorage.getItem("stepoff.page.3"), localStorage.getItem("stepoff.page.2/strange")]), [newer, newer]);
});

for (const [what, broken] of [["full", () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; }],
  ["forbidden", () => { Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } }); }]]) {
  await test(`storage that is ${what} is said, and the file offered`, PHONE, async () => {
    const context = await chrome.newContext({ viewport: PHONE, offline: true, acceptDownloads: true });
    const page = await context.newPage();
    const errors = [];
    page.on("pageerror", (error) => errors.push(String(error)));
    await page.addInitScript(broken);
    await page.goto((await import("../page.mjs")).FILE.href);
    await ready(page);
    await page.click('[aria-label="Span: one step up"]');
    assert.match(await page.textContent(".news"), /keeps nothing/);
    const [download] = await Promise.all([page.waitForEvent("download"), page.click('.news button:text-is("Save the roof file")')]);
    assert.match(readFileSync(await download.path(), "utf8"), /span = "14ft 1in"/);
    assert.deepEqual(errors, []);
    await context.close();
  });
}

// questions of fit: what is wanted, to be what, above what, which number
const FITS = [
  ["ridge top", "13ft 6in", "the floor", "pitch"], ["ridge top", "12ft", "the floor", "span"], ["ridge top", "14ft", "the floor", "wall height"],
  ["ridge top", "4ft 2in", "the plate", "pitch"], ["ridge top", "3ft 11in", "the plate", "seat"], ["ridge top", "90ft", "the floor", "pitch"],
  ["peak", "5ft", "the plate", "pitch"], ["peak", "15ft 3in", "the ground", "span"], ["fascia top", "3in", "the plate", "overhang"],
  ["fascia top", "-4in", "the plate", "overhang"], ["fascia bottom", "7ft 4in", "the floor", "fascia depth"], ["fascia bottom", "-1ft", "the plate", "overhang"],
  ["soffit's underside", "7ft 2in", "the floor", "overhang"], ["soffit's underside", "7ft", "the floor", "wall height"], ["heel stand", "4-1/2in", null, "seat"],
  ["heel stand", "5in", null, "pitch"], ["fascia, level from the building line", "14in", null, "overhang"], ["rise over 48 in level", "26in", null, "pitch"],
  ["peak, at most", "14ft", "the floor", "pitch"], ["rafter board, at most", "10ft", null, "overhang"],
];
const WORD = { "the floor": "floor", "the plate": "plate", "the ground": "grade", "the mark": "mark" };

await test("twenty questions of fit are answered as the program answers them, and what is taken is one step", LAPTOP, async (page) => {
  await press(page, "Find one number");
  const terms = ask({ ask: "terms", roof: kestrel }).ok;
  writeFileSync(file, kestrel);
  let fitted = 0;
  for (const [want, to, above, find] of FITS) {
    const where = `${want} ${to} ${above ?? ""} ${find}`;
    const term = terms.wants.find((one) => one.words === want);
    assert.ok(term, where);
    const word = term.finds.find((one) => one.words === find).word;
    const set = [["fit.find", word], [term.key, to], ...(above ? [["fit.above", WORD[above]]] : [])];
    const flags = set.flatMap(([key, text]) => [`--${key.slice(4).replaceAll("_", "-")}=${text}`]);
    const own = run("fit", file, ...flags);
    same(ask({ ask: "facts", of: "fit", roof: kestrel, set }).ok, own, where);
    await page.click(`.fit [aria-label^="I want"] button:text-is("${want}")`);
    await page.fill(".fit .typed input", to);
    await press(page, "Done", ".fit");
    if (above) await page.click(`.fit [aria-label="Measured above"] button:text-is("${above}")`);
    await page.click(`.fit [aria-label^="Which number"] button:text-is("${find}")`);
    await press(page, `Find the ${find}`);
    await page.waitForSelector(".fit .answer, .fit .refused", { timeout: 60_000 });
    const text = await page.textContent(".fit .answer");
    const written = own.fits.flatMap((fit) => fit.solutions.flatMap((one) => one.buildable.map((value) => value.written)));
    const buttons = (await page.locator(".fit .answer section .take").allTextContents()).map((one) => one.replace(/^Take /, ""));
    assert.deepEqual(buttons, written, where);
    if (written.length === 0) assert.match(text, /NO SOLUTION|MANY FIT/i, where);
    else {
      fitted += 1;
      const line = own.fits[0].solutions[0].buildable[0];
      await page.locator(".fit .answer section .take").first().click();
      await page.waitForSelector(".changed, .news .refused").catch((error) => { throw new Error(`${where}: ${error.message}`); });
      if (!(await page.isVisible(".news .alert"))) {
        const field = ask({ ask: "fields", roof: await kept(page) }).ok.tables.flatMap((table) => table.fields).find((one) => one.key === `${line.table}.${line.line.split(" = ")[0]}`);
        const read = (text) => ask({ ask: "read", field: field.key, text, units: null }).ok.value;
        assert.equal(read(field.text), read(line.written), where);
        await press(page, "Undo", ".tools");
      }
      assert.equal(await kept(page), kestrel, `${where}: one step back`);
    }
  }
  assert.ok(fitted > 10, `${fitted} of ${FITS.length} fit`);
  console.log(`page: ${FITS.length} questions of fit answered as the program does, ${fitted} of them taken and taken back`);
});

await test("roofs are compared as the program does, with progress, and one is taken", LAPTOP, async (page) => {
  writeFileSync(file, kestrel);
  const own = run("compare", file);
  await press(page, "Compare roofs");
  await page.click('.compare button:text-is("Compare")');
  await page.waitForSelector(".compare .answer", { timeout: 300_000 });
  same(ask({ ask: "facts", of: "compare", roof: kestrel }).ok, own, "compare");
  const shown = await page.locator(".compared li").allTextContents();
  assert.equal(shown.length, own.shown.length);
  for (const [at, roof] of own.shown.entries()) assert.ok(shown[at].includes(`${Math.round(roof.board_feet)} bd ft`), `${shown[at]}: ${roof.board_feet}`);
  await page.locator(".compared .take").first().click();
  const taken = await kept(page);
  const best = own.shown.find((roof) => roof.number > 0 && (roof.rafter !== "2x6" || roof.spacing !== '16"' || roof.joist !== "2x6" || roof.ridge !== "2x8"));
  for (const [key, text] of [["rafter.stock", best.rafter], ["roof.spacing", best.spacing], ["ceiling.stock", best.joist]]) {
    const field = ask({ ask: "fields", roof: taken }).ok.tables.flatMap((table) => table.fields).find((one) => one.key === key);
    const read = (text) => ask({ ask: "read", field: key, text, units: null }).ok.value;
    assert.equal(read(field.text), read(text), key);
  }
  await press(page, "Undo", ".tools");
  assert.equal(await kept(page), kestrel);
});

await test("a long comparison is stopped at a press, and says how far it was", PHONE, async (page) => {
  await press(page, "Compare roofs");
  await page.click('.compare [data-vary="compare.pitch"] > button >> nth=0');
  await page.click('.compare [data-vary="compare.pitch"] button:text-is("Edit")');
  await page.fill('.compare [data-vary="compare.pitch"] input', "3/12 to 12/12 by 0.05/12");
  await page.click('.compare [data-vary="compare.overhang"] > button >> nth=0');
  await page.click('.compare [data-vary="compare.overhang"] button:text-is("Edit")');
  await page.fill('.compare [data-vary="compare.overhang"] input', "0in to 24in by 1in");
  await page.click('.compare button:text-is("Compare")');
  await page.waitForFunction(() => /\d+ of \d+ /.test(document.querySelector(".compare .working b")?.textContent ?? ""), null, { timeout: 60_000 });
  const begin = Date.now();
  await press(page, "Stop", ".compare");
  await page.waitForSelector('.compare p:has-text("Stopped.")');
  assert.ok(Date.now() - begin < 2000);
  assert.match(await page.textContent('.compare p:has-text("Stopped.")'), /\d+ of \d+ /);
  assert.equal(await page.locator(".compare .answer").count(), 0);
  // a shorter one says the best so far, and answers
  await page.click('.compare [data-vary="compare.overhang"] > button >> nth=0');
  await page.click('.compare [data-vary="compare.pitch"] > button >> nth=0');
  await page.click('.compare [data-vary="compare.pitch"] > button >> nth=0');
  await page.click('.compare button:text-is("Compare")');
  await page.waitForFunction(() => /best so far [\d.]+ board feet/.test(document.querySelector(".compare .working b")?.textContent ?? ""), null, { timeout: 60_000 });
  await page.waitForSelector(".compare .answer", { timeout: 120_000 });
  // it can be asked again
  assert.ok(await page.isEnabled('.compare button:text-is("Compare")'));
});

const BROKEN = [
  ["rafter.seat", "1in"], ["ridge.board", "2x4"], ["building.span", "30ft"], ["building.span", "19ft"], ["eave.overhang", "30in"],
  ["collar.spacing", "8ft"], ["sheathing.nail_edge", "9in"], ["roofing.drip_edge", "no"], ["roofing.ice_barrier", "3ft"], ["attic.soffit_vent", "3"],
  ["attic.access_tie", "100"], ["ceiling.heel_nails", "1"], ["insulation.baffles", "no"], ["eave.fascia", "1x4"], ["roof.pitch", "1/2 in 12"],
];

await test("each cure that is shown cures, by the program's check", LAPTOP, async (page) => {
  let shown = 0;
  for (const [field, text] of BROKEN) {
    const roof = ask({ ask: "edit", roof: kestrel, set: [[field, text]] }).ok;
    const before = plan(roof);
    if (!before.ok || before.ok.open.length === 0) continue;
    const { cures } = ask({ ask: "cures", roof, units: null }).ok;
    await open(page, roof);
    const first = before.ok.open[0];
    const list = cures.find((one) => one.finding === first.id && one.title === first.title).list;
    if (list.length > 0) {
      await page.waitForSelector(".news .cures button", { timeout: 60_000 });
      assert.deepEqual(await page.locator(".news .cures button").allTextContents(), list.slice(0, 2).map((one) => one.words), field);
    }
    for (const one of cures) {
      for (const cure of one.list) {
        writeFileSync(file, ask({ ask: "edit", roof, set: cure.set }).ok);
        const check = run("check", file);
        const finding = check.findings.find((of) => of.id === one.finding && of.title === one.title);
        assert.ok(finding === undefined || finding.verdict === "meets", `${field} ${text}: ${cure.words}: ${JSON.stringify(finding)}`);
        const open = check.findings.filter((of) => ["fails", "needs design"].includes(of.verdict));
        assert.ok(open.length < before.ok.open.length, `${cure.words} leaves ${open.length} of ${before.ok.open.length}`);
        shown += 1;
      }
    }
    if (list.length > 0) {
      const broken = await kept(page);
      await page.locator(".news .cures button").first().click();
      await page.waitForSelector(".news .changed");
      assert.notEqual(await kept(page), broken);
      await press(page, "Undo", ".tools");
      assert.equal(await kept(page), broken, "one press takes it back");
    }
  }
  assert.ok(shown >= 15, `${shown} cures`);
  console.log(`page: ${shown} cures of ${BROKEN.length} broken roofs, each meets in the program's check`);
});

await test("every setting is found by its reader, under its name, and what it refuses is said at it", PHONE, async (page) => {
  const { readers, tables } = ask({ ask: "fields", roof: kestrel, units: null }).ok;
  const all = tables.flatMap((table) => table.fields);
  for (const [reader, word] of readers) {
    await press(page, word);
    const of = all.filter((field) => field.who.includes(reader)).length;
    assert.equal(await page.textContent('.room [role="status"]'), `${of} settings`, word);
  }
  await press(page, "Everybody");
  assert.equal(await page.textContent('.room [role="status"]'), `${all.length} settings`);
  let refused = 0;
  for (const field of all.filter((field) => !field.key.startsWith("job."))) {
    await page.fill('input[type="search"]', field.key);
    const button = page.locator(`.setting[data-field="${field.key}"]`);
    assert.equal((await button.locator(".name").textContent()).trim(), field.label);
    await button.click();
    const wrong = "~?";
    await page.fill(".typed input", wrong);
    const wanted = plan(ask({ ask: "edit", roof: kestrel, set: [[field.key, wrong]] }).ok).refused;
    if (wanted) {
      refused += 1;
      const words = await refusal(page);
      // one refusal at a time: the field's own before what follows from it
      const own = wanted.find((one) => one.field === field.key) ?? wanted[0];
      assert.ok(words.includes(own.message.toLowerCase()) && words.includes(own.help.toLowerCase()), `${field.key}: ${words}`);
    }
    await done(page);
    if (!wanted) await press(page, "Undo", ".tools").catch(() => {});
    assert.equal(await kept(page), kestrel, field.key);
  }
  assert.ok(refused > all.length / 3, `${refused} of ${all.length} refuse nonsense`);
  console.log(`page: ${all.length} settings found by name, ${refused} refuse at the field`);
});

await test("the keypad has the fractions of its step, a sign where one makes sense, and mm and m in metric", PHONE, async (page) => {
  await page.click('button.value[data-field="building.span"]');
  assert.equal(await page.locator(".fractions button").count(), 15);
  for (const [step, count] of [["halves", 1], ["quarters", 3], ["eighths", 7]]) {
    await press(page, step, ".steps");
    assert.equal(await page.locator(".fractions button").count(), count, step);
  }
  assert.equal(await page.locator('.measures button:text-is("±")').count(), 0, "a span has no sign");
  await done(page);
  await reload(page);
  await page.fill('input[type="search"]', "past_fascia");
  await page.click('.setting[data-field="deck.past_fascia"]');
  assert.equal(await page.locator(".fractions button").count(), 7, "the step is kept");
  for (const key of ["1/2", "±"]) await page.click(`.pad button:text-is("${key}")`);
  assert.equal(await page.inputValue(".typed input"), "-1/2in");
  assert.match(await page.textContent(".reads"), /-1\/2"/);
  await done(page);
  await press(page, "mm", ".units");
  await page.click('button.value[data-field="building.span"]');
  assert.equal(await page.locator(".fractions").count(), 0);
  for (const key of ["5", ".", "2", "m"]) await page.click(`.pad button:text-is("${key}")`);
  assert.match(await page.textContent(".reads"), /5200 mm/);
  await done(page);
  await press(page, "feet", ".units");
  // choices are buttons, words and names have a plain input
  await page.fill('input[type="search"]', "lumber.grade");
  await page.click('.setting[data-field="lumber.grade"]');
  await page.click('.choices button:text-is("No.1")');
  assert.match(await kept(page), /grade = "No.1"/);
  assert.equal(await page.locator(".pad").count(), 0);
  await done(page);
  await page.fill('input[type="search"]', "job.name");
  await page.click('.setting[data-field="job.name"]');
  assert.equal(await page.getAttribute(".typed input", "inputmode"), "text");
  assert.equal(await page.locator(".pad").count(), 0);
  // two readings, of a pitch too
  await done(page);
  await type(page, "roof.pitch", "1/4");
  assert.equal(await page.locator(".meant button").count(), 2);
  await page.click(".meant button >> nth=1");
  await done(page);
  assert.notEqual(await value(page, "roof.pitch"), "6 in 12");
  assert.ok(await figure(page, "rafter_length"));
});

await test("a roof out of a link is a job only when that is wanted", PHONE, async (page) => {
  await page.click('[aria-label="Pitch: one step up"]');
  await room(page, "CHECK");
  await page.click('button:has-text("Make a link")');
  const hash = "#" + (await page.inputValue("input.link")).split("#")[1];
  const roof = await kept(page);
  const other = await opened(chrome, PHONE, { hash });
  assert.match(await other.page.textContent(".news"), /Opened from a link/);
  assert.equal(await other.page.evaluate(() => localStorage.length), 0);
  await press(other.page, "Keep it");
  assert.equal(await kept(other.page), roof);
  await reload(other.page);
  await jobs(other.page);
  assert.equal(await other.page.locator(".joblist > li").count(), 1);
  assert.deepEqual(other.errors, []);
  await other.context.close();
});

rmSync(folder, { recursive: true });

await test("a field that is opened again is one step of undo, and a second inch sign means the first", PHONE, async (page) => {
  const before = await value(page, "eave.overhang");
  const key = (name) => page.click(`.pad button:text-is("${name}")`);
  await page.click('[aria-label="Overhang: one step up"]');
  const stepped = await value(page, "eave.overhang");
  await page.click('button.value[data-field="eave.overhang"]');
  for (const name of ["2", "ft", "2", "1/2", "in", "in"]) await key(name);
  assert.equal(await page.inputValue(".typed input"), "2ft 2-1/2in");
  await done(page);
  assert.equal(await value(page, "eave.overhang"), "2' 2-1/2\"");
  await page.click('button:text-is("Take it back")');
  assert.equal(await value(page, "eave.overhang"), stepped);
  await page.click('.tools button:text-is("Undo")');
  assert.equal(await value(page, "eave.overhang"), before);
});

for (const viewport of [PHONE, LAPTOP]) {
  await test("the keys stay in their place while a number is typed, and nothing is red before Done", viewport, async (page) => {
    const red = () => page.evaluate(() => [...document.querySelectorAll(".keypad *, .staleness")].filter((one) => one.checkVisibility() && getComputedStyle(one).color === "rgb(140, 26, 0)").map((one) => one.textContent));
    const place = async () => {
      const { x, y } = await page.locator(".pad").boundingBox();
      return [x, y];
    };
    const inSight = async (selector) => {
      const box = await page.locator(selector).first().boundingBox();
      return box.y >= 0 && box.y + box.height <= (await page.locator(".pad").boundingBox()).y;
    };
    for (const [field, texts] of [["eave.overhang", ["2", "2f", "2ft", "2ft 3-", "16-3", "", "90ft", "1in"]], ["roof.pitch", ["1/4", "", "9/12", "30/12"]], ["rafter.seat", ["", "4", "4in", "40in"]]]) {
      await page.click(`button.value[data-field="${field}"]`);
      const at = await place();
      for (const text of texts) {
        await page.fill(".typed input", text);
        assert.deepEqual(await place(), at, `${field} ${text}`);
        assert.deepEqual(await red(), [], `${field} ${text}`);
        assert.ok(await inSight(".typed input") && await inSight(".reads"), `${field} ${text}: field and reading above the keys`);
      }
      if (field !== "eave.overhang") {
        await page.click(".typed button.strong");
        assert.deepEqual(await place(), at, `${field}: said, and the keys stay`);
        assert.ok((await red()).length > 0 && await page.isVisible(".wrong"));
        // what is said is in sight whole, and covers neither the field nor the keys
        const said = await page.locator(".wrong").boundingBox();
        const typed = await page.locator(".typed").boundingBox();
        assert.ok(said.y >= 0 && (said.y + said.height <= typed.y + 1 || said.x >= typed.x + typed.width), JSON.stringify([said, typed]));
        await page.fill(".typed input", texts[0]);
        assert.deepEqual(await red(), [], "typing on takes it back");
      }
      await done(page);
      assert.equal(await page.locator(".keypad").count(), 0);
    }
  });
}

await test("the seat stands with the first numbers, and is stepped from what it comes to", PHONE, async (page) => {
  const seat = await figure(page, "seat");
  assert.equal(await value(page, "rafter.seat"), seat);
  await page.click('[aria-label="Seat: one step down"]');
  assert.match(await kept(page), /seat = "/);
  assert.notEqual(await value(page, "rafter.seat"), seat);
  await press(page, "Undo", ".tools");
  assert.equal(await kept(page), kestrel);
});

await test("a question that opens comes into sight", PHONE, async (page) => {
  await page.locator('button:text-is("Find one number")').scrollIntoViewIfNeeded();
  await press(page, "Find one number");
  await page.waitForTimeout(100);
  const [box, inside] = [await page.locator(".fit p").first().boundingBox(), await page.locator("main").boundingBox()];
  assert.ok(box.y >= inside.y && box.y + box.height <= inside.y + inside.height);
});
