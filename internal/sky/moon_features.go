package sky

// FeatureKind is what a lunar feature is, as a guest is told.
type FeatureKind string

// LunarFeature is a named place on the Moon.
type LunarFeature struct {
	Name     string
	Kind     FeatureKind // crater, sea, bay, mountains, mountain, valley, rille, scarp, swirl
	Lat, Lon float64     // degrees of the middle, north and east positive (east: towards the Sea of Crises)
	Size     float64     // diameter or length, km
	Words    string      // one clause for a guest
	Source   string      // "gazetteer" or "memory"
}

// LunarFeatures returns the table of notable features, a fresh copy.
//
// Places and sizes: IAU Gazetteer of Planetary Nomenclature (US Geological
// Survey, "gazetteer", its table of 2015, sizes rounded); rows marked "memory"
// were written down from memory of it and rounded to 0.1 degrees. The words are
// our own.
func LunarFeatures() []LunarFeature {
	return append([]LunarFeature(nil), lunarFeatures[:]...)
}

var lunarFeatures = [...]LunarFeature{
	{"Albategnius", "crater", -11.24, 4.01, 131, "a broad old plain with a younger crater on its floor", "gazetteer"},
	{"Alphonsus", "crater", -13.39, -2.85, 111, "a central peak and three dark spots where gas and ash came out", "gazetteer"},
	{"Archimedes", "crater", 29.72, -3.99, 81, "a crater flooded with lava, smooth as a pond", "gazetteer"},
	{"Aristarchus", "crater", 23.73, -47.49, 40, "the brightest spot on the Moon", "gazetteer"},
	{"Aristillus", "crater", 33.88, 1.21, 54, "three peaks in the middle and rays around", "gazetteer"},
	{"Aristoteles", "crater", 50.24, 17.32, 88, "terraced walls on the shore of the Sea of Cold", "gazetteer"},
	{"Arzachel", "crater", -18.26, -1.93, 97, "the sharpest of a chain of three, with peak and rille", "gazetteer"},
	{"Atlas", "crater", 46.74, 44.38, 88, "a cracked floor with two dark patches", "gazetteer"},
	{"Autolycus", "crater", 30.68, 1.49, 39, "the small neighbour of Aristillus", "gazetteer"},
	{"Clavius", "crater", -58.62, -14.73, 231, "one of the largest: a curved row of ever smaller craters crosses it", "gazetteer"},
	{"Cleomedes", "crater", 27.60, 55.50, 131, "north of the Sea of Crises, with a rille on its floor", "gazetteer"},
	{"Copernicus", "crater", 9.62, -20.08, 96, "terraces, peaks and rays: the model of a young crater", "gazetteer"},
	{"Cyrillus", "crater", -13.29, 24.07, 98, "the middle one of three ages side by side", "gazetteer"},
	{"Fra Mauro", "crater", -6.06, -16.97, 97, "a worn ring beside the landing place of 1971", "gazetteer"},
	{"Fracastorius", "crater", -21.36, 33.07, 121, "a drowned bay: its northern wall sank under lava", "gazetteer"},
	{"Gassendi", "crater", -17.55, -39.96, 111, "a floor full of cracks on the shore of the Sea of Moisture", "gazetteer"},
	{"Grimaldi", "crater", -5.38, -68.36, 173, "a dark oval near the western limb", "gazetteer"},
	{"Manilius", "crater", 14.45, 9.07, 38, "a bright ring by the Sea of Vapours", "gazetteer"},
	{"Maginus", "crater", -50.03, -5.98, 156, "old and battered; gone from sight at full Moon", "gazetteer"},
	{"Marius", "crater", 11.90, -50.84, 40, "beside a field of small volcanic hills", "gazetteer"},
	{"Maurolycus", "crater", -41.77, 13.92, 115, "deep, on top of older rings in the crowded south", "gazetteer"},
	{"Mersenius", "crater", -21.49, -49.34, 84, "its floor bulges upwards", "gazetteer"},
	{"Messier", "crater", -1.90, 47.65, 14, "an oval made by a grazing blow, with a double ray like a comet's tail", "gazetteer"},
	{"Moretus", "crater", -70.63, -5.95, 114, "a high peak, foreshortened near the south pole", "gazetteer"},
	{"Petavius", "crater", -25.39, 60.78, 184, "a rille like the hand of a clock from its peaks to the wall", "gazetteer"},
	{"Philolaus", "crater", 72.22, -32.88, 71, "terraces near the north pole", "gazetteer"},
	{"Piccolomini", "crater", -29.70, 32.20, 88, "at the end of the Altai scarp", "gazetteer"},
	{"Pitatus", "crater", -29.88, -13.53, 101, "a lagoon of lava with cracks along its shore", "gazetteer"},
	{"Plato", "crater", 51.62, -9.38, 101, "a dark floor in bright mountains; the shadows of its wall move as one watches", "gazetteer"},
	{"Plinius", "crater", 15.36, 23.61, 41, "stands guard between two seas", "gazetteer"},
	{"Riccioli", "crater", -2.90, -74.42, 156, "at the limb, with a dark patch", "gazetteer"},
	{"Schickard", "crater", -44.38, -55.11, 212, "a wide plain, light and dark in stripes", "gazetteer"},
	{"Schiller", "crater", -51.72, -39.78, 179, "a strangely long crater, several grown into one", "gazetteer"},
	{"Stadius", "crater", 10.48, -13.77, 68, "a ghost: a ring drowned almost wholly", "gazetteer"},
	{"Stevinus", "crater", -32.49, 54.14, 72, "a tall peak; a small bright neighbour shines at full Moon", "gazetteer"},
	{"Stöfler", "crater", -41.24, 5.93, 130, "a large old floor broken into from the east", "gazetteer"},
	{"Taruntius", "crater", 5.50, 46.54, 57, "a ring within a ring", "gazetteer"},
	{"Thebit", "crater", -22.01, -4.02, 55, "a crater on a crater on a crater", "gazetteer"},
	{"Theophilus", "crater", -11.45, 26.28, 99, "deep, with four peaks; it cuts into its older neighbour", "gazetteer"},
	{"Timocharis", "crater", 26.72, -13.10, 34, "alone in the Sea of Rains", "gazetteer"},
	{"Triesnecker", "crater", 4.18, 3.60, 25, "beside a web of rilles", "gazetteer"},
	{"Tycho", "crater", -43.30, -11.22, 85, "the youngest large one; its rays go round half the Moon", "gazetteer"},
	{"Bullialdus", "crater", -20.7, -22.2, 61, "fine terraces alone in the Sea of Clouds", "memory"},
	{"Catharina", "crater", -18.0, 23.6, 99, "the oldest of the three beside Theophilus", "memory"},
	{"Endymion", "crater", 53.6, 56.5, 122, "a dark oval near the north-eastern limb", "memory"},
	{"Eratosthenes", "crater", 14.5, -11.3, 59, "at the end of the Apennines; lost among rays at full Moon", "memory"},
	{"Eudoxus", "crater", 44.3, 16.3, 67, "the smaller neighbour of Aristoteles", "memory"},
	{"Hipparchus", "crater", -5.4, 5.2, 144, "a worn plain best seen at first quarter", "memory"},
	{"Janssen", "crater", -45.0, 40.8, 200, "a wrecked giant with a rille across its floor", "memory"},
	{"Kepler", "crater", 8.1, -38.0, 30, "a small crater with a large set of rays", "memory"},
	{"Langrenus", "crater", -8.9, 61.0, 132, "terraces and twin peaks on the eastern shore", "memory"},
	{"Longomontanus", "crater", -49.6, -21.8, 146, "a broad plain south-west of Tycho", "memory"},
	{"Posidonius", "crater", 31.9, 30.0, 95, "rilles and a crooked inner ring on the Sea of Serenity's shore", "memory"},
	{"Proclus", "crater", 16.1, 46.8, 28, "a bright pit whose rays leave one side dark", "memory"},
	{"Ptolemaeus", "crater", -9.2, -1.8, 154, "the flat northern end of a chain of three", "memory"},
	{"Vendelinus", "crater", -16.4, 61.6, 141, "a worn giant between Langrenus and Petavius", "memory"},
	{"Mare Crisium", "sea", 16.18, 59.10, 556, "the Sea of Crises, an island of dark lava seen with the naked eye", "gazetteer"},
	{"Mare Humorum", "sea", -24.48, -38.57, 420, "the Sea of Moisture, small and round", "gazetteer"},
	{"Mare Nectaris", "sea", -15.19, 34.60, 339, "the Sea of Nectar with half-drowned craters on its shore", "gazetteer"},
	{"Mare Serenitatis", "sea", 27.29, 18.36, 674, "the Sea of Serenity with long wrinkles", "gazetteer"},
	{"Mare Vaporum", "sea", 13.20, 4.09, 242, "the Sea of Vapours in the middle of the disc", "gazetteer"},
	{"Sinus Iridum", "bay", 45.01, -31.67, 249, "the Bay of Rainbows: at sunrise a bright handle hangs in the night", "gazetteer"},
	{"Sinus Medii", "bay", 1.63, 1.03, 287, "the middle of the Moon's face", "gazetteer"},
	{"Montes Apenninus", "mountains", 19.87, 0.03, 600, "the highest range: peaks of 5 kilometres", "gazetteer"},
	{"Montes Alpes", "mountains", 48.36, -0.58, 334, "the Alps, cut by a straight valley", "gazetteer"},
	{"Montes Caucasus", "mountains", 37.52, 9.93, 444, "between the seas of rains and serenity", "gazetteer"},
	{"Montes Jura", "mountains", 47.49, -36.11, 421, "the rim of the Bay of Rainbows", "gazetteer"},
	{"Mons Pico", "mountain", 45.82, -8.87, 24, "a lone mountain throwing a needle of shadow", "gazetteer"},
	{"Mons Piton", "mountain", 40.72, -0.92, 22, "a lone mountain on a dark plain", "gazetteer"},
	{"Mons Rümker", "mountain", 40.76, -58.38, 73, "a low swelling of old volcanoes, visible only near the terminator", "gazetteer"},
	{"Vallis Alpes", "valley", 49.21, 3.63, 155, "the Alpine Valley, straight as a ruler", "gazetteer"},
	{"Vallis Rheita", "valley", -42.51, 51.65, 509, "a chain of craters in a line", "gazetteer"},
	{"Vallis Schröteri", "valley", 26.16, -51.58, 185, "a winding valley that lava made, beside Aristarchus", "gazetteer"},
	{"Rima Ariadaeus", "rille", 6.48, 13.44, 247, "a straight trench where the ground sank", "gazetteer"},
	{"Rima Hyginus", "rille", 7.62, 6.77, 204, "a bent rille with pits along it", "gazetteer"},
	{"Rima Hadley", "rille", 25.72, 3.15, 116, "a lava channel; people drove along its edge in 1971", "gazetteer"},
	{"Rupes Recta", "scarp", -21.67, -7.70, 116, "the Straight Wall: a black line in the waxing Moon, a white one in the waning", "gazetteer"},
	{"Rupes Altai", "scarp", -24.32, 23.12, 545, "the rim of a giant basin", "gazetteer"},
	{"Rupes Cauchy", "scarp", 9.31, 37.08, 170, "a fault beside a rille and two low domes", "gazetteer"},
	{"Reiner Gamma", "swirl", 7.39, -58.96, 73, "a bright swirl on flat ground", "gazetteer"},
}
