"""The first two benchmarks of internal/sky for vectorised astropy: 200 fixed
targets x 97 times, and Sun, Moon and 7 planets x 97 times, to altitude and
azimuth. Prints the median of the rounds in milliseconds."""
import sys
import time

import numpy as np
from astropy import units as u
from astropy.coordinates import AltAz, EarthLocation, SkyCoord, get_body
from astropy.time import Time
from astropy.utils import iers

iers.conf.auto_download = False
iers.conf.iers_degraded_accuracy = "ignore"
rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
place = EarthLocation(lat=40 * u.deg, lon=-105 * u.deg, height=1600 * u.m)
times = Time("2027-02-13T19:00:00") + np.arange(97) * 15 * u.min
i = np.arange(200)
stars = SkyCoord((i * 137.50776) % 360 * u.deg, np.degrees(np.arcsin(2 * (i + 0.5) / 200 - 1)) * u.deg)
bodies = ["sun", "moon", "mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune"]


def median(what, work):
    work()
    ms = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        ms.append((time.perf_counter() - start) * 1000)
    print(f"{what}\t{sorted(ms)[rounds // 2]:.2f}")


median("200 fixed targets x 97", lambda: stars[:, None].transform_to(AltAz(obstime=times[None, :], location=place)).alt.deg.sum())
median("Sun, Moon, 7 planets x 97", lambda: [get_body(b, times, place).transform_to(AltAz(obstime=times, location=place)).alt.deg.sum() for b in bodies])
