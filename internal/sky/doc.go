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
// Against JPL's DE405 through ERFA (testdata/reference), 76 sites and instants
// from 1980 to 2059: the Sun, stars and planets to Saturn within 1.4 arcseconds,
// Uranus 1.7, Neptune 3.2, the Moon 0.5 until 2027 and 11 in 2059, where delta-T is
// a guess (see DeltaT). Risings, settings and twilights of 30 awkward nights:
// within 0.3 seconds, of the Moon 1.1, wherever the path meets the horizon at 3
// degrees an hour or more. UT1 being taken as UTC adds up to 0.9 seconds.
// Refraction is that of a standard air; real air moves a sunset by a minute or
// two, and by more in the cold.
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
//	moonGeocentric(tt)        geometric Moon, ICRS
//	astrometric(b, tt)        Earth -> body with light time, ICRS
//	apparentPlace(...)        the same for any orbit, to the apparent place of date
//	b.apparent(tt)            geocentric apparent place: unit vector and distance;
//	                          g.equatorial() gives right ascension, declination
//
// VSOP87B (planets) and ELP/MPP02 (Moon) are embedded from data/; precession is
// IAU 2006; nutation, the Earth's shape and the tables of the older ways come
// from meeus, whose west-positive longitudes and south-based azimuths never
// leave this package.
package sky
