// Makes e5.json: where Jupiter's large moons are seen by the theory E5 as in
// Meeus, Astronomical Algorithms, chapter 44 (high accuracy), with the complete
// VSOP87, in the npm package astronomia (MIT). Unit: 71,420 km.
//
//   npm install astronomia@4.2.0
//   node e5.mjs > e5.json
import { jupitermoons, planetposition } from "astronomia";
import data from "astronomia/data";

const earth = new planetposition.Planet(data.vsop87Bearth);
const jupiter = new planetposition.Planet(data.vsop87Bjupiter);
const places = [];
for (let i = 0; i < 60; i++) {
  const tt = -7300.25 + i * 487.617;
  const pos = jupitermoons.e5(tt + 2451545, earth, jupiter);
  places.push({ tt: +tt.toFixed(6), moons: [...pos].map((p) => [+p.x.toFixed(5), +p.y.toFixed(5)]) });
}
console.log(JSON.stringify({ source: "astronomia 4.2.0 (MIT), jupitermoons.e5; made by e5.mjs",
  units: "tt: days TT from J2000; x west, y north, in 71,420 km", places }).replace(/\},\{/g, "},\n{"));
