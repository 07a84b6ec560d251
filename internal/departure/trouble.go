package departure

import (
	"fmt"
	"slices"
	"strings"

	"duskboard/internal/crew"
)

func (b *builder) trouble(stop bool, item, format string, args ...any) {
	b.check.Troubles = append(b.check.Troubles, Trouble{stop, item, fmt.Sprintf(format, args...)})
}

// mostInstruments is how many one car takes without a second thought; common
// practice.
const mostInstruments = 2

// troubles finds what is left to settle: things that nobody brings or that two
// people do, and people who cannot do what falls to them.
func (b *builder) troubles() {
	if len(b.coming) == 0 {
		b.trouble(true, "", "Nobody of the crew has been asked or comes: nothing has a bringer yet.")
	}
	for _, it := range b.check.Items {
		switch {
		case len(it.By) == 0 && len(b.coming) > 0:
			b.trouble(it.Kind == Instrument || it.Kind == Optics || it.Kind == Power, it.Key, "Nobody brings %s%s.", it.Name, forWords(it))
		case len(it.By) > 1:
			b.trouble(false, it.Key, "%s all bring %s; one is enough.", b.nameList(it.By), it.Name)
		}
		if it.Fetch != "" && len(it.By) > 0 {
			b.trouble(false, it.Key, "%s must be fetched from %s; %s would bring it.", it.Name, it.Fetch, b.nameList(it.By))
		}
	}
	for _, p := range b.check.People {
		b.personTroubles(p)
	}
	slices.SortStableFunc(b.check.Troubles, func(x, y Trouble) int {
		switch {
		case x.Stop == y.Stop:
			return 0
		case x.Stop:
			return -1
		}
		return 1
	})
}

func (b *builder) personTroubles(p Person) {
	name, a := p.Volunteer.Name, answer(b.sh, p.Volunteer.ID)
	carries := slices.ContainsFunc(p.Items, func(it Item) bool { return it.Kind != Own })
	if carries && p.Answer != crew.Yes {
		b.trouble(false, "", "%s has not said yes and would bring %s.", name, b.carried(p))
	}
	if len(p.Brings) > mostInstruments {
		b.trouble(false, "", "%s would bring %d instruments: %s. Share them out, or find a second car.", name, len(p.Brings), names(p.Brings))
	}
	if p.Volunteer.Minor && len(p.Brings) > 0 {
		b.trouble(false, "", "%s is under age and needs somebody to drive %s.", name, names(p.Brings))
	}
	for _, i := range p.Brings {
		if p.Volunteer.Limits.NoLifting && i.Weight > heavy {
			b.trouble(false, "", "%s does not lift, and %s weighs %.0f kg: somebody helps to load it.", name, i.Name, i.Weight)
		}
		if out := b.sh.PlannedPutOut(i); !a.From.IsZero() && a.From.After(out) {
			b.trouble(false, "", "%s comes at %s, and %s should stand outdoors at %s.", name, b.clock(a.From), i.Name, b.clock(out))
		}
	}
	if p.NeedsLift && carries {
		b.trouble(false, "", "%s does not drive at night and needs somebody to take the things home.", name)
	}
	if p.Volunteer.Limits.NoNightDriving && !carries {
		b.trouble(false, "", "%s does not drive at night and needs a lift home.", name)
	}
}

// carried names the instruments that somebody brings, else how many things.
func (b *builder) carried(p Person) string {
	if len(p.Brings) > 0 {
		return names(p.Brings)
	}
	var out []string
	for _, it := range p.Items {
		if it.Kind != Own {
			out = append(out, it.Name)
		}
	}
	if len(out) > 3 {
		return fmt.Sprintf("%d things", len(out))
	}
	return strings.Join(out, ", ")
}

func forWords(it Item) string {
	if it.Kind == Instrument || it.Detail == "" {
		return ""
	}
	return " (" + it.Detail + ")"
}

func (b *builder) nameList(ids []int64) string {
	var out []string
	for _, id := range ids {
		if v := b.volunteer(id); v != nil {
			out = append(out, v.Name)
		}
	}
	if len(out) > 1 {
		return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
	}
	return strings.Join(out, "")
}
