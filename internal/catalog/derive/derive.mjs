// Derives the compact data of internal/catalog from the files of the npm package d3-celestial 0.7.35 (BSD-3-Clause; see
// LICENSE-d3-celestial.txt). Run:
//
//   npm pack d3-celestial@0.7.35 && tar xf d3-celestial-0.7.35.tgz
//   node internal/catalog/derive/derive.mjs package/data
//
// Written: data/stars.bin.gz, data/guides.psv, data/lines.json, data/constellations.json, data/places.psv, data/starplaces.psv.
// The star data there come from the Hipparcos catalogue (ESA 1997) reduced to J2000.0; the rest from public compilations that
// the package's readme names. Nothing here is rounded beyond what the source gives.
import fs from 'node:fs'
import path from 'node:path'
import zlib from 'node:zlib'
import { fileURLToPath } from 'node:url'

const source = process.argv[2]
if (!source) {
  console.error('usage: node derive.mjs FOLDER (the data folder of d3-celestial 0.7.35)')
  process.exit(2)
}
const here = path.dirname(fileURLToPath(import.meta.url))
const target = path.join(here, '..', 'data')
const read = name => JSON.parse(fs.readFileSync(path.join(source, name), 'utf8'))
const write = (name, content) => fs.writeFileSync(path.join(target, name), content)
const east = lon => (lon + 360) % 360
const table = name => {
  const lines = fs.readFileSync(path.join(target, name), 'utf8').split('\n').filter(l => l && !l.startsWith('#'))
  const head = lines[0].split('|')
  return lines.slice(1).map(l => Object.fromEntries(l.split('|').map((v, i) => [head[i], v])))
}

// ---- stars ----

const names = read('starnames.json')
const stars = read('stars.8.json').features
  .map(f => ({
    hip: +f.id,
    ra: east(f.geometry.coordinates[0]),
    dec: f.geometry.coordinates[1],
    mag: +f.properties.mag,
    bv: f.properties.bv === '' ? NaN : +f.properties.bv
  }))
  .sort((a, b) => a.hip - b.hip)

// The format is one column after another, little endian, gzipped: the number of stars (uint32), then per star the step of the
// Hipparcos number (uint16), the step of RA in 1e-4 degree (int32, RA nearly follows the number), Dec in 1e-4 degree
// (int32), V in 0.01 mag (int16), B-V in 0.001 mag (int16, -32768 = unknown), then the names as text: "hip|name|designation".
function packStars () {
  const n = stars.length
  const column = (bytes, put) => {
    const b = Buffer.alloc(n * bytes)
    stars.forEach((s, i) => put(b, i * bytes, s, i ? stars[i - 1] : { hip: 0, ra: 0 }))
    return b
  }
  const e4 = x => Math.round(x * 1e4)
  // Low and high bytes are laid in planes, because they compress far better apart.
  const planes = (b, width) => {
    const out = Buffer.alloc(b.length)
    for (let p = 0; p < width; p++) for (let i = 0; i < n; i++) out[p * n + i] = b[i * width + p]
    return out
  }
  const head = Buffer.alloc(4)
  head.writeUInt32LE(n)
  const text = stars.filter(s => names[s.hip]).map(s => {
    const d = names[s.hip]
    const letter = d.bayer || d.flam
    return `${s.hip}|${d.name.trim()}|${letter ? letter + ' ' + d.c : d.var ? d.var + ' ' + d.c : ''}`
  }).filter(l => !l.endsWith('||')).join('\n')
  return Buffer.concat([
    head,
    planes(column(2, (b, o, s, p) => b.writeUInt16LE(s.hip - p.hip, o)), 2),
    planes(column(4, (b, o, s, p) => b.writeInt32LE(e4(s.ra) - e4(p.ra), o)), 4),
    planes(column(4, (b, o, s) => b.writeInt32LE(e4(s.dec), o)), 4),
    planes(column(2, (b, o, s) => b.writeInt16LE(Math.round(s.mag * 100), o)), 2),
    planes(column(2, (b, o, s) => b.writeInt16LE(Number.isNaN(s.bv) ? -32768 : Math.round(s.bv * 1000), o)), 2),
    Buffer.from(text, 'utf8')
  ])
}
write('stars.bin.gz', zlib.gzipSync(packStars(), { level: 9 }))

// The bright stars with a name, to which words send a beginner; apart, so that the words need not unpack all stars.
const guides = stars.filter(s => s.mag <= 2.9 && names[s.hip]?.name).map(s =>
  [names[s.hip].name.trim(), names[s.hip].c, s.ra.toFixed(4), s.dec.toFixed(4), s.mag].join('|'))
write('guides.psv', '# Derived by derive/derive.mjs from d3-celestial 0.7.35; J2000 degrees. Do not edit.\nname|con|ra|dec|mag\n' + guides.join('\n') + '\n')

// ---- constellations ----

const lines = read('constellations.lines.json').features.map(f => ({
  id: f.id,
  lines: f.geometry.coordinates.map(l => l.map(([lon, lat]) => [east(lon), lat].map(x => +x.toFixed(4))))
}))
write('lines.json', '[\n' + lines.map(l => JSON.stringify(l)).join(',\n') + '\n]\n')

// Serpens is one constellation in two parts; the names carry it once.
const constellations = new Map()
for (const f of read('constellations.json').features) {
  const p = f.properties
  const id = p.desig.startsWith('Ser') ? 'Ser' : p.desig
  if (!constellations.has(id)) {
    const name = id === 'Ser' ? 'Serpens' : p.name
    constellations.set(id, { id, name, genitive: p.gen.replace(/ (Caput|Cauda)$/, ''), en: p.en, de: id === 'Ser' ? 'Schlange' : p.de })
  }
}
const sorted = [...constellations.values()].sort((a, b) => a.id < b.id ? -1 : 1)
write('constellations.json', '[\n' + sorted.map(c => JSON.stringify(c)).join(',\n') + '\n]\n')

// ---- places of the deep-sky tables ----

const places = new Map()
for (const file of ['dsos.20.json', 'dsos.14.json', 'dsos.6.json']) {
  for (const f of read(file).features) {
    for (const key of [f.id, f.properties.desig]) places.set(key.replace(/^Sh2? /, 'Sh '), f.geometry.coordinates)
  }
}
places.set('Mel 22', places.get('M 45'))
places.set('Mel 25', places.get('C 41'))
places.set('Sh 155', places.get('C 9'))
places.set('NGC 2237', places.get('NGC 2237') ?? places.get('NGC 2244'))
// Some objects are known there by the Messier number alone.
for (const row of table('messier.psv')) {
  if (row.key && !places.has(row.key)) places.set(row.key, places.get('M ' + row.number))
}
const missing = []
const placeRows = []
for (const file of ['messier.psv', 'caldwell.psv', 'more.psv']) {
  for (const { key } of table(file)) {
    if (!key || key.includes('@')) continue
    const at = places.get(key)
    if (!at) { missing.push(key); continue }
    placeRows.push(`${key}|${east(at[0]).toFixed(4)}|${at[1].toFixed(4)}`)
  }
}
write('places.psv', '# Derived by derive/derive.mjs from d3-celestial 0.7.35; J2000 degrees. Do not edit.\nkey|ra|dec\n' + placeRows.join('\n') + '\n')

// ---- places of the star tables ----

const byLetter = new Map()
for (const [hip, d] of Object.entries(names)) {
  for (const letter of [d.bayer, d.flam, d.var]) if (letter) byLetter.set(`${letter} ${d.c}`, +hip)
}
const byHip = new Map(stars.map(s => [s.hip, s]))
// The whole list to magnitude 14 holds the stars fainter than 8 that the tables name (variables near minimum).
for (const f of read('stars.14.json').features) {
  const hip = +f.id
  if (!byHip.has(hip)) {
    byHip.set(hip, { hip, ra: east(f.geometry.coordinates[0]), dec: f.geometry.coordinates[1], mag: +f.properties.mag, bv: +f.properties.bv })
  }
}
function nearest (ra, dec, mag) {
  let best, at = 0.2
  for (const s of byHip.values()) {
    const dra = ((s.ra - ra + 540) % 360 - 180) * Math.cos(dec * Math.PI / 180)
    const d = Math.hypot(dra, s.dec - dec) + Math.abs(s.mag - mag) * 0.02
    if (d < at) { best = s; at = d }
  }
  return best
}
const starRows = []
for (const file of ['doubles.psv', 'variables.psv']) {
  for (const { id, star } of table(file)) {
    let s
    if (star.startsWith('@')) s = nearest(...star.slice(1).split(' ').map(Number))
    else s = byHip.get(byLetter.get(star) ?? byLetter.get(star.replace(/^(\D+)\d /, '$1 ')) ?? byLetter.get(star.replace(/^([^\d ]+) /, '$11 ')))
    if (!s) { missing.push(`${id} (${star})`); continue }
    starRows.push(`${id}|${s.hip}|${s.ra.toFixed(4)}|${s.dec.toFixed(4)}|${s.mag}|${Number.isNaN(s.bv) ? '' : s.bv}`)
  }
}
write('starplaces.psv', '# Derived by derive/derive.mjs from d3-celestial 0.7.35; J2000 degrees, Hipparcos V and B-V. Do not edit.\nid|hip|ra|dec|mag|bv\n' + starRows.join('\n') + '\n')
if (missing.length) {
  console.error('no place for: ' + missing.join(', '))
  process.exit(1)
}
