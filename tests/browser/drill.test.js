// The page of a drill: answers written beside the questions, right and wrong, and the tally at the foot.

import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import { cornerwise, folder, launch, open, views } from "./support.js";

let browser, out;
before(async () => {
  browser = await launch();
  out = folder();
});
after(async () => {
  await browser?.close();
  out?.remove();
});

const drill = (...wish) => cornerwise("drill", ...wish, "--format", "json").trim().split("\n").map((line) => JSON.parse(line));

test("answers are held against the facts, and counted", async () => {
  const wish = ["find", "--count", "3", "--seed", "5"];
  cornerwise("drill", ...wish, "--format", "html", "--output", `${out.path}/find.html`);
  const places = drill(...wish).map(({ named, answer }) => answer.pairs.find(({ pair }) => pair === named));
  for (const view of [views[0], views[3]]) {
    const { page, seen, close } = await open(browser, pathToFileURL(join(out.path, "find.html")).href, view);
    const asks = page.locator("[data-answers]");
    assert.equal(await asks.count(), 3);
    const say = (n) => asks.nth(n).locator(".say").innerText();
    // In any order of letters and places.
    await asks.nth(0).locator("input").fill(`${[...places[0].edge].reverse().join("")} ${places[0].corner.toLowerCase()}`);
    await page.keyboard.press("Enter");
    assert.ok((await say(0)).startsWith("Right, "), await say(0));
    assert.ok(await page.locator("details").nth(0).evaluate((fold) => fold.open));
    // Half an answer is none.
    await asks.nth(1).locator("input").fill(places[1].corner);
    await asks.nth(1).getByRole("button").click();
    assert.ok((await say(1)).includes("as in UFR UF"));
    const wrong = ["UFR", "UFL", "DFR"].find((place) => [...place].sort().join() !== [...places[1].corner].sort().join());
    await asks.nth(1).locator("input").fill(`${wrong} ${places[1].edge}`);
    await asks.nth(1).getByRole("button").click();
    assert.ok((await say(1)).startsWith("Not so, "), await say(1));
    const tally = await page.locator(".tally").innerText();
    assert.ok(tally.startsWith("1 of 2 right, "), tally);
    assert.deepEqual(seen.errors, []);
    await close();
  }
});

test("a turn is an answer, too; and without a script every answer is behind a fold", async () => {
  const wish = ["turn-first", "--count", "1", "--seed", "5"];
  cornerwise("drill", ...wish, "--format", "html", "--output", `${out.path}/turn.html`);
  const [{ answer }] = drill(...wish);
  const href = pathToFileURL(join(out.path, "turn.html")).href;
  const { page, seen, close } = await open(browser, href, views[2]);
  await page.locator("input").fill(answer.turns[0].turn.replace("'", "’"));
  await page.keyboard.press("Enter");
  assert.ok((await page.locator(".say").innerText()).startsWith("Right, "));
  assert.deepEqual(seen.errors, []);
  await close();
  const plain = await open(browser, href, { ...views[2], javaScriptEnabled: false });
  assert.equal(await plain.page.locator("input").isVisible(), false);
  assert.equal(await plain.page.locator("summary").count(), 1);
  await plain.close();
});
