// Writes constellations.txt: the official boundaries in Roman's form, one strip
// a line: constellation, right ascension from and to (hours), southern
// declination (degrees), equinox B1875. The first strip that holds a place
// names its constellation.
//
//   npm install astronomy-engine@2.1.19
//   node make-constellations.mjs NODE_MODULES_FOLDER > constellations.txt
//
// Source: Roman 1987, PASP 99, 695 (catalogue VI/42), as carried by the npm
// package astronomy-engine 2.1.19 (MIT), whose module keeps the table private:
// hence read from its text.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

const text = readFileSync(join(process.argv[2] ?? 'node_modules', 'astronomy-engine', 'astronomy.js'), 'utf8')
const table = name => {
  const start = text.indexOf('const ' + name + ' = [')
  const end = text.indexOf('];', start)
  // eslint-disable-next-line no-eval -- a literal of a pinned package
  return (0, eval)(text.slice(start + ('const ' + name + ' = ').length, end + 1))
}
const names = table('ConstelNames')
const strips = table('ConstelBounds')
if (names.length !== 88 || strips.length !== 357) throw new Error('not the table expected')
// The package's units: 2.5 arcminutes.
for (const [index, from, to, dec] of strips) {
  console.log([names[index][0], from / 360, to / 360, dec / 24].join(' '))
}
