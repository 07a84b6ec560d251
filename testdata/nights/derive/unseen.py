"""Nights with places, dates and kits that the judgement was not tuned on."""

from kit import kit
from nights import AUTUMN, SOUTH, SPRING, SUMMER, WINTER, absent, n, name, shown, site


def outline(*points):
    return [{"azimuth": a, "altitude": h} for a, h in points]


SHORT = {"name": "Small go-to 70", "design": "achromat", "aperture": 70, "focalLength": 400, "focuser": "1.25in", "mount": "alt-az-goto", "tracking": True, "goTo": True}
MID = {"name": "Small go-to 90", "design": "achromat", "aperture": 90, "focalLength": 660, "focuser": "1.25in", "mount": "alt-az-goto", "tracking": True, "goTo": True}
ED = {"name": "Small go-to 80", "design": "apochromat", "aperture": 80, "focalLength": 560, "focuser": "2in", "mount": "alt-az-goto", "tracking": True, "goTo": True}
B1050 = {"name": "Hand 10x50", "design": "binoculars", "aperture": 50, "power": 10, "fixedField": 6.5, "focuser": "fixed", "mount": "alt-az-hand"}
B1570 = {"name": "Stand 15x70", "design": "binoculars", "aperture": 70, "power": 15, "fixedField": 4.4, "focuser": "fixed", "mount": "parallelogram"}
B20100 = {"name": "Stand 20x100", "design": "binoculars", "aperture": 100, "power": 20, "fixedField": 2.8, "focuser": "fixed", "mount": "alt-az-hand"}
TABLE = {"name": "Table 114", "design": "newtonian", "aperture": 114, "focalLength": 450, "focuser": "1.25in", "mount": "rocker-box", "pivotHeight": 0.95}
SCHOOL76 = {"name": "School 76", "design": "newtonian", "aperture": 76, "focalLength": 700, "focuser": "1.25in", "mount": "alt-az-hand"}
SCHOOL60 = {"name": "School 60", "design": "achromat", "aperture": 60, "focalLength": 700, "focuser": "1.25in", "mount": "alt-az-hand"}

QUITO = site("Terrace on the equator", -0.02, -78.45, "America/Guayaquil", 20.8, 2850)
TROMSO = site("Shore at 69.6 north", 69.6, 18.9, "Europe/Oslo", 20.6, 10)
ATACAMA = site("High desert at 23 south", -22.95, -68.2, "America/Santiago", 21.9, 2400)
MUMBAI = site("School roof at 19 north", 19.08, 72.88, "Asia/Kolkata", 17.6, 15)
TOKYO = site("Riverside in a large town", 35.68, 139.76, "Asia/Tokyo", 17.8, 5)
PERTH = site("Beach at 32 south", -31.95, 115.75, "Australia/Perth", 19.8, 3, horizon=outline((45, 15), (90, 12), (135, 10), (180, 0), (270, 0), (359, 3)))
CAPE = site("Reserve at 33 south", -32.4, 20.8, "Africa/Johannesburg", 21.9, 1750)
SEATTLE = site("Town park at 47.6 north", 47.6, -122.3, "America/Los_Angeles", 18.0, 50)
CRETE = site("Hill at 35 north", 35.3, 24.9, "Europe/Athens", 21.2, 600)

ALL = sorted(set(AUTUMN + SOUTH + SPRING + SUMMER + WINTER))
BASIC = ["32:3", "25:3", "15:3", "10:3", "5:2"]

# A single white star is a point in any instrument: a stopgap for a small one.
LONE = {"kinds": ["bright star"], "at": ["Short 80", "Two Eyes", "Stub 127", "Wide 115"], "because": "a large mirror is not brought for one star"}

UNSEEN = [
    n("60-equator", QUITO, "2027-04-24", ("19:00", "21:30"), "Both poles of the sky lie on the horizon: no pole star, but the Carina nebula and Omega Centauri beside Jupiter.",
      "common practice", kit(["sct203", "refr80", "box250", "bino70", "mak127"]), ALL,
      {"notShown": [absent("polaris", because="it stands on the horizon")], "shown": [shown("jupiter", "mak127", "sct203", because="long tubes lead on planets", power=[70, 190]), shown("ngc3372", because="30 degrees high, seen from here only so far north")], "atKindOf": [LONE]}),
    n("61-sixty-nine-north", TROMSO, "2026-11-12", ("18:00", "20:30"), "Polar night begins: dark all evening, the autumn showpieces high, nothing of the southern sky.",
      "common practice", kit(["sct203", "refr150", "box200", B1570]), ALL,
      {"notShown": [absent("m8", "below the horizon", because="24 degrees south cannot rise at 69.6 north")], "shown": [shown("almach", because="a coloured pair, 50 degrees high"), shown("ngc869", because="near the zenith of the north")]}, guests=60),
    n("63-three-binoculars", CRETE, "2027-08-30", ("21:00", "23:00"), "Binoculars alone: wide, bright and easy things; no planetary nebula, no close pair.",
      "common practice", kit([B1050, B1570, B20100], (), (), ()), ALL,
      {"shown": [shown("coathanger", because="the asterism made for binoculars"), {**shown("albireo", because="34 seconds of arc need 15 times"), "at": ["Stand 15x70"]}], "kindsNotShown": ["planetary nebula"], "atLeast": 6}, guests=30),
    n("64-small-go-to-refractors", SEATTLE, "2026-10-17", ("19:30", "22:00"), "Small refractors in a town park: doubles, asterisms, Saturn once it is up; galaxies drown in the lamps.",
      "common practice", kit([SHORT, MID, ED, {**MID, "name": "Small go-to 90 b"}], BASIC, ("barlow:2",), ("diag125:4",)), ALL,
      {"kindsNotShown": ["galaxy", "supernova remnant"], "shown": [shown("saturn", because="rings show from 60 times", power=[60, 180]), shown("albireo", because="the pair for small instruments")]}, guests=100),
    n("66-school-kit", MUMBAI, "2026-12-18", ("18:45", "20:15"), "Three small tubes and binoculars on a roof under town lamps: the Moon first of all, easy pairs, wide clusters in the binoculars.",
      "common practice", kit([TABLE, SCHOOL76, SCHOOL60, B1050], ["25:3", "10:3", "18:1"], ("barlow:1",), ("diag125:2",)), ALL,
      {"kindsNotShown": ["galaxy", "supernova remnant", "nebula"], "shown": [shown("moon", because="children want the Moon"), {**shown("m45", because="110 minutes of arc want a wide field"), "at": ["Hand 10x50"]}]}, guests=60, audience="school"),
    n("68-high-desert-south", ATACAMA, "2027-05-07", ("20:00", "23:00"), "A dark site in southern autumn: what glows goes to the mirrors, no single star is put in a large one.",
      "common practice", kit(["box400", "box200", "sct203", "newt115", "refr80", "bino70"]), ALL,
      {"shown": [shown("ngc3372", because="the richest nebula, 53 degrees high"), shown("ngc5139", because="the finest globular, 60 degrees high"), shown("jupiter", "sct203", because="the long tube leads on planets")], "atKindOf": [LONE]}, seeing=1.4, guests=50, audience="adults"),
    n("70-riverside-in-town", TOKYO, "2027-01-16", ("18:00", "20:30"), "250 guests by a river under lamps: Moon and Saturn, pairs and bright clusters; said to be short.",
      "common practice", kit(["sct203", "mak127", "refr120", "refr70", "box150"]), ALL,
      {"kindsNotShown": ["galaxy", "supernova remnant"], "shown": [shown("moon", because="nothing is better in town"), shown("saturn", because="37 to 42 degrees high early")], "short": True}, guests=250),
    n("73-beach-with-a-full-moon", PERTH, "2027-03-22", ("19:15", "21:15"), "A full Moon rises over the beach: no galaxies; Jupiter in the long tube.",
      "common practice", kit(["box200", "sct203", "refr120", "bino70"], filters=("moon:2",)), ALL,
      {"kindsNotShown": ["galaxy", "supernova remnant"], "shown": [shown("jupiter", "sct203", because="planets do not mind the Moon"), shown("ngc3372", because="bright enough for moonlight")]}, guests=200),
    n("75-reserve-in-winter", CAPE, "2027-07-03", ("19:00", "22:00"), "Southern winter at a dark reserve: the large mirror gets what glows and tight clusters, not Arcturus for two hours.",
      "common practice", kit(["box400", "box250", "refr150", "refr80", "mak180", "bino70"], filters=("nebula2",)), ALL,
      {"shown": [shown("ngc5139", because="the finest globular near the zenith"), shown("ngc3372", because="47 degrees high"), shown("m8", because="the Lagoon is up")], "atKindOf": [LONE], "neverAt": [{"target": "arcturus", "instrument": name("box400")}]}, guests=120),
]
