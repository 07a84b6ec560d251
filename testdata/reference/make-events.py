"""Writes events.json: rise, set, transit and twilight of awkward nights, by
sampling DE405 + ERFA altitudes every four minutes and bisecting.

    /usr/bin/python3 -W ignore make-events.py > events.json

Rise and set: centre (planets, stars) or upper limb (Sun, Moon) at -34
arcminutes geometric altitude. Twilights: the Sun's centre. A crossing is
[time, slope of the altitude in degrees an hour, +1 rising | -1 setting].
"""
import json
import sys
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import erfa
import numpy as np
from jplsky import STARS, Site, jd_of

NIGHTS = [  # what is awkward, latitude, longitude, zone, date of the evening
    ("clocks go back in the night", 51.5, -0.12, "Europe/London", "2027-10-30"),
    ("clocks go forward in the night", 51.5, -0.12, "Europe/London", "2027-03-27"),
    ("US clock change, no moonset on the civil date", 40.0, -105.0, "America/Denver", "2027-03-13"),
    ("leap day", 40.42, -3.70, "Europe/Madrid", "2028-02-29"),
    ("day before the leap day", 40.42, -3.70, "Europe/Madrid", "2028-02-28"),
    ("midnight sun", 69.65, 18.96, "Europe/Oslo", "2027-06-21"),
    ("polar night", 69.65, 18.96, "Europe/Oslo", "2027-01-10"),
    ("first sunrise after the polar night", 69.65, 18.96, "Europe/Oslo", "2027-01-14"),
    ("last sunset before the midnight sun", 69.65, 18.96, "Europe/Oslo", "2027-05-17"),
    ("no astronomical darkness", 60.17, 24.94, "Europe/Helsinki", "2027-05-10"),
    ("no nautical darkness", 60.17, 24.94, "Europe/Helsinki", "2027-06-20"),
    ("half-hour clock change", -31.55, 159.08, "Australia/Lord_Howe", "2027-04-03"),
    ("three-quarter-hour zone", 27.72, 85.32, "Asia/Kathmandu", "2026-12-15"),
    ("Chatham, 12:45 ahead, clocks change", -43.95, -176.55, "Pacific/Chatham", "2027-04-03"),
    ("no moonrise in the night", 40.0, -105.0, "America/Denver", "2027-02-12"),
    ("new moon", 41.88, -87.63, "America/Chicago", "2027-03-08"),
    ("the Moon stays under, far north", 69.65, 18.96, "Europe/Oslo", "2027-03-02"),
    ("the Moon stays up, far north", 69.65, 18.96, "Europe/Oslo", "2026-12-23"),
    ("southern summer", -37.81, 144.96, "Australia/Melbourne", "2027-02-13"),
    ("far south, midnight sun", -77.85, 166.67, "Antarctica/McMurdo", "2026-12-21"),
    ("far south, last sunset", -54.8, -68.3, "America/Argentina/Ushuaia", "2026-06-21"),
    ("equator", -0.18, -78.47, "America/Guayaquil", "2027-03-20"),
    ("zone ahead of the date line", 1.87, -157.4, "Pacific/Kiritimati", "2027-01-01"),
    ("zone behind the date line", -14.3, -170.7, "Pacific/Pago_Pago", "2027-01-01"),
    ("the day after the day that Samoa skipped", -13.83, -171.77, "Pacific/Apia", "2011-12-31"),
    ("the night that Samoa crossed the date line", -13.83, -171.77, "Pacific/Apia", "2011-12-29"),
    ("China's one zone, far west", 39.47, 75.99, "Asia/Shanghai", "2027-09-22"),
    ("1980", 52.0, 21.0, "Europe/Warsaw", "1980-12-31"),
    ("2059", 35.7, 139.7, "Asia/Tokyo", "2059-11-15"),
    ("the North Pole at the equinox", 90.0, 0.0, "UTC", "2027-03-18"),
]
OBJECTS = ["Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"] + list(STARS)
LEVELS = {"sunset": None, "civil": -6.0, "nautical": -12.0, "astronomical": -18.0}
STEP = timedelta(minutes=4)


def iso(t):
    return t.isoformat(timespec="milliseconds") + "Z"


def local_noon(day, zone):
    """Noon of the day, or None where the zone leaves the day out."""
    t = datetime.combine(day, datetime.min.time(), zone).replace(hour=12)
    back = t.astimezone(timezone.utc).astimezone(zone)
    return t.astimezone(timezone.utc).replace(tzinfo=None) if back.date() == day else None


def crossings(site, name, times, samples, value):
    """Times where value(place) changes its sign."""
    found = []
    for (a, pa), (b, pb) in zip(zip(times, samples), zip(times[1:], samples[1:])):
        if (value(pa) >= 0) == (value(pb) >= 0):
            continue
        rising = value(pb) >= 0
        lo, hi = a, b
        while hi - lo > timedelta(milliseconds=2):
            mid = lo + (hi - lo) / 2
            if (value(site.place(name, jd_of(mid))) >= 0) == rising:
                hi = mid
            else:
                lo = mid
        found.append([iso(lo), round((value(pb) - value(pa)) * 15, 3), 1 if rising else -1])
    return found


def grazing(samples, value):
    """How close to the level an extremum without a crossing comes, degrees."""
    v = [value(p) for p in samples]
    return min(abs(x) for x in v)


out = []
for what, lat, lon, zone, date in NIGHTS:
    day, tz = datetime.fromisoformat(date).date(), ZoneInfo(zone)
    start = local_noon(day, tz)
    end = local_noon(day + timedelta(days=1), tz) or local_noon(day + timedelta(days=2), tz)
    site = Site(lat, lon, 0)
    steps = int((end - start) / STEP)
    times = [start + STEP * i for i in range(steps + 1)]
    night = dict(what=what, lat=lat, lon=lon, zone=zone, date=date, **{"from": iso(start), "to": iso(end)}, objects={}, sun={})
    for name in OBJECTS:
        samples = [site.place(name, jd_of(t)) for t in times]
        limb = name in ("Sun", "Moon")

        def rise(p):
            return p["alt"] + 34 / 60 + (p["sd"] if limb else 0)

        def west(p):  # hour angle, -180..180 degrees
            return float(np.degrees(erfa.ae2hd(np.radians(p["az"]), np.radians(p["alt"]), site.lat)[0]))

        c = crossings(site, name, times, samples, rise)
        up = rise(samples[len(samples) // 2]) >= 0
        # A transit is a small positive step of the hour angle through zero.
        h = [west(p) for p in samples]
        transits = []
        for i in range(len(h) - 1):
            if h[i] < 0 <= h[i + 1] and h[i + 1] - h[i] < 90:
                lo, hi = times[i], times[i + 1]
                while hi - lo > timedelta(milliseconds=2):
                    mid = lo + (hi - lo) / 2
                    if west(site.place(name, jd_of(mid))) >= 0:
                        hi = mid
                    else:
                        lo = mid
                transits.append(iso(lo))
        night["objects"][name] = dict(
            crossings=c, transits=[] if abs(lat) == 90 else transits,
            state="happens" if c else "always-above" if up else "always-below",
            margin=round(grazing(samples, rise), 3))
        if name == "Sun":
            for level, alt in LEVELS.items():
                def over(p):
                    return rise(p) if alt is None else p["alt"] - alt
                c = crossings(site, name, times, samples, over)
                up = over(samples[len(samples) // 2]) >= 0
                night["sun"][level] = dict(crossings=c, state="happens" if c else "always-above" if up else "always-below")
    out.append(night)
    print(what, file=sys.stderr)
json.dump(dict(
    source="JPL DE405 (Debian casacore-data-jpl-de405) through ERFA " + erfa.__version__ + " (Debian python3-astropy)",
    command="/usr/bin/python3 -W ignore make-events.py > events.json",
    stars={k: dict(zip(("ra", "dec", "pmra", "pmdec"), v)) for k, v in STARS.items()},
    nights=out), sys.stdout, indent=0)
