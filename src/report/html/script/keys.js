// Keys, and the beginning of everything.

const KEYS = {
  ArrowRight: (study, shift) => (shift ? study.step(1) : study.does.on()),
  ArrowLeft: (study, shift) => (shift ? study.step(-1) : study.does.back()),
  ArrowDown: (study) => study.stopTo(1),
  ArrowUp: (study) => study.stopTo(-1),
  Home: (study) => { study.pause(); study.go(0); },
  End: (study) => { study.pause(); study.go(study.last); },
  " ": (study) => study.does.play(),
  ",": (study) => study.does.pace(-1),
  ".": (study) => study.does.pace(1),
  r: (study) => study.does.loop(),
  l: (study) => study.does.signs(),
  f: (study) => study.does.folded(),
  o: (study) => study.does.other(),
  q: (study) => study.does.quiz(),
  "?": (study) => study.does.keys(),
};

document.documentElement.classList.add("js");
{
  const studies = [...document.querySelectorAll(".study")].filter((root) => root.querySelector("script.facts")).map(Study);
  Study.active = studies.find((study) => study.key && location.hash.startsWith(`#${study.key}m=`)) || studies[0];
  addEventListener("keydown", (event) => {
    const study = Study.active;
    if (!study || event.ctrlKey || event.metaKey || event.altKey) return;
    // What is typed is an answer; but one may leave.
    if (event.target.tagName === "INPUT" && event.key !== "Escape") return;
    const quizzed = study.quiz.state.on;
    if (event.key === "Escape") {
      if (quizzed) study.does.quiz();
      else if (study.state.other !== null) study.does.other();
      else if (!study.root.querySelector(".keylist").hidden) study.does.keys();
      return;
    }
    // Pressing a button is the button's own affair, and an answer is not found by going on.
    const act = KEYS[event.key];
    if (!act || (event.key === " " && /^(BUTTON|SUMMARY|A)$/.test(event.target.tagName))) return;
    if (quizzed && !"lq?f".includes(event.key)) return;
    event.preventDefault();
    study.moved = true;
    act(study, event.shiftKey);
  });
  // Words are explained in place: by a title, and where nothing hovers by a tap.
  addEventListener("click", (event) => {
    const term = event.target.closest(".term");
    for (const other of document.querySelectorAll(".term.told")) if (other !== term) other.classList.remove("told");
    if (term) term.classList.toggle("told");
  });
  addEventListener("visibilitychange", () => { if (document.hidden) for (const study of studies) study.pause(); });
  addEventListener("beforeprint", () => { for (const part of document.querySelectorAll("details")) part.open = true; });
}
