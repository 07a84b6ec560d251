"""Writes the reference nights and what is expected of them.

    python3 testdata/nights/derive/derive.py

For every night of nights.py it writes NAME.night.json, a night file as the
program imports it, and NAME.expected.json, which the scenario test of
internal/lineup reads. Positions and times behind the expectations were
computed with an engine outside the project (astronomy-engine 2.1.19, npm);
what is marked "common practice" is the judgement of people who run public
nights."""

import datetime
import json
import pathlib
import zoneinfo

from nights import NIGHTS
from unseen import UNSEEN

HERE = pathlib.Path(__file__).resolve().parent.parent


def instant(zone, date, clock):
    """A local time of the night that begins on date; before noon is the next day."""
    h, m = map(int, clock.split(":"))
    day = datetime.date.fromisoformat(date)
    if h < 12:
        day += datetime.timedelta(days=1)
    local = datetime.datetime(day.year, day.month, day.day, h, m, tzinfo=zoneinfo.ZoneInfo(zone))
    return local.astimezone(datetime.timezone.utc)


def stamp(t):
    return t.strftime("%Y-%m-%dT%H:%M:%SZ")


def weather(start, hours):
    """Hours of (temperature, dew point) in degrees C, clear and calm."""
    first = start.replace(minute=0) - datetime.timedelta(hours=3)
    out = []
    for n, (temp, dew) in enumerate(hours):
        out.append({"time": stamp(first + datetime.timedelta(hours=n)), "temp": temp, "dew_point": dew, "cloud": 5, "wind": 1, "gust": 2})
    return {"source": "invented for the test", "hours": out}


def night_file(n):
    site = n["site"]
    start, end = (instant(site["zone"], n["date"], c) for c in n["public"])
    f = {
        "format": "duskboard-night/1",
        "note": n["why"],
        "club": {"name": "Reference club", "minAltitude": n.get("minAltitude", 0), "ladders": n.get("ladders", True)},
        "site": {"ladders": True, **site},
        "night": {
            "name": n["name"].replace("-", " "), "date": n["date"], "publicFrom": stamp(start),
            "publicMinutes": (end - start).total_seconds() / 60, "blockMinutes": n.get("block", 15),
            "guests": n.get("guests", 80), "audience": n.get("audience", "families"), "seeing": n.get("seeing", 2.5),
        },
        "kit": n["kit"],
        "targets": n["targets"],
    }
    if n.get("must"):
        f["mustShow"] = n["must"]
    if n.get("weather"):
        f["weather"] = weather(start, n["weather"])
    for key in ("volunteers", "forbidden", "duties"):
        if n.get(key):
            f[key] = n[key]
    if n.get("showings"):
        f["showings"] = [{**s, "from": stamp(instant(site["zone"], n["date"], s["from"]))} for s in n["showings"]]
    return f


def main():
    for old in HERE.glob("*.night.json"):
        old.unlink()
    for old in HERE.glob("*.expected.json"):
        old.unlink()
    for n in NIGHTS + UNSEEN:
        (HERE / f"{n['name']}.night.json").write_text(json.dumps(night_file(n), indent=1, ensure_ascii=False) + "\n")
        e = {"why": n["why"], "basis": n["basis"], **n["expect"]}
        (HERE / f"{n['name']}.expected.json").write_text(json.dumps(e, indent=1, ensure_ascii=False) + "\n")
    print(len(NIGHTS + UNSEEN), "nights")


main()
