// Makes planets.json: phase, elongation, size, tilt and (older) magnitudes.
//
//   npm install astronomy-engine@2.1.19
//   node planets.mjs > planets.json
import * as A from "astronomy-engine";

const rows = [];
for (const body of ["Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"])
  for (let i = 0; i < 14; i++) {
    const t = A.MakeTime(new Date(Date.UTC(1981, 1, 3, 4))).AddDays(i * 2083.37);
    const ill = A.Illumination(body, t), e = A.Elongation(body, t);
    const axis = A.RotationAxis(body, t.AddDays(-ill.geo_dist / A.C_AUDAY));
    // Position angle of the north pole on the sky of date.
    const rot = A.Rotation_EQJ_EQD(t), v = A.RotateVector(rot, ill.gc), n = A.RotateVector(rot, axis.north);
    const ra = Math.atan2(v.y, v.x), dec = Math.atan2(v.z, Math.hypot(v.x, v.y));
    const east = -n.x * Math.sin(ra) + n.y * Math.cos(ra);
    const north = -n.x * Math.sin(dec) * Math.cos(ra) - n.y * Math.sin(dec) * Math.sin(ra) + n.z * Math.cos(dec);
    rows.push({ body, tt: +t.tt.toFixed(6), phaseAngle: +ill.phase_angle.toFixed(4), illuminated: +ill.phase_fraction.toFixed(5),
      magnitude: +ill.mag.toFixed(3), distance: +ill.geo_dist.toFixed(6), sunDistance: +ill.helio_dist.toFixed(6),
      elongation: +e.elongation.toFixed(4), evening: e.visibility === "evening", ringTilt: ill.ring_tilt === undefined ? null : +ill.ring_tilt.toFixed(4),
      poleAngle: +(((Math.atan2(east, north) * 180) / Math.PI + 360) % 360).toFixed(4) });
  }
console.log(JSON.stringify({ source: "astronomy-engine 2.1.19 (MIT): Illumination, Elongation, RotationAxis; made by planets.mjs",
  units: "tt: days TT from J2000; degrees, au; magnitudes by its own, older formulas", rows }).replace(/\},\{/g, "},\n{"));
