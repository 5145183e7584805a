package solver

import (
	"fmt"

	"risewright/model"
	"risewright/solver/walk"
)

// Lit is how much of the flight lights while one adult walks it at a usual pace.
type Lit struct{ Up, Down walk.Spread }

// Words says it in a sentence.
func (l *Lit) Words() string {
	return fmt.Sprintf("While one adult walks up, %.1f of %s are bright on the average, and %.1f more are dim; while one walks down, %.1f and %.1f.",
		l.Up.Bright, model.Plural(l.Up.Bars, "bar"), l.Up.Dim, l.Down.Bright, l.Down.Dim)
}

// litOn lets an adult walk up and down, at the paces of the table; or at the usual
// ones where it has none.
func litOn(a *Answer, t model.Tables, setup walk.Setup) *Lit {
	up, down := walk.UsualPace, walk.UsualPace
	senses := t.Senses.With(a.Job.Sensing.Own)
	if p, ok := senses.Pace("adult"); ok && p.Fault() == "" {
		if m := StepM(a); m > 0 {
			up, down = p.Up.Value/m, p.Down.Value/m
		}
	}
	l := &Lit{}
	for _, w := range []struct {
		to    *walk.Spread
		speed float64
	}{{&l.Up, up}, {&l.Down, down}} {
		s, err := walk.SpreadOf(setup, w.to == &l.Up, w.speed)
		if err != nil {
			return nil
		}
		*w.to = s
	}
	return l
}

// Figures by which the cause of too much light is told: common practice, no
// source.
const (
	farGlimpse = 4 // steps beyond its zone that a sensor may glimpse
	longStay   = 3 // seconds that an output or a window stays on
	longZone   = 4 // steps that a sensor is sure of
)

// finding says that most of the flight lights for one walker, if it does, and what
// narrows that: first what sees too far, then what stays too long.
func (l *Lit) finding(setup walk.Setup, sensors int) (model.Finding, bool) {
	if l == nil || sensors == 0 || !l.Up.Wide() && !l.Down.Wide() {
		return model.Finding{}, false
	}
	title := fmt.Sprintf("while one adult walks up, %.1f of %s are bright on the average", l.Up.Bright, model.Plural(l.Up.Bars, "bar"))
	if l.Down.Bright > l.Up.Bright {
		title = fmt.Sprintf("while one adult walks down, %.1f of %s are bright on the average", l.Down.Bright, model.Plural(l.Down.Bars, "bar"))
	}
	f := model.Finding{Rule: "walk.spread", Severity: model.Note, Where: model.Place{Field: "sensing.control"}, Standing: model.Memory,
		Title:  title,
		Detail: "most of the flight lights for one person; it is still safe",
		Remedy: "light fewer steps ahead and behind"}
	far, wide, stay, n := 0.0, 0.0, setup.Control.Hold, 0
	for i := range setup.Zones {
		if z := &setup.Zones[i]; !z.Removed {
			far += float64(z.May().Len() - z.Sure().Len())
			wide += float64(z.Sure().Len())
			stay = max(stay, z.Hold)
			n++
		}
	}
	switch {
	case far > float64(farGlimpse*n):
		f.Remedy = "tape both sides of each lens or put a hood before it, so that it glimpses fewer steps, and hang more sensors closer together; “Find places” does that when a sensor may see at most 2 or 3 steps"
	case wide > float64(longZone*n):
		f.Remedy = "hang more sensors, and let each see fewer steps"
	case stay > longStay:
		f.Remedy = "choose a class whose output goes off sooner, or let windows stay lit for less long"
	}
	return f, true
}
