"""Writes precession.json: rotation matrix ICRS -> true equator and equinox of
date, and Greenwich apparent sidereal time, IAU 2006/2000A.

    /usr/bin/python3 -W ignore make-precession.py > precession.json
"""
import json
import sys

import erfa

out = []
for year in range(1980, 2061, 4):
    jd = sum(erfa.cal2jd(year, 7, 1)) + 0.2
    out.append(dict(jd=jd, matrix=erfa.pnm06a(jd, 0.0).tolist(), sidereal=float(erfa.gst06a(jd, 0.0, jd, 0.0))))
json.dump(dict(source="ERFA " + erfa.__version__ + " (Debian python3-astropy): pnm06a, gst06a with TT = UT1 = jd",
               command="/usr/bin/python3 -W ignore make-precession.py > precession.json", cases=out), sys.stdout)
