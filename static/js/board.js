// The line-up board by mouse, touch and keyboard. Everything here can be done
// without it, by the links and forms that the server sends; this module turns
// a drag or a key into one of those forms, posts it, and puts the answer (a new
// #line-up) in place of the old one.

const SVG = "http://www.w3.org/2000/svg";
const SETTLE = 450; // ms without a key after which moves by keyboard are sent

let held = null; // the drag under way
let pending = null; // moves by keyboard not yet sent
let swapping = null; // key of the showing that waits for another one
let busy = false; // a change is on its way
let chain = Promise.resolve(); // changes go one after the other

const root = () => document.getElementById("line-up");
const shown = () => [...root().querySelectorAll("svg.board")].find((b) => b.getBoundingClientRect().width > 0);
const barOf = (key) => shown()?.querySelector(`.bar-link[data-key="${CSS.escape(key)}"]`);
const current = () => shown()?.querySelector(".bar-link[aria-current]");
const laneOf = (bar) => lanes(bar.ownerSVGElement).findIndex((l) => {
  const y = Number(l.getAttribute("y")), mid = Number(bar.querySelector(".bar").getAttribute("y")) + 5;
  return mid >= y && mid < y + Number(l.getAttribute("height"));
});
const lanes = (svg) => [...svg.querySelectorAll(".lane")];
const fixed = () => root().hasAttribute("data-fixed"); // this person may look, not change
const showingPath = (key) => `${root().dataset.base}/showings/${key}`;

// grid is what the drawing says of its blocks: x of the first one's beginning,
// width of one, how many, and the clock at each edge.
function grid(svg) {
  const n = Number(svg.dataset.blocks || 0);
  const left = Number(svg.dataset.left), right = Number(svg.dataset.right);
  return { n, left, wide: (right - left) / n, clocks: (svg.dataset.clocks || "").split(" ") };
}

// ---- talking to the server

async function ask(url, form) {
  const body = form && new URLSearchParams(form);
  const r = await fetch(url, { method: form ? "POST" : "GET", body, headers: { "HX-Request": "true" }, redirect: "manual" });
  return { ok: r.ok, text: await r.text() };
}

function parse(html) {
  return new DOMParser().parseFromString(html, "text/html");
}

// send posts a change and shows the answer; what was refused is said, and the
// board stays as it was. A change asked for while another is on its way waits
// for it: a quick Ctrl-Z takes back what was done last.
function send(url, form = {}) {
  chain = chain.then(() => post(url, form));
}

async function post(url, form) {
  busy = true;
  root().setAttribute("aria-busy", "true");
  form = { version: root().dataset.version, show: current()?.dataset.key ?? "", ...form };
  try {
    take(await ask(url, form));
  } catch {
    say("Not sent: the server cannot be reached. Nothing was changed; try again.", true);
    release();
  } finally {
    busy = false;
    root().removeAttribute("aria-busy");
  }
}

function take(answer) {
  const fresh = parse(answer.text).getElementById("line-up");
  if (!fresh) { // a refusal, or a page of trouble
    const box = parse(answer.text).querySelector("[data-testid=refused], [data-testid=error]");
    const says = document.getElementById("board-says");
    says.replaceChildren(...(box ? [document.importNode(box, true)] : []));
    if (!box) say("Not done. Load the page again and look at the line-up.", true);
    says.scrollIntoView({ block: "nearest" });
    release();
    return;
  }
  const active = document.activeElement;
  const wasBar = active?.closest?.(".bar-link") || active?.closest?.(".dock");
  const name = active?.closest?.("form[data-board], .dock") && active.textContent;
  root().replaceWith(document.importNode(fresh, true));
  held = pending = null;
  const picked = current();
  if (wasBar && name && !active.closest?.("svg")) {
    [...root().querySelectorAll(".dock button, .dock a")].find((b) => b.textContent === name && !b.disabled)?.focus({ preventScroll: true });
  } else if (picked && document.activeElement === document.body) {
    picked.focus({ preventScroll: true });
  }
  clearTimeout(hint.timer);
}

function say(words, alert = false) {
  const says = document.getElementById("board-says");
  if (!says) return;
  const p = document.createElement("p");
  p.className = "says";
  if (alert) p.setAttribute("role", "alert");
  p.textContent = words;
  says.replaceChildren(p);
}

async function pick(key, push = true) {
  if (busy) return;
  const url = key ? `${root().dataset.base}?show=${key}` : root().dataset.base;
  try {
    take(await ask(url));
    if (push) history.replaceState(null, "", url);
    barOf(key)?.focus({ preventScroll: true });
  } catch {
    location.assign(url);
  }
}

// hint asks what a change would cost before it is made.
function hint(key, form) {
  clearTimeout(hint.timer);
  hint.timer = setTimeout(async () => {
    const id = (hint.asked = {});
    try {
      const a = await ask(`${showingPath(key)}/place`, { version: root().dataset.version, try: "1", ...form });
      if (hint.asked !== id || !(held || pending)) return;
      const p = parse(a.text).querySelector("p.says") ?? parse(a.text).querySelector("[data-testid=refused] p:nth-of-type(2)");
      if (p) say(`If you leave it here: ${p.textContent}`);
    } catch { /* the change itself will say so */ }
  }, 120);
}

// ---- moving a bar on the drawing before the server knows

// draft shows a bar at other blocks and in another lane.
function draft(bar, from, to, lane) {
  const svg = bar.ownerSVGElement, g = grid(svg), rect = bar.querySelector(".bar");
  bar.homeX ??= Number(rect.getAttribute("x"));
  bar.homeW ??= Number(rect.getAttribute("width"));
  bar.homeLane ??= laneOf(bar);
  const all = lanes(svg), y = (i) => Number(all[i].getAttribute("y"));
  const x = g.left + from * g.wide + 1, w = (to - from) * g.wide - 2;
  bar.setAttribute("transform", `translate(${x - bar.homeX} ${y(lane) - y(bar.homeLane)})`);
  for (const r of bar.querySelectorAll(".bar")) r.setAttribute("width", w);
  for (const r of bar.querySelectorAll(".bar-inner")) r.setAttribute("width", Math.max(w - 6, 0));
  for (const e of bar.querySelectorAll('[data-edge="to"]')) e.setAttribute("x", bar.homeX + w - 13);
  bar.classList.add("held");
  all.forEach((l, i) => l.classList.toggle("over", i === lane && lane !== bar.homeLane));
  clockOn(bar, `${g.clocks[from]} to ${g.clocks[to]}`);
}

// clockOn writes the time that a held bar would have onto the bar.
function clockOn(bar, words) {
  let box = bar.querySelector(".held-clock"), text = bar.querySelector(".held-words");
  if (!text) {
    box = bar.appendChild(document.createElementNS(SVG, "rect"));
    box.setAttribute("class", "held-clock");
    text = bar.appendChild(document.createElementNS(SVG, "text"));
    text.setAttribute("class", "held-words");
    text.setAttribute("font-size", "13");
  }
  text.textContent = words;
  const y = Number(bar.querySelector(".bar").getAttribute("y"));
  text.setAttribute("x", bar.homeX + 8);
  text.setAttribute("y", y - 4);
  const w = text.getComputedTextLength() + 12;
  for (const [k, v] of Object.entries({ x: bar.homeX + 2, y: y - 19, width: w, height: 20 })) box.setAttribute(k, v);
}

// release puts every bar back to where the server last drew it.
function release() {
  held = pending = null;
  if (!root().querySelector(".held")) return;
  pick(current()?.dataset.key ?? "", false);
}

// ---- pointer

document.addEventListener("pointerdown", (e) => {
  const bar = e.target.closest?.("#line-up .bar-link");
  if (!bar || e.button !== 0 || busy || swapping || fixed()) return;
  const svg = bar.ownerSVGElement;
  // By touch only the selected slip can be dragged: the others let the page scroll.
  if (e.pointerType !== "mouse" && !bar.hasAttribute("aria-current")) return;
  if (!grid(svg).n) return;
  held = {
    bar, svg, id: e.pointerId, x: e.clientX, y: e.clientY, moved: false, edge: e.target.dataset?.edge ?? "",
    from: Number(bar.dataset.from), to: Number(bar.dataset.to), lane: laneOf(bar), key: bar.dataset.key,
  };
  held.now = { from: held.from, to: held.to, lane: held.lane };
});

document.addEventListener("pointermove", (e) => {
  if (!held || e.pointerId !== held.id) return;
  const scale = held.svg.viewBox.baseVal.width / held.svg.getBoundingClientRect().width;
  const dx = (e.clientX - held.x) * scale, dy = (e.clientY - held.y) * scale;
  if (!held.moved) {
    if (Math.hypot(e.clientX - held.x, e.clientY - held.y) < 5) return;
    held.moved = true;
    held.bar.setPointerCapture?.(held.id);
  }
  e.preventDefault();
  const g = grid(held.svg), step = Math.round(dx / g.wide), now = { ...held.now };
  if (held.edge === "from") now.from = clamp(held.from + step, 0, held.to - 1);
  else if (held.edge === "to") now.to = clamp(held.to + step, held.from + 1, g.n);
  else {
    now.from = clamp(held.from + step, 0, g.n - (held.to - held.from));
    now.to = now.from + held.to - held.from;
    now.lane = laneAt(held.svg, held.lane, dy);
  }
  draft(held.bar, now.from, now.to, now.lane);
  if (now.from !== held.now.from || now.to !== held.now.to || now.lane !== held.now.lane) {
    held.now = now;
    hint(held.key, place(held.svg, now));
  }
});

document.addEventListener("pointerup", (e) => {
  if (!held || e.pointerId !== held.id) return;
  const h = held;
  held = null;
  if (!h.moved) return; // a click: the click event selects
  swallow();
  if (h.now.from === h.from && h.now.to === h.to && h.now.lane === h.lane) {
    pick(h.key);
    return;
  }
  send(`${showingPath(h.key)}/place`, place(h.svg, h.now));
});

document.addEventListener("pointercancel", (e) => {
  if (held && e.pointerId === held.id) release();
});

// Links and pictures must not start the browser's own dragging.
document.addEventListener("dragstart", (e) => {
  if (e.target.closest?.("#line-up svg.board")) e.preventDefault();
});

// swallow drops the click that ends a drag.
function swallow() {
  const stop = (e) => { e.preventDefault(); e.stopPropagation(); };
  document.addEventListener("click", stop, { capture: true, once: true });
  setTimeout(() => document.removeEventListener("click", stop, { capture: true }), 0);
}

function laneAt(svg, home, dy) {
  const all = lanes(svg), y = (l) => Number(l.getAttribute("y")) + Number(l.getAttribute("height")) / 2;
  const want = y(all[home]) + dy;
  return all.reduce((best, l, i) => (Math.abs(y(l) - want) < Math.abs(y(all[best]) - want) ? i : best), home);
}

function place(svg, now) {
  return { span: `${now.from}-${now.to}`, instrument: lanes(svg)[now.lane].dataset.instrument };
}

const clamp = (v, low, high) => Math.min(Math.max(v, low), high);

// ---- clicks and forms

document.addEventListener("click", (e) => {
  if (e.defaultPrevented || e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey) return;
  const bar = e.target.closest?.("#line-up .bar-link");
  if (bar) {
    e.preventDefault();
    choose(bar);
    return;
  }
  const link = e.target.closest?.("#line-up .board-pick, #line-up td a[href*='?show=']");
  if (link) {
    e.preventDefault();
    pick(new URL(link.href).searchParams.get("show") ?? "");
  }
});

// choose selects a bar, or makes it the second of a swap.
function choose(bar) {
  if (swapping && swapping !== bar.dataset.key) {
    const first = swapping;
    swapping = null;
    send(`${showingPath(first)}/swap`, { with: bar.dataset.key, show: first });
    return;
  }
  swapping = null;
  pick(bar.dataset.key);
}

document.addEventListener("submit", (e) => {
  const form = e.target.closest?.("#line-up form[data-board]");
  if (!form) return;
  e.preventDefault();
  send(form.action, Object.fromEntries(new FormData(form, e.submitter)));
});

// ---- keyboard

document.addEventListener("keydown", (e) => {
  if (!root() || e.target.closest?.("input, select, textarea, [contenteditable]")) return;
  const key = e.key.toLowerCase();
  if ((e.ctrlKey || e.metaKey) && !e.altKey) {
    const what = key === "y" || (key === "z" && e.shiftKey) ? "redo" : key === "z" ? "undo" : "";
    const button = what && root().querySelector(`[data-testid=${what}]`);
    if (!button) return;
    e.preventDefault();
    if (button.disabled && !busy) say(what === "undo" ? "There is nothing to undo." : "There is nothing to do again.");
    else send(button.form.action);
    return;
  }
  if (e.altKey) return;
  if (fixed()) {
    if (e.key === " " && e.target.closest?.("#line-up .bar-link")) { e.preventDefault(); choose(e.target.closest(".bar-link")); }
    return;
  }
  if (e.key === "Escape") {
    if (swapping) { swapping = null; unmark(); say("No swap."); } else if (held || pending) release();
    return;
  }
  const bar = e.target.closest?.("#line-up .bar-link");
  if (!bar) return;
  const act = {
    arrowleft: () => nudge(bar, -1, 0, e.shiftKey), arrowright: () => nudge(bar, 1, 0, e.shiftKey),
    arrowup: () => nudge(bar, 0, -1, false), arrowdown: () => nudge(bar, 0, 1, false),
    p: () => send(`${showingPath(bar.dataset.key)}/pin`, { pinned: bar.querySelector(".bar-inner") ? "0" : "1", show: bar.dataset.key }),
    delete: () => send(`${showingPath(bar.dataset.key)}/remove`), backspace: () => send(`${showingPath(bar.dataset.key)}/remove`),
    n: () => send(`${showingPath(bar.dataset.key)}/forbid`),
    s: () => {
      swapping = bar.dataset.key;
      unmark();
      bar.classList.add("swapping");
      say("Swap with which one? Go to it with Tab and press Enter, or click it; Escape leaves all as it is.");
    },
    " ": () => choose(bar),
  }[key];
  if (!act) return;
  e.preventDefault();
  act();
});

function unmark() {
  for (const b of root().querySelectorAll(".swapping")) b.classList.remove("swapping");
}

// nudge moves or lengthens by keyboard: at once on the drawing, on the server
// when the keys rest, so that ten presses are one step of undo.
function nudge(bar, dx, dy, lengthen) {
  if (busy || !grid(bar.ownerSVGElement).n) return;
  if (pending && pending.bar !== bar) return;
  const svg = bar.ownerSVGElement, n = grid(svg).n;
  const was = { from: Number(bar.dataset.from), to: Number(bar.dataset.to), lane: bar.homeLane ?? laneOf(bar) };
  const now = pending?.now ?? { ...was };
  if (lengthen) now.to = clamp(now.to + dx, now.from + 1, n);
  else {
    const long = now.to - now.from;
    now.from = clamp(now.from + dx, 0, n - long);
    now.to = now.from + long;
    now.lane = clamp(now.lane + dy, 0, lanes(svg).length - 1);
  }
  clearTimeout(pending?.timer);
  pending = { bar, now, timer: setTimeout(() => {
    const form = place(svg, now), same = now.from === was.from && now.to === was.to && now.lane === was.lane;
    pending = null;
    if (same) release();
    else send(`${showingPath(bar.dataset.key)}/place`, { ...form, show: bar.dataset.key });
  }, SETTLE) };
  draft(bar, now.from, now.to, now.lane);
}
