"""Invented gear that the reference nights share. Only what an owner would know
is written down; the rest rests on the program's defaults, as in a club's own
files. Lengths in mm, heights in m."""

import copy

INSTRUMENTS = {
    # Numbers of the numbered scenarios where they name an instrument.
    "sct203": dict(name="Stout 203", design="schmidt-cassegrain", aperture=203, focalLength=2032, obstruction=0.34,
                   focuser="2in", maxFieldStop=46, mount="alt-az-goto", tracking=True, goTo=True, dewShield=1.5),
    "refr80": dict(name="Short 80", design="apochromat", aperture=80, focalLength=480, focuser="2in", mount="alt-az-hand"),
    "refr70": dict(name="Thin 70", design="achromat", aperture=70, focalLength=900, focuser="1.25in", mount="alt-az-hand"),
    "refr120": dict(name="Long 120", design="achromat", aperture=120, focalLength=1000, focuser="2in", mount="alt-az-hand",
                    maxAltitude=85, pivotHeight=1.40, pivotToEye=0.60, eyeOffset=0.08),
    "refr150": dict(name="Long 150", design="achromat", aperture=150, focalLength=1200, focuser="2in",
                    mount="german-equatorial", tracking=True),
    "mak127": dict(name="Stub 127", design="maksutov-cassegrain", aperture=127, focalLength=1500, focuser="1.25in",
                   mount="alt-az-goto", tracking=True, goTo=True),
    "mak180": dict(name="Stub 180", design="maksutov-cassegrain", aperture=180, focalLength=2700, focuser="2in",
                   mount="german-equatorial", tracking=True, goTo=True),
    "newt115": dict(name="Wide 115", design="newtonian", aperture=115, focalLength=575, focuser="2in", mount="alt-az-hand"),
    "box150": dict(name="Box 150", design="newtonian", aperture=150, focalLength=1200, focuser="1.25in", mount="rocker-box"),
    "box200": dict(name="Box 200", design="newtonian", aperture=200, focalLength=1200, focuser="2in", mount="rocker-box"),
    "fast200": dict(name="Fast 200", design="newtonian", aperture=200, focalLength=800, focuser="2in", mount="alt-az-hand"),
    "box250": dict(name="Box 250", design="newtonian", aperture=250, focalLength=1200, obstruction=0.25, focuser="2in", mount="rocker-box"),
    "box400": dict(name="Box 400", design="newtonian", aperture=400, focalLength=1800, obstruction=0.20, focuser="2in",
                   mount="rocker-box", fan=True),
    # A 500 mm f/5 stands on a low box; its eyepiece is 2.1 m up the tube.
    "box500": dict(name="Box 500", design="newtonian", aperture=500, focalLength=2500, obstruction=0.20, focuser="2in",
                   mount="rocker-box", fan=True, pivotHeight=0.65, pivotToEye=2.1, eyeOffset=0.30),
    "bino70": dict(name="Two Eyes", design="binoculars", aperture=70, power=15, fixedField=4.4, focuser="fixed", mount="parallelogram"),
    # Scenario 19: axis and arm as given there; its short Cassegrain.
    "low203": dict(name="Low 203", design="schmidt-cassegrain", aperture=203, focalLength=2032, obstruction=0.34, focuser="2in",
                   mount="alt-az-goto", tracking=True, goTo=True, pivotHeight=1.15, pivotToEye=0.22, eyeOffset=0.10),
    "low150": dict(name="Low 150", design="newtonian", aperture=150, focalLength=1200, focuser="1.25in", mount="rocker-box",
                   pivotHeight=0.50, pivotToEye=0.90, eyeOffset=0.12),
}

EYEPIECES = {
    "40w": dict(name="40 wide", focalLength=40, apparentField=65, fieldStop=46, barrel="2in", eyeRelief=28, **{"class": "wide"}),
    "40long": dict(name="40 long", focalLength=40, apparentField=65, fieldStop=46, barrel="2in", eyeRelief=28, **{"class": "wide"}),
    "32w": dict(name="32 wide", focalLength=32, apparentField=70, fieldStop=38, barrel="2in", eyeRelief=22, **{"class": "corrected"}),
    "30w": dict(name="30 wide", focalLength=30, apparentField=80, fieldStop=40, barrel="2in", eyeRelief=21, **{"class": "corrected"}),
    "32": dict(name="32 standard", focalLength=32, apparentField=50, fieldStop=27, barrel="1.25in", eyeRelief=22, **{"class": "plossl"}),
    "25": dict(name="25 standard", focalLength=25, apparentField=50, fieldStop=21.2, barrel="1.25in", eyeRelief=17, **{"class": "plossl"}),
    "20w": dict(name="20 wide", focalLength=20, apparentField=68, fieldStop=23, barrel="1.25in", eyeRelief=17, **{"class": "corrected"}),
    "18": dict(name="18 long relief", focalLength=18, apparentField=60, fieldStop=18, barrel="1.25in", eyeRelief=20, **{"class": "corrected"}),
    "15": dict(name="15 standard", focalLength=15, apparentField=52, barrel="1.25in", eyeRelief=13, **{"class": "plossl"}),
    "12": dict(name="12 long relief", focalLength=12, apparentField=60, fieldStop=12.2, barrel="1.25in", eyeRelief=20, **{"class": "corrected"}),
    "10": dict(name="10 standard", focalLength=10, apparentField=50, barrel="1.25in", eyeRelief=7, **{"class": "plossl"}),
    "8": dict(name="8 long relief", focalLength=8, apparentField=60, fieldStop=8.3, barrel="1.25in", eyeRelief=20, **{"class": "corrected"}),
    "5": dict(name="5 standard", focalLength=5, apparentField=52, barrel="1.25in", eyeRelief=10, **{"class": "plossl"}),
    "4": dict(name="4 long relief", focalLength=4, apparentField=60, barrel="1.25in", eyeRelief=20, **{"class": "corrected"}),
}

AMPLIFIERS = {
    "barlow": dict(name="Barlow 2x", kind="barlow", factor=2, barrel="1.25in"),
    "corrector": dict(name="Coma corrector", kind="corrector", factor=1.1, barrel="2in", onlyFor=["newtonian"]),
}

DIAGONALS = {
    "diag2": dict(name="2-inch mirror diagonal", kind="mirror-90", barrel="2in"),
    "diag125": dict(name="1.25-inch mirror diagonal", kind="mirror-90", barrel="1.25in"),
}

FILTERS = {
    "moon": dict(name="Moon filter", kind="neutral", barrel="1.25in", transmission=0.18),
    "nebula2": dict(name="Nebula filter, 2 inch", kind="narrow-band", barrel="2in", transmission=0.92),
    "nebula125": dict(name="Nebula filter, 1.25 inch", kind="narrow-band", barrel="1.25in", transmission=0.92),
}

# The ladder of eyepieces of a well-kept club.
LADDER = ["40w", "32w", "30w", "32:3", "25:3", "20w:2", "18:2", "15:3", "12:3", "10:2", "8:2", "5:2"]


def kit(instruments, eyepieces=LADDER, amplifiers=("barlow:2",), diagonals=("diag2:6", "diag125:6"), filters=(), **more):
    """A night's kit. "32:3" means three of the kind; ids count from 1."""
    next_id = [0]

    def take(table, words):
        out = []
        for w in words:
            if isinstance(w, dict):
                piece, count = copy.deepcopy(w), w.get("count", 1)
            else:
                key, _, n = w.partition(":")
                piece, count = copy.deepcopy(table[key]), int(n or 1)
            next_id[0] += 1
            piece = {"id": next_id[0], **piece, "count": count}
            out.append(piece)
        return out

    k = {
        "instruments": take(INSTRUMENTS, instruments),
        "eyepieces": take(EYEPIECES, eyepieces),
        "amplifiers": take(AMPLIFIERS, amplifiers),
        "diagonals": take(DIAGONALS, diagonals),
        "filters": take(FILTERS, filters),
    }
    for name, pieces in more.items():
        k[name] = take({}, pieces)
    return {name: pieces for name, pieces in k.items() if pieces}
