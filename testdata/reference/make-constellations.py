"""Writes constellations.json: constellations of 600 places spread over the sky.

    /usr/bin/python3 -W ignore make-constellations.py > constellations.json
"""
import json
import sys

import astropy
import numpy as np
from astropy import units as u
from astropy.coordinates import SkyCoord
from astropy.utils import iers

iers.conf.auto_download = False
i = np.arange(600)
ra = np.round((i * 137.50776) % 360, 3)
dec = np.round(np.degrees(np.arcsin(2 * (i + 0.5) / 600 - 1)), 3)
names = SkyCoord(ra * u.deg, dec * u.deg).get_constellation(short_name=True)
json.dump(dict(source=f"astropy {astropy.__version__} (Debian), get_constellation",
               command="/usr/bin/python3 -W ignore make-constellations.py > constellations.json",
               places=[[float(a), float(d), str(n)] for a, d, n in zip(ra, dec, names)]), sys.stdout)
