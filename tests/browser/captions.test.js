// Captions loaded by a browser as a text track: the cues are the ones meant.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { test } from "node:test";
import { cornerwise, facts, launch, views } from "./support.js";

const record = "reconstructions/all-four-tiers.yaml";
const start = 12.5;

test("a browser reads the cues that the facts ask for", async () => {
  const vtt = cornerwise("annotate", record, "--format", "vtt", "--start", String(start));
  const page = `<!DOCTYPE html><title>t</title><video><track default kind="captions" src="c.vtt"></video>`;
  const server = createServer((request, response) => {
    const captions = request.url.endsWith(".vtt");
    response.setHeader("Content-Type", captions ? "text/vtt" : "text/html");
    response.end(captions ? vtt : page);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  const browser = await launch();
  try {
    const tab = await browser.newPage(views[2]);
    await tab.goto(`http://127.0.0.1:${server.address().port}/`);
    const cues = await tab.evaluate(async () => {
      const track = document.querySelector("track");
      track.track.mode = "showing";
      if (track.readyState < 2) await new Promise((done) => { track.onload = done; track.onerror = done; });
      return [...(track.track.cues ?? [])].map((cue) => ({
        id: cue.id, start: cue.startTime, end: cue.endTime, text: cue.text, shown: cue.getCueAsHTML().textContent,
      }));
    });
    const [solve] = facts(record);
    assert.ok(cues.length >= 5, vtt);
    for (const cue of cues) {
      const [name, what] = cue.id.split(", ");
      const step = solve.steps.find((step) => step.name === name);
      assert.ok(cue.start >= step.seconds.start + start - 0.0011 && cue.end <= step.seconds.end + start + 0.0011, `${cue.id} at ${cue.start}`);
      const next = step.offers.find(({ taken }) => taken);
      if (what === "stop") {
        const [stop] = step.stops;
        assert.ok(cue.shown.includes(stop.cause), cue.shown);
        assert.ok(Math.abs(cue.end - cue.start - stop.seconds) < 0.0011);
      } else if (what) {
        const watch = next[what];
        const places = [watch.from, ...watch.way.map(([, place]) => place)];
        assert.ok(places.some((place) => cue.shown.includes(place)), `${cue.shown} should say one of ${places}`);
      }
      const rate = [...cue.shown].length / (cue.end - cue.start);
      assert.ok(rate <= 17.01, `${cue.shown}: ${rate} characters a second`);
    }
    assert.ok(cues.some((cue) => /^\w+-\w+: [UDFBRL]{3}, [UDFBRL]{2}$/.test(cue.shown) && cue.text.includes("<c.")), "a pair is named in its colours");
    assert.deepEqual(cues.map((cue) => cue.start), cues.map((cue) => cue.start).sort((a, b) => a - b));
  } finally {
    await browser.close();
    server.close();
  }
});
