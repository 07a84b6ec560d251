// Makes moons.json: places and events of Jupiter's large moons, from another
// theory than the program's (L1.2, Lainey, Duriez & Vienne 2006, as packed in
// astronomy-engine, MIT; the program uses E5).
//
//   npm install astronomy-engine@2.1.19
//   node jupiter.mjs > moons.json
import * as A from "astronomy-engine";

const KM = A.KM_PER_AU, R = 71492, SQUASH = 71492 / 66854;
const names = ["io", "europa", "ganymede", "callisto"];
const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const mul = (a, f) => a.map((x) => x * f);
const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => mul(a, 1 / Math.hypot(...a));
const vec = (v) => [v.x, v.y, v.z];

function scene(time) {
  const earth = vec(A.HelioVector(A.Body.Earth, time));
  let tau = 0, jupiter;
  for (let i = 0; i < 4; i++) {
    jupiter = vec(A.HelioVector(A.Body.Jupiter, time.AddDays(-tau)));
    tau = Math.hypot(...sub(jupiter, earth)) / A.C_AUDAY;
  }
  const there = time.AddDays(-tau);
  const pole = vec(A.RotationAxis(A.Body.Jupiter, there).north);
  return { there, pole, fromEarth: sub(jupiter, earth), fromSun: jupiter };
}
function basis(to, pole) {
  const away = unit(to), north = unit(sub(pole, mul(away, dot(pole, away))));
  return { away, north, west: cross(away, north), distance: (Math.hypot(...to) * KM) / R };
}
function seen(p, b) {
  const depth = dot(p, b.away), near = b.distance / (b.distance + depth);
  return [dot(p, b.west) * near, dot(p, b.north) * near, depth];
}
const inside = ([x, y]) => x * x + (y * SQUASH) ** 2 < 1;

function moons(time) {
  const s = scene(time), e = basis(s.fromEarth, s.pole), sun = basis(s.fromSun, s.pole);
  const now = A.JupiterMoons(s.there);
  return names.map((n) => {
    const first = mul(vec(now[n]), KM / R);
    // Light from behind Jupiter is older.
    const late = (dot(first, e.away) * R) / KM / A.C_AUDAY;
    const p = mul(vec(A.JupiterMoons(s.there.AddDays(-late))[n]), KM / R);
    const [x, y, depth] = seen(p, e);
    const fromSun = seen(p, sun), shaded = inside(fromSun);
    let shadow = false;
    if (shaded && fromSun[2] < 0) {
      // March down the ray until the spheroid is met, then look at its normal.
      const ray = unit(add(sun.away, mul(p, 1 / sun.distance)));
      const out = (q) => { const z = dot(q, s.pole); return dot(q, q) + z * z * (SQUASH * SQUASH - 1) - 1; };
      let a = 0, b = -dot(p, ray);
      for (let i = 0; i < 60; i++) { const m = (a + b) / 2; if (out(add(p, mul(ray, m))) > 0) a = m; else b = m; }
      const q = add(p, mul(ray, a));
      const normal = add(q, mul(s.pole, dot(q, s.pole) * (SQUASH * SQUASH - 1)));
      shadow = dot(normal, e.away) < 0;
    }
    return { x, y, depth, flags: [inside([x, y]) && depth < 0, shadow, inside([x, y]) && depth > 0, shaded && fromSun[2] > 0] };
  });
}

const kinds = ["transit", "shadow transit", "occultation", "eclipse"];
function events(from, days) {
  const out = [], step = 1 / 1440, start = A.MakeTime(new Date(from));
  let was = moons(start);
  for (let i = 1; i <= days * 1440; i++) {
    const t = start.AddDays(i * step), is = moons(t);
    for (let m = 0; m < 4; m++) for (let k = 0; k < 4; k++) {
      if (was[m].flags[k] === is[m].flags[k]) continue;
      let a = (i - 1) * step, b = i * step;
      while (b - a > 1e-6) { const c = (a + b) / 2; if (moons(start.AddDays(c))[m].flags[k] === is[m].flags[k]) b = c; else a = c; }
      out.push({ tt: +start.AddDays(b).tt.toFixed(6), time: start.AddDays(b).date.toISOString().slice(0, 19) + "Z", moon: names[m], kind: kinds[k], begin: is[m].flags[k] });
    }
    was = is;
  }
  return out;
}

const places = [];
for (let i = 0; i < 40; i++) {
  const t = A.MakeTime(new Date(Date.UTC(1980, 0, 5, 3))).AddDays(i * 731.37);
  places.push({ tt: +t.tt.toFixed(6), moons: moons(t).map((m) => [m.x, m.y, m.depth].map((v) => +v.toFixed(5))) });
}
const nights = ["1983-05-20T12:00:00Z", "1999-10-01T12:00:00Z", "2015-02-05T12:00:00Z", "2021-08-22T12:00:00Z",
  "2027-02-13T12:00:00Z", "2027-03-13T12:00:00Z", "2031-07-01T12:00:00Z", "2048-01-10T12:00:00Z"]
  .map((from) => ({ tt: +A.MakeTime(new Date(from)).tt.toFixed(6), from, events: events(from, 1) }));
// Central meridian, System III of the same axis model, and the phase.
const meridians = [];
for (let i = 0; i < 20; i++) {
  const t = A.MakeTime(new Date(Date.UTC(1981, 2, 1, 7))).AddDays(i * 1402.113), s = scene(t);
  const axis = A.RotationAxis(A.Body.Jupiter, s.there), node = unit(cross([0, 0, 1], s.pole)), ahead = cross(s.pole, node);
  const angle = (Math.atan2(-dot(s.fromEarth, ahead), -dot(s.fromEarth, node)) * 180) / Math.PI;
  meridians.push({ tt: +t.tt.toFixed(6), systemThree: +((((axis.spin - angle) % 360) + 360) % 360).toFixed(4), there: +(s.there.tt).toFixed(6) });
}
console.log(JSON.stringify({
  source: "astronomy-engine 2.1.19 (MIT): JupiterMoons (theory L1.2), RotationAxis, VSOP87; made by jupiter.mjs",
  units: "tt: days TT from J2000 (events: time is UTC by the library's own delta T); x west, y north, depth away, Jupiter's equatorial radii; systemThree: degrees of the whole disc's middle; there: days TT from J2000 at Jupiter",
  places, nights, meridians }, null, 0).replace(/\},\{/g, "},\n{"));
