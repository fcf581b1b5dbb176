// One cursor: whichever of the five ways it is moved, lanes, tokens, cube, clock and step are at the same moment, and
// that moment's facts are what they show. Time is the test's own.

import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, describe, test } from "node:test";
import { cornerwise, facts, folder, launch, open, views } from "./support.js";

const names = ["all-four-tiers", "mark-on-every-turn", "no-corner-up"];
/** A record of several in a file, with a step of it with another line. */
const otherLine = "reconstructions/season/2026-04-11.yaml#2";
const solves = Object.fromEntries(names.map((name) => [name, facts(`reconstructions/${name}.yaml`)[0]]));
let browser, out;
before(async () => {
  browser = await launch();
  out = folder();
  for (const name of names) {
    cornerwise("annotate", `reconstructions/${name}.yaml`, "--format", "html", "--output", `${out.path}/${name}.html`);
  }
  cornerwise("annotate", otherLine, "--format", "html", "--output", `${out.path}/other-line.html`);
});
after(async () => {
  await browser?.close();
  out?.remove();
});

const url = (name) => pathToFileURL(join(out.path, `${name}.html`)).href;
const stopsOf = (solve) => solve.steps.flatMap((step) => step.stops.map((stop) => ({ ...stop, step })));

/** What the five views show, read off the page. */
function look() {
  const paints = JSON.parse(document.querySelector("script.facts").textContent).paints;
  const letters = Object.fromEntries(Object.entries(paints).map(([letter, [fill]]) => [fill, letter]));
  const svg = [...document.querySelectorAll("svg.lanes")].find((one) => one.getBoundingClientRect().width > 0);
  const { left, right, start, end } = svg.dataset;
  const x = Number(/translate\(([-\d.]+)/.exec(svg.querySelector(".cur").getAttribute("transform"))[1]);
  const cube = document.querySelector(".fig-a svg.held");
  const stickers = [];
  for (const path of cube.querySelectorAll("[data-n]")) stickers[path.dataset.n] = letters[path.getAttribute("fill")];
  return {
    time: Number(start) + (x - left) / (right - left) * (end - start),
    read: [...svg.querySelectorAll("[data-read]")].map((text) => text.textContent),
    tokens: [...document.querySelectorAll(".rec .tok.now")].map((token) => Number(token.dataset.m)),
    past: document.querySelectorAll(".rec .tok.past").length,
    stickers: stickers.join(""),
    marked: [...cube.querySelectorAll("[data-place].on:not(.quiet)")].map((group) => group.dataset.place).sort(),
    glowing: [...cube.querySelectorAll("[data-place].glow")].map((group) => group.dataset.place).sort(),
    clock: Number(document.querySelector(".t").textContent),
    words: document.querySelector(".w1").textContent,
    more: document.querySelector(".w2").textContent,
    bar: parseFloat(document.querySelector(".fill i").style.width) || 0,
    row: [...document.querySelectorAll("tbody.now")].map((row) => Number(row.dataset.step)),
    block: [...document.querySelectorAll(".blk.now")].map((block) => Number(block.dataset.step)),
    slider: Number(document.querySelector("[role=slider]").getAttribute("aria-valuenow")),
  };
}

/** The step of a moment: the one whose token comes next; at a stop before a step it is the same one. */
function stepOf(solve, m) {
  const n = solve.steps.findIndex(({ from, to }) => from <= m && m < to);
  return n < 0 ? solve.steps.length - 1 : n;
}

/** Whether the hands stand at moment `m`: where the stop is, and at rotations that are marked within it. */
function holds(solve, stop, m) {
  if (stop.moment === m) return true;
  const between = solve.moments.slice(stop.moment + 1, m + 1);
  if (m < stop.moment || !between.every(({ token, seconds }) => /^[xyz]/.test(token) && seconds !== null)) return false;
  const from = stop.inside ? solve.moments[stop.moment].seconds : stop.step.seconds.start;
  return between.at(-1).seconds < from + stop.seconds - 1e-6;
}

/** Asserts that all five views are at moment `m` and show its facts. */
function agree(solve, m, seen, between = false) {
  const { stickers, seconds } = solve.moments[m];
  const step = stepOf(solve, m);
  assert.equal(seen.stickers, stickers, `cube at ${m}`);
  assert.deepEqual(seen.tokens, m === 0 ? [] : [m], `token at ${m}`);
  assert.equal(seen.past, Math.max(0, m - 1), `tokens before ${m}`);
  assert.ok(seen.words.startsWith(`moment ${m} of ${solve.tokens},`), seen.words);
  assert.equal(seen.slider, m);
  assert.deepEqual(seen.row, [step], `row at ${m}`);
  if (solve.steps[step].obtm > 0) assert.deepEqual(seen.block, [step], `block at ${m}`);
  assert.ok(Math.abs(Math.max(0, seen.time) - seen.clock) < 0.012, `cursor at ${seen.time}, clock at ${seen.clock}`);
  // A mark at a moment is its time, but where the hands stood there: then the moment is reached when the stop begins.
  const gap = solve.steps.find(({ from, seconds }) => from === m && seconds.before > 0);
  const inside = stopsOf(solve).some((stop) => stop.inside && stop.moment === m);
  if (between) assert.ok(seconds === null || gap || inside || seen.clock >= seconds - 0.006, `${seen.clock} at ${m}`);
  else if (gap) assert.ok(Math.abs(seen.clock - gap.seconds.start) < 0.006, `stop at ${m}: ${seen.clock}`);
  else if (seconds !== null && !inside) assert.ok(Math.abs(seen.clock - seconds) < 0.006, `${seen.clock} at ${m}`);
  const read = solve.lanes.flatMap(({ solved, cells }) =>
    solved !== null && m >= solved ? ["in", ""] : [cells[m].corner.place, cells[m].edge.place]);
  assert.deepEqual(seen.read, read, `lanes at ${m}`);
  // Pointed at: the next pair; while the hands stand, the pair that was to be found.
  const stop = stopsOf(solve).find((one) => holds(solve, one, m));
  let pairs = m === solve.tokens ? [] : solve.steps[step].offers.filter(({ taken }) => taken).map(({ pair }) => pair);
  if (stop) pairs = stop.inside ? [] : stop.instead ? [stop.instead.pair] : stop.step.pairs;
  const places = pairs.flatMap((pair) => {
    const cell = solve.lanes.find((lane) => lane.pair === pair).cells[m];
    return [cell.corner.place, cell.edge.place];
  });
  assert.deepEqual(seen.marked, places.sort(), `pointed at ${m}`);
}

for (const name of names) {
  describe(name, () => {
    const solve = solves[name];
    const all = Array.from({ length: solve.tokens + 1 }, (_, m) => m);

    test("keys", async () => {
      const { page, seen, close } = await open(browser, url(name), views[2]);
      await page.keyboard.press("Home");
      for (const m of all) {
        agree(solve, m, await page.evaluate(look));
        await page.keyboard.press("ArrowRight");
      }
      await page.keyboard.press("ArrowLeft");
      agree(solve, solve.tokens - 1, await page.evaluate(look));
      await page.keyboard.press("End");
      await page.keyboard.press("Shift+ArrowLeft");
      agree(solve, solve.steps.at(-1).from, await page.evaluate(look));
      await page.keyboard.press("Home");
      for (const stop of stopsOf(solve)) {
        await page.keyboard.press("ArrowDown");
        agree(solve, stop.moment, await page.evaluate(look));
      }
      await page.keyboard.press("ArrowUp");
      agree(solve, stopsOf(solve).at(-2).moment, await page.evaluate(look));
      assert.deepEqual(seen.errors, []);
      await close();
    });

    test("a token, and a sentence at the top", async () => {
      const { page, close } = await open(browser, url(name), views[0]);
      for (const m of all.slice(1)) {
        await page.locator(`.rec .tok[data-m="${m}"]`).click();
        agree(solve, m, await page.evaluate(look));
        assert.equal(await page.evaluate(() => location.hash), `#m=${m}`);
      }
      for (const [n, loss] of solve.losses.entries()) {
        await page.locator(".cost a").nth(n).click();
        agree(solve, loss.moment, await page.evaluate(look));
      }
      await close();
    });

    test("the address", async () => {
      for (const m of [0, solve.tokens, ...all.filter((m) => m % 9 === 4)]) {
        const { page, close } = await open(browser, `${url(name)}#m=${m}`, views[2]);
        agree(solve, m, await page.evaluate(look));
        await close();
      }
      const { page, close } = await open(browser, url(name), views[2]);
      for (const m of all) {
        await page.evaluate((m) => new Promise((done) => {
          if (location.hash === `#m=${m}`) { done(); return; }
          addEventListener("hashchange", done, { once: true });
          location.hash = `m=${m}`;
        }), m);
        agree(solve, m, await page.evaluate(look));
      }
      await close();
    });

    test("the lanes, clicked and dragged", async () => {
      const { page, close } = await open(browser, url(name), views[2]);
      const data = await page.evaluate(() => JSON.parse(document.querySelector("script.facts").textContent));
      const at = (t) => page.evaluate((t) => {
        const svg = [...document.querySelectorAll("svg.lanes")].find((one) => one.getBoundingClientRect().width > 0);
        const box = svg.getBoundingClientRect(), { left, right, start, end } = svg.dataset;
        const x = Number(left) + (t - start) / (end - start) * (right - left);
        return [box.left + x * box.width / svg.viewBox.baseVal.width, box.top + box.height / 2];
      }, t);
      const middle = (m) => (data.left[m] + (data.reached[m + 1] ?? data.left[m] + 0.2)) / 2;
      await page.mouse.move(...await at(middle(0)));
      await page.mouse.down();
      for (const m of all.slice(0, -1)) {
        await page.mouse.move(...await at(middle(m)));
        agree(solve, m, await page.evaluate(look), true);
      }
      await page.mouse.up();
      // In the middle of a stop the cursor stays where it was put.
      for (const stop of stopsOf(solve)) {
        const from = data.reached[stop.moment];
        await page.mouse.click(...await at(from + stop.seconds / 2));
        const seen = await page.evaluate(look);
        assert.deepEqual(seen.tokens, [stop.moment]);
        assert.ok(Math.abs(seen.clock - (from + stop.seconds / 2)) < 0.03, `${seen.clock}`);
        assert.ok(Math.abs(seen.bar - 50) < 4, `bar at ${seen.bar}`);
      }
      await close();
    });

    test("playing along the marks, every stop held as long as it was", async () => {
      const context = await browser.newContext(views[2]);
      const page = await context.newPage();
      await page.clock.install({ time: 0 });
      await page.goto(url(name));
      const data = await page.evaluate(() => JSON.parse(document.querySelector("script.facts").textContent));
      await page.clock.pauseAt(600_000);
      await page.keyboard.press(" ");
      const stops = stopsOf(solve);
      const held = new Set();
      const frame = 16;
      let now = 0;
      const until = data.left.at(-1);
      for (let n = 0; now < until + 0.3; n++) {
        await page.clock.runFor(80);
        now += 0.08;
        const seen = await page.evaluate(look);
        if (now >= until + frame / 1000) {
          agree(solve, solve.tokens, seen);
          continue;
        }
        // Frames come every 16 ms: the page may lag one behind, never run ahead.
        const lag = now - seen.clock;
        assert.ok(lag > -0.006 && lag < frame / 1000 + 0.006, `${seen.clock} at ${now.toFixed(3)}`);
        const reached = data.reached.filter((at) => at <= seen.clock + 0.0051).length - 1;
        const reachedBefore = data.reached.filter((at) => at <= seen.clock - 0.0051).length - 1;
        const m = seen.tokens[0] ?? 0;
        assert.ok(m === reached || m === reachedBefore, `moment ${m} at ${seen.clock}`);
        assert.equal(seen.stickers, solve.moments[m].stickers);
        for (const stop of stops) {
          const from = data.reached[stop.moment];
          if (seen.clock <= from + 0.006 || seen.clock >= from + stop.seconds - 0.006) continue;
          held.add(stop);
          assert.ok(seen.more.startsWith(`stopped ${(seen.clock - from).toFixed(1).slice(0, 2)}`), seen.more);
          assert.ok(seen.more.includes(` of ${stop.seconds.toFixed(2)} s`), seen.more);
          assert.ok(Math.abs(seen.bar - (seen.clock - from) / stop.seconds * 100) < 2.5, `bar at ${seen.bar}`);
          // The two pieces that should have been found glow.
          const pairs = stop.inside ? [] : stop.instead ? [stop.instead.pair] : stop.step.pairs;
          const places = pairs.flatMap((pair) => {
            const cell = solve.lanes.find((lane) => lane.pair === pair).cells[m];
            return [cell.corner.place, cell.edge.place];
          });
          assert.deepEqual(seen.glowing, places.sort());
        }
      }
      assert.equal(held.size, stops.length, "every stop was met");
      await context.close();
    });
  });
}

test("pace, a step again and again, pause", async () => {
  const solve = solves["all-four-tiers"];
  const context = await browser.newContext(views[2]);
  const page = await context.newPage();
  await page.clock.install({ time: 0 });
  const pair = solve.steps.find(({ name }) => name === "pair 1");
  await page.goto(`${url("all-four-tiers")}#m=${pair.from}`);
  await page.clock.pauseAt(600_000);
  const clock = async () => Number(await page.locator(".t").textContent());
  await page.keyboard.press("r");
  for (const _ of [1, 2]) await page.keyboard.press(".");
  assert.equal(await page.locator("[data-do=pace]").textContent(), "pace 2");
  const start = await clock();
  await page.keyboard.press(" ");
  await page.clock.runFor(160);
  assert.ok(Math.abs(await clock() - start - 0.32) < 0.04, "twice as fast");
  // The step lasts 0.72 s: after a second at twice the pace it is played for the third time.
  for (let n = 0; n < 40; n++) {
    await page.clock.runFor(64);
    const now = await clock();
    assert.ok(now >= pair.seconds.start - 0.01 && now <= pair.seconds.end + 0.01, `${now}`);
  }
  for (const _ of [1, 2, 3, 4]) await page.keyboard.press(",");
  assert.equal(await page.locator("[data-do=pace]").textContent(), "pace ¼");
  const before = await clock();
  await page.clock.runFor(320);
  const passed = await clock() - before;
  assert.ok(Math.abs(passed - 0.08) < 0.02 || passed < 0, `${passed}`);
  await page.keyboard.press(" ");
  const rest = await clock();
  await page.clock.runFor(500);
  assert.equal(await clock(), rest);
  await context.close();
});

test("letters, shapes, folded out, keys on ?", async () => {
  const solve = solves["all-four-tiers"];
  const { page, close } = await open(browser, url("all-four-tiers"), views[2]);
  const signs = () => page.locator(".fig-a svg.held [data-sign]").allTextContents();
  assert.ok((await signs()).every((text) => text === ""));
  await page.keyboard.press("l");
  const m = Number(await page.locator("[role=slider]").getAttribute("aria-valuenow"));
  assert.equal((await signs()).join(""), solve.moments[m].stickers);
  await page.keyboard.press("l");
  assert.equal(new Set(await signs()).size, 6);
  await page.keyboard.press("f");
  assert.equal(await page.locator(".fig-a svg.held").isVisible(), false);
  const fills = await page.locator(".fig-a svg:not(.held) [data-n]").evaluateAll((all) => all.map((e) => [e.dataset.n, e.getAttribute("fill")]));
  const paints = await page.evaluate(() => JSON.parse(document.querySelector("script.facts").textContent).paints);
  for (const [n, fill] of fills) assert.equal(fill, paints[solve.moments[m].stickers[n]][0]);
  assert.equal(await page.locator(".keylist").isVisible(), false);
  await page.keyboard.press("?");
  assert.equal(await page.locator(".keylist").isVisible(), true);
  await page.keyboard.press("Escape");
  assert.equal(await page.locator(".keylist").isVisible(), false);
  await close();
});

test("both lines: one cursor, two cubes, the positions the facts have", async () => {
  const [solve] = facts(otherLine);
  const step = solve.steps.find(({ name }) => name === "pair 1");
  const { cleaner } = step.choice;
  const { page, seen, close } = await open(browser, `${url("other-line")}#m=${step.from}`, views[2]);
  await page.keyboard.press("o");
  assert.equal(await page.locator(".fig-b").isVisible(), true);
  const letters = (which) => page.evaluate((which) => {
    const paints = JSON.parse(document.querySelector("script.facts").textContent).paints;
    const back = Object.fromEntries(Object.entries(paints).map(([letter, [fill]]) => [fill, letter]));
    const out = [];
    for (const path of document.querySelectorAll(`.fig-${which} svg.held [data-n]`)) out[path.dataset.n] = back[path.getAttribute("fill")];
    return out.join("");
  }, which);
  assert.equal(await letters("a"), await letters("b"), "the same until they part");
  assert.ok((await page.locator(".fig-b figcaption").innerText()).includes(cleaner.text.split(" ")[0]));
  const other = (await page.evaluate(() => JSON.parse(document.querySelector("script.facts").textContent).others)).find(({ from }) => from === step.from);
  assert.equal(other.stickers[other.first], cleaner.stickers);
  assert.equal(other.tokens.slice(0, other.first).join(" "), cleaner.text);
  assert.equal(other.tokens.slice(other.first).join(" "), cleaner.next.then);
  assert.deepEqual(other.marks[other.first], [cleaner.next.corner, cleaner.next.edge]);
  // Anywhere along the clock each cube shows what its own line has come to.
  for (let m = step.from; m <= step.to; m++) {
    await page.evaluate((m) => { location.hash = `m=${m}`; }, m);
    await page.waitForFunction((m) => document.querySelector("[role=slider]").getAttribute("aria-valuenow") === String(m), m);
    const t = await page.evaluate((m) => JSON.parse(document.querySelector("script.facts").textContent).reached[m], m);
    const k = t < other.start ? 0 : other.times.filter((at) => at <= t + 1e-6).length;
    assert.equal(await letters("a"), solve.moments[m].stickers);
    assert.equal(await letters("b"), other.stickers[k]);
  }
  const block = page.locator(`.blk[data-step="${solve.steps.indexOf(step)}"]`);
  assert.ok((await block.textContent()).includes(`Set up: ${solve.scramble}`), "how to set it up");
  await page.keyboard.press("o");
  assert.equal(await page.locator(".fig-b").isVisible(), false);
  assert.deepEqual(seen.errors, []);
  await close();
});
