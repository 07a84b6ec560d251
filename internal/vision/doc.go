// Package vision says whether a guest can see a target: how bright the sky is
// behind it ([Sky.At]), how wide the eye's pupil stands ([NightPupil],
// [DayPupil], [PlanningPupil]), which contrast the eye needs ([Threshold]),
// and how far a target lies above that threshold in a train ([Margin]). It
// judges double stars ([Split]) and the size of planets ([Details]) too.
//
// What flows in: a train's numbers from internal/optics, targets from
// internal/catalog, angles and phases as plain numbers from internal/sky's
// callers, an [Observer]. What flows out: margins in magnitudes, a [Grade] in
// one of four words, sentences.
//
// Units: surface brightness in V magnitudes per square arcsecond ("mu"),
// luminance in cd/m^2, illuminance in lux, solid angles in steradians inside
// and arcminutes at the border, pupils in mm, angles in degrees.
//
// # How exact it is
//
// Moonlight is good to 8 to 23 per cent (its authors), twilight to about 0.2
// mag, the threshold to perhaps 0.3 mag between two trained observers and to
// a magnitude between two guests. A margin is advice, printed to half a
// magnitude, never an experiment.
//
// # Speed
//
// The line-up asks for hundreds of thousands of margins. [NewSights] does the
// work that depends on train, observer and sky once, over a grid of sky
// brightness, [SubjectOf] the work that depends on the target; what is left
// for one margin is a few products and one logarithm ([Sight.Margin]).
package vision
