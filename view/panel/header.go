package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
)

// readyWords say what a readiness is good for, with a mark that is told apart
// without colour.
func readyWords(r survey.Readiness) (string, fyne.ThemeColorName) {
	switch r {
	case survey.ReadyCut:
		return "● ready to cut", base.ColorNameSuccess
	case survey.ReadyBuy:
		return "◐ ready to buy, not to cut", base.ColorNameWarning
	}
	return "○ a sketch", base.ColorNameError
}

// suspectOf returns the reading to retake at a step, if its readings conflict,
// and what to say: both names where two cannot be told apart.
func suspectOf(a *solver.Answer, step int) (model.Place, string, bool) {
	for i := range a.Survey.Conflicts {
		c := &a.Survey.Conflicts[i]
		for k, s := range c.Suspects {
			if s.Step+1 != step {
				continue
			}
			text, word := shortName(s.Kind), "Retake: "
			if len(c.Suspects) > 1 {
				o := c.Suspects[1-min(k, 1)]
				word, text = "Retake both: ", text+", "+shortName(o.Kind)
				switch {
				case o.Step < 0:
					text += " (whole flight)"
				case o.Step != s.Step:
					text += fmt.Sprintf(" (step %d)", o.Step+1)
				}
			}
			return model.Place{Step: step, Kind: s.Kind, Reading: s.Reading}, word + text, true
		}
	}
	return model.Place{}, "", false
}

// NewHeader returns the head of the right side: which step is shown, how far
// it is, and the reading that would help it most.
func NewHeader(d *Desk) fyne.CanvasObject {
	title := newWhole("")
	title.size, title.style.Bold = base.SizeNameSubHeadingText, true
	ready := newLabel("").bold()
	why := newPara("")
	var where model.Place
	next := newButton("", func() { d.GoTo(where) })
	down := newButton("◀", func() { d.Choose(d.step - 1) })
	up := newButton("▶", func() { d.Choose(d.step + 1) })

	tell := func(Change) {
		a, n := d.Answer(), d.Steps()
		down.say("◀", d.step > 0)
		up.say("▶", d.step < n)
		if d.step == 0 {
			title.set("Whole flight")
			ready.put(fmt.Sprintf("%d of %d boards released", a.Released(), len(a.Pieces)), base.ColorNameForeground)
			setPara(why, "Readings taken once: they check the steps against each other.")
			next.Hide()
			return
		}
		name := "Step"
		if d.step == n {
			name = "Landing, step"
		}
		title.set(fmt.Sprintf("%s %d of %d", name, d.step, n))
		if a.Survey == nil || d.step > len(a.Survey.Steps) {
			ready.put("○ not solved", base.ColorNameError)
			setPara(why, "Mend what the list below says first.")
			next.Hide()
			return
		}
		s := &a.Survey.Steps[d.step-1]
		words, role := readyWords(s.Readiness)
		ready.put(words, role)
		reason := "Its cuts are known within the tolerance, from readings on bare wood."
		if s.Why != "" {
			reason = model.Capital(s.Why) + "."
		}
		setPara(why, reason)
		if at, words, ok := suspectOf(a, d.step); ok {
			where = at
			next.say(words, true)
			next.Show()
			return
		}
		k, ok := bestNext(s)
		if !ok || s.Readiness == survey.ReadyCut {
			next.Hide()
			return
		}
		f := d.Job().Format()
		where = model.Place{Step: d.step, Kind: k}
		if r, taken := latest(d.Job().Flight.Steps[d.step-1].Readings, k); taken {
			where.Reading = r.ID
		}
		text := "Helps most: " + shortName(k)
		now, after := f.PlusMinus(model.Length(survey.Band95*s.Next[0].Now)), f.PlusMinus(model.Length(survey.Band95*s.Next[0].After))
		if now != after {
			text += fmt.Sprintf("  (%s → %s)", now, after)
		}
		next.say(text, true)
		next.Show()
	}
	d.Watch(tell)
	tell(Answered)
	top := container.NewBorder(nil, nil, container.NewHBox(down, up, padded(title)), nil, padded(ready))
	return container.New(&stack{}, top, container.NewBorder(nil, nil, nil, container.NewCenter(next), why))
}
