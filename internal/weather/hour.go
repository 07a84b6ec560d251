package weather

import (
	"math"
	"time"
)

// Fields is a set of the optional values of an [Hour].
type Fields uint16

// The values that an hour may lack. Time, temperature and dew point are not
// among them: an hour without those is a gap.
const (
	Cloud Fields = 1 << iota
	Wind
	Gust
	Precip
	PrecipProb
	Thunder
)

// Hour is the weather at one instant. Rain, its chance, gusts and thunder are
// those of the hour that ends at Time, as forecast services give them.
type Hour struct {
	Time       time.Time // UTC
	Temp       float64   // air at 1.5 to 2 m, degrees C
	DewPoint   float64   // degrees C, never above Temp
	RH         float64   // relative humidity over liquid water, per cent
	Cloud      float64   // total cover, per cent
	CloudLow   float64   // per cent; the layers are all 0 when not known
	CloudMid   float64
	CloudHigh  float64
	Wind       float64 // mean speed at 10 m, m/s
	Gust       float64 // at 10 m, m/s
	Precip     float64 // mm in the hour
	PrecipProb float64 // chance of rain or snow, per cent
	Thunder    bool    // a thunderstorm is forecast
	Missing    Fields  // the values nobody gave; they read 0 above
	Estimated  bool    // made from its neighbours, or held past an end of the series
}

// Has reports whether every one of the fields was given.
func (h Hour) Has(f Fields) bool { return h.Missing&f == 0 }

// highCloudShare is how much of thin high cloud counts as opaque to the heat
// that glass radiates; an engineering choice.
const highCloudShare = 0.4

// OpaqueCloud is the share of the sky, 0 to 1, that hides the cold of space
// from a surface on the ground, and false when the cloud is not known. With
// layers it is low plus middle plus 0.4 of the high cloud, else the total.
func (h Hour) OpaqueCloud() (float64, bool) {
	if !h.Has(Cloud) {
		return 0, false
	}
	if h.CloudLow == 0 && h.CloudMid == 0 && h.CloudHigh == 0 {
		return clamp(h.Cloud/100, 0, 1), true
	}
	c := math.Min(1, (h.CloudLow+h.CloudMid)/100) + highCloudShare*h.CloudHigh/100
	return clamp(c, 0, 1), true
}

// Mix is the weather at t between a and b by straight lines. Temperature and
// dew point go straight and the humidity follows from both, so that it can
// never contradict them. Values that belong to the hour ending at b are b's.
// A value that either side lacks is lacking.
func mix(a, b Hour, t time.Time) Hour {
	f := float64(t.Sub(a.Time)) / float64(b.Time.Sub(a.Time))
	lin := func(x, y float64) float64 { return x + (y-x)*f }

	h := Hour{
		Time:     t,
		Temp:     lin(a.Temp, b.Temp),
		DewPoint: lin(a.DewPoint, b.DewPoint),
		Cloud:    lin(a.Cloud, b.Cloud),
		Wind:     lin(a.Wind, b.Wind),
		Gust:     b.Gust, Precip: b.Precip, PrecipProb: b.PrecipProb, Thunder: b.Thunder,
		Missing:   a.Missing&(Cloud|Wind) | b.Missing,
		Estimated: a.Estimated || b.Estimated,
	}
	// Layers on one side only cannot be compared with a bare total, so the
	// total is used in between.
	if a.layered() && b.layered() {
		h.CloudLow, h.CloudMid, h.CloudHigh = lin(a.CloudLow, b.CloudLow), lin(a.CloudMid, b.CloudMid), lin(a.CloudHigh, b.CloudHigh)
	}
	h.RH = RelativeHumidity(h.Temp, h.DewPoint)
	return h
}

// layered reports whether the layers may be trusted: given, or no cloud at all.
func (h Hour) layered() bool {
	return h.CloudLow+h.CloudMid+h.CloudHigh > 0 || h.Cloud == 0
}

func clamp(x, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, x)) }
