// Packs the series of VSOP87B (planets) and ELP/MPP02 (Moon) into the two
// compressed files that internal/sky embeds.
//
//   npm install astronomia@4.2.0 astronomy-engine@2.1.19
//   node make-series.mjs NODE_MODULES_FOLDER
//
// Sources: Bretagnon & Francou 1988, A&A 202, 309 (VSOP87B, complete);
// Chapront & Francou 2002/2003 (ELP/MPP02, fitted to DE405, terms over 0.001"
// and 1 m), both as distributed in the npm package astronomia 4.2.0 (MIT).
//
// vsop87b.bin.gz: for Mercury, Venus, Earth, Mars ... Neptune; for L, B, R; for
// powers 0..5 of tau: uvarint count, then per term uvarint A x 1e11,
// B x 1e11, C x 1e10 (the decimals the theory is published with).
// elpmpp02.bin.gz: five float64 of the mean longitude W1, then for L, B, R; for
// powers 0..3 of T: float64 count, then per term six float64: amplitude
// (arcseconds, km), and the phase's coefficients of T^0..T^4 (radians).
// All numbers little-endian.
import { writeFileSync } from 'node:fs'
import { gzipSync } from 'node:zlib'
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'

const here = dirname(fileURLToPath(import.meta.url))
const data = join(resolve(process.argv[2] ?? 'node_modules'), 'astronomia', 'data')
const load = async name => (await import(join(data, name + '.js'))).default

function uvarint (out, value) {
  let v = BigInt(value)
  if (v < 0n) throw new RangeError('negative number in a series: ' + value)
  while (v >= 0x80n) {
    out.push(Number(v & 0x7fn) | 0x80)
    v >>= 7n
  }
  out.push(Number(v))
}

const vsop = []
for (const name of ['mercury', 'venus', 'earth', 'mars', 'jupiter', 'saturn', 'uranus', 'neptune']) {
  const theory = await load('vsop87B' + name)
  for (const variable of ['L', 'B', 'R']) {
    for (let power = 0; power < 6; power++) {
      const terms = theory[variable][power] ?? []
      uvarint(vsop, terms.length)
      for (let [a, b, c] of terms) {
        if (a < 0) { a = -a; b += Math.PI }
        uvarint(vsop, Math.round(a * 1e11))
        uvarint(vsop, Math.round(b * 1e11))
        uvarint(vsop, Math.round(c * 1e10))
      }
    }
  }
}
writeFileSync(join(here, 'vsop87b.bin.gz'), gzipSync(Buffer.from(vsop), { level: 9 }))

const moon = await load('elpMppDe')
const numbers = [...moon.W1]
for (const variable of ['L', 'B', 'R']) {
  for (let power = 0; power < 4; power++) {
    const terms = moon[variable][power] ?? []
    numbers.push(terms.length)
    for (const term of terms) for (let i = 0; i < 6; i++) numbers.push(term[i] ?? 0)
  }
}
writeFileSync(join(here, 'elpmpp02.bin.gz'),
  gzipSync(Buffer.from(Float64Array.from(numbers).buffer), { level: 9 }))
