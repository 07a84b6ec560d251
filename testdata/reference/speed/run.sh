#!/bin/sh
# Speed of internal/sky beside astronomy-engine on Node and vectorised astropy,
# one after the other on one core in one run. Milliseconds, median of 15 rounds.
#
#   npm install --prefix /tmp/speed astronomy-engine@2.1.19
#   apt-get install python3-astropy
#   testdata/reference/speed/run.sh /tmp/speed/node_modules
set -eu
here=$(cd "$(dirname "$0")" && pwd)
modules=$(cd "${1:?usage: run.sh NODE_MODULES_FOLDER}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp "$here/speed.mjs" "$work"
ln -s "$modules" "$work/node_modules"
pin=
command -v taskset >/dev/null && pin='taskset -c 0'

echo '== duskboard, internal/sky (go test -bench, one core)'
(cd "$here/../../../internal/sky" && GOMAXPROCS=1 go test -c -o "$work/sky.test" . &&
  $pin "$work/sky.test" -test.run '^$' -test.cpu 1 -test.count 15 -test.benchtime 20x \
    -test.bench 'Track|EventsOf') |
  awk '/^Benchmark/ { n[$1]++; v[$1, n[$1]] = $3 / 1e6 }
       END { for (b in n) { for (i = 1; i <= n[b]; i++) for (j = i + 1; j <= n[b]; j++)
               if (v[b, j] < v[b, i]) { t = v[b, i]; v[b, i] = v[b, j]; v[b, j] = t }
             printf "%s\t%.2f (fastest %.2f)\n", substr(b, 10), v[b, int((n[b] + 1) / 2)], v[b, 1] } }' | sort
echo '== astronomy-engine on Node'
(cd "$work" && $pin node speed.mjs 15)
echo '== astropy, vectorised'
$pin /usr/bin/python3 -W ignore "$here/speed.py" 15
