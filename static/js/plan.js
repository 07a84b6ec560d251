// A plan from above, by mouse, touch and keyboard: the places on a night's
// field, and the points of a site's ground. Everything can be done without it
// by the forms on the page; this module turns a drag or a key into one of
// them.

const SETTLE = 450; // ms without a key after which moves by keyboard are sent

document.documentElement.classList.add("scripted");

const clamp = (v, low, high) => Math.min(Math.max(v, low), high);
const round = (v, step) => Math.round(v / step) * step;

// metresAt turns a point on the screen into metres on the ground.
function metresAt(svg, x, y) {
  const box = svg.getBoundingClientRect(), unit = svg.viewBox.baseVal.width / box.width, scale = Number(svg.dataset.scale);
  return { x: Number(svg.dataset.left) + (x - box.x) * unit / scale, y: Number(svg.dataset.top) - (y - box.y) * unit / scale };
}

// ---- the field of a night

const root = () => document.getElementById("field-plan");
const shown = () => [...root().querySelectorAll("svg.plan")].find((s) => s.getBoundingClientRect().width > 0);
const placeOf = (key) => shown()?.querySelector(`.place[data-key="${CSS.escape(key)}"]`);
const stands = (g) => ({ x: Number(g.dataset.x), y: Number(g.dataset.y), queue: Number(g.dataset.queue) });

let held = null; // the drag under way
let pending = null; // moves by keyboard not yet sent
let busy = false;
let chain = Promise.resolve(); // changes go one after the other

function say(words, alert = false) {
  const p = document.createElement("p");
  p.className = "says";
  if (alert) p.setAttribute("role", "alert");
  p.textContent = words;
  document.getElementById("plan-says")?.replaceChildren(p);
}

function select(g) {
  for (const o of root().querySelectorAll(".place[aria-current]")) o.removeAttribute("aria-current");
  g.setAttribute("aria-current", "true");
  g.parentNode.append(g); // over its neighbours
  root().dataset.show = g.dataset.key;
}

function send(url, form = {}) {
  chain = chain.then(() => post(url, form));
}

async function post(url, form) {
  busy = true;
  root().setAttribute("aria-busy", "true");
  try {
    const body = new URLSearchParams({ version: root().dataset.version, show: root().dataset.show, ...form });
    const r = await fetch(url, { method: "POST", body, headers: { "HX-Request": "true" }, redirect: "manual" });
    take(await r.text());
  } catch {
    say("Not sent: the server cannot be reached. Nothing was changed; try again.", true);
    release();
  } finally {
    busy = false;
    root().removeAttribute("aria-busy");
  }
}

function take(text) {
  const page = new DOMParser().parseFromString(text, "text/html"), fresh = page.getElementById("field-plan");
  if (!fresh) { // a refusal, or a page of trouble
    const box = page.querySelector("[data-testid=refused], [data-testid=error]"), says = document.getElementById("plan-says");
    if (box) says.replaceChildren(document.importNode(box, true));
    else say("Not done. Load the page again and look at the field.", true);
    says.scrollIntoView({ block: "nearest" });
    release();
    return;
  }
  const key = document.activeElement?.closest?.(".place")?.dataset.key, button = document.activeElement?.dataset?.testid;
  held = pending = null;
  root().replaceWith(document.importNode(fresh, true));
  if (key) placeOf(key)?.focus({ preventScroll: true });
  else if (button) root().querySelector(`[data-testid=${button}]:not([disabled])`)?.focus({ preventScroll: true });
}

// draft shows a place elsewhere before the server knows.
function draft(g, now) {
  const svg = g.ownerSVGElement, s = Number(svg.dataset.scale), home = stands(g), legs = g.querySelector(".legs");
  const cx = legs.getAttribute("cx"), cy = legs.getAttribute("cy");
  g.setAttribute("transform", `translate(${(now.x - home.x) * s} ${(home.y - now.y) * s}) rotate(${now.queue - home.queue} ${cx} ${cy})`);
  g.querySelector(".number")?.setAttribute("transform", `rotate(${home.queue - now.queue} ${cx} ${cy})`);
  g.classList.add("held");
}

function release() {
  held = pending = null;
  for (const g of root().querySelectorAll(".place.held")) {
    g.classList.remove("held");
    g.removeAttribute("transform");
    g.querySelector(".number")?.removeAttribute("transform");
  }
}

// meant is the place that a press is for: grips are larger than circles and lie
// over each other, so the nearest middle counts, not the topmost grip.
function meant(e) {
  const g = e.target.closest?.("#field-plan .place");
  if (!g || e.target.dataset?.turn) return g;
  const far = (o) => {
    const b = o.querySelector(".legs").getBoundingClientRect();
    return Math.hypot(b.x + b.width / 2 - e.clientX, b.y + b.height / 2 - e.clientY);
  };
  return [...g.ownerSVGElement.querySelectorAll(".place")].reduce((best, o) => (far(o) < far(best) ? o : best), g);
}

const pathOf = (g) => `${root().dataset.base}/places/${g.dataset.key}`;
const same = (a, b) => a.x === b.x && a.y === b.y && a.queue === b.queue;
const form = (now) => ({ X: now.x.toFixed(1), Y: now.y.toFixed(1), Queue: now.queue.toFixed(1) });

document.addEventListener("pointerdown", (e) => {
  const g = meant(e);
  if (!g || !("may" in root().dataset) || e.button !== 0 || busy || pending) return;
  // By touch only the selected one can be dragged: the others let the page scroll.
  if (e.pointerType !== "mouse" && !g.hasAttribute("aria-current")) return;
  if (e.pointerType === "mouse") select(g);
  const svg = g.ownerSVGElement;
  held = { g, svg, id: e.pointerId, sx: e.clientX, sy: e.clientY, from: metresAt(svg, e.clientX, e.clientY), home: stands(g), turn: !!e.target.dataset.turn, moved: false };
  held.now = { ...held.home };
});

// A finger that holds something must not scroll the page or the drawing's frame:
// touch-action on a group in a drawing is not enough for that.
document.addEventListener("touchmove", (e) => { if (held || grip) e.preventDefault(); }, { passive: false });

document.addEventListener("pointermove", (e) => {
  if (!held || e.pointerId !== held.id) return;
  if (!held.moved) {
    if (Math.hypot(e.clientX - held.sx, e.clientY - held.sy) < 5) return;
    held.moved = true;
    held.g.setPointerCapture?.(held.id);
  }
  e.preventDefault();
  const at = metresAt(held.svg, e.clientX, e.clientY), { home } = held;
  if (held.turn) {
    const deg = Math.atan2(at.x - home.x, at.y - home.y) * 180 / Math.PI;
    held.now = { ...home, queue: (round(deg, 7.5) + 360) % 360 };
  } else {
    held.now = { ...home, x: round(home.x + at.x - held.from.x, 0.1), y: round(home.y + at.y - held.from.y, 0.1) };
  }
  draft(held.g, held.now);
});

document.addEventListener("pointerup", (e) => {
  if (!held || e.pointerId !== held.id) return;
  const h = held;
  held = null;
  if (!h.moved) return;
  h.g.focus({ preventScroll: true });
  if (same(h.now, h.home)) release();
  else send(pathOf(h.g), form(h.now));
});

document.addEventListener("pointercancel", (e) => {
  if (held && e.pointerId === held.id) release();
});

document.addEventListener("click", (e) => {
  const g = meant(e);
  if (g && !busy) select(g);
});

document.addEventListener("submit", (e) => {
  const f = e.target.closest?.("#field-plan form[data-plan]");
  if (!f) return;
  e.preventDefault();
  send(f.action);
});

document.addEventListener("keydown", (e) => {
  if (!root() || e.altKey || e.target.closest?.("input, select, textarea")) return;
  const key = e.key.toLowerCase();
  if (e.ctrlKey || e.metaKey) {
    const what = key === "y" || (key === "z" && e.shiftKey) ? "redo" : key === "z" ? "undo" : "";
    const button = what && root().querySelector(`[data-testid=${what}]`);
    if (!button) return;
    e.preventDefault();
    if (button.disabled && !busy) say(what === "undo" ? "There is nothing to undo." : "There is nothing to do again.");
    else send(button.form.action);
    return;
  }
  if (key === "escape" && (held || pending)) {
    clearTimeout(pending?.timer);
    release();
    return;
  }
  const g = e.target.closest?.("#field-plan[data-may] .place");
  if (!g) return;
  const far = e.shiftKey ? 2 : 0.5;
  const act = {
    arrowleft: () => nudge(g, -far, 0, 0), arrowright: () => nudge(g, far, 0, 0), arrowup: () => nudge(g, 0, far, 0), arrowdown: () => nudge(g, 0, -far, 0),
    r: () => nudge(g, 0, 0, e.shiftKey ? -22.5 : 22.5), enter: () => select(g), " ": () => select(g),
    p: () => send(pathOf(g), { Pinned: g.classList.contains("pinned") ? "0" : "1" }),
  }[key];
  if (!act) return;
  e.preventDefault();
  act();
});

// nudge moves or turns by keyboard: at once on the drawing, on the server when
// the keys rest, so that ten presses are one step of undo.
function nudge(g, dx, dy, turn) {
  if (busy || (pending && pending.g !== g)) return;
  if (!g.hasAttribute("aria-current")) {
    select(g);
    g.focus({ preventScroll: true });
  }
  const home = stands(g), was = pending?.now ?? home;
  const now = { x: clamp(was.x + dx, -500, 500), y: clamp(was.y + dy, -500, 500), queue: (was.queue + turn + 360) % 360 };
  clearTimeout(pending?.timer);
  pending = { g, now, timer: setTimeout(() => {
    pending = null;
    if (same(now, home)) release();
    else send(pathOf(g), form(now));
  }, SETTLE) };
  draft(g, now);
}

// ---- the ground of a site

const sheet = () => document.querySelector(".ground-form");
let drawing = null; // the row whose points are clicked onto the drawing
let grip = null; // the point that is dragged

// box of a feature's points: those of a row, or the corners for -1.
const boxOf = (feature) => document.getElementById(feature < 0 ? "Outline" : `${feature}.At`);
const gapOf = (feature) => (feature < 0 ? "\n" : "; ");
const pairsIn = (box) => box.value.split(/[;\n]/).map((s) => s.trim()).filter(Boolean);
const pair = (p) => `${+round(p.x, 0.5).toFixed(1)} ${+round(p.y, 0.5).toFixed(1)}`;

function setPoint(feature, point, p) {
  const box = boxOf(feature), all = pairsIn(box);
  all[point] = pair(p);
  box.value = all.join(gapOf(feature));
}

async function redraw() {
  const f = sheet();
  try {
    const r = await fetch(f.dataset.draw, { method: "POST", body: new URLSearchParams(new FormData(f)), headers: { "HX-Request": "true" }, redirect: "manual" });
    if (!r.ok) return;
    const fresh = new DOMParser().parseFromString(await r.text(), "text/html").getElementById("ground-drawing");
    if (!fresh) return;
    const at = document.activeElement?.closest?.(".handle")?.dataset;
    document.getElementById("ground-drawing").replaceWith(document.importNode(fresh, true));
    document.getElementById("ground-drawing").classList.toggle("drawing-row", drawing !== null);
    if (at) document.querySelector(`.handle[data-feature="${at.feature}"][data-point="${at.point}"]`)?.focus({ preventScroll: true });
  } catch { /* the numbers in the form stand; saving will say more */ }
}

if (sheet()) {
  sheet().addEventListener("change", redraw);
  sheet().addEventListener("click", (e) => {
    const b = e.target.closest("[data-draw-row]");
    if (b) drawRow(b);
  });
}

// drawRow begins or ends clicking a row's points onto the drawing.
function drawRow(b) {
  const row = Number(b.dataset.drawRow), begin = drawing !== row;
  for (const o of document.querySelectorAll("[data-draw-row]")) {
    o.textContent = "Draw";
    o.closest("tr").classList.remove("drawing-row");
  }
  drawing = begin ? row : null;
  if (begin) {
    boxOf(row).value = "";
    b.textContent = "Done";
    b.closest("tr").classList.add("drawing-row");
    document.getElementById("ground-drawing").scrollIntoView({ block: "nearest" });
  }
  document.getElementById("ground-drawing").classList.toggle("drawing-row", begin);
}

document.addEventListener("click", (e) => {
  const svg = e.target.closest?.("#ground-drawing svg.plan");
  if (!svg || drawing === null) return;
  const box = boxOf(drawing);
  box.value = [...pairsIn(box), pair(metresAt(svg, e.clientX, e.clientY))].join("; ");
  redraw();
});

document.addEventListener("pointerdown", (e) => {
  const g = e.target.closest?.("#ground-drawing .handle");
  if (!g || e.button !== 0 || drawing !== null) return;
  grip = { g, id: e.pointerId, svg: g.ownerSVGElement, feature: Number(g.dataset.feature), point: Number(g.dataset.point) };
  g.setPointerCapture?.(e.pointerId);
  g.classList.add("held");
});

document.addEventListener("pointermove", (e) => {
  if (!grip || e.pointerId !== grip.id) return;
  e.preventDefault();
  const p = metresAt(grip.svg, e.clientX, e.clientY), s = Number(grip.svg.dataset.scale);
  grip.g.setAttribute("transform", `translate(${(p.x - Number(grip.g.dataset.x)) * s} ${(Number(grip.g.dataset.y) - p.y) * s})`);
  grip.to = p;
});

document.addEventListener("pointerup", (e) => {
  if (!grip || e.pointerId !== grip.id) return;
  const g = grip;
  grip = null;
  g.g.focus({ preventScroll: true });
  if (!g.to) return;
  setPoint(g.feature, g.point, g.to);
  redraw();
});

document.addEventListener("pointercancel", (e) => {
  if (!grip || e.pointerId !== grip.id) return;
  grip.g.removeAttribute("transform");
  grip = null;
});

document.addEventListener("keydown", (e) => {
  const g = e.target.closest?.("#ground-drawing .handle");
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
  if (!g || !step) return;
  e.preventDefault();
  const far = e.shiftKey ? 5 : 0.5;
  const p = { x: Number(g.dataset.x) + far * step[0], y: Number(g.dataset.y) + far * step[1] };
  setPoint(Number(g.dataset.feature), Number(g.dataset.point), p);
  g.dataset.x = p.x;
  g.dataset.y = p.y;
  redraw();
});
