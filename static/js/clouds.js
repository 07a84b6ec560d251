// The round sky on which cloud is drawn. Every cell stands for a box of the
// table beside it; without this module the boxes alone do the same.

const svg = document.querySelector("svg.cloud-sky");
const cells = [...svg.querySelectorAll(".cloud-cell")];
const boxOf = (cell) => document.querySelector(`input[name="sky"][value="${cell.dataset.cell}"]`);
const bands = 3, directions = cells.length / bands;

function show(cell) {
  const on = boxOf(cell).checked;
  cell.classList.toggle("covered", on);
  cell.setAttribute("aria-checked", String(on));
}

function cover(cell, on) {
  boxOf(cell).checked = on;
  show(cell);
}

// One cell is in the order of tabs; the arrows go on from there.
function stand(cell) {
  for (const c of cells) c.setAttribute("tabindex", c === cell ? "0" : "-1");
}

svg.setAttribute("role", "group");
svg.classList.add("live");
for (const c of cells) {
  c.setAttribute("role", "checkbox");
  c.setAttribute("aria-label", c.querySelector("title").textContent);
  show(c);
}
stand(cells[0]);

document.addEventListener("change", (e) => {
  if (e.target.name === "sky") show(cells.find((c) => c.dataset.cell === e.target.value));
});

// Press a cell, or draw over several: all become what the first one becomes.
let painting = null;
const under = (e) => document.elementFromPoint(e.clientX, e.clientY)?.closest?.(".cloud-cell");

svg.addEventListener("pointerdown", (e) => {
  const cell = under(e);
  if (!cell || e.button !== 0) return;
  e.preventDefault();
  painting = { id: e.pointerId, on: !boxOf(cell).checked };
  svg.setPointerCapture?.(e.pointerId);
  cover(cell, painting.on);
  stand(cell);
  cell.focus({ preventScroll: true });
});

svg.addEventListener("pointermove", (e) => {
  if (!painting || e.pointerId !== painting.id) return;
  const cell = under(e);
  if (cell) cover(cell, painting.on);
});

for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, () => { painting = null; });

svg.addEventListener("keydown", (e) => {
  const at = cells.indexOf(e.target.closest(".cloud-cell"));
  if (at < 0) return;
  if (e.key === " " || e.key === "Enter") {
    e.preventDefault();
    cover(cells[at], !boxOf(cells[at]).checked);
    return;
  }
  // Cells lie direction by direction, from low to high.
  const d = Math.floor(at / bands), b = at % bands;
  const to = {
    ArrowRight: [(d + 1) % directions, b], ArrowLeft: [(d + directions - 1) % directions, b],
    ArrowUp: [d, Math.min(b + 1, bands - 1)], ArrowDown: [d, Math.max(b - 1, 0)],
  }[e.key];
  if (!to) return;
  e.preventDefault();
  const next = cells[to[0] * bands + to[1]];
  stand(next);
  next.focus({ preventScroll: true });
});
