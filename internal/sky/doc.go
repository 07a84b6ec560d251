// Package sky says where things are in the sky and when they rise, culminate
// and set: the Sun, the Moon, the planets, stars and everything fixed among
// them, from any place on Earth in the years 1900 to 2100.
//
// # For callers
//
// NewNight makes the night of a place and date: local noon to local noon. It
// answers At and Track (positions), Events and Crossings (rise, set, transit,
// any altitude), Twilights, and the spans in which an object is well placed.
// Angles are degrees, latitude north positive, longitude EAST positive, azimuth
// from north through east, instants UTC. UT1 is taken as UTC.
//
// # Accuracy
//
// Against DE421 through ERFA (testdata/reference): see TestPositions, where the
// tolerances stand; the Sun, planets and stars stay within 15 arcseconds, the
// Moon within 30, rise, set and twilight within 10 seconds of time. Refraction
// is that of a standard air; real air moves a sunset by a minute or two.
//
// # Inside the package
//
// Internal angles are radians, distances au, times Julian dates: jdOf (UT) and
// ttOf (TT); timeOf and utcOfTT lead back. The primitives to build on:
//
//	frameOf(tt)               precession and nutation: the matrix ICRS -> of date,
//	                          the true obliquity, nutation
//	heliocentric(b, tt)       place and velocity from the Sun, ICRS
//	earthHeliocentric(tt)     the same for the Earth
//	heliocentricEcliptic      longitude, latitude (J2000) and radius of a planet
//	earthEcliptic             the same for the Earth
//	moonGeocentric(tt)        geometric Moon, ICRS
//	astrometric(b, tt)        Earth -> body with light time, ICRS
//	apparentPlace(...)        the same for any orbit, to the apparent place of date
//	b.apparent(tt)            geocentric apparent place: unit vector and distance;
//	                          g.equatorial() gives right ascension, declination
//	sunLongitude(tt)          the Sun's apparent ecliptic longitude of date
//
// VSOP87B (planets) and ELP/MPP02 (Moon) are embedded from data/; precession is
// IAU 2006; nutation, the Earth's shape and the tables of the older ways come
// from meeus, whose west-positive longitudes and south-based azimuths never
// leave this package.
package sky
