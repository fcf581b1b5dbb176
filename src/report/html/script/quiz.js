// Questions: the page stops when a step is in, takes away what tells, and asks for the corner and the edge of the pair to
// take next. What counts as right, and what is said of every answer, is in the facts.

const ASK = "Point at the corner of the pair to take next, then at its edge, on any of their stickers. The hidden sides are blank, as they are to the eyes, but can be pointed at.";

/** The letters of a place in the order the facts have them; null where there is no such place. */
function placeOf(word, places) {
  const sorted = (text) => [...text.toUpperCase()].sort().join("");
  return places.find((place) => sorted(place) === sorted(word)) || null;
}

/** An element with text and children. */
function make(name, attributes, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

function quiz(study) {
  const { data, root } = study;
  const box = root.querySelector(".quiz");
  const state = { on: false, n: 0, right: 0, spent: 0, asked: null, since: 0, corner: null, edge: null };
  const places = [...new Set([...root.querySelectorAll(".fig-a [data-place]")].map((group) => group.dataset.place))];
  const button = (label, act) => {
    const made = make("button", { type: "button", class: "go" }, label);
    made.addEventListener("click", act);
    return made;
  };
  const show = (...children) => box.replaceChildren(...children);
  const count = () => make("p", { class: "soft" }, `question ${state.n + 1} of ${data.quiz.length}`);

  function start() {
    Object.assign(state, { on: true, n: 0, right: 0, spent: 0, asked: null });
    root.classList.add("quizzed");
    box.hidden = false;
    study.quizState = state;
    study.go(data.first);
    watch();
  }

  function watch() {
    const question = data.quiz[state.n];
    state.asked = null;
    root.classList.remove("asking");
    show(make("h2", {}, "Watch."), make("p", {}, `The hands stop when ${question.in} is in. Have the next corner and its edge by then.`), count(),
      make("p", {}, button("straight to the question", () => { study.pause(); ask(); })));
    study.play(question.moment, ask);
  }

  function ask() {
    const question = data.quiz[state.n];
    study.pause();
    Object.assign(state, { asked: question, since: performance.now(), corner: null, edge: null });
    study.go(question.moment);
    root.classList.add("asking");
    const field = make("input", { type: "text", placeholder: "UFR UF", autocomplete: "off", autocapitalize: "characters", size: "9" });
    const say = make("p", { class: "soft say", role: "status" });
    const typed = () => {
      const words = field.value.trim().split(/[\s,/]+/).map((word) => placeOf(word, places)).filter(Boolean);
      const corner = words.find((word) => word.length === 3), edge = words.find((word) => word.length === 2);
      if (corner && edge) answer(corner, edge);
      else say.textContent = "A corner has three letters, an edge two: UFR UF.";
    };
    field.addEventListener("keydown", (event) => {
      if (event.key === "Enter") { event.preventDefault(); typed(); }
    });
    show(make("h2", {}, "Which pair next?"), make("p", {}, ASK),
      make("p", {}, make("label", {}, "or write both places ", field), " ", button("check", typed)), say, count());
    study.draw();
    field.focus({ preventScroll: true });
  }

  /** A sticker was pointed at. */
  function pick(place) {
    if (!state.asked) return;
    state[place.length === 3 ? "corner" : "edge"] = place;
    study.draw();
    const say = box.querySelector(".say");
    if (state.corner && state.edge) answer(state.corner, state.edge);
    else say.textContent = state.corner ? `Corner at ${state.corner}. And its edge?` : `Edge at ${state.edge}. And its corner?`;
  }

  function answer(corner, edge) {
    const question = state.asked;
    const seconds = (performance.now() - state.since) / 1000;
    const ofCorner = question.answers.find((one) => one.corner === corner);
    const ofEdge = question.answers.find((one) => one.edge === edge);
    const pair = ofCorner && ofCorner === ofEdge ? ofCorner : null;
    const right = Boolean(pair && pair.right);
    state.spent += seconds;
    state.right += right ? 1 : 0;
    state.asked = null;
    const best = question.answers.filter((one) => one.right);
    const whose = (what, place, one) => (one ? `The ${what} at ${place} is ${one.pair}’s.` : `The ${what} at ${place} belongs to no open pair.`);
    const said = pair ? [pair.say] : [whose("corner", corner, ofCorner), whose("edge", edge, ofEdge)];
    if (!right) said.push(...best.map((one) => `${one.say} It was at ${one.corner} and ${one.edge}.`));
    state.shown = (right ? [pair] : best.slice(0, 1)).flatMap((one) => [one.corner, one.edge]);
    root.classList.remove("asking");
    study.draw();
    const last = state.n + 1 === data.quiz.length;
    const on = button(last ? "how it went" : "go on", () => {
      state.shown = null;
      if (last) done(); else { state.n++; watch(); }
    });
    show(make("h2", {}, right ? "Right." : pair ? "A pair, but not the one to take." : "Not a pair."),
      ...said.map((text) => make("p", {}, text)), make("p", { class: "soft" }, `${seconds.toFixed(1)} s`), make("p", {}, on));
    on.focus({ preventScroll: true });
  }

  function done() {
    const end = button("back to the solve", stop);
    show(make("h2", {}, `${state.right} of ${data.quiz.length} right`),
      make("p", {}, `${state.spent.toFixed(1)} s in all, ${(state.spent / data.quiz.length).toFixed(1)} s a question.`), make("p", {}, end));
    end.focus({ preventScroll: true });
  }

  function stop() {
    study.pause();
    Object.assign(state, { on: false, asked: null, shown: null });
    root.classList.remove("quizzed", "asking");
    box.hidden = true;
    box.replaceChildren();
    study.draw();
  }

  return { state, pick, toggle: () => (state.on ? stop() : start()) };
}
