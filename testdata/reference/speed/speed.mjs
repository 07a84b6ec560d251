// The benchmarks of internal/sky for astronomy-engine on Node: 200 fixed targets
// x 97 times; Sun, Moon and 7 planets x 97 times; rise, set and transit of 20
// targets. Positions: topocentric of date, altitude with refraction. Prints
// the median of the rounds in milliseconds.
import * as A from 'astronomy-engine'

const rounds = Number(process.argv[2] ?? 15)
const observer = new A.Observer(40, -105, 1600)
const from = Date.UTC(2027, 1, 13, 19)
const times = Array.from({ length: 97 }, (_, i) => new Date(from + i * 900e3))
const stars = Array.from({ length: 200 }, (_, i) => ({
  ra: (i * 137.50776) % 360, dec: Math.asin(2 * (i + 0.5) / 200 - 1) * 180 / Math.PI
}))
const bodies = ['Sun', 'Moon', 'Mercury', 'Venus', 'Mars', 'Jupiter', 'Saturn', 'Uranus', 'Neptune']
let sink = 0

function median (what, work) {
  work() // warm
  const ms = []
  for (let i = 0; i < rounds; i++) {
    const start = performance.now()
    work()
    ms.push(performance.now() - start)
  }
  ms.sort((a, b) => a - b)
  console.log(`${what}\t${ms[rounds >> 1].toFixed(2)}`)
}

median('200 fixed targets x 97', () => {
  const moments = times.map(t => new A.AstroTime(t))
  for (const s of stars) {
    A.DefineStar('Star1', s.ra / 15, s.dec, 1e6)
    for (const t of moments) {
      const e = A.Equator('Star1', t, observer, true, true)
      sink += A.Horizon(t, observer, e.ra, e.dec, 'normal').altitude
    }
  }
})
// The quickest way that the library offers for directions: one rotation a time,
// without aberration (20 arcseconds).
median('200 fixed targets x 97, rotation only', () => {
  const vectors = stars.map(s => A.VectorFromSphere(new A.Spherical(s.dec, s.ra, 1), new A.AstroTime(times[48])))
  for (const t of times.map(t => new A.AstroTime(t))) {
    const r = A.Rotation_EQJ_HOR(t, observer)
    for (const v of vectors) sink += A.HorizonFromVector(A.RotateVector(r, v), 'normal').lat
  }
})
median('Sun, Moon, 7 planets x 97', () => {
  const moments = times.map(t => new A.AstroTime(t))
  for (const b of bodies) {
    for (const t of moments) {
      const e = A.Equator(b, t, observer, true, true)
      sink += A.Horizon(t, observer, e.ra, e.dec, 'normal').altitude
    }
  }
})
median('events of 20 targets', () => {
  const start = new A.AstroTime(times[0])
  for (const s of stars.slice(0, 20)) {
    A.DefineStar('Star1', s.ra / 15, s.dec, 1e6)
    for (const direction of [1, -1]) sink += A.SearchRiseSet('Star1', observer, direction, start, 1)?.ut ?? 0
    sink += A.SearchHourAngle('Star1', observer, 0, start).time.ut
  }
})
if (!Number.isFinite(sink)) console.log('no numbers')
