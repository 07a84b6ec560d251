"""The reference nights. Instruments are named by their key in kit.py; "at" of
an expectation lists the instruments of which one has to show the target."""

from kit import LADDER, kit, INSTRUMENTS


def site(name, lat, lon, zone, brightness=20.5, elevation=0, **more):
    return {"name": name, "latitude": lat, "longitude": lon, "zone": zone, "brightness": brightness, "elevation": elevation, **more}


DEN = site("Field at 40 north", 40.0, -105.0, "America/Denver")
DEN_DARK = site("Dark field at 40 north", 40.0, -105.0, "America/Denver", 21.7)
DEN_TOWN = site("Park in a town at 40 north", 40.0, -105.0, "America/Denver", 18.3)
MAD = site("Field near 40.4 north", 40.42, -3.70, "Europe/Madrid")
HEL = site("Field at 60 north", 60.17, 24.94, "Europe/Helsinki")
LON = site("Meadow at 51.5 north", 51.5, -0.12, "Europe/London", 19.5)
MEL = site("Field at 38 south", -37.81, 144.96, "Australia/Melbourne", 21.0)

WINTER = ["moon", "jupiter", "saturn", "mars", "uranus", "m42", "m45", "m31", "m35", "m37", "m36", "m38", "m44", "m1", "m81", "m82", "m33", "ngc869",
          "ngc457", "ngc2392", "almach", "castor", "polaris", "beta-mon", "winter-albireo", "trapezium", "sigma-orionis", "mel25", "mel20", "iota-cancri", "m41", "m47"]
SPRING = ["moon", "jupiter", "saturn", "mars", "m42", "m35", "m37", "m44", "m67", "m3", "m13", "m51", "m81", "m82", "m65", "m66", "m101", "m104", "m87", "ngc2392",
          "ngc4565", "mizar", "castor", "algieba", "cor-caroli", "polaris", "iota-cancri", "24-com", "mel111", "la-superba", "m53", "m64"]
SUMMER = ["moon", "venus", "mars", "jupiter", "saturn", "m13", "m92", "m57", "m27", "m11", "m8", "m17", "m22", "m31", "m51", "m81", "m82", "m5", "m3", "albireo",
          "mizar", "double-double", "polaris", "cor-caroli", "61-cygni", "rasalgethi", "ngc6543", "ngc6826", "ngc6992", "coathanger", "ngc869", "vega", "arcturus", "garnet-star"]
AUTUMN = ["moon", "venus", "saturn", "jupiter", "uranus", "neptune", "m31", "m33", "m13", "m15", "m57", "m27", "m11", "m45", "m34", "m52", "ngc869", "ngc457", "ngc7789", "ngc7662", "ngc6826",
          "ngc6992", "ngc253", "albireo", "almach", "achird", "61-cygni", "delta-cephei", "polaris", "mesarthim", "coathanger", "gamma-delphini", "vega", "m81", "m82"]
SOUTH = ["moon", "jupiter", "saturn", "mars", "venus", "m42", "ngc3372", "ngc104", "ngc5139", "sirius", "m31", "polaris", "m81", "ngc4755", "ngc2070", "lmc", "smc", "alpha-centauri", "acrux",
         "ngc3532", "ic2602", "ngc2516", "m45", "m41", "m47", "m8", "m22", "m7", "m6", "ngc6231", "ngc6397", "ngc5128", "gamma-velorum", "ngc3293", "m83", "m104"]
CLUB = ["sct203", "refr80", "refr150", "mak127", "box150", "box250", "bino70"]
BIG_CLUB = CLUB + ["box400", "box200", "newt115"]


def n(name, where, date, public, why, basis, gear, targets, expect, **more):
    return dict(name=name, site=where, date=date, public=public, why=why, basis=basis, kit=gear, targets=targets, expect=expect, **more)


def name(key):
    return INSTRUMENTS[key]["name"]


def at(*keys):
    return [name(k) for k in keys]


def shown(target, *keys, because, **more):
    return {"target": target, **({"at": at(*keys)} if keys else {}), "because": because, **more}


def refused(target, key, by, *words, because, **more):
    return {"target": target, "instrument": name(key), "by": by, "words": list(words), "because": because, **more}


def absent(target, *words, because):
    return {"target": target, "words": list(words), "because": because}


def leads(target, first, second, because):
    return {"target": target, "first": name(first), "second": name(second), "because": because}


FIELD, POWER, VISIBLE, PLACE = "Room in the field", "Magnification", "Easy to see", "Place in the sky"
MOUNT, HEIGHT, STATE, SAFETY = "Staying in the field", "Height of the eyepiece", "State of the optics", "Safety"
NUMBERED = "numbered scenario {}; positions by astronomy-engine 2.1.19"

NIGHTS = [
    # --- the numbered scenarios ---
    n("01-pleiades-and-the-long-cassegrain", DEN, "2027-02-13", ("19:30", "21:00"),
      "A wide cluster and a wide galaxy do not go into a long Cassegrain, whatever its eyepiece; the short refractor takes them.",
      NUMBERED.format(1), kit(["sct203", "refr80"], ["32", "32w", "40long", "12", "8"]), ["m45", "m31", "moon", "m42", "castor", "m37"],
      {"shown": [shown("m45", "refr80", because="193' of field hold 110', 45.7' and 77.8' do not", power=[11, 20])],
       "vetoed": [refused("m45", "sct203", FIELD, "1.8°", "78′", because="scenario: fields of 45.7' and 77.8' against 110'"),
                  refused("m31", "sct203", FIELD, "does not fit", because="190' do not fit either")],
       "views": [{"instrument": name("sct203"), "eyepiece": "32 standard", "fieldMinutes": [45.2, 46.2], "power": [63, 64]},
                 {"instrument": name("sct203"), "eyepiece": "40 long", "fieldMinutes": [77.3, 78.3], "power": [50, 51.5]}]}, must=["m45"]),
    n("03-undriven-box-and-high-power", DEN, "2027-02-13", ("19:30", "21:30"),
      "A rocker box at 240x loses Jupiter within half a minute; the same box at 100x keeps it, the driven tube is better still.",
      NUMBERED.format(3), kit(["box250", "sct203"], ["5", "12:2", "25:2", "32w"], ()), ["jupiter", "m42", "m45", "m37"],
      {"shown": [shown("jupiter", "sct203", because="it follows the sky", power=[150, 200])],
       "trains": [{"target": "jupiter", "instrument": name("box250"), "eyepiece": "5 standard", "veto": MOUNT, "because": "13' of field: 54 s from edge to edge, 27 s usable"},
                  {"target": "jupiter", "instrument": name("box250"), "eyepiece": "12 long relief", "least": 0.2, "because": "36' at 100x: 150 s, acceptable"}],
       "better": [leads("jupiter", "sct203", "box250", "driven 169x before hand-pushed 100x")]}, seeing=1.5),
    n("05a-saturn-gone-before-dark", DEN, "2027-03-13", ("19:00", "21:00"),
      "Saturn stands at 8 degrees when the gate opens and sets at 19:46: never planned, with the reason.",
      NUMBERED.format(5), kit(CLUB), ["saturn"] + SPRING[:2] + SPRING[4:],
      {"notShown": [absent("saturn", "stands at", "wants", because="8 degrees at 19:00, sets 19:46")]}),
    n("05b-saturn-first-slots-only", DEN, "2027-02-13", ("18:00", "20:30"),
      "Saturn is 36 degrees high at the gate's opening and under 20 at 19:33: it is shown first, while it can be.",
      NUMBERED.format(5), kit(CLUB), WINTER,
      {"shown": [shown("saturn", because="the ringed planet before it sinks", before="19:35")]}, must=["saturn"]),
    n("07-setting-up-with-the-sun-up", DEN, "2027-02-13", ("17:15", "18:30"),
      "The Sun sets at 17:33. Nothing near it is touched before; Mercury is no public target after it either. Moon and Saturn are allowed.",
      NUMBERED.format(7), kit(CLUB), ["mercury", "saturn", "moon", "sun", "venus"],
      {"vetoed": [refused("mercury", "sct203", SAFETY, "from the Sun", because="9.8 degrees from the Sun while it is up", at="17:15"),
                  refused("sun", "refr150", SAFETY, "filter", because="no filter over the front is recorded")],
       "notShown": [absent("mercury", because="9 degrees high after sunset"), absent("sun", because="no certified filter")],
       "shown": [shown("moon", because="86 degrees from the Sun"), shown("saturn", because="46 degrees from the Sun, 36 high")]}),
    n("09-spring-clock-change", LON, "2027-03-27", ("22:00", "03:00"),
      "22:00 to 03:00 by the clock are four hours: 01:15 does not exist. The Moon rises at 02:15 and stays too low.",
      NUMBERED.format(9), kit(CLUB), SPRING,
      {"blocks": 16, "noClock": ["01:00", "01:15", "01:30", "01:45"], "notShown": [absent("moon", because="rises 02:15 BST")],
       "shown": [shown("jupiter", because="high in Leo"), shown("m13", because="rising in the east")]}),
    n("11-no-moonset-on-the-date", DEN, "2027-03-13", ("19:00", "01:00"),
      "The Moon sets at 00:20 on the 14th: it is shown before 22:14, when it is 20 degrees high.",
      NUMBERED.format(11), kit(CLUB), SPRING,
      {"blocks": 24, "shown": [shown("moon", because="33 per cent lit, high at dusk", before="22:45"), shown("jupiter", because="the best planet of the night")]}, must=["moon"]),
    n("13-southern-site", MEL, "2027-02-13", ("21:30", "23:00"),
      "The southern sky has its own showpieces, and no Andromeda, pole star or Bode's galaxy. Orion stands in the north.",
      NUMBERED.format(13), kit(CLUB), SOUTH,
      {"notShown": [absent("m31", "below the horizon", because="-10 degrees"), absent("polaris", "below the horizon", because="-37 degrees"),
                    absent("m81", "below the horizon", because="-28 degrees"), absent("ngc5139", because="14 degrees at 21:30: only late")],
       "shown": [shown("m42", because="57 degrees high"), shown("ngc3372", because="39 to 50 degrees, the richest of all"), shown("ngc104", because="39 to 32 degrees, the showpiece globular")]}),
    n("15-one-wide-eyepiece-two-instruments", DEN, "2027-02-13", ("20:00", "21:00"),
      "The only wide 2-inch eyepiece is best in both: one gets it, the other the next best, never both at once.",
      NUMBERED.format(15), kit(["newt115", "refr80"], ["32w", "25:2", "12:2"], ()), ["m45", "m31", "mel20", "ngc869", "m44", "m35", "mel25"],
      {"shown": [shown("m45", "newt115", "refr80", because="the showpiece of the wide instruments")]}),
    n("17-refractor-near-the-zenith", DEN, "2027-02-13", ("19:45", "20:45"),
      "A long refractor's eyepiece is lowest when it looks highest: 85 cm for M 35 at 73 degrees, a seat is wanted.",
      NUMBERED.format(17), kit(["refr120"], ["32w", "25", "12"]), ["m35", "moon", "m42"],
      {"heights": [{"target": "m35", "instrument": name("refr120"), "at": "20:00", "m": [0.83, 0.87], "words": "adults kneel or sit"}]}),
    n("19-a-guest-in-a-wheelchair", DEN, "2027-02-13", ("19:30", "21:30"),
      "In every block somebody who sits sees something: the short Cassegrain is at 98 to 107 cm, the large box never.",
      NUMBERED.format(19), kit(["low203", "low150", "box400"]), WINTER,
      {"seated": True, "heights": [{"target": "m45", "instrument": name("box400"), "at": "19:30", "m": [1.5, 2.6]}]}),
    n("21-limits-of-the-exit-pupil", DEN, "2027-02-13", ("19:30", "21:30"),
      "A 40 mm eyepiece wastes a 200 mm f/4 (10 mm exit pupil), a 4 mm eyepiece is beyond a 70 mm, 8.3 mm in the 250 mm is warned of.",
      NUMBERED.format(21), kit(["fast200", "refr70", "box250"], ["40w", "4", "25:3", "12:2"], ()), ["m42", "m45", "m31", "jupiter", "m37", "ngc869"],
      {"trains": [{"target": "m45", "instrument": name("fast200"), "eyepiece": "40 wide", "veto": POWER, "because": "10 mm: light wasted"},
                  {"target": "m42", "instrument": name("refr70"), "eyepiece": "4 long relief", "veto": POWER, "because": "225x is above 140x"},
                  {"target": "m45", "instrument": name("box250"), "eyepiece": "40 wide", "least": 0.02, "says": "exit pupil", "because": "8.3 mm: warned of, not refused"}]}),
    n("23a-four-instruments", DEN, "2027-02-13", ("19:00", "21:30"),
      "Four instruments, 150 minutes, 180 guests: about four looks each.",
      NUMBERED.format(23), kit(["sct203", "refr150", "mak127", "box250"]), WINTER,
      {"perGuest": [2.6, 4.6]}, guests=180, audience="adults"),
    n("23b-two-instruments-for-three-hundred", DEN, "2027-02-13", ("19:00", "21:00"),
      "Two instruments for 300 guests: about one look each, and the last in line waits nearly two hours: said, with what would help.",
      NUMBERED.format(23), kit(["sct203", "mak127"]), WINTER,
      {"perGuest": [0.6, 1.1], "short": True, "says": ["one look"]}, guests=300, audience="adults"),
    n("25-a-damp-evening", DEN, "2027-02-13", ("19:00", "22:30"),
      "Dew point 6.0 all evening, air falling from 12 to 7.5: correctors and lenses first, the open mirror last.",
      NUMBERED.format(25), kit(["mak127", "refr120", "box250"]), WINTER,
      {"dewFirst": [name("mak127"), name("refr120")], "dewLast": name("box250")},
      weather=[(12, 6), (12, 6), (12, 6), (12, 6), (10.5, 6), (9, 6), (8, 6), (7.3, 6), (7, 6)]),
    n("27-power-at-the-freezing-point", DEN, "2027-02-13", ("19:00", "22:30"),
      "A 7 Ah lead battery does not carry drive and heater through a night at 0 degrees; 17 Ah do, barely.",
      NUMBERED.format(27), kit([{**INSTRUMENTS["sct203"], "mountPower": 7.2, "heater": 12},
                               {**INSTRUMENTS["mak127"], "mountPower": 7.2, "heater": 12}],
                              batteries=[{"name": "7 Ah", "kind": "lead-acid", "capacity": 7, "voltage": 12, "for": 1},
                                         {"name": "17 Ah", "kind": "lead-acid", "capacity": 17, "voltage": 12, "for": 2}]), WINTER,
      {"power": {"short": name("sct203")}}, weather=[(0, -1.5)] * 8),
    n("29-a-wall-of-trees", dict(MAD, horizon=[{"azimuth": 0, "altitude": 0}, {"azimuth": 204.9, "altitude": 0}, {"azimuth": 205, "altitude": 25},
                                             {"azimuth": 290, "altitude": 25}, {"azimuth": 290.1, "altitude": 0}]), "2027-10-09", ("21:00", "00:30"),
      "Trees 25 degrees high from azimuth 205 to 290: the Moon goes behind them after midnight, Venus always, M 13 stays over them till late.",
      NUMBERED.format(29), kit(CLUB), AUTUMN,
      {"notShown": [absent("venus", because="4 degrees at 20:00")], "shown": [shown("moon", because="before it sinks behind the trees", before="00:15")],
       "cells": [{"target": "moon", "at": "23:45", "possible": True, "because": "25.8 degrees at 00:00, azimuth 212"},
                 {"target": "moon", "at": "00:15", "possible": False, "words": "outline", "because": "24.3 degrees at 00:15"},
                 {"target": "m13", "at": "22:00", "possible": True, "because": "41 degrees over 25"}]}, must=["moon"]),

    # --- the nights of the issue on line-ups ---
    n("30-summer-without-darkness", HEL, "2027-06-18", ("23:00", "01:30"),
      "At 60 north in June it never gets dark: bright doubles, the Moon, planets, bright stars; no galaxy, no nebula.",
      "common practice", kit(CLUB), SUMMER,
      {"kindsNotShown": ["galaxy", "nebula", "supernova remnant"], "atLeast": 5, "shown": [shown("mizar", because="bright and easy in twilight"), shown("albireo", because="bright and easy in twilight")]}),
    n("31-full-moon", DEN, "2027-01-22", ("20:00", "22:00"),
      "A full Moon drowns what is faint: Moon, doubles and bright clusters, no galaxies but the brightest cores.",
      "common practice", kit(BIG_CLUB), WINTER + ["m65", "m66", "m51", "ngc2403", "m74", "m33"],
      {"shown": [shown("moon", because="people came for it")], "notShown": [absent("m33", because="a pale disc under a full Moon"), absent("m74", because="a pale disc under a full Moon"), absent("ngc2403", because="pale")],
       "firstKinds": ["moon", "planet", "double star", "open cluster", "nebula", "carbon star", "variable star", "bright star"]}),
    n("32-new-moon-at-a-dark-site", DEN_DARK, "2027-03-06", ("20:30", "23:00"),
      "A dark night at a dark site: the large mirrors show galaxies and nebulae, the long tubes planets and doubles, the wide ones clusters.",
      "common practice", kit(BIG_CLUB + ["mak180"], filters=("nebula2", "nebula125")), SPRING + ["m1", "ngc2903", "m97"],
      {"atKindOf": [{"kinds": ["galaxy"], "at": at("box400", "box250", "box200"), "because": "light decides"}],
       "better": [leads("m51", "box400", "refr80", "sixteen square centimetres for one"), leads("m51", "box250", "mak127", "light decides"),
                  leads("jupiter", "sct203", "newt115", "small discs want power and a drive"), leads("m82", "box400", "sct203", "light decides")],
       "anyKindShown": ["galaxy"]}),
    n("33-southern-winter", MEL, "2027-07-03", ("18:30", "21:00"),
      "New Moon and the centre of the Milky Way rising: Omega Centauri, Alpha Centauri, the Jewel Box, Scorpius.",
      "common practice", kit(CLUB), SOUTH,
      {"shown": [shown("ngc5139", because="75 degrees high, the best globular"), shown("alpha-centauri", because="the showpiece double"), shown("ngc4755", because="a favourite")],
       "notShown": [absent("m42", because="in the daylight sky"), absent("moon", because="below the horizon")]}),
    n("34-two-instruments-one-wide-eyepiece", DEN_DARK, "2027-01-08", ("19:30", "21:30"),
      "Two fast mirrors share the one wide eyepiece through an evening; no block needs it twice.",
      "common practice", kit(["box200", "box250"], ["30w", "25:2", "18:2", "12:2", "8:2"]), WINTER[5:],
      {"atLeast": 5}),
    n("35-rocker-boxes-and-a-tight-pair", DEN, "2027-03-06", ("20:00", "22:00"),
      "Only hand-pushed boxes: a close pair that wants high power is refused for its drift or left for an easy one, nobody nudges for every guest.",
      "common practice", kit(["box150", "box200", "box250"]), ["castor", "iota-cancri", "algieba", "jupiter", "m44", "m42", "m35", "m37", "moon", "zeta-cancri", "sigma-orionis", "mizar"],
      {"noDriftUnder": 1, "shown": [shown("jupiter", because="the brightest of the night")]}),
    n("36-one-instrument", DEN, "2027-02-13", ("19:00", "21:00"),
      "One instrument for twenty guests: four to six targets, one after the other, best first by what sets.",
      "common practice", kit(["box200"]), WINTER,
      {"showings": [3, 6], "shown": [shown("moon", because="first quarter and high")]}, guests=20),
    n("37-thirty-instruments", DEN, "2027-02-13", ("19:00", "22:00"),
      "Thirty instruments and five hundred guests: everybody has something, nothing doubled beyond what is allowed, found quickly.",
      "common practice", kit([i for i in ["sct203", "refr80", "refr150", "mak127", "box150", "box250", "bino70", "box400", "box200", "newt115"]] * 3,
                             ["40w:3", "32w:4", "30w:4", "32:9", "25:9", "20w:6", "18:6", "15:9", "12:9", "10:6", "8:6", "5:4"], ("barlow:6",), ("diag2:14", "diag125:14")),
      WINTER + ["m50", "m46", "m48", "m67", "ngc2264", "ngc2244", "eta-cas", "achird", "m78", "r-lep", "m79", "m103", "m34", "m52", "m76", "ngc1502", "kembles-cascade", "betelgeuse", "orions-belt", "32-eridani", "algol"],
      {"atLeast": 40, "busy": 0.9}, guests=500),
    n("38-nothing-up", dict(DEN, horizon=[{"azimuth": 0, "altitude": 60}, {"azimuth": 180, "altitude": 60}]), "2027-02-13", ("19:30", "21:00"),
      "A courtyard with walls of 60 degrees and only southern targets: nothing can be shown, and the page says why for each.",
      "common practice", kit(["sct203", "box250"]), ["m8", "m22", "m7", "ngc5139", "saturn"],
      {"nothing": True, "notShown": [absent("m8", because="not up"), absent("saturn", because="behind the wall or set")]}),
    n("39-autumn-clock-change", MAD, "2027-10-30", ("23:00", "02:30"),
      "The hour from 02:00 to 03:00 comes twice: 23:00 to the first 02:30 are three and a half hours.",
      "common practice", kit(CLUB), AUTUMN + ["m42", "m35", "m37"], {"blocks": 14, "atLeast": 12}),
    n("40-venus-low-in-winter", LON, "2028-01-20", ("16:30", "19:30"),
      "Guests from 16:30, Venus 25 degrees high and sinking: Venus in the first half hours, and nothing faint before it is dark.",
      "common practice; Venus 23.9 degrees at 16:45, sets 20:01 (astronomy-engine 2.1.19)", kit(CLUB), ["venus", "jupiter", "saturn"] + WINTER[5:],
      {"shown": [shown("venus", because="first, while it is high", before="18:05", first=True)],
       "cells": [{"target": "m31", "at": "16:30", "possible": False, "because": "the Sun is just down"}, {"target": "m1", "at": "17:00", "possible": False, "because": "bright twilight"}]}, must=["venus"]),
    n("41-the-moon-sets-before-the-public-comes", DEN, "2027-02-08", ("20:30", "22:00"),
      "A young Moon is gone when the gate opens: not planned, although it was asked for, and the page says so.",
      "common practice", kit(CLUB), WINTER,
      {"notShown": [absent("moon", "below the horizon", because="sets before 20:00")], "leftOut": ["moon"]}, must=["moon"]),
    n("42-two-hours-to-cool", DEN, "2027-01-08", ("18:00", "21:00"),
      "From 22 degrees into frost: the closed Maksutov is too warm for high power at first; planets there come late or in another tube.",
      "common practice", kit(["mak180", "refr80", "box200"]), WINTER,
      {"says": [], "cool": {"instrument": name("mak180"), "warmAtStart": 2}}, weather=[(-2, -8), (-3, -8), (-4, -9), (-5, -9), (-6, -10), (-6.5, -10), (-7, -11), (-7, -11)]),
    n("43-everything-on-jupiter-refused", dict(DEN, horizon=[{"azimuth": 0, "altitude": 2}, {"azimuth": 40, "altitude": 75}, {"azimuth": 200, "altitude": 75}, {"azimuth": 240, "altitude": 2}]),
      "2027-02-13", ("19:00", "21:00"),
      "A house hides the whole east and south: Jupiter is refused everywhere with the height of the house.",
      "common practice", kit(["sct203", "mak127"]), ["jupiter", "m45", "m31", "ngc869", "almach", "polaris", "mel20"],
      {"notShown": [absent("jupiter", "outline", because="behind the house")], "leftOut": ["jupiter"]}, must=["jupiter"]),
    n("44-no-instruments", DEN, "2027-02-13", ("19:00", "21:00"), "An empty inventory gives an empty line-up that says so.",
      "common practice", {}, WINTER, {"nothing": True, "notShown": [absent("m42", "no instruments", because="there are none")]}),
    n("45-no-guests", DEN, "2027-02-13", ("19:00", "21:00"), "A rehearsal without guests is planned all the same.",
      "common practice", kit(CLUB), WINTER, {"atLeast": 10}, guests=0),
    n("46-fifteen-minutes", DEN, "2027-02-13", ("19:30", "19:45"), "A quarter of an hour: one target at each instrument.",
      "common practice", kit(CLUB), WINTER, {"showings": [6, 7], "blocks": 1}),
    n("47-half-hour-clock-change", site("Island at 31.5 south", -31.55, 159.08, "Australia/Lord_Howe", 21.5), "2027-04-03", ("23:00", "03:00"),
      "The clock goes back by half an hour at 02:00: 23:00 to 03:00 are four and a half hours.",
      "zone data; common practice", kit(CLUB), SOUTH, {"blocks": 18, "atLeast": 12, "shown": [shown("ngc5139", because="high at midnight in April")]}),
    n("48-polar-night", site("Field at 70 north", 69.65, 18.96, "Europe/Oslo", 20.5), "2027-01-10", ("16:00", "18:00"),
      "No sunrise and no sunset: deep twilight in the afternoon, and stars all the same.",
      "common practice", kit(CLUB), WINTER, {"atLeast": 8, "shown": [shown("ngc869", because="near the zenith"), shown("m45", because="high in the south-east")]}),
    n("49-quarter-hour-zone", site("Roof at 27.7 north", 27.72, 85.32, "Asia/Kathmandu", 18.5, 1400), "2027-02-13", ("19:00", "21:00"),
      "A zone of +5:45 and a bright town: Moon, planets, doubles and bright clusters, no galaxies.",
      "common practice", kit(CLUB), WINTER, {"blocks": 8, "kindsNotShown": ["galaxy", "supernova remnant"], "shown": [shown("moon", because="first quarter")]}),
    n("50-a-town-park", DEN_TOWN, "2027-02-13", ("19:00", "21:00"),
      "Lamps all around: Moon, Jupiter, Saturn, doubles, bright clusters and the Orion nebula's heart; galaxies and faint nebulae are refused.",
      "common practice (lights: no galaxies, no large faint nebulae)", kit(BIG_CLUB), WINTER,
      {"kindsNotShown": ["galaxy", "supernova remnant"], "shown": [shown("moon", because="in town the Moon is best"), shown("jupiter", because="planets do not mind lamps")], "anyKindShown": ["double star"]}),
    n("51-long-tubes-for-planets", DEN, "2027-02-20", ("20:00", "22:00"),
      "Full Moon and Jupiter at opposition: long refractors and Maksutovs lead on planets and doubles.",
      "common practice", kit(["refr150", "mak180", "newt115", "refr80", "bino70", "fast200"]), WINTER,
      {"better": [leads("jupiter", "refr150", "refr80", "twice the aperture, driven"), leads("jupiter", "mak180", "fast200", "long, driven, clean"), leads("castor", "refr150", "newt115", "long focus, driven"),
                  leads("castor", "mak180", "fast200", "long focus, driven"), leads("m45", "refr80", "mak180", "field"), leads("m44", "bino70", "mak180", "field")],
       "shown": [shown("jupiter", "refr150", "mak180", because="long tubes lead on planets")]}),
    n("52-a-school-class-in-twilight", DEN, "2027-02-13", ("18:00", "19:30"),
      "Small children: Moon and planets first, in twilight if need be; nothing faint, nothing close.",
      "common practice", kit(CLUB), WINTER,
      {"shown": [shown("moon", because="first for children", before="19:00"), shown("saturn", because="rings before it sinks", before="19:30")], "kindsNotShown": ["galaxy"]}, audience="school", guests=60),
    n("53-no-ladders", DEN, "2027-02-13", ("19:00", "21:00"),
      "The club forbids ladders: the large box is used only where its eyepiece is in reach.",
      "common practice", kit(["box500", "sct203"]), WINTER,
      {"noLadder": True, "vetoed": [refused("m35", "box500", HEIGHT, "ladder", because="an eyepiece over 2.4 m high at 73 degrees", at="20:00")]}, ladders=False),
    n("54-bold-binoculars-only", DEN_DARK, "2027-01-08", ("19:30", "21:00"),
      "A pair of binoculars: wide clusters and the Andromeda galaxy, no planet's disc, no close pair.",
      "common practice", kit(["bino70"], [], (), ()), WINTER,
      {"shown": [shown("m45", because="made for it")], "notShown": [absent("castor", because="5 arcseconds want more power"), absent("ngc2392", because="too small")]}),
    n("55-a-must-that-cannot-be", DEN, "2027-02-13", ("19:00", "21:00"),
      "M 13 in February at eight in the evening is below the horizon; a pin on it is left out, the rest is planned.",
      "common practice", kit(CLUB), WINTER + ["m13"],
      {"leftOut": ["m13"], "atLeast": 10}, must=["m13"],
      showings=[{"instrument": 1, "target": "m13", "eyepiece": 10, "from": "19:30", "minutes": 30, "pinned": True}]),
    n("56-pins-and-forbidden-pairs", DEN, "2027-02-13", ("19:00", "21:00"),
      "A pinned showing stays where it is; a target that the coordinator does not want at an instrument is not there.",
      "common practice", kit(CLUB), WINTER,
      {"pinned": [{"instrument": name("refr80"), "target": "moon", "from": "19:30", "minutes": 30}], "neverAt": [{"target": "m42", "instrument": name("box250")}], "atLeast": 12},
      forbidden=[{"instrument": 6, "target": "m42"}], showings=[{"instrument": 2, "target": "moon", "eyepiece": 15, "diagonal": 23, "from": "19:30", "minutes": 30, "pinned": True}]),
    n("57-an-operator-who-leaves-early", DEN, "2027-02-13", ("19:00", "21:30"),
      "Nobody runs the equatorial after 20:30: it is parked, with the reason, and not assigned in silence.",
      "common practice", kit(["sct203", "refr150", "box250"]), WINTER,
      {"parked": [{"instrument": name("refr150"), "from": "20:30", "words": "no operator"}]},
      volunteers=[{"id": 1, "name": "A", "roles": ["operator"], "skills": [{"instrument": 1, "level": "alone"}], "answer": "yes"},
                  {"id": 2, "name": "B", "roles": ["operator"], "skills": [{"mount": "german-equatorial", "level": "alone"}], "answer": "yes", "to": "2027-02-14T03:30:00Z"},
                  {"id": 3, "name": "C", "roles": ["operator"], "skills": [{"instrument": 3, "level": "can-teach"}], "answer": "yes"}]),
    n("58-go-to-before-the-stars", LON, "2027-04-17", ("20:00", "22:30"),
      "The gate opens at sunset: a go-to mount is not aligned before its stars are out; Moon and Jupiter need no alignment.",
      "common practice", kit(["sct203", "box200"]), ["moon", "jupiter", "castor", "m44", "algieba", "mizar", "m3", "m13", "cor-caroli"],
      {"shown": [shown("moon", because="in twilight")],
       "cells": [{"target": "castor", "instrument": name("sct203"), "at": "20:15", "possible": False, "words": "aligned", "because": "no stars to align on"}]}),
    n("59-few-eyepieces", DEN, "2027-02-13", ("19:00", "21:00"),
      "Three instruments and two eyepieces: one is parked at any time, and says so.",
      "common practice", kit(["sct203", "box200", "refr80"], ["25", "12"], ()), WINTER, {"busyAtMost": 0.67, "parkedAny": True}),
]
