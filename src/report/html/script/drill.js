// Drills: an answer is written beside its question and held against those that are right; at the foot stands how many
// were, and how long it took.

{
  const asks = [...document.querySelectorAll("[data-answers]")];
  // Of each drill on the page.
  const counts = new Map();
  // Letters of a place in any order, places in any order; a turn as it is written.
  const norm = (text) => text.toUpperCase().replace(/[’′`]/g, "'").trim().split(/[\s,/]+/)
    .map((word) => (/^[UDFBRL]{2,3}$/.test(word) ? [...word].sort().join("") : word)).sort().join(" ");
  let since = performance.now();
  for (const ask of asks) {
    const field = ask.querySelector("input"), button = ask.querySelector("button"), say = ask.querySelector(".say");
    const right = JSON.parse(ask.dataset.answers).map(norm);
    const check = () => {
      const words = field.value.trim().split(/[\s,/]+/).filter(Boolean).length;
      const wanted = right[0].split(" ").length;
      if (words !== wanted) { say.textContent = ask.dataset.form; return; }
      const good = right.includes(norm(field.value));
      const seconds = (performance.now() - since) / 1000;
      const whole = ask.closest(".drilled"), tally = whole.querySelector(".tally");
      const count = counts.get(whole) ?? { asked: 0, right: 0, spent: 0 };
      counts.set(whole, count);
      count.asked += 1;
      count.right += good ? 1 : 0;
      count.spent += seconds;
      say.textContent = `${good ? "Right" : "Not so"}, ${seconds.toFixed(1)} s.`;
      field.disabled = button.disabled = true;
      const fold = ask.closest("section").querySelector("details");
      fold.open = true;
      tally.hidden = false;
      tally.textContent = `${count.right} of ${count.asked} right, ${count.spent.toFixed(1)} s in all, ${(count.spent / count.asked).toFixed(1)} s a question.`;
      since = performance.now();
      const next = asks.find((other) => whole.contains(other) && !other.querySelector("input").disabled);
      if (next) next.querySelector("input").focus({ preventScroll: good === false });
    };
    ask.hidden = false;
    button.addEventListener("click", check);
    field.addEventListener("keydown", (event) => { if (event.key === "Enter") { event.preventDefault(); check(); } });
  }
}
