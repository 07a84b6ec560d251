package crew_test

import (
	"fmt"
	"time"

	"duskboard/internal/crew"
)

// instance is a roster whose best score is known from outside.
type instance struct {
	Name   string
	scene  crew.Scene
	pinned []crew.Duty
}

// instances are nights from small to middling, some with tight breaks, pins or
// few people, that a MILP solver can prove.
func instances() []instance {
	var out []instance
	for _, x := range []struct {
		seed                                uint64
		people, instruments, blocks, guests int
		work                                time.Duration
		pins                                int
	}{
		{1, 6, 2, 6, 60, 3 * time.Hour, 0}, {2, 7, 2, 6, 60, 90 * time.Minute, 0}, {3, 8, 3, 6, 80, 3 * time.Hour, 0}, {4, 8, 3, 8, 80, 2 * time.Hour, 1},
		{5, 9, 3, 8, 90, 3 * time.Hour, 0}, {6, 9, 3, 8, 90, 90 * time.Minute, 0}, {7, 10, 3, 8, 100, 3 * time.Hour, 2}, {8, 10, 4, 8, 80, 2 * time.Hour, 0},
		{9, 11, 4, 8, 100, 3 * time.Hour, 0}, {10, 12, 4, 8, 80, 3 * time.Hour, 0}, {11, 12, 4, 8, 80, 2 * time.Hour, 2}, {12, 12, 4, 10, 100, 3 * time.Hour, 0},
		{13, 5, 4, 8, 100, 3 * time.Hour, 0}, {14, 14, 4, 8, 80, 3 * time.Hour, 0}, {15, 14, 5, 8, 100, 3 * time.Hour, 1}, {16, 1, 2, 8, 40, 90 * time.Minute, 0},
	} {
		in := instance{Name: fmt.Sprintf("%02d: %d people, %d instruments, %d blocks, %d pins", x.seed, x.people, x.instruments, x.blocks, x.pins)}
		in.scene = crowd(x.seed, x.people, x.instruments, x.blocks, x.guests)
		in.scene.Rules.Work = x.work
		for i := range x.pins {
			in.pinned = append(in.pinned, crew.Duty{ID: int64(i + 1), VolunteerID: int64(2*i + 1), Role: crew.Greeter, From: after(30 * i), Length: time.Hour, Pinned: true})
		}
		out = append(out, in)
	}
	return out
}
