"use strict";
for (const card of document.querySelectorAll(".stage-card")) {
  const { moments } = JSON.parse(card.querySelector("script").textContent);
  const paints = JSON.parse(card.dataset.paints);
  const slider = card.querySelector("input");
  const where = card.querySelector(".where");
  const what = card.querySelector(".what");
  const stickers = card.querySelectorAll("[data-n]");
  const places = card.querySelectorAll("[data-place]");
  const show = () => {
    const n = Number(slider.value);
    const m = moments[n];
    for (const sticker of stickers) sticker.setAttribute("fill", paints[m.stickers[sticker.dataset.n]] || "#8d939c");
    for (const place of places) place.classList.toggle("on", m.places.includes(place.dataset.place));
    where.textContent = m.where;
    what.textContent = m.what;
    slider.setAttribute("aria-valuetext", m.where);
  };
  const go = (n) => { slider.value = n; show(); };
  slider.max = moments.length - 1;
  slider.addEventListener("input", show);
  card.querySelector(".back").addEventListener("click", () => go(Number(slider.value) - 1));
  card.querySelector(".on-with").addEventListener("click", () => go(Number(slider.value) + 1));
  for (const link of document.querySelectorAll(`[data-stage="${card.id}"]`)) {
    link.hidden = false;
    link.addEventListener("click", () => { go(Number(link.dataset.moment)); card.scrollIntoView(); slider.focus(); });
  }
  card.hidden = false;
  show();
}
