"""Writes constellations.csv: the IAU constellation of every fixed target of the tables, by astropy's get_constellation
(boundaries of Roman 1987, CDS catalogue VI/42). Input: id,ra,dec lines (J2000, degrees) on standard input, as
TestConstellations prints them with -places. Run:

    go test -v -run TestConstellations ./internal/catalog -args -places | /usr/bin/python3 internal/catalog/testdata/constellations.py

Needs Debian python3-astropy.
"""
import sys
import pathlib
import astropy
from astropy.coordinates import SkyCoord, get_constellation
import astropy.units as u

rows = [line.strip().split(',') for line in sys.stdin if line.count(',') == 2]
places = SkyCoord([float(r[1]) for r in rows] * u.deg, [float(r[2]) for r in rows] * u.deg, frame='icrs')
names = get_constellation(places, short_name=True)
out = pathlib.Path(__file__).with_name('constellations.csv')
with out.open('w') as f:
    f.write('# By astropy %s get_constellation (Roman 1987); made by constellations.py.\nid,ra,dec,constellation\n' % astropy.__version__)
    for r, n in zip(rows, names):
        f.write(','.join(r) + ',' + n + '\n')
