// One cursor through a solve. A moment is chosen in the lanes, on a token, by keys, by playing or by the address; lanes,
// tokens, cube, clock and step follow together, because all of them are drawn by `draw` from one state.

const PACES = [[0.25, "pace ¼"], [0.5, "pace ½"], [1, "pace 1"], [1.5, "pace 1½"], [2, "pace 2"]];
/** Without marks a token is played in so many seconds. */
const UNTIMED = 0.4;
const still = matchMedia("(prefers-reduced-motion: reduce)");

function Study(root) {
  const data = JSON.parse(root.querySelector("script.facts").textContent);
  const key = root.dataset.key;
  const last = data.reached.length - 1;
  for (const pair of data.pairs) {
    pair.corner = pair.corner.split(" ");
    pair.edge = pair.edge.split(" ");
  }
  const one = (query) => root.querySelector(query);
  const all = (query) => [...root.querySelectorAll(query)];
  const stage = one(".stage"), lanes = one(".lanes-here"), slider = lanes;
  const state = {
    m: data.first, t: data.reached[data.first], playing: false, pace: 2, loop: false, until: null, then: null,
    signs: stage.dataset.signs, folded: stage.dataset.folded === "true", other: null,
  };
  const study = { root, data, key, state, last, go, step, stopTo, play, pause, toggle, draw, seek, does: {} };
  const clock = { frame: 0, at: 0, from: 0 };
  const unit = data.timed ? 1 : UNTIMED;

  /** The moment the clock has come to. */
  function momentAt(t) {
    let m = 0;
    while (m < last && data.reached[m + 1] <= t + 1e-6) m++;
    return m;
  }
  /** The stop that is held at the cursor. */
  function held() {
    return data.stops.find((stop) => state.t >= stop.from - 1e-6 && state.t < stop.to - 1e-6) || null;
  }

  // What moves the cursor.

  function go(m) {
    state.m = Math.max(0, Math.min(last, m));
    state.t = data.reached[state.m];
    // Several moments may lie at one time; the cursor is at the one that was asked for.
    draw();
  }
  function seek(t) {
    const at = Math.max(data.reached[0], Math.min(data.left[last], t));
    state.m = momentAt(at);
    const stop = data.stops.find((one) => at >= one.from - 1e-6 && at < one.to - 1e-6);
    state.t = stop ? at : data.reached[state.m];
    draw();
  }
  function step(d) {
    pause();
    const n = data.step[state.m], [from, to] = data.steps[n];
    if (d > 0) return go(to);
    return go(state.m > from ? from : data.steps[Math.max(0, n - 1)][0]);
  }
  function stopTo(d) {
    pause();
    const ahead = data.stops.filter((stop) => (d > 0 ? stop.moment > state.m : stop.moment < state.m));
    if (ahead.length) go(ahead[d > 0 ? 0 : ahead.length - 1].moment);
  }

  // Playing: the clock of the solve runs with the browser's, and is never added up from frames.

  function play(until, then) {
    if (state.m >= last && until === undefined) go(data.first);
    if (state.m < data.first) go(data.first);
    Object.assign(state, { playing: true, until: until === undefined ? null : until, then: then || null });
    Object.assign(clock, { at: performance.now(), from: state.t });
    shown();
    draw();
    clock.frame = requestAnimationFrame(tick);
  }
  function pause() {
    if (!state.playing) return;
    cancelAnimationFrame(clock.frame);
    Object.assign(state, { playing: false, until: null, then: null });
    if (!held()) state.t = data.reached[state.m];
    draw();
  }
  function toggle() {
    if (state.playing) pause(); else play();
  }
  function tick(now) {
    if (!state.playing) return;
    let t = clock.from + Math.max(0, now - clock.at) / 1000 * PACES[state.pace][0] / unit;
    const loop = state.loop && state.until === null ? data.steps[state.loop - 1] : null;
    if (loop && t >= data.reached[loop[1]]) {
      t = data.reached[loop[0]];
      Object.assign(clock, { at: now, from: t });
    }
    const end = state.until === null ? data.left[last] : data.reached[state.until];
    if (t >= end) {
      const { until, then } = state;
      state.m = until === null ? last : until;
      state.t = data.reached[state.m];
      pause();
      if (then) then();
      return;
    }
    state.t = t;
    state.m = momentAt(t);
    draw();
    clock.frame = requestAnimationFrame(tick);
  }
  function repace() {
    Object.assign(clock, { at: performance.now(), from: state.t });
  }

  // What follows the cursor.

  const last_ = {};
  /** Does a thing only where what it depends on has changed. */
  function when(name, now, act) {
    if (last_[name] !== now) { last_[name] = now; act(); }
  }
  /** How far the turn that is being made has come; null where none is. */
  function turning() {
    // Rotations within a stop are no turns: the hands stand.
    if (!state.playing || still.matches || state.m >= last || state.folded || held()) return null;
    const from = data.left[state.m], to = data.reached[state.m + 1];
    const part = (state.t - from) / (to - from);
    return part > 0.02 && part < 1 && data.tokens[state.m] ? part : null;
  }
  function marksAt(m, stop) {
    const quizzed = study.quiz && study.quiz.state;
    if (quizzed && quizzed.on) {
      const picked = quizzed.shown || [quizzed.corner, quizzed.edge].filter((place) => place && quizzed.asked);
      return picked.map((place) => ({ place, grade: "2" }));
    }
    const marks = [];
    const add = (n, quiet) => ["corner", "edge"].forEach((kind, k) => {
      const pair = data.pairs[n];
      // At a stop the eyes have what they had before it; a piece that was found is found.
      const before = stop ? Math.max(0, m - 1) : m;
      const grade = stop && pair.seen[k][m] !== "2" ? pair.seen[k][before] : pair.seen[k][m];
      marks.push({ place: pair[kind][m], grade: grade || "0", quiet, glow: Boolean(stop && state.playing && !quiet), name: quiet && k === 0 ? "now" : "" });
    });
    for (const n of stop ? stop.want : data.want[m]) if (data.pairs[n].corner[m]) add(n, false);
    if (stop) for (const n of stop.taken) if (data.pairs[n].corner[m]) add(n, true);
    return marks;
  }

  function draw() {
    const { m, t } = state;
    const stop = held();
    const quizzed = Boolean(study.quiz && study.quiz.state.on);
    const asked = Boolean(quizzed && study.quiz.state.asked);
    const part = turning();
    const look = { paints: data.paints, signs: state.signs, blank: asked };
    const here = one(".fig-a .cube-here");
    when("cube", [m, state.signs, asked].join(), () => paint(here, data.stickers[m], look));
    when("spin", String(part), () => spin(here, data.stickers[m], data.paints, data.tokens[m], part));
    const marks = part === null ? marksAt(m, stop) : [];
    when("marks", JSON.stringify(marks), () => point(here, marks));
    drawOther();
    const shownTime = data.timed ? Math.max(0, t).toFixed(2) : String(m);
    one(".t").textContent = shownTime;
    const doing = stop ? "the hands stand" : part !== null ? `turning ${data.tokens[m]}` : data.place[m];
    const w1 = `moment ${m} of ${last}, ${doing}`;
    const ahead = quizzed || !data.next[m] ? "" : `; ${data.next[m]}`;
    const w2 = stop
      ? `stopped ${(t - stop.from).toFixed(2)} of ${stop.about ? "about " : ""}${stop.seconds.toFixed(2)} s${quizzed ? "" : ` ${stop.say}`}`
      : asked ? `${study.quiz.state.asked.in} is in` : `${data.togo[m]}${ahead}`;
    one(".w1").textContent = w1;
    one(".w2").textContent = w2;
    const bar = one(".fill");
    bar.classList.toggle("on", Boolean(stop));
    bar.firstElementChild.style.width = stop ? `${Math.min(100, (t - stop.from) / (stop.to - stop.from) * 100)}%` : "0";
    drawLanes(stop, shownTime);
    const n = stop && stop.step !== data.step[m] ? stop.step : data.step[m];
    const at = `${n},${m},${Boolean(stop)},${quizzed},${asked}`;
    when("moment", at, () => {
      // While a question is asked nothing that is still to come is told.
      for (const token of all(".tok")) {
        const k = Number(token.dataset.m);
        token.classList.toggle("now", k === m);
        token.classList.toggle("past", k < m);
        if (k === m) token.setAttribute("aria-current", "true"); else token.removeAttribute("aria-current");
      }
      for (const row of all("tbody[data-step]")) row.classList.toggle("now", Number(row.dataset.step) === n);
      for (const block of all(".blk")) block.classList.toggle("now", Number(block.dataset.step) === n);
      for (const pan of all(".ln-pan, .ln-step")) pan.classList.toggle("now", Number(pan.dataset.step) === n);
      for (const link of all(".cost a")) link.classList.toggle("now", Number(link.dataset.m) === m);
      for (const text of all("[data-read]")) {
        const [lane, kind] = text.dataset.read.split("-");
        const pair = data.pairs[lane], done = pair.solved !== null && m >= pair.solved;
        text.textContent = done ? (kind === "corner" ? "in" : "") : pair[kind][m] || "";
      }
      const wanted = stop ? stop.want : data.want[m];
      for (const label of all("[data-lane]")) {
        const lane = Number(label.dataset.lane), pair = data.pairs[lane];
        label.classList.toggle("next", wanted.includes(lane));
        label.classList.toggle("done", pair.solved !== null && m >= pair.solved);
      }
      slider.setAttribute("aria-valuenow", m);
    });
    when("line", String(n), () => nowLine(n));
    when("said", `${w1}|${state.playing ? "" : w2}`, () => slider.setAttribute("aria-valuetext", `${w1}. ${w2}`));
    when("playing", state.playing, () => {
      const press = one("[data-do=play]");
      press.textContent = state.playing ? "pause" : "play";
      press.setAttribute("aria-pressed", state.playing);
    });
    if (!state.playing) remember();
  }
  function remember() {
    const address = `#${key}m=${state.m}`;
    if (Study.active !== study || (!study.moved && !location.hash) || location.hash === address) return;
    try { history.replaceState(null, "", address); } catch { /* not where pages have no history */ }
  }
  function nowLine(n) {
    const line = one(".nowline"), [from, to] = data.steps[n] || [0, 0];
    line.replaceChildren();
    for (let m = from + 1; m <= to; m++) {
      const token = make("span", { class: "tok", "data-m": m }, one(`.rec .tok[data-m="${m}"]`).textContent);
      token.addEventListener("click", () => { pause(); go(m); });
      line.append(token, " ");
    }
    for (const token of line.querySelectorAll(".tok")) {
      token.classList.toggle("now", Number(token.dataset.m) === state.m);
      token.classList.toggle("past", Number(token.dataset.m) < state.m);
    }
  }
  function drawLanes(stop, time) {
    for (const svg of lanes.querySelectorAll("svg.lanes")) {
      const { left, right, start, end } = svg.dataset;
      const x = Number(left) + (Number(right) - Number(left)) * (state.t - start) / (end - start);
      const width = svg.viewBox.baseVal.width;
      svg.querySelector(".cur").setAttribute("transform", `translate(${x.toFixed(2)} 0)`);
      svg.querySelector(".flag").setAttribute("transform", `translate(${Math.min(Math.max(x, 24), width - 24).toFixed(2)} 0)`);
      svg.querySelector(".flag text").textContent = time;
      data.stops.forEach((one, n) => {
        const bar = svg.querySelector(`[data-stop="${n}"]`);
        const part = one === stop ? (state.t - one.from) / (one.to - one.from) : 0;
        bar.setAttribute("width", (part * bar.dataset.width).toFixed(2));
      });
    }
  }

  // The other line, on a cube of its own under the same cursor.

  function drawOther() {
    if (state.other === null) return;
    const other = data.others[state.other], place = one(".fig-b .cube-here");
    let k = 0;
    while (k < other.tokens.length && other.times[k] <= state.t + 1e-6) k++;
    const before = state.t < other.start - 1e-6;
    const done = k === other.tokens.length;
    const from = k === 0 ? other.start : other.times[k - 1];
    const part = state.playing && !before && !done && !still.matches && !state.folded ? (state.t - from) / (other.times[k] - from) : null;
    const spun = part !== null && part > 0.02 ? part : null;
    const stickers = before ? data.stickers[state.m] : other.stickers[k];
    when("b-cube", `${state.other},${before ? `b${state.m}` : k},${state.signs}`, () => paint(place, stickers, { paints: data.paints, signs: state.signs }));
    when("b-spin", String(spun), () => spin(place, stickers, data.paints, other.tokens[k], spun));
    const marks = !before && spun === null && other.marks[k] ? other.marks[k].map((at) => ({ place: at, grade: "2" })) : [];
    when("b-marks", JSON.stringify(marks), () => point(place, marks));
    const at = state.t >= data.reached[other.to] - 1e-6 ? "in" : state.t < other.start ? "" : "under way";
    one(".fig-a figcaption").textContent = `as played${at ? `, ${at}` : ""}`;
    when("b-words", `${state.other},${before},${k}`, () => {
      const caption = one(".fig-b figcaption");
      caption.replaceChildren(make("strong", {}, other.first < other.tokens.length ? `${other.pair}, then ${other.then}` : other.pair), " ");
      other.tokens.forEach((token, n) => {
        const name = n < k ? "tok past" : n === k && !before ? "tok now" : "tok";
        caption.append(make("span", { class: name }, token), n + 1 === other.first && n + 1 < other.tokens.length ? " · " : " ");
      });
    });
  }
  function showOther() {
    if (state.other !== null) {
      state.other = null;
    } else {
      const stop = held();
      const n = stop ? stop.step : data.step[state.m];
      // At a stop the line that would have spared it belongs to the step before; where there is none, the next one.
      const near = (test) => data.others.findIndex(test);
      const found = [near((one) => one.step === n), near((one) => one.step === n - 1), near((one) => one.step > n), 0];
      state.other = found.find((at) => at >= 0);
      const place = one(".fig-b .cube-here");
      if (!place.firstChild) place.append(...[...one(".fig-a .cube-here").children].map((svg) => svg.cloneNode(true)));
      pause();
      const other = data.others[state.other];
      if (state.m < other.from || state.m > other.to) go(other.from);
    }
    const on = state.other !== null;
    one(".fig-b").hidden = !on;
    root.classList.toggle("two", on);
    one(".fig-a figcaption").textContent = "";
    for (const name of Object.keys(last_)) if (name.startsWith("b-")) delete last_[name];
    pressed("other", on);
    shown();
    draw();
  }

  function pressed(name, on) {
    for (const button of all(`.stage [data-do=${name}]`)) button.setAttribute("aria-pressed", on);
  }
  /** Brings cube and lanes into view where the cursor was moved from elsewhere. */
  function shown() {
    const box = one(".cubes").getBoundingClientRect();
    if (box.bottom > innerHeight + 20 || box.top < 0) one(".time, .stage").scrollIntoView({ block: "start" });
  }
  study.shown = shown;

  const SIGNS = ["none", "letters", "shapes"];
  Object.assign(study.does, {
    back: () => { pause(); go(state.m - 1); },
    on: () => { pause(); go(state.m + 1); },
    play: toggle,
    pace: (d) => {
      state.pace = d ? Math.max(0, Math.min(PACES.length - 1, state.pace + d)) : (state.pace + 1) % PACES.length;
      one("[data-do=pace]").textContent = PACES[state.pace][1];
      repace();
    },
    loop: () => {
      // Steps from 1, so that none is 0.
      state.loop = state.loop ? false : data.step[state.m] + 1;
      pressed("loop", Boolean(state.loop));
    },
    signs: () => {
      state.signs = SIGNS[(SIGNS.indexOf(state.signs) + 1) % 3];
      const button = one("[data-do=signs]");
      button.textContent = state.signs === "none" ? "letters" : state.signs;
      pressed("signs", state.signs !== "none");
      draw();
    },
    folded: () => {
      state.folded = !state.folded;
      root.classList.toggle("folded", state.folded);
      pressed("folded", state.folded);
      draw();
    },
    other: () => { if (data.others.length && !(study.quiz && study.quiz.state.on)) showOther(); },
    quiz: () => {
      if (!data.quiz.length) return;
      if (state.other !== null) showOther();
      if (state.loop) study.does.loop();
      study.quiz.toggle();
      pressed("quiz", study.quiz.state.on);
    },
    keys: () => {
      const list = one(".keylist");
      list.hidden = !list.hidden;
      one("[data-do=keys]").setAttribute("aria-expanded", !list.hidden);
    },
  });

  // Wiring.

  function xToTime(event) {
    const svg = [...lanes.querySelectorAll("svg.lanes")].find((one) => one.getBoundingClientRect().width > 0);
    const box = svg.getBoundingClientRect(), { left, right, start, end } = svg.dataset;
    const x = (event.clientX - box.left) * svg.viewBox.baseVal.width / box.width;
    return Number(start) + (x - left) / (right - left) * (end - start);
  }
  let dragging = false;
  lanes.addEventListener("pointerdown", (event) => {
    if (event.button || (study.quiz && study.quiz.state.on)) return;
    dragging = true;
    study.moved = true;
    Study.active = study;
    lanes.setPointerCapture(event.pointerId);
    pause();
    seek(xToTime(event));
  });
  lanes.addEventListener("pointermove", (event) => { if (dragging) seek(xToTime(event)); });
  for (const name of ["pointerup", "pointercancel"]) lanes.addEventListener(name, () => { dragging = false; });
  root.addEventListener("pointerdown", () => { Study.active = study; });
  root.addEventListener("focusin", () => { Study.active = study; });
  root.addEventListener("click", (event) => {
    study.moved = true;
    const button = event.target.closest("[data-do]");
    if (button) { study.does[button.dataset.do](); return; }
    const link = event.target.closest("a[data-m]");
    if (link) {
      event.preventDefault();
      if (study.quiz.state.on) return;
      pause();
      go(Number(link.dataset.m));
      shown();
      return;
    }
    const sticker = event.target.closest(".fig-a [data-n]");
    if (sticker) study.quiz.pick(stickerPlace(sticker.dataset.n));
  });
  /** The place a sticker belongs to: the faces whose cells meet in its cubie. */
  function stickerPlace(n) {
    const centre = cellOf(FACES[Math.floor(n / 9)], n % 9).reduce((sum, p) => sum.map((v, k) => v + p[k] / 4), [0, 0, 0]);
    const names = [[1, 1, "U"], [1, -1, "D"], [2, 1, "F"], [2, -1, "B"], [0, 1, "R"], [0, -1, "L"]];
    return names.filter(([axis, sign]) => centre[axis] * sign > 0.75).map(([, , face]) => face).join("");
  }

  Object.entries({ tabindex: 0, role: "slider", "aria-label": "moment of the solve", "aria-valuemin": 0, "aria-valuemax": last })
    .forEach(([name, value]) => slider.setAttribute(name, value));
  for (const button of all(".both button")) button.hidden = false;
  stage.hidden = false;
  root.classList.add("live");
  root.classList.toggle("folded", state.folded);
  study.quiz = quiz(study);
  const asked = hashMoment() ?? (root.dataset.at === undefined ? null : Number(root.dataset.at));
  if (asked !== null) { state.m = Math.min(last, asked); state.t = data.reached[state.m]; }
  // Where scripts run an address chooses a moment; it does not scroll the page to a token.
  for (const token of all("[id]")) if (token.id.startsWith(`${key}m=`)) token.removeAttribute("id");
  if (asked !== null && !key && location.hash) addEventListener("load", () => scrollTo(0, 0));
  draw();

  /** The moment the address asks for; null where it asks for none of this solve. */
  function hashMoment() {
    let hash = "";
    // What a person writes there may be no address at all.
    try { hash = decodeURIComponent(location.hash); } catch { return null; }
    const read = /^#(s\d+)?m=(\d+)$/.exec(hash);
    return read && (read[1] || "") === key ? Number(read[2]) : null;
  }
  addEventListener("hashchange", () => {
    const m = hashMoment();
    if (m !== null && m !== state.m) { Study.active = study; pause(); go(m); }
  });
  return study;
}
