"""Writes openngc.csv: place and largest size of the NGC and IC objects in the tables, from the OpenNGC database as it is
compiled into the program plot-constellations of Debian's astrometry.net 0.93+dfsg (a plate solver). Run:

    apt-get download astrometry.net && dpkg -x astrometry.net_*.deb x
    python3 internal/catalog/testdata/openngc.py x/usr/bin/plot-constellations

The program holds an array of {int is_ngc; int id; float ra; float dec; float size}, J2000 degrees and arcminutes, little
endian; it is found by the entry of NGC 224.
"""
import pathlib
import re
import struct
import sys

binary = pathlib.Path(sys.argv[1]).read_bytes()
here = pathlib.Path(__file__).parent

anchor = None
at = -1
while anchor is None:
    at = binary.index(struct.pack('<ii', 1, 224), at + 1)
    _, _, ra, dec, _ = struct.unpack_from('<iifff', binary, at)
    if abs(ra - 10.68) < 0.1 and abs(dec - 41.27) < 0.1:
        anchor = at

def entry(at):
    is_ngc, number, ra, dec, size = struct.unpack_from('<iifff', binary, at)
    good = is_ngc in (0, 1) and 1 <= number <= 7840 and 0 <= ra < 360 and -90 <= dec <= 90 and 0 <= size < 1000
    return ((('NGC ' if is_ngc else 'IC ') + str(number)), ra, dec, size) if good else None

objects = {}
for step in (-20, 20):
    at = anchor
    while (e := entry(at)) is not None:
        objects.setdefault(e[0], e)
        at += step

keys = set()
for table in ('messier', 'caldwell', 'more'):
    for line in (here.parent / 'data' / (table + '.psv')).read_text().splitlines():
        keys.update(re.findall(r'^(?:\d+\|)?((?:NGC|IC) \d+)', line))
with (here / 'openngc.csv').open('w') as f:
    f.write('# OpenNGC (Mattia Verga, CC BY-SA 4.0) by Debian astrometry.net 0.93; made by openngc.py. J2000 degrees, arcminutes (0: none).\n')
    f.write('key,ra,dec,size\n')
    for key in sorted(keys, key=lambda k: (k.split()[0], int(k.split()[1]))):
        if key in objects:
            _, ra, dec, size = objects[key]
            f.write('%s,%.4f,%.4f,%.2f\n' % (key, ra, dec, size))
print(len(objects), 'objects in the program;', 'none for:', sorted(k for k in keys if k not in objects))
