// The frame in 3-D: every stick once, cards, what findings light, the order of erection; and what is dragged on the drawing.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import axe from "axe-core";
import { ask, kept, kestrel, plan, program, room, test, value } from "../harness.mjs";
import { LAPTOP, PHONE } from "../page.mjs";

const frame = JSON.parse(execFileSync(program, ["frame", "examples/kestrel-yard.toml", "--format", "json", "--quiet"], { cwd: new URL("../../../", import.meta.url) }));
const ids = frame.sticks.flatMap((stick) => stick.placements.map((one) => one.id)).sort();
const of = (name) => ask({ ask: "room", room: name, roof: kestrel, units: null, wide: 3, high: 2 }).ok;
const model = of("model");

async function open(page) {
  await page.click(".to-model");
  // no handle is held: it would keep what was closed
  await page.locator('.model-picture[data-state="drawn"]').waitFor();
  await page.waitForFunction(() => document.querySelector(".model canvas").picture.drawn > 0);
}
async function close(page) {
  await page.click('.model-top button:text-is("Close")');
  await page.locator(".model").waitFor({ state: "detached" });
}
const tab = (page, name) => page.click(`.tabs button:text-is("${name}")`);
/** What the picture says of itself. */
const seen = (page, what, ...args) => page.evaluate(([what, args]) => document.querySelector(".model canvas").picture[what](...args), [what, args]);
const card = async (page) => ({
  mark: await page.getAttribute(".card", "data-mark"),
  text: (await page.textContent(".card")).replace(/\s+/g, " "),
});

for (const viewport of [PHONE, LAPTOP]) {
  await test("the model opens from every room, with every stick of the program's frame once and all of it in the picture", viewport, async (page) => {
    for (const name of ["PLAN", "CUT", "LAY", "CHECK"]) {
      await room(page, name);
      await open(page);
      assert.deepEqual((await seen(page, "names")).sort(), ids, name);
      await close(page);
    }
    await open(page);
    const size = await page.evaluate(() => { const { clientWidth, clientHeight } = document.querySelector(".model canvas"); return [clientWidth, clientHeight]; });
    for (const look of ["Home", "Above", "Side A", "Side B", "Near end", "Far end"]) {
      await page.click(`.controls button:text-is("${look}")`);
      for (const id of ids) {
        const at = await seen(page, "where", id);
        assert.ok(at.x > 0 && at.y > 0 && at.x < size[0] && at.y < size[1], `${look}: ${id} is in the picture`);
      }
    }
  });

  await test("pressing the middle of a stick opens its card, with the program's figures, and all alike are lit", viewport, async (page) => {
    await open(page);
    let pressed = 0;
    const canvas = await page.locator(".model canvas").boundingBox();
    for (const look of ["Home", "Above", "Near end"]) {
      await page.click(`.tabs button:text-is("Look")`);
      await page.click(`.controls button:text-is("${look}")`);
      for (const stick of frame.sticks) {
        // the first of its kind that nothing hides
        let at = null;
        for (const { id } of stick.placements) {
          const middle = await seen(page, "where", id);
          if (middle && (await seen(page, "pick", middle.x, middle.y)) === id) { at = middle; break; }
        }
        if (!at) continue;
        if (viewport === PHONE) await page.touchscreen.tap(canvas.x + at.x, canvas.y + at.y);
        else await page.mouse.click(canvas.x + at.x, canvas.y + at.y);
        await page.waitForSelector(`.card[data-mark="${stick.mark}"]`);
        const { text } = await card(page);
        const own = model.patterns.find((one) => one.mark === stick.mark);
        for (const words of [own.blank, own.section, own.ends, own.placed.some((one) => text.includes(one.at)) ? "" : "where it goes"]) {
          assert.ok(text.includes(words), `${stick.mark}: ${text} has ${words}`);
        }
        assert.equal(own.count, stick.count);
        assert.deepEqual((await seen(page, "lit")).sort(), stick.placements.map((one) => one.id).sort(), stick.mark);
        pressed += 1;
      }
    }
    assert.ok(pressed > 15, `${pressed} sticks were pressed`);
    // a press beside every stick lights none
    if (viewport === PHONE) await page.touchscreen.tap(canvas.x + 3, canvas.y + 3);
    else await page.mouse.click(canvas.x + 3, canvas.y + 3);
    await page.waitForSelector(".card", { state: "detached" });
    assert.deepEqual(await seen(page, "lit"), []);
  });

  await test("a list of marks opens the same cards", viewport, async (page) => {
    await open(page);
    await tab(page, "Sticks");
    assert.equal(await page.locator(".marks button").count(), frame.sticks.length);
    for (const stick of [frame.sticks[0], frame.sticks.at(-1)]) {
      const button = page.locator(".marks button", { has: page.locator(`b:text-is("${stick.mark}")`) });
      await button.focus();
      await page.keyboard.press("Enter");
      assert.equal((await card(page)).mark, stick.mark);
    }
    await page.keyboard.press("Escape");
    await page.waitForSelector(".model", { state: "detached" });
  });

  await test("a verdict lights the sticks that it speaks of, and no others", viewport, async (page) => {
    await room(page, "CHECK");
    await page.click('summary:has-text("What meets")');
    const findings = of("check").findings.filter((one) => one.sticks.length > 0);
    assert.ok(findings.length > 10);
    for (const finding of findings) {
      await page.locator(`[data-finding="${finding.id}"] .in-frame`).first().click();
      await page.waitForSelector('.model-picture[data-state="drawn"]');
      const lit = frame.sticks.filter((stick) => finding.sticks.includes(stick.mark)).flatMap((stick) => stick.placements.map((one) => one.id));
      await page.waitForFunction(() => document.querySelector(".model canvas").picture.lit().length > 0);
      assert.deepEqual((await seen(page, "lit")).sort(), lit.sort(), finding.id);
      assert.match(await page.textContent(".card"), new RegExp(finding.verdict, "i"));
      await close(page);
    }
  });

  await test("the steps of the erection put every stick up once", viewport, async (page) => {
    await open(page);
    await tab(page, "Put it up");
    const put = [];
    for (const [at, step] of model.steps.entries()) {
      await page.click(`.steps button:text-is("${at === 0 ? "First" : "Next"}")`);
      const text = await page.textContent(".steps");
      assert.ok(text.includes(step.title) && text.includes(step.say) && (!step.caution || text.includes(step.caution)), text);
      const lit = await seen(page, "lit");
      assert.deepEqual(lit.sort(), [...step.sticks].sort());
      put.push(...lit);
      assert.deepEqual((await seen(page, "names")).sort(), [...put].sort(), "what was put up stays");
    }
    assert.deepEqual(put.sort(), ids);
    assert.ok(await page.isDisabled('.steps button:text-is("Next")'));
    await page.click('.steps button:text-is("Back")');
    assert.ok((await seen(page, "names")).length < ids.length);
    await page.click('.steps button:text-is("All")');
    assert.deepEqual((await seen(page, "names")).sort(), ids);
    // where the frame stands unbraced, it says so
    assert.match(model.steps.find((step) => step.title.includes("first pairs")).caution, /brace/i);
  });

  await test("buttons turn, move, zoom and take apart; nothing is drawn while nothing moves", viewport, async (page) => {
    await open(page);
    const place = () => seen(page, "where", ids[0]);
    const other = async (name) => {
      const before = await place();
      await page.click(`.controls [aria-label="${name}"]`);
      await page.waitForTimeout(60);
      const after = await place();
      assert.ok(Math.hypot(after.x - before.x, after.y - before.y) > 2, `${name} moves the picture`);
    };
    for (const name of ["Turn left", "Turn right", "Turn up", "Turn down", "Closer", "Farther"]) await other(name);
    await page.click('.controls button:text-is("Move")');
    for (const name of ["Move left", "Move right", "Move up", "Move down", "Farther apart", "Closer together"]) await other(name);
    await page.fill('.apart input', "10");
    await page.waitForTimeout(200);
    const drawn = await page.evaluate(() => document.querySelector(".model canvas").picture.drawn);
    await page.waitForTimeout(600);
    assert.equal(await page.evaluate(() => document.querySelector(".model canvas").picture.drawn), drawn, "nothing is drawn while nothing moves");
  });

  await test("axe finds nothing serious in the model, targets are 48 px, letters 16 px", viewport, async (page) => {
    await open(page);
    await page.evaluate(axe.source);
    for (const name of ["Look", "Sticks", "Put it up"]) {
      await tab(page, name);
      if (name === "Sticks") await page.locator(".marks button").first().click();
      const found = await page.evaluate(() => window.axe.run(document));
      const serious = found.violations.filter((one) => ["serious", "critical"].includes(one.impact));
      assert.deepEqual(serious.map((one) => `${name}: ${one.id} ${one.nodes[0].target}`), []);
      const small = await page.evaluate(() => {
        const shown = (one) => one.getClientRects().length > 0;
        return {
          targets: [...document.querySelectorAll(".model button, .model summary, .model input")].filter(shown)
            .filter((one) => { const box = one.getBoundingClientRect(); return box.width < 47.5 || box.height < 47.5; }).map((one) => one.textContent),
          letters: [...document.querySelectorAll(".model *")].filter((one) => shown(one) && !one.closest("svg") && one.childNodes[0]?.nodeType === 3)
            .filter((one) => parseFloat(getComputedStyle(one).fontSize) < 16).map((one) => one.textContent.slice(0, 20)),
          wide: document.documentElement.scrollWidth - innerWidth,
        };
      });
      assert.deepEqual(small, { targets: [], letters: [], wide: 0 }, name);
    }
  });

  await test("what is dragged changes its value by steps, as one undo; grips are as large as a thumb", viewport, async (page) => {
    const box = (field) => page.locator(`[data-grip="${field}"]`).boundingBox();
    const middle = ({ x, y, width, height }) => [x + width / 2, y + height / 2];
    for (const [field, by, look] of [["roof.pitch", [0, -40]], ["eave.overhang", [-25, 0]], ["roof.spacing", [60, 0], true]]) {
      if (look) await page.click('.to-spacing:text-is("Spacing")');
      const grip = await box(field);
      assert.ok(grip.width >= 48 && grip.height >= 48);
      const [before, was] = [await kept(page), await value(page, field)];
      const [x, y] = middle(grip);
      await page.mouse.move(x, y);
      await page.mouse.down();
      for (let part = 1; part <= 5; part++) {
        await page.mouse.move(x + (by[0] * part) / 5, y + (by[1] * part) / 5);
        await page.waitForTimeout(40);
      }
      const live = await value(page, field);
      assert.notEqual(live, was, `${field} changes while it is dragged`);
      await page.mouse.up();
      await page.waitForTimeout(80);
      assert.equal(await value(page, field), live);
      // the page's value is the engine's, on its step
      const roof = await kept(page);
      assert.equal(plan(roof).ok.values.find((one) => one.key === field).value, live);
      const written = roof.match(new RegExp(`^${field.split(".")[1]} = ["']([^"']+)`, "m"))[1];
      const number = field === "roof.pitch" ? Number(written.split(" ")[0]) * 4 : null;
      if (number !== null) assert.equal(number, Math.round(number), `${written} is in whole quarters`);
      if (field === "roof.spacing") assert.ok(["12in", "19.2in", "24in"].includes(written), written);
      assert.ok((await page.textContent(".changed")).length > 10, "what changed is shown");
      await page.click('.tools button:text-is("Undo")');
      assert.equal(await kept(page), before, `${field}: one undo takes the drag back`);
    }
    // the same by keys and by steppers
    await page.click('.to-spacing:text-is("Section")');
    await page.focus('[data-grip="roof.pitch"]');
    await page.keyboard.press("ArrowUp");
    assert.match(await value(page, "roof.pitch"), /6\.5/);
    await page.click('[aria-label="Spacing: one step up"]');
    assert.match(await kept(page), /spacing = ["']19\.2in/);
  });
}

await test("opening and closing it twenty times leaves nothing behind", PHONE, async (page) => {
  const session = await page.context().newCDPSession(page);
  const heap = async () => {
    await session.send("HeapProfiler.collectGarbage");
    return (await session.send("Runtime.getHeapUsage")).usedSize;
  };
  const again = async (times) => {
    for (let time = 0; time < times; time++) {
      await open(page);
      await close(page);
    }
  };
  await again(5);
  const before = await heap();
  await again(20);
  const after = await heap();
  assert.ok(after < before + 500_000, `${before} bytes grew to ${after}`);
});

await test("where the browser has no WebGL it says so, and lists and cards work", PHONE, async (page) => {
  await page.evaluate(() => { HTMLCanvasElement.prototype.getContext = () => null; });
  await page.click(".to-model");
  await page.waitForSelector('.model-picture[data-state="missing"]');
  assert.match(await page.textContent(".model-picture"), /WebGL/);
  assert.ok(await page.isVisible(".model-picture svg"));
  await tab(page, "Sticks");
  await page.locator(".marks button").first().click();
  assert.equal((await card(page)).mark, frame.sticks[0].mark);
}, { refuses: true });
