// The roster by mouse, touch and keyboard. Everything here can be done without
// it, by the pages that the duties and names lead to; this module turns a drag
// or a key into one form, posts it, and puts the answer (a new #roster) in place
// of the old one.

const SVG = "http://www.w3.org/2000/svg";
const SETTLE = 450; // ms without a key after which moves by keyboard are sent

let held = null; // the drag under way
let pending = null; // moves by keyboard not yet sent
let swapping = null; // key of the duty that waits for another one
let picked = null; // key of the duty selected by touch, or last moved
let busy = false; // a change is on its way
let chain = Promise.resolve(); // changes go one after the other

const root = () => document.getElementById("roster");
const shown = () => [...root().querySelectorAll("svg.roster-board")].find((b) => b.getBoundingClientRect().width > 0);
const barOf = (key) => key && shown()?.querySelector(`.bar-link[data-key="${CSS.escape(key)}"]`);
const lanes = (svg) => [...svg.querySelectorAll(".lane")];
const clamp = (v, low, high) => Math.min(Math.max(v, low), high);

function laneOf(bar) {
  const mid = Number(bar.querySelector(".bar").getAttribute("y")) + 5;
  return lanes(bar.ownerSVGElement).findIndex((l) => {
    const y = Number(l.getAttribute("y"));
    return mid >= y && mid < y + Number(l.getAttribute("height"));
  });
}

// grid is what the drawing says of time: seconds since 1970 at its edges, the
// step of a move in seconds, and how much of the drawing a second is.
function grid(svg) {
  const d = svg.dataset, left = Number(d.left), start = Number(d.start), end = Number(d.end);
  return { left, start, end, step: Number(d.step || 0), zone: d.zone, wide: (Number(d.right) - left) / (end - start) };
}

function clock(g, at) {
  return new Intl.DateTimeFormat("en-GB", { timeZone: g.zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(at * 1000);
}

// ---- talking to the server

async function ask(url, form) {
  const body = form && new URLSearchParams(form);
  const r = await fetch(url, { method: form ? "POST" : "GET", body, headers: { "HX-Request": "true" }, redirect: "manual" });
  return r.text();
}

const parse = (html) => new DOMParser().parseFromString(html, "text/html");
const dutyPath = (key) => `${root().dataset.base}/duties/${key}`;

function send(url, form = {}) {
  chain = chain.then(() => post(url, form));
}

async function post(url, form) {
  busy = true;
  root().setAttribute("aria-busy", "true");
  try {
    take(await ask(url, { version: root().dataset.version, ...form }));
  } catch {
    say("Not sent: the server cannot be reached. Nothing was changed; try again.", true);
    release();
  } finally {
    busy = false;
    root().removeAttribute("aria-busy");
  }
}

// take shows an answer: a new board, or the words why not.
function take(text) {
  clearTimeout(hint.timer);
  const page = parse(text), fresh = page.getElementById("roster");
  if (!fresh) {
    const box = page.querySelector("[data-testid=refused], [data-testid=error]");
    const says = document.getElementById("roster-says");
    says.replaceChildren(...(box ? [document.importNode(box, true)] : []));
    if (!box) say("Not done. Load the page again and look at the roster.", true);
    says.scrollIntoView({ block: "nearest" });
    settle();
    says.querySelector("button")?.focus({ preventScroll: true });
    return;
  }
  const was = document.activeElement?.closest?.(".bar-link")?.dataset.key ?? picked;
  root().replaceWith(document.importNode(fresh, true));
  held = pending = null;
  if (picked && !barOf(picked)) picked = null;
  mark();
  if (document.activeElement === document.body) barOf(was)?.focus({ preventScroll: true });
}

function say(words, alert = false) {
  const p = document.createElement("p");
  p.className = "says";
  if (alert) p.setAttribute("role", "alert");
  p.textContent = words;
  document.getElementById("roster-says").replaceChildren(p);
}

// hint asks what a move would break before it is made.
function hint(key, form) {
  clearTimeout(hint.timer);
  hint.timer = setTimeout(async () => {
    const id = (hint.asked = {});
    try {
      const p = parse(await ask(`${dutyPath(key)}/move`, { version: root().dataset.version, try: "1", ...form })).querySelector("p.says");
      if (p && hint.asked === id && (held || pending)) say(`If you leave it here: ${p.textContent}`);
    } catch { /* the move itself will say so */ }
  }, 120);
}

// ---- a duty on the drawing before the server knows

// draft shows a bar at another time and in another lane.
function draft(bar, now) {
  const svg = bar.ownerSVGElement, g = grid(svg), rect = bar.querySelector(".bar"), all = lanes(svg);
  bar.home ??= { x: Number(rect.getAttribute("x")), w: Number(rect.getAttribute("width")), lane: laneOf(bar) };
  const x = g.left + (now.from - g.start) * g.wide + 1, w = (now.to - now.from) * g.wide - 2;
  const y = (i) => Number(all[i].getAttribute("y"));
  bar.setAttribute("transform", `translate(${x - bar.home.x} ${y(now.lane) - y(bar.home.lane)})`);
  rect.setAttribute("width", w);
  bar.querySelector(".bar-inner")?.setAttribute("width", Math.max(w - 6, 0));
  bar.querySelector('[data-edge="to"]')?.setAttribute("x", bar.home.x + w - 12);
  bar.classList.add("held");
  all.forEach((l, i) => l.classList.toggle("over", i === now.lane && i !== bar.home.lane));
  label(bar, `${clock(g, now.from)} to ${clock(g, now.to)}`);
}

// label writes the time that a held duty would have over it.
function label(bar, words) {
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
  text.setAttribute("x", bar.home.x + 8);
  text.setAttribute("y", y - 4);
  const w = text.getComputedTextLength() + 12;
  for (const [k, v] of Object.entries({ x: bar.home.x + 2, y: y - 19, width: w, height: 20 })) box.setAttribute(k, v);
}

// settle puts drafted bars back to where the server last drew them; words that
// are shown stay.
function settle() {
  held = pending = null;
  for (const bar of root().querySelectorAll(".bar-link.held")) {
    bar.removeAttribute("transform");
    bar.classList.remove("held");
    bar.querySelector(".bar").setAttribute("width", bar.home.w);
    bar.querySelector(".bar-inner")?.setAttribute("width", Math.max(bar.home.w - 6, 0));
    bar.querySelector('[data-edge="to"]')?.setAttribute("x", bar.home.x + bar.home.w - 12);
    for (const e of bar.querySelectorAll(".held-clock, .held-words")) e.remove();
  }
  for (const l of root().querySelectorAll(".lane.over")) l.classList.remove("over");
}

function release() {
  settle();
  document.getElementById("roster-says").replaceChildren();
}

// mark shows which duty is selected, and what can be done with it.
function mark() {
  for (const b of root().querySelectorAll(".bar-link")) b.toggleAttribute("aria-current", b.dataset.key === picked);
  const dock = document.getElementById("roster-dock"), bar = barOf(picked);
  if (!dock) return;
  dock.hidden = !bar || !dock.dataset.touch;
  if (!bar) return;
  dock.querySelector("[data-held]").textContent = bar.querySelector("title").textContent;
}

// ---- pointer

document.addEventListener("pointerdown", (e) => {
  const bar = e.target.closest?.("#roster[data-change] .bar-link");
  if (!bar || e.button !== 0 || busy || swapping) return;
  // By touch only the selected duty can be dragged: the others let the page scroll.
  if (e.pointerType !== "mouse" && bar.dataset.key !== picked) return;
  if (!grid(bar.ownerSVGElement).step) return;
  held = {
    bar, svg: bar.ownerSVGElement, id: e.pointerId, x: e.clientX, y: e.clientY, moved: false, edge: e.target.dataset?.edge ?? "",
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
  const g = grid(held.svg), by = Math.round(dx / g.wide / g.step) * g.step, now = moved(g, held, by, held.edge);
  if (!held.edge) now.lane = laneAt(held.svg, held.lane, dy);
  draft(held.bar, now);
  if (now.from !== held.now.from || now.to !== held.now.to || now.lane !== held.now.lane) {
    held.now = now;
    hint(held.key, place(held.svg, now));
  }
});

document.addEventListener("pointerup", (e) => {
  if (!held || e.pointerId !== held.id) return;
  const h = held;
  held = null;
  if (!h.moved) return; // a click: the click event opens or selects
  swallow();
  picked = h.key;
  if (h.now.from === h.from && h.now.to === h.to && h.now.lane === h.lane) release();
  else send(`${dutyPath(h.key)}/move`, place(h.svg, h.now));
});

document.addEventListener("pointercancel", (e) => {
  if (held && e.pointerId === held.id) release();
});

document.addEventListener("dragstart", (e) => {
  if (e.target.closest?.("#roster svg")) e.preventDefault();
});

// swallow drops the click that ends a drag.
function swallow() {
  const stop = (e) => { e.preventDefault(); e.stopPropagation(); };
  document.addEventListener("click", stop, { capture: true, once: true });
  setTimeout(() => document.removeEventListener("click", stop, { capture: true }), 0);
}

// moved is a span by so many seconds later; within the drawing, and with an
// edge only that end of it.
function moved(g, was, by, edge) {
  const now = { from: was.from, to: was.to, lane: was.lane };
  if (edge === "from") now.from = clamp(was.from + by, g.start, was.to - g.step);
  else if (edge === "to") now.to = clamp(was.to + by, was.from + g.step, g.end);
  else {
    now.from = clamp(was.from + by, g.start, g.end - (was.to - was.from));
    now.to = now.from + was.to - was.from;
  }
  return now;
}

function laneAt(svg, home, dy) {
  const all = lanes(svg), mid = (l) => Number(l.getAttribute("y")) + Number(l.getAttribute("height")) / 2;
  const want = mid(all[home]) + dy;
  return all.reduce((best, l, i) => (Math.abs(mid(l) - want) < Math.abs(mid(all[best]) - want) ? i : best), home);
}

const place = (svg, now) => ({ person: lanes(svg)[now.lane].dataset.person, from: String(now.from), to: String(now.to) });

// ---- clicks and forms

let pointer = "mouse"; // what the last press was made with
document.addEventListener("pointerdown", (e) => { pointer = e.pointerType; }, true);

document.addEventListener("click", (e) => {
  if (e.defaultPrevented || e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey || !root()?.hasAttribute("data-change")) return;
  const bar = e.target.closest?.("#roster .bar-link"), tool = e.target.closest?.("#roster-dock button[data-key]");
  if (tool && barOf(picked)) act(barOf(picked), tool.dataset.key, false);
  if (e.target.closest?.("#roster-dock [data-open]") && barOf(picked)) location.assign(barOf(picked).getAttribute("href"));
  if (!bar) return;
  if (swapping) {
    e.preventDefault();
    exchange(bar);
  } else if (pointer === "touch" && e.detail > 0) { // a tap selects; Enter and a mouse's click open
    e.preventDefault();
    picked = bar.dataset.key === picked ? null : bar.dataset.key;
    document.getElementById("roster-dock").dataset.touch = "1";
    mark();
  }
});

function exchange(bar) {
  const first = swapping;
  swapping = null;
  unmark();
  if (first === bar.dataset.key) say("No exchange.");
  else send(`${dutyPath(first)}/swap`, { with: bar.dataset.key });
}

document.addEventListener("submit", (e) => {
  const form = e.target.closest?.("#roster form[data-board]");
  if (!form) return;
  e.preventDefault();
  send(form.action, Object.fromEntries(new FormData(form, e.submitter)));
});

// ---- keyboard

document.addEventListener("keydown", (e) => {
  if (!root()?.hasAttribute("data-change") || e.target.closest?.("input, select, textarea, [contenteditable]")) return;
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
  if (e.key === "Escape") {
    if (swapping) { swapping = null; unmark(); say("No exchange."); } else release();
    return;
  }
  const bar = e.target.closest?.("#roster .bar-link");
  if (!bar) return;
  if (swapping && key === "enter") {
    e.preventDefault();
    exchange(bar);
  } else if (act(bar, key, e.shiftKey)) e.preventDefault();
});

// act does what a key stands for; it tells whether the key stands for anything.
function act(bar, key, shift) {
  const path = dutyPath(bar.dataset.key);
  switch (key) {
    case "arrowleft": nudge(bar, -1, 0, shift); break;
    case "arrowright": nudge(bar, 1, 0, shift); break;
    case "arrowup": nudge(bar, 0, -1, false); break;
    case "arrowdown": nudge(bar, 0, 1, false); break;
    case "p": send(`${path}/pin`, { pinned: bar.querySelector(".bar-inner") ? "0" : "1" }); break;
    case "delete": case "backspace": send(`${path}/remove`); break;
    case "s":
      swapping = bar.dataset.key;
      unmark();
      bar.classList.add("swapping");
      say("Exchange with which one? Go to it with Tab and press Enter, or choose it; Escape leaves all as it is.");
      break;
    default: return false;
  }
  return true;
}

function unmark() {
  for (const b of root().querySelectorAll(".swapping")) b.classList.remove("swapping");
}

// nudge moves or lengthens by keyboard: at once on the drawing, on the server
// when the keys rest, so that ten presses are one step of undo.
function nudge(bar, dx, dy, lengthen) {
  const svg = bar.ownerSVGElement, g = grid(svg);
  if (busy || !g.step || (pending && pending.bar !== bar)) return;
  const was = { from: Number(bar.dataset.from), to: Number(bar.dataset.to), lane: bar.home?.lane ?? laneOf(bar) };
  const now = moved(g, pending?.now ?? was, dx * g.step, lengthen ? "to" : "");
  now.lane = clamp((pending?.now ?? was).lane + dy, 0, lanes(svg).length - 1);
  clearTimeout(pending?.timer);
  pending = { bar, now, timer: setTimeout(() => {
    pending = null;
    if (now.from === was.from && now.to === was.to && now.lane === was.lane) return release();
    picked = bar.dataset.key;
    send(`${dutyPath(bar.dataset.key)}/move`, place(svg, now));
  }, SETTLE) };
  draft(bar, now);
  hint(bar.dataset.key, place(svg, now));
}
