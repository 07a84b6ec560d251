package web

import (
	"fmt"
	"net/http"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// glassFormsOf fills the two forms of an instrument: with what was typed when
// that was refused, else with what is kept.
func glassFormsOf(sh *night.Sheet, i kit.Instrument, f glassForms, g *views.GlassPart) {
	base := fmt.Sprintf("%s/%d", glassPath(sh.Night.ID), i.ID)
	g.Action, g.Measure = base+"/put-out", base+"/measure"
	p := sh.PutOutOf(i.ID)
	typed := map[string]string{}
	if !p.At.IsZero() {
		typed["put-out"] = siteClock(sh, p.At)
	}
	if p.StorageTemp != nil {
		typed["storage"] = number(*p.StorageTemp, 1)
	}
	if i.TimeConstant > 0 {
		typed["tau"] = number(i.TimeConstant, 2)
	}
	mine := f.instrument == i.ID
	if mine {
		typed = f.typed
		g.Open = true
		g.Faults, g.MeasureFaults = fieldErrors(f.named(f.faults), glassLabels(i.ID)), fieldErrors(f.named(f.measureFaults), glassLabels(i.ID))
	}
	box := func(name, label, unit, hint string) views.Field {
		x := views.Field{Name: f.name(i.ID, name), Label: label, Unit: unit, Hint: hint, Value: typed[name], Mode: "decimal"}
		if mine {
			x.Error = f.faults.For(name) + f.measureFaults.For(name)
		}
		return x
	}
	g.PutOut = box("put-out", "Put out at", "", "empty: as reckoned")
	g.PutOut.Mode = ""
	g.Storage = box("storage", "How warm it was kept", "°C", "empty: typical for the "+storagePlace(i))
	g.Tau = box("tau", "Time constant", "hours", "until the difference has fallen to 37 %; empty forgets it")
	fan := func(name string) *views.Check {
		return &views.Check{Name: f.name(i.ID, name), Label: map[string]string{"fan-off": "Leave its fan off", "tau-fan": "Measured with its fan on"}[name]}
	}
	if i.Fan {
		g.Fan, g.TauFan = fan("fan-off"), fan("tau-fan")
		g.Fan.Checked, g.TauFan.Checked = p.FanOff, i.TimeConstantFan
		if mine {
			g.Fan.Checked, g.TauFan.Checked = typed["fan-off"] != "", typed["tau-fan"] != ""
		}
	}
	for n, row := range []*[]views.Field{&g.First, &g.Second} {
		k := fmt.Sprint(n + 1)
		at := box("at-"+k, "Time", "", "")
		at.Mode = ""
		*row = []views.Field{at, box("glass-"+k, "Glass", "°C", ""), box("air-"+k, "Air", "°C", "")}
	}
	g.MeasuredWords = "Nobody has measured it; the reckoning is good to about 40 %. Two readings make it good to 15 %."
	if i.TimeConstant > 0 {
		g.MeasuredWords = fmt.Sprintf("Measured: %.2f hours. A new measurement takes its place.", i.TimeConstant)
	}
}

// name makes a box's name unique on the page, since every instrument has the
// same boxes.
func (f glassForms) name(instrument int64, box string) string {
	return fmt.Sprintf("i%d-%s", instrument, box)
}

func (f glassForms) named(faults fault.Fields) fault.Fields {
	var out fault.Fields
	for _, x := range faults {
		out = append(out, fault.Field{Name: f.name(f.instrument, x.Name), Message: x.Message})
	}
	return out
}

func glassLabels(instrument int64) map[string]string {
	out := map[string]string{}
	for name, label := range map[string]string{"put-out": "Put out at", "storage": "How warm it was kept", "tau": "Time constant",
		"at-1": "First time", "glass-1": "First glass", "air-1": "First air", "at-2": "Second time", "glass-2": "Second glass", "air-2": "Second air"} {
		out[glassForms{}.name(instrument, name)] = label
	}
	return out
}

func storagePlace(i kit.Instrument) string {
	if i.Storage == "" {
		return "house"
	}
	return string(i.Storage)
}

// glassTyped reads every box of one instrument as typed.
func glassTyped(r *http.Request, id int64) glassForms {
	f := glassForms{instrument: id, typed: map[string]string{}}
	for _, n := range []string{"put-out", "storage", "fan-off", "tau", "tau-fan", "at-1", "glass-1", "air-1", "at-2", "glass-2", "air-2"} {
		f.typed[n] = strings.TrimSpace(r.PostFormValue(f.name(id, n)))
	}
	return f
}

// instrumentOf finds the night and one of its instruments.
func (s *server) instrumentOf(r *http.Request) (*night.Sheet, kit.Instrument, error) {
	sh, err := s.nightOf(r)
	if err != nil {
		return nil, kit.Instrument{}, err
	}
	id, err := idParam(r, "instrument")
	if err != nil {
		return nil, kit.Instrument{}, err
	}
	for _, i := range sh.Kit.Instruments {
		if i.ID == id {
			return sh, i, nil
		}
	}
	return nil, kit.Instrument{}, fault.New(fault.NotFound, "This instrument is not among those of the night.")
}

// temperature reads degrees Celsius; a fault is a sentence.
func temperature(s string) (float64, string) {
	v, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(s, "C"), "°")))
	if err != nil || v < -60 || v > 60 {
		return 0, "Write degrees Celsius from -60 to 60."
	}
	return v, ""
}

// savePutOut keeps how an instrument is handled this night.
func (s *server) savePutOut(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.instrumentOf(r)
	if err != nil {
		return err
	}
	f := glassTyped(r, i.ID)
	p := night.PutOut{InstrumentID: i.ID, FanOff: f.typed["fan-off"] != "" && i.Fan}
	if t := f.typed["put-out"]; t != "" {
		l := resolve(sh.Night.Date, t, firstTime, sh.Zone)
		switch {
		case l.fault != "":
			f.faults = append(f.faults, fault.Field{Name: "put-out", Message: l.fault})
		case !l.at.Before(sh.Night.PublicTo()):
			f.faults = append(f.faults, fault.Field{Name: "put-out", Message: "The night is over by then: it ends at " + siteClock(sh, sh.Night.PublicTo()) + "."})
		}
		p.At = l.at
	}
	if t := f.typed["storage"]; t != "" {
		v, why := temperature(t)
		if why != "" {
			f.faults = append(f.faults, fault.Field{Name: "storage", Message: why})
		}
		p.StorageTemp = &v
	}
	if len(f.faults) > 0 {
		return s.glassPage(w, r, http.StatusUnprocessableEntity, sh, f)
	}
	if err := s.store.SavePutOut(r.Context(), sh.Night.ID, p); err != nil {
		return err
	}
	return redirect(w, r, fmt.Sprintf("%s#glass-%d", glassPath(sh.Night.ID), i.ID), views.Flash{Text: i.Name + " is reckoned anew."})
}

// saveMeasured keeps an instrument's own time constant: as typed, or from two
// readings of two thermometers.
func (s *server) saveMeasured(w http.ResponseWriter, r *http.Request) error {
	sh, i, err := s.instrumentOf(r)
	if err != nil {
		return err
	}
	f := glassTyped(r, i.ID)
	tau, faults := f.tau(sh)
	if f.measureFaults = faults; len(faults) > 0 {
		return s.glassPage(w, r, http.StatusUnprocessableEntity, sh, f)
	}
	stored, err := s.store.Instrument(r.Context(), i.ID)
	if err != nil {
		return err
	}
	stored.TimeConstant, stored.TimeConstantFan = tau, f.typed["tau-fan"] != "" && tau > 0
	if err := s.store.SaveInstrument(r.Context(), &stored); err != nil {
		return err
	}
	words := fmt.Sprintf("%s cools with a time constant of %.2f hours; it is kept with the instrument, for every night.", i.Name, tau)
	if tau == 0 {
		words = i.Name + " is estimated again."
	}
	return redirect(w, r, fmt.Sprintf("%s#glass-%d", glassPath(sh.Night.ID), i.ID), views.Flash{Text: words})
}

// tau is the time constant in hours that was typed or follows from the
// readings; 0 forgets the one that is kept.
func (f glassForms) tau(sh *night.Sheet) (float64, fault.Fields) {
	var faults fault.Fields
	bad := func(name, message string) { faults = append(faults, fault.Field{Name: name, Message: message}) }
	var reading [2]field.Reading
	any := false
	for _, n := range []string{"at-1", "glass-1", "air-1", "at-2", "glass-2", "air-2"} {
		any = any || f.typed[n] != ""
	}
	if !any {
		if f.typed["tau"] == "" {
			return 0, nil
		}
		v, err := kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(f.typed["tau"], "h")))
		if err != nil || v < 0.02 || v > 24 {
			bad("tau", "Write hours from 0.02 to 24.")
		}
		return v, faults
	}
	for n := range reading {
		k := fmt.Sprint(n + 1)
		l := resolve(sh.Night.Date, f.typed["at-"+k], firstTime, sh.Zone)
		if l.fault != "" {
			bad("at-"+k, l.fault)
		}
		glass, why := temperature(f.typed["glass-"+k])
		if why != "" {
			bad("glass-"+k, why)
		}
		air, why := temperature(f.typed["air-"+k])
		if why != "" {
			bad("air-"+k, why)
		}
		reading[n] = field.Reading{Time: l.at, Glass: glass, Air: air}
	}
	if len(faults) > 0 {
		return 0, faults
	}
	tau, err := field.MeasuredTau(reading[0], reading[1])
	if err != nil {
		bad("at-2", first(err.Error())+".")
	}
	return tau, faults
}
