// Makes moon.json: phase, age, libration, axis, bright limb and colongitude.
// Libration from the Earth's centre is by Meeus's chapter 53, another way than
// the program's (the IAU's rotation of the Moon).
//
//   npm install astronomy-engine@2.1.19
//   node moon.mjs > moon.json
import * as A from "astronomy-engine";

const D = 180 / Math.PI;
const mod = (a) => ((a % 360) + 360) % 360;
const rows = [];
const places = [[40, -105], [-37.81, 144.96], [60.17, 24.94], [-0.2, -78.5], [51.5, -0.12], [-54.8, -68.3], [69.65, 18.96], [35.7, 139.7]];
for (let i = 0; i < 40; i++) {
  const [lat, lon] = places[i % places.length];
  const t = A.MakeTime(new Date(Date.UTC(1981, 5, 1, 2))).AddDays(i * 729.913);
  const ill = A.Illumination("Moon", t), lib = A.Libration(t);
  const age = t.tt - A.SearchMoonPhase(0, t, -40).tt;
  const rot = A.Rotation_EQJ_EQD(t);
  const observer = new A.Observer(lat, lon, 0);
  const place = A.ObserverVector(t, observer, false);
  const moon = A.GeoVector("Moon", t, false), sun = A.GeoVector("Sun", t, false);
  const seen = { x: moon.x - place.x, y: moon.y - place.y, z: moon.z - place.z };
  // Selenographic place under the observer, from axis and spin.
  const axis = A.RotationAxis("Moon", t), p = axis.north;
  const under = (v) => {
    const norm = Math.hypot(v.x, v.y, v.z), u = { x: v.x / norm, y: v.y / norm, z: v.z / norm };
    const ra = (axis.ra * 15) / D, node = { x: -Math.sin(ra), y: Math.cos(ra), z: 0 };
    const ahead = { x: p.y * node.z - p.z * node.y, y: p.z * node.x - p.x * node.z, z: p.x * node.y - p.y * node.x };
    const dot = (a, b) => a.x * b.x + a.y * b.y + a.z * b.z;
    return [mod(Math.atan2(dot(u, ahead), dot(u, node)) * D - axis.spin + 180) - 180, Math.asin(dot(u, p)) * D];
  };
  const [tlon, tlat] = under({ x: -seen.x, y: -seen.y, z: -seen.z });
  const [slon, slat] = under({ x: sun.x - moon.x, y: sun.y - moon.y, z: sun.z - moon.z });
  const eq = (v) => { const w = A.RotateVector(rot, new A.Vector(v.x, v.y, v.z, t)); return [Math.atan2(w.y, w.x), Math.atan2(w.z, Math.hypot(w.x, w.y))]; };
  const [a, d] = eq(seen), [a0, d0] = eq(sun), [ap, dp] = eq(p);
  const pa = (a1, d1) => mod(Math.atan2(Math.cos(d1) * Math.sin(a1 - a), Math.sin(d1) * Math.cos(d) - Math.cos(d1) * Math.sin(d) * Math.cos(a1 - a)) * D);
  const hour = A.SiderealTime(t) * 15 + lon - a * D;
  rows.push({ tt: +t.tt.toFixed(6), lat, lon, illuminated: +ill.phase_fraction.toFixed(5), phaseAngle: +ill.phase_angle.toFixed(4), age: +age.toFixed(5),
    libration: [lib.elon, lib.elat].map((v) => +v.toFixed(4)), topocentric: [tlon, tlat].map((v) => +v.toFixed(4)), distance: +lib.dist_km.toFixed(1),
    colongitude: +mod(90 - slon).toFixed(4), subsolarLat: +slat.toFixed(4), brightLimb: +pa(a0, d0).toFixed(4), axis: +pa(ap, dp).toFixed(4),
    parallactic: +(Math.atan2(Math.sin(hour / D) * Math.cos(lat / D), Math.sin(lat / D) * Math.cos(d) - Math.sin(d) * Math.cos(lat / D) * Math.cos(hour / D)) * D).toFixed(3) });
}
const quarters = [];
let q = A.SearchMoonQuarter(new Date("2027-01-01T00:00:00Z"));
for (let i = 0; i < 50; i++) { quarters.push({ tt: +q.time.tt.toFixed(6), quarter: q.quarter }); q = A.NextMoonQuarter(q); }
console.log(JSON.stringify({ source: "astronomy-engine 2.1.19 (MIT): Illumination, Libration, RotationAxis, SearchMoonPhase; made by moon.mjs",
  units: "tt: days TT from J2000; degrees, km, days; quarter 0 new to 3 last", rows, quarters }).replace(/\},\{/g, "},\n{"));
