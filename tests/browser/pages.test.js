// Pages in a browser: they load without errors and without a request, at every width and in both colours, pass an
// automated accessibility check, and can be stepped through with the keyboard.

import assert from "node:assert/strict";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, describe, test } from "node:test";
import { parse } from "parse5";
import { cornerwise, facts, folder, launch, open, views } from "./support.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const shots = process.env.SHOTS;
const records = ["all-four-tiers", "mark-on-every-turn", "mistyped-token", "xcross", "tilted-for-the-left"];
const hostile = `title: "</title><script>alert(1)</script> \\u202Edesrever & 'so' on ${"x".repeat(10000)}"
solver: "<img src=x onerror=alert(2)>"
scramble: B' L B U D2 B' R D' F U R2 U R2 L2 B' L' F' B L2 B2
solution: |
  x2 y // </script><script>alert(3)</script> | \`tick\` **star**
  U' L2 F' L D' R2 // <!--
`;

let browser, out, pages;
before(async () => {
  browser = await launch();
  out = folder();
  const written = join(out.path, "hostile.yaml");
  writeFileSync(written, hostile);
  const inputs = [...records.map((name) => `reconstructions/${name}.yaml`), written];
  cornerwise("annotate", ...inputs, "--format", "html", "--output", `${out.path}/pages/`);
  cornerwise("annotate", "reconstructions", "--format", "html", "--output", `${out.path}/pages/together.html`);
  cornerwise("diff", "reconstructions/fork-after-first-pair.yaml", "--format", "html", "--output", `${out.path}/pages/compared.html`);
  pages = readdirSync(join(out.path, "pages")).filter((name) => name.endsWith(".html")).sort();
  assert.equal(pages.length, records.length + 4);
});
after(async () => {
  await browser?.close();
  out?.remove();
});

const url = (name) => pathToFileURL(join(out.path, "pages", name)).href;
const first = () => pages.find((name) => name.startsWith("01-"));

test("an HTML parser finds no fault", () => {
  for (const name of pages) {
    const errors = [];
    parse(readFileSync(join(out.path, "pages", name), "utf8"), {
      sourceCodeLocationInfo: true,
      onParseError: (error) => errors.push(`${name}:${error.startLine}: ${error.code}`),
    });
    assert.deepEqual(errors, []);
  }
});

for (const view of views) {
  describe(view.name, () => {
    test("no errors, no requests, nothing wider than the screen, no serious accessibility finding", async () => {
      for (const name of pages) {
        const { page, seen, close } = await open(browser, url(name), view);
        if (shots) {
          await page.screenshot({ path: join(shots, `${name}-${view.name.replace(", ", "-")}.png`), fullPage: true });
        }
        assert.deepEqual(seen.errors, [], name);
        assert.deepEqual(seen.dialogs, [], name);
        assert.deepEqual(seen.requests, [url(name)], `${name} asks for more than itself`);
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        assert.ok(width <= view.viewport.width, `${name} is ${width} wide`);
        // Two dozen solves on one page take the checker a minute and tell it nothing new.
        if (name === "together.html") {
          await close();
          continue;
        }
        await page.evaluate(axe);
        const { violations, passes } = await page.evaluate(() => globalThis.axe.run());
        const serious = violations
          .filter(({ impact }) => ["serious", "critical"].includes(impact))
          .map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).slice(0, 3).join(" ")}`);
        assert.deepEqual(serious, [], name);
        assert.ok(passes.some(({ id }) => id === "color-contrast"), "contrast was not looked at");
        await close();
      }
    });
  });
}

test("the keyboard steps through the moments, and picture and words follow the facts", async () => {
  const [solve] = facts(`reconstructions/${records[0]}.yaml`);
  const { page, close } = await open(browser, url(first()), views[2]);
  const slider = page.getByRole("slider", { name: "Moment" });
  // Reached by Tab alone.
  for (let n = 0; n < 40 && !(await slider.evaluate((e) => e === document.activeElement)); n++) {
    await page.keyboard.press("Tab");
  }
  assert.ok(await slider.evaluate((e) => e === document.activeElement), "Tab never gets to the slider");

  const paints = await page.locator(".stage-card").evaluate((card) => JSON.parse(card.dataset.paints));
  const letters = Object.fromEntries(Object.entries(paints).map(([letter, paint]) => [paint, letter]));
  const shown = () => page.locator(".stage svg").evaluate((svg) => ({
    fills: [...svg.querySelectorAll("[data-n]")].map((e) => [Number(e.dataset.n), e.getAttribute("fill")]),
    places: [...svg.querySelectorAll("[data-place]")]
      .filter((e) => getComputedStyle(e).display !== "none").map((e) => e.dataset.place).sort(),
  }));
  for (let moment = 0; moment < solve.moments.length; moment++) {
    const where = await page.locator(".where").textContent();
    assert.ok(where.startsWith(`Moment ${moment} of ${solve.moments.length - 1}`), where);
    assert.equal(await slider.getAttribute("aria-valuetext"), where);
    const { token, stickers } = solve.moments[moment];
    if (token) assert.ok(where.includes(`after ${token}`), where);
    const { fills, places } = await shown();
    assert.equal(fills.length, 53);
    for (const [n, fill] of fills) assert.equal(letters[fill], stickers[n], `sticker ${n} at moment ${moment}`);
    const step = solve.steps.findLast(({ from, to }) => from <= moment && moment <= to);
    const wanted = step.next.flatMap(({ pair }) => {
      const cell = solve.lanes.find((lane) => lane.pair === pair).cells[moment];
      return [cell.corner.place, cell.edge.place];
    });
    assert.deepEqual(places, wanted.sort(), `rings at moment ${moment}`);
    const what = await page.locator(".what").textContent();
    for (const place of wanted) assert.ok(what.includes(place), what);
    await page.keyboard.press("ArrowRight");
  }
  // The buttons, and a step's own way in.
  await page.getByRole("button", { name: "Back" }).focus();
  await page.keyboard.press("Enter");
  assert.match(await page.locator(".where").textContent(), new RegExp(`^Moment ${solve.moments.length - 2} `));
  const pair = solve.steps.findIndex(({ kind }) => kind === "pair");
  await page.locator(`#step${pair}`).getByRole("button", { name: "Step through it" }).press("Enter");
  assert.match(await page.locator(".where").textContent(), new RegExp(`^Moment ${solve.steps[pair].from} `));
  await close();
});

test("a screen reader finds its way: landmarks, one heading of the first level, named regions and figures", async () => {
  const [solve] = facts(`reconstructions/${records[0]}.yaml`);
  const { page, close } = await open(browser, url(first()), views[2]);
  assert.equal(await page.getByRole("main").count(), 1);
  assert.equal(await page.getByRole("banner").count(), 1);
  assert.equal(await page.getByRole("contentinfo").count(), 1);
  assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), solve.title);
  for (const step of solve.steps) {
    const name = new RegExp(`^${step.name}`, "i");
    assert.ok((await page.getByRole("region", { name }).count()) >= 1, step.name);
  }
  for (const picture of await page.getByRole("img").all()) {
    assert.ok((await picture.locator("title").first().textContent()).length > 3);
  }
  assert.ok((await page.getByRole("img").count()) > solve.steps.length);
  assert.ok((await page.getByRole("columnheader").count()) > 10);
  await close();
});

test("without scripts nothing is missing but the stepping", async () => {
  const [solve] = facts(`reconstructions/${records[0]}.yaml`);
  const { page, close } = await open(browser, url(first()), { ...views[0], javaScriptEnabled: false });
  assert.equal(await page.locator(".stage-card").isVisible(), false);
  assert.equal(await page.getByRole("button").count(), 0);
  const text = await page.locator("body").innerText();
  for (const step of solve.steps) assert.ok(text.includes(step.text), step.name);
  for (const sentence of solve.summary) assert.ok(text.includes(sentence.slice(1)), sentence);
  await close();
});

test("on paper: the wide lanes, no controls", async () => {
  const { page, close } = await open(browser, url(first()), views[0]);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".lanes-wide").isVisible(), true);
  assert.equal(await page.locator(".lanes-narrow").isVisible(), false);
  assert.equal(await page.getByRole("button").count(), 0);
  const pdf = await page.pdf({ format: "A4" });
  assert.ok(pdf.length > 10_000);
  if (shots) writeFileSync(join(shots, "print.pdf"), pdf);
  await close();
});

test("hostile words are text", async () => {
  const name = pages.find((name) => name.startsWith(`${String(records.length + 1).padStart(2, "0")}-`));
  const { page, seen, close } = await open(browser, url(name), views[0]);
  assert.deepEqual(seen.dialogs, []);
  const heading = await page.getByRole("heading", { level: 1 }).textContent();
  assert.ok(heading.startsWith("</title><script>alert(1)</script> \ufffddesrever & 'so' on x"), heading.slice(0, 90));
  assert.ok(heading.endsWith("x".repeat(10000)));
  const text = await page.locator("body").innerText();
  assert.ok(text.includes("<img src=x onerror=alert(2)>"));
  assert.ok(text.includes("</script><script>alert(3)</script> | `tick` **star**"));
  assert.equal(await page.locator("img").count(), 0);
  await close();
});

test("the index leads to every page", async () => {
  const { page, close } = await open(browser, url("index.html"), views[0]);
  const links = await page.getByRole("link").all();
  assert.equal(links.length, records.length + 1);
  await page.getByRole("link").first().click();
  const [solve] = facts(`reconstructions/${records[0]}.yaml`);
  assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), solve.title);
  await close();
});
