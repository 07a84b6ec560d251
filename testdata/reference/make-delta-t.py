"""Writes delta-t.json: TT-UT1 on 1 January, measured.

    /usr/bin/python3 -W ignore make-delta-t.py > delta-t.json
"""
import json
import sys

import astropy
from astropy.time import Time
from astropy.utils import iers

iers.conf.auto_download = False
series = iers.IERS_B.open()
values = []
for year in range(1980, 2023):
    t = Time(f"{year}-01-01")
    ut1_utc = float(series.ut1_utc(t.jd1, t.jd2).value)
    values.append([year, round(float((t.tt.mjd - t.utc.mjd) * 86400) - ut1_utc, 3)])
json.dump(dict(source=f"Earth rotation series IERS EOP C04 in astropy {astropy.__version__} (Debian)",
               command="/usr/bin/python3 -W ignore make-delta-t.py > delta-t.json", values=values), sys.stdout)
