// Package optics says what a train of optics gives: which trains a kit can
// build ([Trains]), what each one shows ([Train.Static]), between which
// magnifications it serves ([LowPowerLimits], [HighPowerLimits]), which way
// round the picture stands ([Train.Orientation]) and how high over the ground
// one looks in ([EyepieceHeight], [ReachFor]).
//
// What flows in: gear from internal/kit, the eye's pupil and the seeing as
// plain numbers. What flows out: numbers with their units named, verdicts and
// short sentences. The eye, the sky and whether a guest can see something
// belong to internal/vision; the place of a target belongs to internal/sky.
//
// Units: apertures, focal lengths, field stops and pupils in mm, heights in
// m, true fields in degrees, resolution in arcseconds, blur seen in the
// eyepiece in arcminutes. Nothing here reads a clock or keeps state.
//
// A number that rests on a default of the kit is marked: [Optics.Assumed]
// lists every such field of the train, [Optics.Rests] those behind one number.
//
// Formulas without a source beside them follow from geometry (similar
// triangles, counting reflections). Thresholds named "common practice" are
// habits of the trade, not measurements.
package optics
