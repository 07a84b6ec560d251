package field

import (
	"errors"
	"time"

	"duskboard/internal/kit"
)

// Gear is what goes with one instrument for the night.
type Gear struct {
	Finders   []kit.Finder
	DewGear   []kit.DewGear
	Batteries []kit.Battery
	// Readings are two looks at the thermometers, at most hours apart; they
	// replace any other time constant. Fewer than two are ignored.
	Readings    []Reading
	ReadingsFan bool // the fan ran during them
}

// Options is what the night decides.
type Options struct {
	From, To time.Time      // gate open to gate closed
	PutOut   time.Time      // when the instrument goes outdoors; zero assumes an hour before From
	Uncap    time.Time      // when caps come off, at sunset; before it no surface loses heat to the sky. Zero means PutOut
	Zone     *time.Location // of the sentences; nil means UTC

	// StorageTemp is how warm it was where the instrument was kept, degrees C;
	// nil takes a typical one for the place.
	StorageTemp *float64
	FanOff      bool // leave the fan off that the instrument has
	NoShield    bool // leave shields at home
	HeaterOff   bool // leave heaters off

	Shelter        Shelter // 0 means [OpenField]
	AirOffset      float64 // K added to the forecast for a hollow or a hill
	HumidityOffset float64 // per cent added likewise

	LowPower, HighPower float64 // magnifications to be ready for; 0 means 50 and 150
}

const (
	defaultLead      = time.Hour
	defaultLowPower  = 50
	defaultHighPower = 150

	// Step is the step of every computation through the night.
	Step = 5 * time.Minute

	// maxNight bounds a forecast; a night is at most a day, with the time to cool before.
	maxNight = 36 * time.Hour
	// earliestPutOut is how far before the gate opens an instrument may go out.
	earliestPutOut = 8 * time.Hour
)

// Errors of [Forecast].
var (
	ErrNoTimes  = errors.New("the night needs a beginning before its end")
	ErrTooLong  = errors.New("the night is longer than a day and a half")
	ErrAperture = errors.New("the instrument has no aperture")
	ErrPutOut   = errors.New("the instrument is put out after the night ends")
)

// withDefaults fills the options and names what it assumed.
func (o Options) withDefaults() (Options, []string, error) {
	var assumed []string
	if !o.From.Before(o.To) {
		return o, nil, ErrNoTimes
	}
	if o.PutOut.IsZero() {
		o.PutOut = o.From.Add(-defaultLead)
		assumed = append(assumed, "put out one hour before the gate opens")
	}
	switch {
	case o.PutOut.After(o.To):
		return o, nil, ErrPutOut
	case o.To.Sub(o.PutOut) > maxNight || o.To.Sub(o.From) > maxNight:
		return o, nil, ErrTooLong
	}
	if o.Zone == nil {
		o.Zone = time.UTC
	}
	if o.Shelter <= 0 {
		o.Shelter = OpenField
	}
	if o.LowPower <= 0 {
		o.LowPower = defaultLowPower
	}
	if o.HighPower <= 0 {
		o.HighPower = defaultHighPower
	}
	return o, assumed, nil
}

// Temperatures of storage when the club gave none; engineering choices. A
// shed and a car lag behind falling air.
const (
	houseTemp    = 20.0 // degrees C
	shedAboveAir = 3.0  // K
	carAboveAir  = 5.0  // K
)

// storage is the temperature of the glass when it goes out into air of t
// degrees C, and what that rests on when assumed.
func (o Options) storage(inst kit.Instrument, t float64) (float64, string) {
	if o.StorageTemp != nil {
		return *o.StorageTemp, ""
	}
	switch inst.Storage {
	case kit.Shed:
		return t + shedAboveAir, "kept in a shed 3 degrees warmer than the air outside"
	case kit.Car:
		return t + carAboveAir, "kept in a car 5 degrees warmer than the air outside"
	case kit.House:
		return houseTemp, "kept in a house at 20 degrees"
	default:
		return houseTemp, "kept indoors at 20 degrees, since nobody noted where"
	}
}
