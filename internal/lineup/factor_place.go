package lineup

import (
	"fmt"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// placeInput is where the target stands during a block.
type placeInput struct {
	alt     float64 // apparent altitude in the middle, degrees
	lowest  float64 // lowest of start and end
	highest float64
	horizon float64 // of the outline at the target's azimuth, degrees
	hidden  bool    // behind the outline at some time of the block
	least   float64 // lowest altitude at which this kind is shown
	inst    kit.Instrument
	crosses bool // in the block the mount has to be turned over, past what it tracks beyond the meridian
}

// placeFactor judges altitude, outline, the mount's zenith zone and the
// meridian of a German equatorial.
func placeFactor(t catalog.Target, in placeInput, say bool) Factor {
	f := Factor{Key: Place, Number: in.alt, Unit: "°"}
	if say {
		f.Wanted = fmt.Sprintf("%.0f° or more", in.least)
	}
	switch {
	case in.lowest < 0:
		return veto(f, say, "%s is below the horizon.", t.Name)
	case in.hidden:
		return veto(f, say, "%s stands at %.0f°, behind the outline of the site, which is %.0f° high there.", t.Name, in.lowest, in.horizon)
	case in.lowest < in.least:
		return veto(f, say, "%s stands at %.0f°; %s wants %.0f° or more.", t.Name, in.lowest, article(string(t.Kind)), in.least)
	case in.lowest < in.inst.MinAltitude:
		return veto(f, say, "The mount of %s does not reach down to %.0f°.", in.inst.Name, in.lowest)
	case in.highest > in.inst.MaxAltitude:
		return veto(f, say, "At %.0f° it stands in the zenith zone that %s cannot reach well (above %.0f°).", in.highest, in.inst.Name, in.inst.MaxAltitude)
	}
	f.Value = ramp(in.alt, in.least, in.least+20, 0.55, 1)
	if in.crosses {
		f.Value *= 0.8
	}
	near, nearWords := optics.AltitudeVerdict(in.inst, in.highest)
	switch near {
	case optics.Note:
		f.Value *= 0.95
	case optics.Warn:
		f.Value *= 0.8
	}
	if say {
		f.Sentence = fmt.Sprintf("%.0f° high, clear of the outline.", in.alt)
		if in.alt < in.least+10 {
			f.Sentence = fmt.Sprintf("%.0f° high: low, the air dims and blurs it.", in.alt)
		}
		if nearWords != "" {
			f.Sentence = fmt.Sprintf("%.0f° high. %s", in.alt, nearWords)
		}
		if in.crosses {
			f.Sentence += " The mount has to be turned over meanwhile."
		}
	}
	return f
}

func veto(f Factor, say bool, format string, args ...any) Factor {
	f.Value, f.Veto = 0, true
	if say {
		f.Sentence = fmt.Sprintf(format, args...)
	}
	return f
}

// article puts "a" or "an" before a kind of target.
func article(kind string) string {
	if kind == "" {
		return "it"
	}
	switch kind[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + kind
	}
	if kind == "moon" || kind == "sun" {
		return "the " + string(kind[0]-32) + kind[1:]
	}
	return "a " + kind
}
