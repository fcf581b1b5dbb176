// Being asked: right and wrong answers, written and pointed at; what tells is gone while a question is open.

import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import { cornerwise, facts, folder, launch, open, views } from "./support.js";

const name = "all-four-tiers";
const [solve] = facts(`reconstructions/${name}.yaml`);
let browser, out;
before(async () => {
  browser = await launch();
  out = folder();
  cornerwise("annotate", `reconstructions/${name}.yaml`, "--format", "html", "--output", `${out.path}/page.html`);
});
after(async () => {
  await browser?.close();
  out?.remove();
});

/** The questions as the facts have them: what is open at the end of a step another pair follows, and what counts. */
const questions = solve.steps.filter(({ offers }) => offers.some(({ taken }) => taken)).map((step) => {
  const ready = step.offers.filter((offer) => offer.ready);
  const asked = ready.length ? ready : step.offers;
  const least = Math.min(...asked.map(({ line }) => line.cost));
  return { step, right: asked.filter(({ line }) => line.cost <= least + 1).map(({ pair }) => pair) };
});

/** Goes to the question, unless the hands have reached it first. */
const straight = (page) => page.evaluate(() => {
  const button = document.querySelector(".quiz button.go");
  if (button && button.textContent === "straight to the question") button.click();
});

test("right and wrong answers, and how it went", async () => {
  const { page, seen, close } = await open(browser, pathToFileURL(join(out.path, "page.html")).href, views[2]);
  await page.keyboard.press("q");
  const box = page.locator(".quiz");
  let right = 0;
  for (const [n, { step, right: counts }] of questions.entries()) {
    await straight(page);
    assert.ok((await box.innerText()).includes("Which pair next?"));
    // Nothing that tells is there: no lanes, no turns, no words on the next pair, no hidden stickers, nothing pointed at.
    for (const part of [".time", ".cost", ".rec table", ".nowline"]) assert.equal(await page.locator(part).first().isVisible(), false, part);
    assert.equal(await page.locator(".blk.now").isVisible(), false);
    const stage = await page.locator(".stage").innerText();
    for (const { pair } of step.offers) assert.ok(!stage.includes(pair), stage);
    const away = await page.locator(".fig-a svg.held .st.away").evaluateAll((all) => [...new Set(all.map((e) => e.getAttribute("fill")))]);
    assert.equal(away.length, 1, "the hidden sides are blank");
    assert.equal(await page.locator(".fig-a svg.held [data-place].on").count(), 0);
    const wrong = step.offers.find(({ pair }) => !counts.includes(pair));
    const good = step.offers.find(({ pair }) => counts.includes(pair));
    const sticker = (place) => page.evaluate((place) => {
      const rim = document.querySelector(`.fig-a svg.held [data-place="${place}"] .rim`);
      const all = [...document.querySelectorAll(".fig-a svg.held [data-n]")];
      const at = all.find((path) => {
        const box = path.getBBox();
        return rim.isPointInFill(new DOMPoint(box.x + box.width / 2, box.y + box.height / 2));
      });
      return at.dataset.n;
    }, place);
    if (n === 0) {
      // Written in any order of letters, the edge first.
      await page.getByRole("textbox").fill(`${[...good.edge.to].reverse().join("")}, ${good.corner.to.toLowerCase()}`);
      await page.keyboard.press("Enter");
      right += 1;
    } else if (n === 1 && wrong) {
      await page.locator(`.fig-a svg.held [data-n="${await sticker(wrong.corner.to)}"]`).click();
      assert.ok((await box.innerText()).includes(`Corner at ${wrong.corner.to}`));
      await page.locator(`.fig-a svg.held [data-n="${await sticker(wrong.edge.to)}"]`).click();
    } else if (n === 2 && step.offers.length > 1) {
      // The corner of one pair with the edge of another.
      const [one, other] = step.offers;
      await page.getByRole("textbox").fill(`${one.corner.to} ${other.edge.to}`);
      await page.getByRole("button", { name: "check" }).click();
    } else {
      await page.locator(`.fig-a svg.held [data-n="${await sticker(good.corner.to)}"]`).click();
      await page.locator(`.fig-a svg.held [data-n="${await sticker(good.edge.to)}"]`).click();
      right += 1;
    }
    const said = await box.innerText();
    if (n === 0 || n === 3) assert.ok(said.startsWith("Right."), said);
    if (n === 1 && wrong) assert.ok(said.startsWith("A pair, but not the one to take."), said);
    if (n === 2 && step.offers.length > 1) {
      assert.ok(said.startsWith("Not a pair."), said);
      for (const { pair } of step.offers.slice(0, 2)) assert.ok(said.includes(`${pair}’s`), said);
    }
    for (const pair of n === 1 || n === 2 ? counts : []) assert.ok(said.toLowerCase().includes(pair), said);
    await page.getByRole("button", { name: n + 1 === questions.length ? "how it went" : "go on" }).click();
  }
  assert.ok((await box.innerText()).startsWith(`${right} of ${questions.length} right`), await box.innerText());
  assert.match(await box.innerText(), /\d\.\d s in all/);
  await page.getByRole("button", { name: "back to the solve" }).click();
  assert.equal(await box.isVisible(), false);
  assert.equal(await page.locator(".time").isVisible(), true);
  assert.deepEqual(seen.errors, []);
  await close();
});

test("nonsense is asked again, and the questions can be left", async () => {
  const { page, close } = await open(browser, pathToFileURL(join(out.path, "page.html")).href, views[0]);
  await page.getByRole("button", { name: "ask me" }).click();
  await page.getByRole("button", { name: "straight to the question" }).click();
  await page.getByRole("textbox").fill("UF UD");
  await page.keyboard.press("Enter");
  assert.ok((await page.locator(".quiz").innerText()).includes("three letters"));
  await page.getByRole("button", { name: "ask me" }).click();
  assert.equal(await page.locator(".quiz").isVisible(), false);
  await close();
});

test("watched to the question, the hands stop when the step is in", async () => {
  const context = await browser.newContext(views[2]);
  const page = await context.newPage();
  await page.clock.install({ time: 0 });
  await page.goto(pathToFileURL(join(out.path, "page.html")).href);
  await page.clock.pauseAt(600_000);
  await page.keyboard.press("q");
  await page.clock.runFor(600);
  assert.ok((await page.locator(".quiz").innerText()).startsWith("Watch."));
  await page.clock.runFor(700);
  assert.ok((await page.locator(".quiz").innerText()).startsWith("Which pair next?"));
  assert.equal(await page.locator("[role=slider]").getAttribute("aria-valuenow"), String(questions[0].step.to));
  await context.close();
});

test("one may leave while a question is open, and an address that is none is none", async () => {
  const { page, seen, close } = await open(browser, `${pathToFileURL(join(out.path, "page.html")).href}#m=%`, views[2]);
  assert.ok(await page.locator(".fig-a svg.held").isVisible());
  await page.keyboard.press("q");
  await straight(page);
  await page.getByRole("textbox").fill("UF");
  await page.keyboard.press("Escape");
  assert.equal(await page.locator(".quiz").isVisible(), false);
  assert.deepEqual(seen.errors, []);
  await close();
});

test("a word is explained in place, by the glossary's own text", async () => {
  const { page, seen, close } = await open(browser, pathToFileURL(join(out.path, "page.html")).href, views[0]);
  const words = cornerwise("help", "words").replace(/\s+/g, " ");
  const term = page.locator(".rec .term", { hasText: /^lifted$/ }).first();
  assert.ok(words.includes(await term.getAttribute("title")));
  await term.click();
  const shown = await term.evaluate((term) => getComputedStyle(term, "::after").content);
  assert.ok(shown.includes("In another open slot"), shown);
  await page.locator("h1").first().click();
  assert.equal(await page.locator(".term.told").count(), 0);
  assert.deepEqual(seen.errors, []);
  await close();
});
