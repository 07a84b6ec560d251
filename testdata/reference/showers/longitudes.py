"""Makes longitudes.json: when the Sun reaches given ecliptic longitudes of J2000.

    /usr/bin/python3 longitudes.py > longitudes.json      (Debian's python3-astropy)
"""
import json
import astropy
from astropy.coordinates import GeocentricMeanEcliptic, get_sun
from astropy.time import Time
import astropy.units as u
from astropy.utils import iers

iers.conf.auto_download = False


def longitude(t):
    # get_sun is apparent (aberrated) in GCRS; the true ecliptic of J2000 would add that day's nutation
    return get_sun(t).transform_to(GeocentricMeanEcliptic(equinox=Time("J2000"), obstime=t)).lon.deg


def when(target, guess):
    t = guess
    for _ in range(8):
        off = (target - longitude(t) + 180) % 360 - 180
        t = t + (off / 0.98564736) * u.day
    return t


rows = []
for year in (1985, 2007, 2026, 2027, 2044, 2059):
    for code, lam, month, day in (("QUA", 283.15, 1, 3), ("LYR", 32.32, 4, 22), ("ETA", 45.5, 5, 6), ("PER", 140.0, 8, 12),
                                  ("ORI", 208.0, 10, 21), ("LEO", 235.27, 11, 17), ("GEM", 262.2, 12, 14), ("URS", 270.7, 12, 22)):
        t = when(lam, Time("%d-%02d-%02dT12:00:00" % (year, month, day), scale="tt"))
        rows.append({"code": code, "tt": round(t.tt.jd - 2451545.0, 5)})
print(json.dumps({"source": "astropy %s: get_sun, GeocentricMeanEcliptic of J2000; made by longitudes.py" % astropy.__version__,
                  "units": "tt: days TT from J2000", "rows": rows}).replace("}, {", "},\n{"))
