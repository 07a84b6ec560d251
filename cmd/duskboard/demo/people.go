package demo

import (
	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

// volunteers are fourteen people; what they can operate leaves one gap (few
// can run the German equatorial), so that the roster has something to say.
func volunteers(id func(instrument string) int64) []crew.Volunteer {
	alone := func(names ...string) []crew.Skill {
		var s []crew.Skill
		for _, n := range names {
			s = append(s, crew.Skill{InstrumentID: id(n), Level: crew.Alone})
		}
		return s
	}
	mount := func(m kit.Mount, l crew.Level) crew.Skill { return crew.Skill{Mount: string(m), Level: l} }
	return []crew.Volunteer{
		{Name: "Noor", Skills: alone("The Barrel", "Bucket", "Rain Barrel"), Roles: []crew.Role{crew.Operator}, Languages: []string{"en", "nl"}, DriveMinutes: 35},
		{Name: "Ilse", Skills: append(alone("The Barrel"), mount(kit.RockerBox, crew.Teacher)), Roles: []crew.Role{crew.Operator, crew.QueueHost}, Languages: []string{"en", "de"}, DriveMinutes: 20},
		{Name: "Ines", Skills: append(alone("Long Tom"), mount(kit.GermanEquatorial, crew.Teacher)), Roles: []crew.Role{crew.Operator}, Languages: []string{"en", "es"}, DriveMinutes: 25},
		{Name: "Bram", Skills: append(alone("Stovepipe"), mount(kit.AltAzGoTo, crew.Teacher)), Roles: []crew.Role{crew.Operator, crew.SetUp}, Languages: []string{"en", "nl"}, DriveMinutes: 15},
		{Name: "Tove", Skills: alone("Pepperpot", "Stovepipe"), Roles: []crew.Role{crew.Operator, crew.Greeter}, Languages: []string{"en", "sv"}, DriveMinutes: 40},
		{Name: "Kofi", Skills: append(alone("Rain Barrel", "The Barrel"), mount(kit.GermanEquatorial, crew.Learning)), Roles: []crew.Role{crew.Operator, crew.Safety}, Languages: []string{"en", "fr"}, DriveMinutes: 30},
		{Name: "Marta", Skills: alone("Sparrow", "Two Eyes"), Roles: []crew.Role{crew.Operator, crew.ConstellationGuide}, Languages: []string{"en", "pl"}, DriveMinutes: 10, Limits: crew.Limits{NoLifting: true}},
		{Name: "Juno", Skills: alone("Bucket", "Two Eyes"), Roles: []crew.Role{crew.Operator, crew.QueueHost}, Languages: []string{"en"}, DriveMinutes: 10, Minor: true},
		{Name: "Otto", Skills: append(alone("Churn"), mount(kit.GermanEquatorial, crew.Learning)), Roles: []crew.Role{crew.Operator, crew.SetUp, crew.PackDown}, Languages: []string{"en", "de"}, DriveMinutes: 45},
		{Name: "Wren", Skills: []crew.Skill{mount(kit.AltAzHand, crew.Alone), mount(kit.Parallelogram, crew.Alone)}, Roles: []crew.Role{crew.Operator, crew.Greeter}, Languages: []string{"en"}, DriveMinutes: 5, Limits: crew.Limits{MustSit: true}},
		{Name: "Anselm", Roles: []crew.Role{crew.Greeter, crew.Parking}, Languages: []string{"en", "it"}, DriveMinutes: 20, Limits: crew.Limits{NoNightDriving: true}},
		{Name: "Priya", Roles: []crew.Role{crew.Safety, crew.QueueHost}, Languages: []string{"en", "hi"}, DriveMinutes: 25},
		{Name: "Sef", Roles: []crew.Role{crew.Parking, crew.SetUp, crew.PackDown}, Languages: []string{"en", "nl"}, DriveMinutes: 15},
		{Name: "Lotte", Skills: []crew.Skill{mount(kit.RockerBox, crew.Learning)}, Roles: []crew.Role{crew.QueueHost, crew.Greeter}, Languages: []string{"en", "nl"}, DriveMinutes: 30},
	}
}
