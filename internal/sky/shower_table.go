package sky

// Shower is a meteor shower, the same each year by the Sun's longitude.
type Shower struct {
	Code, Name string  // IAU's three letters; English name
	RA, Dec    float64 // radiant at the maximum, degrees, J2000.0; it drifts by up to a degree a day
	Start      float64 // solar longitude (J2000.0, degrees) at which meteors begin,
	Peak       float64 // are most
	End        float64 // and end
	Speed      float64 // km a second, entering the air
	Ratio      float64 // population index r: how many times more meteors a magnitude fainter
	Zenith     float64 // zenithal hourly rate at the maximum; 0: some years a few, some years many
	Slope      float64 // the rate falls by 10^(-Slope) per degree from the maximum
	Source     string  // "calendar" or "memory"
}

// Showers returns the table, a fresh copy.
//
// Rows marked "calendar" are those of the working list of visual meteor showers
// in the IMO's Meteor Shower Calendar 2026 (International Meteor Organization,
// table 5); rows marked "memory" are from memory of that list in its issues of
// 2015 to 2024, sure to a degree. Start and End are the calendar's dates turned
// into longitudes. Slopes: Jenniskens 1994, A&A 287, 990,
// from memory; for small showers a guess of the same size.
func Showers() []Shower { return append([]Shower(nil), showers[:]...) }

var showers = [...]Shower{
	{"QUA", "Quadrantids", 230, 49, 275.9, 283.15, 292.4, 41, 2.1, 80, 2.5, "calendar"},
	{"GUM", "gamma-Ursae Minorids", 228, 67, 289.4, 298, 302.6, 31, 3.0, 3, 0.1, "memory"},
	{"ACE", "alpha-Centaurids", 211, -58, 310.7, 319.4, 332.0, 58, 2.0, 6, 0.18, "memory"},
	{"GNO", "gamma-Normids", 239, -50, 336.0, 354, 7.9, 56, 2.4, 6, 0.19, "memory"},
	{"LYR", "April Lyrids", 271, 34, 23.7, 32.32, 40.3, 49, 2.1, 18, 0.22, "calendar"},
	{"PPU", "pi-Puppids", 110, -45, 24.7, 33.5, 38.3, 18, 2.0, 0, 0.6, "memory"},
	{"ETA", "eta-Aquariids", 338, -1, 28.6, 45.5, 67.3, 66, 2.4, 50, 0.08, "calendar"},
	{"ELY", "eta-Lyrids", 291, 43, 42.2, 50.0, 53.8, 43, 3.0, 3, 0.15, "memory"},
	{"JBO", "June Bootids", 224, 48, 90.3, 95.7, 100.7, 18, 2.2, 0, 0.3, "memory"},
	{"SDA", "Southern delta-Aquariids", 340, -16, 109.3, 128, 150.5, 41, 2.5, 25, 0.09, "calendar"},
	{"CAP", "alpha-Capricornids", 307, -10, 100.7, 127, 142.8, 23, 2.5, 5, 0.04, "memory"},
	{"PER", "Perseids", 48, 58, 114.1, 140.0, 151.5, 59, 2.2, 100, 0.20, "calendar"},
	{"KCG", "kappa-Cygnids", 286, 59, 130.3, 145, 152.4, 25, 3.0, 3, 0.07, "memory"},
	{"AUR", "Aurigids", 91, 39, 154.4, 158.6, 163.1, 66, 2.5, 6, 0.19, "memory"},
	{"SPE", "September epsilon-Perseids", 48, 40, 162.1, 166.7, 178.6, 64, 3.0, 5, 0.19, "memory"},
	{"DRA", "Draconids", 262, 54, 192.4, 195.4, 197.3, 20, 2.6, 5, 5, "calendar"},
	{"DAU", "delta-Aurigids", 84, 44, 196.3, 198, 205.3, 64, 3.0, 2, 0.1, "memory"},
	{"EGE", "epsilon-Geminids", 102, 27, 200.3, 205, 214.2, 70, 3.0, 3, 0.08, "memory"},
	{"ORI", "Orionids", 95, 16, 188.4, 208, 225.2, 66, 2.5, 20, 0.12, "calendar"},
	{"LMI", "Leonis Minorids", 162, 37, 205.3, 211, 214.2, 62, 3.0, 2, 0.14, "memory"},
	{"STA", "Southern Taurids", 52, 15, 176.7, 223, 238.3, 27, 2.3, 7, 0.026, "calendar"},
	{"NTA", "Northern Taurids", 58, 22, 206.2, 230, 258.6, 29, 2.3, 5, 0.026, "calendar"},
	{"LEO", "Leonids", 152, 22, 223.2, 235.27, 248.4, 71, 2.5, 15, 0.39, "calendar"},
	{"AMO", "alpha-Monocerotids", 117, 1, 232.3, 239.32, 243.4, 65, 2.4, 0, 0.3, "memory"},
	{"NOO", "November Orionids", 91, 16, 230.2, 246, 254.5, 44, 3.0, 3, 0.1, "memory"},
	{"PUP", "Puppid-Velids", 123, -45, 248.4, 255, 263.7, 40, 2.9, 10, 0.03, "memory"},
	{"MON", "Monocerotids", 100, 8, 252.5, 257, 268.7, 41, 3.0, 3, 0.25, "memory"},
	{"HYD", "sigma-Hydrids", 125, 2, 250.4, 257, 268.7, 58, 3.0, 7, 0.1, "memory"},
	{"GEM", "Geminids", 112, 33, 251.5, 262.2, 268.7, 35, 2.6, 150, 0.39, "calendar"},
	{"COM", "Comae Berenicids", 175, 18, 259.6, 264, 271.8, 65, 3.0, 3, 0.1, "memory"},
	{"DLM", "December Leonis Minorids", 161, 30, 252.5, 267, 315.8, 64, 3.0, 5, 0.05, "memory"},
	{"URS", "Ursids", 217, 76, 264.7, 270.7, 274.8, 33, 2.8, 10, 0.61, "calendar"},
}
