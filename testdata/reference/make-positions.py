"""Writes positions.json: apparent topocentric places at many sites and dates.

    /usr/bin/python3 -W ignore make-positions.py > positions.json
"""
import json
import sys
from datetime import datetime, timedelta

import erfa
from jplsky import BODIES, STARS, Site, jd_of

SITES = [  # name, latitude, longitude (east), elevation
    ("Denver", 40.0, -105.0, 1600), ("Helsinki", 60.17, 24.94, 20), ("Melbourne", -37.81, 144.96, 30),
    ("Quito, almost on the equator", -0.18, -78.47, 2850), ("the equator at Greenwich", 0.0, 0.0, 0),
    ("Tromso, beyond the polar circle", 69.65, 18.96, 0), ("Longyearbyen", 78.22, 15.65, 10),
    ("McMurdo, beyond the polar circle", -77.85, 166.67, 10), ("the South Pole", -90.0, 0.0, 2835),
    ("the North Pole", 90.0, 0.0, 0), ("Suva, west of the date line", -18.14, 178.44, 0),
    ("Samoa, east of the date line", -13.83, -171.77, 0), ("Kathmandu", 27.72, 85.32, 1400),
    ("Lord Howe", -31.55, 159.08, 5), ("Chatham", -43.95, -176.55, 10), ("Ushuaia", -54.8, -68.3, 10),
    ("Mauna Kea", 19.82, -155.47, 4200), ("the date line itself", 10.0, 180.0, 0),
    ("Chicago", 41.88, -87.63, 180), ("London", 51.5, -0.12, 10),
]
FIRST, LAST = datetime(1980, 1, 1), datetime(2059, 12, 30)

cases = []
# Spread evenly over the eighty years at an odd step, so that season, hour and
# the Moon's place all vary.
COUNT = 68
for i in range(COUNT):
    when = FIRST + (LAST - FIRST) * i / (COUNT - 1) + timedelta(hours=(i * 7.31) % 24 if 0 < i < COUNT - 1 else 0)
    cases.append((SITES[i % len(SITES)], when.replace(microsecond=0)))
# Nights that are awkward in themselves.
for site, when in [
    (("Sirius in the zenith", -16.7375, -68.0, 3600), "2026-01-10T03:51:00"),
    (("Sun in the zenith at the equinox", 0.0, 1.9, 0), "2027-03-20T12:00:00"),
    (("Moon near the zenith", 20.0, -60.0, 0), "2026-12-23T03:30:00"),
    (("leap day", 48.1, 11.6, 520), "2028-02-29T23:59:59"),
    (("leap second", 48.1, 11.6, 520), "2016-12-31T23:59:59"),
    (("Saturn passing 0 h", 40.0, -105.0, 1600), "2026-02-05T23:30:00"),
    (("Neptune passing 0 h", -33.0, 18.5, 0), "2025-11-28T23:40:00"),
    (("Venus near the Sun", 35.0, 139.0, 0), "2026-10-24T03:00:00"),
]:
    cases.append((site, datetime.fromisoformat(when)))

out = []
for (name, lat, lon, elev), when in cases:
    site = Site(lat, lon, elev)
    out.append(dict(name=f"{name} {when:%Y-%m-%d}", lat=lat, lon=lon, elev=elev, utc=when.isoformat() + "Z",
                    objects={o: {k: round(v, 9) for k, v in site.place(o, jd_of(when)).items()}
                             for o in BODIES + list(STARS)}))
json.dump(dict(
    source="JPL DE405 (Debian casacore-data-jpl-de405) through ERFA " + erfa.__version__ + " (Debian python3-astropy)",
    command="/usr/bin/python3 -W ignore make-positions.py > positions.json",
    stars={k: dict(zip(("ra", "dec", "pmra", "pmdec"), v)) for k, v in STARS.items()},
    cases=out), sys.stdout, indent=0)
