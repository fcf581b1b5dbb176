// The cube on the stage: which colour each sticker has, what is pointed at, and a layer on its turn.

const FACES = "ULFRBD";
const SHAPES = { W: "○", Y: "●", G: "▭", B: "▬", O: "△", R: "▲" };

/** Paints all pictures in an element. `blank` hides what is on the sides away from the eyes. */
function paint(place, stickers, { paints, signs, blank }) {
  for (const path of place.querySelectorAll("[data-n]")) {
    const known = !(blank && path.classList.contains("away"));
    const fill = known ? (paints[stickers[path.dataset.n]] || ["#8b9298"])[0] : "#b5babd";
    path.setAttribute("fill", fill);
    path.setAttribute("stroke", fill);
  }
  for (const text of place.querySelectorAll("[data-sign]")) {
    const letter = stickers[text.dataset.sign];
    const known = signs !== "none" && !(blank && text.classList.contains("away"));
    text.textContent = !known ? "" : signs === "letters" ? letter : SHAPES[letter];
    text.setAttribute("fill", paints[letter] ? paints[letter][1] : "#000");
  }
}

/** Points at places: `[{place, grade, quiet, glow, name}]`. */
function point(place, marks) {
  const at = new Map(marks.map((mark) => [mark.place, mark]));
  for (const group of place.querySelectorAll("[data-place]")) {
    const mark = at.get(group.dataset.place);
    const others = marks.filter((other) => other !== mark).map((other) => other.place);
    group.classList.toggle("on", Boolean(mark));
    group.classList.toggle("quiet", Boolean(mark && mark.quiet));
    group.classList.toggle("glow", Boolean(mark && mark.glow));
    group.classList.toggle("bare", Boolean(mark && mark.quiet && !mark.name));
    group.classList.toggle("beside", ["FR", "DR", "FL", "DL"].some((name) => others.includes(name)));
    for (const grade of ["0", "1", "2"]) group.classList.toggle(`g${grade}`, Boolean(mark) && mark.grade === grade);
    const label = group.querySelectorAll(".lb");
    for (const text of label) text.firstChild.data = `${(mark && mark.name) || (group.dataset.place.length > 2 ? "corner" : "edge")} `;
  }
}

/** What a token turns: the axis, the layers, quarter turns; null where it is not one. */
function turnOf(token) {
  const read = /^([URFDLBMESxyzudfrlb])(w?)([23]?)('?)$/.exec(token || "");
  if (!read) return null;
  const [, letter, wide, times, prime] = read;
  const [axis, layers, way] = {
    R: [0, [1], -1], L: [0, [-1], 1], M: [0, [0], 1], X: [0, [-1, 0, 1], -1],
    U: [1, [1], -1], D: [1, [-1], 1], E: [1, [0], 1], Y: [1, [-1, 0, 1], -1],
    F: [2, [1], -1], B: [2, [-1], 1], S: [2, [0], -1], Z: [2, [-1, 0, 1], -1],
  }[letter.toUpperCase()];
  const both = wide || /[udfrlb]/.test(letter);
  return { axis, layers: both ? [...layers, 0] : layers, quarters: (Number(times) || 1) * (prime ? -1 : 1) * way };
}

/** The corners of a sticker's cell in space, as the pictures have it. */
function cellOf(face, index) {
  const r = Math.floor(index / 3) - 1.5, c = (index % 3) - 1.5;
  return [[c, r], [c + 1, r], [c + 1, r + 1], [c, r + 1]].map(([a, b]) => ({
    U: [a, 1.5, b], D: [a, -1.5, -b], F: [a, -b, 1.5], B: [-a, -b, -1.5], R: [1.5, -b, -a], L: [-1.5, -b, a],
  })[face]);
}

const NORMALS = { U: [0, 1, 0], D: [0, -1, 0], F: [0, 0, 1], B: [0, 0, -1], R: [1, 0, 0], L: [-1, 0, 0] };

/** Draws the large faces with a layer `part` of the way through its turn; null puts them back. */
function spin(place, stickers, paints, token, part) {
  const svg = place.querySelector("svg.held");
  const turn = part === null ? null : turnOf(token);
  svg.classList.toggle("spinning", Boolean(turn));
  const group = svg.querySelector(".spin");
  if (!turn) { if (group.firstChild) group.replaceChildren(); return; }
  const angle = turn.quarters * Math.PI / 2 * part, cos = Math.cos(angle), sin = Math.sin(angle);
  const iso = ([x, y, z]) => `${((x - z) * 86.6025).toFixed(1)} ${((-y + (x + z) / 2) * 100).toFixed(1)}`;
  const turned = (p) => {
    const b = (turn.axis + 1) % 3, c = (turn.axis + 2) % 3, out = [...p];
    out[b] = p[b] * cos - p[c] * sin;
    out[c] = p[b] * sin + p[c] * cos;
    return out;
  };
  const shapes = [];
  for (const layer of [-1, 0, 1]) {
    const moves = turn.layers.includes(layer), to = (p) => (moves ? turned(p) : p);
    const faces = (n) => { const [x, y, z] = to(n); return x + y + z > 1e-6; };
    for (let a = 0; a < 3; a++) {
      for (const sign of [-1, 1]) {
        const normal = [0, 0, 0];
        normal[a] = sign;
        if (!faces(normal)) continue;
        const b = (a + 1) % 3, c = (a + 2) % 3;
        const end = (axis, u) => (axis === turn.axis ? layer + u / 2 : 1.5 * u);
        const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([u, v]) => {
          const p = [0, 0, 0];
          p[a] = end(a, sign);
          p[b] = end(b, u);
          p[c] = end(c, v);
          return iso(to(p));
        });
        shapes.push(["body", "#11161a", `M${corners.join("L")}Z`]);
      }
    }
    for (const face of FACES) {
      if (!faces(NORMALS[face])) continue;
      for (let i = 0; i < 9; i++) {
        const cell = cellOf(face, i), middle = (cell[0][turn.axis] + cell[2][turn.axis]) / 2;
        const own = Math.abs(middle) > 1.4 ? Math.sign(middle) : Math.round(middle);
        if (own !== layer) continue;
        const centre = cell[0].map((_, k) => (cell[0][k] + cell[2][k]) / 2);
        const inner = cell.map((p) => p.map((v, k) => v + (centre[k] - v) * 0.18));
        const colour = paints[stickers[FACES.indexOf(face) * 9 + i]];
        shapes.push(["st", colour ? colour[0] : "#8b9298", `M${inner.map((p) => iso(to(p))).join("L")}Z`]);
      }
    }
  }
  while (group.childNodes.length > shapes.length) group.lastChild.remove();
  shapes.forEach(([name, fill, d], n) => {
    const path = group.childNodes[n] || group.appendChild(document.createElementNS(svg.namespaceURI, "path"));
    path.setAttribute("class", name);
    path.setAttribute("d", d);
    for (const name of ["fill", "stroke"]) if (fill) path.setAttribute(name, fill); else path.removeAttribute(name);
  });
}
