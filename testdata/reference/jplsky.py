"""Apparent topocentric places from JPL's DE405 through ERFA: the reference of
the sky tests. Nothing here is shared with the program: numerically integrated
ephemeris, IAU 2006/2000A precession-nutation, light bending, full aberration.

Needs Debian's python3-astropy (for pyerfa), python3-numpy, python3-casacore and
casacore-data-jpl-de405. UT1 is taken as UTC, as the program defines it; TT
is UTC + leap seconds + 32.184 s, the last known offset continued.
"""
from datetime import datetime, timedelta

import erfa
import numpy as np
from casacore.tables import table

AU = 149597870.691  # km, of DE405
C_AU_DAY = 299792.458 * 86400 / AU
TABLE = "/usr/share/casacore/data/ephemerides/DE405"

# Where each body's Chebyshev coefficients begin in a record (counted from 1),
# how many there are and how many sub-intervals a record of 32 days has: the
# header of DE405 as JPL publishes it.
LAYOUT = {
    "Mercury": (3, 14, 4), "Venus": (171, 10, 2), "EMB": (231, 13, 2),
    "Mars": (309, 11, 1), "Jupiter": (342, 8, 1), "Saturn": (366, 7, 1),
    "Uranus": (387, 6, 1), "Neptune": (405, 6, 1), "MoonGeo": (441, 13, 8),
    "Sun": (753, 11, 2),
}
EMRAT = 81.30056
RADIUS = {"Sun": 696000.0, "Moon": 1737.4}  # km
BODIES = ["Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"]
# name: right ascension, declination (degrees, ICRS J2000), proper motions
# (mas a year, the first with cos dec): Hipparcos, rounded.
STARS = {
    "Sirius": (101.287155, -16.716116, -546.01, -1223.07),
    "Polaris": (37.954561, 89.264109, 44.48, -11.85),
    "Canopus": (95.987958, -52.695661, 19.93, 23.24),
    "Arcturus": (213.915300, 19.182409, -1093.39, -2000.06),
    "Alpheratz": (2.096916, 29.090431, 137.46, -163.44),
    "Sigma Octantis": (317.195164, -88.956499, 26.01, 4.87),
}

_table = table(TABLE, ack=False)
_starts = _table.getcol("MJD")  # MJD at which each record begins
_rows = _table.getcol("x")


def _chebyshev(name, tt):
    """Position (km) and velocity (km a day) at a Julian date."""
    start, n, parts = LAYOUT[name]
    mjd = tt - 2400000.5
    record = int((mjd - _starts[0]) // 32)
    if not 0 <= record < len(_rows):
        raise ValueError(f"MJD {mjd} is outside DE405's table")
    row, since = _rows[record], mjd - _starts[record]
    width = 32 / parts
    part = min(int(since / width), parts - 1)
    x = 2 * (since - part * width) / width - 1
    at = start - 3 + part * n * 3  # the table leaves out the record's two dates
    c = row[at:at + 3 * n].reshape(3, n)
    cheb = np.polynomial.chebyshev
    p = np.array([cheb.chebval(x, k) for k in c])
    v = np.array([cheb.chebval(x, cheb.chebder(k)) for k in c]) * 2 / width
    return p, v


def barycentric(name, tt):
    """Position (au) and velocity (au a day), ICRS."""
    if name in ("Earth", "Moon"):
        emb, vemb = _chebyshev("EMB", tt)
        moon, vmoon = _chebyshev("MoonGeo", tt)
        f = -1 / (1 + EMRAT) if name == "Earth" else EMRAT / (1 + EMRAT)
        return (emb + f * moon) / AU, (vemb + f * vmoon) / AU
    p, v = _chebyshev(name, tt)
    return p / AU, v / AU


def tt_of(jd_utc):
    """TT from a plain Julian date in UTC (no stretched leap-second days)."""
    year, month, day, fraction = erfa.jd2cal(jd_utc, 0.0)
    return jd_utc + (erfa.dat(year, month, day, fraction) + 32.184) / 86400


def jd_of(when):
    """Plain Julian date of a datetime in UTC."""
    return 2440587.5 + (when - datetime(1970, 1, 1)) / timedelta(days=1)


class Site:
    def __init__(self, lat, lon, elev=0.0):
        self.lat, self.lon = np.radians(lat), np.radians(lon)
        self.xyz = np.array(erfa.gd2gc(1, self.lon, self.lat, elev)) / 1000 / AU

    def place(self, name, jd_utc, geocentric=False):
        """Dict of apparent topocentric ra, dec, alt (geometric), az (degrees),
        dist (au), sd (degrees)."""
        tt = tt_of(jd_utc)
        npb = erfa.pnm06a(tt, 0.0)
        gst = erfa.gst06(np.floor(jd_utc), jd_utc - np.floor(jd_utc), tt, 0.0, npb)
        # From the rotating Earth to the true equator of date, to the ICRS.
        spin = erfa.rz(-gst, np.eye(3))
        site = npb.T @ spin @ self.xyz
        omega = 2 * np.pi * 1.00273781191135448  # radians a day
        whirl = npb.T @ spin @ (omega * np.array([-self.xyz[1], self.xyz[0], 0.0]))
        if geocentric:
            site, whirl = 0 * site, 0 * whirl
        earth, vearth = barycentric("Earth", tt)
        observer, velocity = earth + site, vearth + whirl
        sun, _ = barycentric("Sun", tt)
        helio = observer - sun
        em = np.linalg.norm(helio)
        if name in STARS:
            ra, dec, pmra, pmdec = STARS[name]
            years = (tt - 2451545.0) / 365.25
            ra, dec = np.radians(ra), np.radians(dec)
            u = np.array(erfa.s2c(ra, dec))
            mas = np.radians(1 / 3.6e6) * years
            u = u + pmra * mas * np.array([-np.sin(ra), np.cos(ra), 0])
            u = u + pmdec * mas * np.array([-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)])
            u /= np.linalg.norm(u)
            dist = 0.0
        else:
            tau = 0.0
            for _ in range(4):
                body, _ = barycentric(name, tt - tau)
                d = body - observer
                tau = np.linalg.norm(d) / C_AU_DAY
            dist = np.linalg.norm(d)
            u = d / dist
            if name == "Moon":
                # While its light travels the Earth moves 38 km towards or away
                # from where the Moon was: not what a distance is for.
                dist = np.linalg.norm(barycentric("Moon", tt)[0] - observer)
        if name not in ("Sun", "Moon") and np.degrees(np.arccos(np.clip(-(u @ helio) / em, -1, 1))) > 0.3:
            u = erfa.ldsun(u, helio / em, em)
        v = velocity / C_AU_DAY
        u = erfa.ab(u, v, em, np.sqrt(1 - v @ v))
        date = npb @ u
        ra, dec = erfa.c2s(date)
        h = gst + self.lon - ra
        az, alt = erfa.hd2ae(h, dec, self.lat)
        out = dict(ra=float(np.degrees(ra) % 360), dec=float(np.degrees(dec)),
                   alt=float(np.degrees(alt)), az=float(np.degrees(az) % 360))
        if dist:
            out["dist"] = float(dist)
        if name in RADIUS:
            out["sd"] = float(np.degrees(np.arcsin(RADIUS[name] / AU / dist)))
        return out
