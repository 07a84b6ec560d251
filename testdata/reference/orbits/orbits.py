"""Makes orbits.json: places of invented and real orbits, by other ways than the program's.

Kepler's equation is solved with 50 digits (mpmath), for the parabola Barker's;
the Earth, precession, nutation and the observer's place are ERFA's.

    /usr/bin/python3 -W ignore orbits.py > orbits.json    (python3-astropy, mpmath)
"""
import json
import erfa
import mpmath as mp
import numpy as np

mp.mp.dps = 50
K = mp.mpf("0.01720209895")
LIGHT = 499.004783836 / 86400


def plane(q, e, days):
    """x, y in the orbit's plane, x to the perihelion, au."""
    q, e, days = mp.mpf(q), mp.mpf(e), mp.mpf(days)
    if e == 1:
        w = 3 * K * days / mp.sqrt(2 * q**3)
        s = mp.findroot(lambda s: s**3 + 3 * s - w, mp.sign(w) * mp.cbrt(abs(w)) if w else mp.mpf(0))
        return q * (1 - s * s), 2 * q * s
    a = q / abs(1 - e)
    m = K * days / mp.sqrt(a**3)
    if e < 1:
        m = m - 2 * mp.pi * mp.nint(m / (2 * mp.pi))
        lo, hi = mp.mpf(-4), mp.mpf(4)
        f = lambda x: x - e * mp.sin(x) - m
    else:
        hi = mp.asinh(abs(m) / e) + mp.cbrt(6 * abs(m)) + 3
        lo = -hi
        f = lambda x: e * mp.sinh(x) - x - m
    for _ in range(170):
        mid = (lo + hi) / 2
        lo, hi = (mid, hi) if f(mid) < 0 else (lo, mid)
    x = (lo + hi) / 2
    if e < 1:
        return a * (mp.cos(x) - e), a * mp.sqrt(1 - e * e) * mp.sin(x)
    return a * (e - mp.cosh(x)), a * mp.sqrt(e * e - 1) * mp.sinh(x)


def rot(axis, angle):
    s, c = np.sin(angle), np.cos(angle)
    return {"x": np.array([[1, 0, 0], [0, c, -s], [0, s, c]]), "z": np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])}[axis]


def helio(o, jd):
    x, y = plane(o["q"], o["e"], jd - o["perihelion"])
    d = np.radians
    m = rot("x", 84381.448 / 3600 * np.pi / 180) @ rot("z", d(o["node"])) @ rot("x", d(o["incl"])) @ rot("z", d(o["peri"]))
    return m @ np.array([float(x), float(y), 0.0])


def seen(o, jd, lat, lon):
    pvh, pvb = erfa.epv00(jd, 0.0)
    earth, velocity = pvh["p"], pvb["v"]
    tau = 0.0
    for _ in range(8):
        p = helio(o, jd - tau)
        v = p - earth
        tau = np.linalg.norm(v) * LIGHT
    d = np.linalg.norm(v)
    u = v / d
    beta = velocity * LIGHT
    u = erfa.ab(u, beta, 1.0, np.sqrt(1 - beta @ beta))
    u = erfa.pnm06a(jd, 0.0) @ u
    ut = jd - 69.0 / 86400
    gst = erfa.gst06a(ut, 0.0, jd, 0.0)
    place = erfa.pvtob(np.radians(lon), np.radians(lat), 0.0, 0.0, 0.0, 0.0, gst)["p"] / 149597870700.0
    t = u * d - place
    ra, dec = np.arctan2(t[1], t[0]), np.arctan2(t[2], np.hypot(t[0], t[1]))
    sun = np.linalg.norm(p)
    phase = np.degrees(np.arccos(np.clip(v @ p / d / sun, -1, 1)))
    return {"tt": jd - 2451545.0, "lat": lat, "lon": lon, "ra": round(np.degrees(ra) % 360, 6), "dec": round(np.degrees(dec), 6),
            "distance": round(d, 8), "sunDistance": round(sun, 8), "phase": round(float(phase), 5)}


orbits = [
    {"name": "ellipse", "q": 2.55, "e": 0.0773, "peri": 73.6, "node": 80.3, "incl": 10.59, "perihelion": 2460000.5},
    {"name": "long ellipse", "q": 0.586, "e": 0.967, "peri": 111.3, "node": 58.4, "incl": 162.3, "perihelion": 2446470.96},
    {"name": "nearly a parabola, inside", "q": 0.2, "e": 0.99998, "peri": 10.0, "node": 200.0, "incl": 60.0, "perihelion": 2461400.25},
    {"name": "parabola", "q": 0.7, "e": 1.0, "peri": 308.5, "node": 21.6, "incl": 139.1, "perihelion": 2460580.5},
    {"name": "nearly a parabola, outside", "q": 0.391, "e": 1.0001, "peri": 308.5, "node": 21.6, "incl": 139.1, "perihelion": 2460581.2},
    {"name": "hyperbola", "q": 1.357, "e": 6.14, "peri": 128.0, "node": 322.16, "incl": 175.1, "perihelion": 2460977.5},
    {"name": "circle", "q": 1.5, "e": 0.0, "peri": 0.0, "node": 0.0, "incl": 0.0, "perihelion": 2451545.0},
    {"name": "sungrazer", "q": 0.0055, "e": 0.99993, "peri": 69.6, "node": 347.0, "incl": 142.0, "perihelion": 2461500.5},
]
for o in orbits:
    o["seen"] = []
    for i, days in enumerate((-3000, -400, -60, -3, 0.0, 7, 55, 300, 2500)):
        jd = o["perihelion"] + days
        if not 2444239.5 < jd < 2473459.5:
            continue
        lat, lon = ((40.0, -105.0), (-37.81, 144.96), (60.17, 24.94))[i % 3]
        o["seen"].append(seen(o, jd, lat, lon))
print(json.dumps({"source": "mpmath %s, ERFA (pyerfa %s); made by orbits.py" % (mp.__version__, erfa.__version__),
                  "units": "angles in degrees, ecliptic of J2000; perihelion JD TT; tt days TT from J2000; ra, dec apparent topocentric of date; au",
                  "orbits": orbits}).replace("}, {", "},\n{"))
