// Package weather holds the hourly conditions of one site and night: air
// temperature, moisture, cloud, wind, rain. They are typed in by hand
// ([ParseLines]), read from a CSV file ([ParseCSV]) or come from a forecast
// service behind [Provider] (package feed).
//
// Whatever the source, the result is a [Series] in one set of units (degrees
// Celsius, per cent, metres per second at 10 m, millimetres per hour) and in
// UTC, and [Series.At] answers for any instant inside it: by straight lines
// between hours, over gaps of at most [MaxGap], and says when it did so.
// Outside that it answers "not known"; nothing is ever made up.
//
// The package also holds the psychrometry (vapour pressure, dew point, frost
// point), because a series must be checked and completed with it. What the
// moisture does to glass belongs to internal/field.
//
// It reads no clock, opens no connection and imports nothing of ours.
package weather
