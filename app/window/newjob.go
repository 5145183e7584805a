package window

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"risewright/view/words"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/app/tables"
	"risewright/model"
	"risewright/view/panel"
)

// sketch is a new job as it is typed.
type sketch struct {
	Name, Risers, Width, Rise, Going string
	Units                            model.Units
}

// usualSketch returns the sizes of the usual first job.
func usualSketch(u model.Units) (sketch, error) {
	j, err := tables.NewJob(u, nil)
	if err != nil {
		return sketch{}, err
	}
	f := j.Format()
	a, b := j.Flight.Steps[0], j.Flight.Steps[1]
	return sketch{
		Name: "", Units: u, Risers: strconv.Itoa(len(j.Flight.Steps)),
		Width: words.Figure(f.Length(a.Corners[1].X - a.Corners[0].X)),
		Rise:  words.Figure(f.Length(a.TopLeft)),
		Going: words.Figure(f.Length(b.Corners[0].Y - a.Corners[0].Y)),
	}, nil
}

// job makes the job that was typed.
func (s sketch) job() (model.Job, error) {
	base, err := tables.NewJob(s.Units, nil)
	if err != nil {
		return model.Job{}, err
	}
	if base.Name = strings.TrimSpace(s.Name); base.Name == "" {
		base.Name = "New job"
	}
	spec := model.SketchSpec{Base: base}
	spec.Risers, err = strconv.Atoi(strings.TrimSpace(s.Risers))
	if err != nil || spec.Risers < model.MinSteps || spec.Risers > model.UsualMaxSteps {
		return model.Job{}, fmt.Errorf("risers: %q is not a count from %d to %d", s.Risers, model.MinSteps, model.UsualMaxSteps)
	}
	for _, f := range []struct {
		name string
		text string
		to   *model.Length
	}{{"width", s.Width, &spec.Width}, {"rise", s.Rise, &spec.Rise}, {"going", s.Going, &spec.Going}} {
		if *f.to, err = panel.ReadLength(f.text, s.Units); err != nil {
			return model.Job{}, fmt.Errorf("%s: %w", f.name, err)
		}
		if *f.to <= 0 {
			return model.Job{}, fmt.Errorf("%s: %q is not more than 0", f.name, f.text)
		}
	}
	j := model.Sketch(spec)
	for _, f := range j.Validate() {
		if f.Severity == model.Block {
			return model.Job{}, errors.New(f.Title + "; " + f.Remedy)
		}
	}
	return j, nil
}

// newJob asks for a flight in a few numbers.
func (w *window) newJob() {
	w.ifSaved(func() {
		s, err := usualSketch(w.session.Job().Units)
		if err != nil {
			w.complain(err)
			return
		}
		w.askSketch(s)
	})
}

// askSketch shows the form; after a fault it is shown again as it was typed.
func (w *window) askSketch(s sketch) {
	var submit func()
	entry := func(text *string) *dialogEntry {
		e := w.newEntry(*text)
		e.OnSubmitted = func(string) { submit() }
		e.OnChanged = func(t string) { *text = t }
		return e
	}
	name, risers := entry(&s.Name), entry(&s.Risers)
	name.SetPlaceHolder("such as the house and the stair")
	width, rise, going := entry(&s.Width), entry(&s.Rise), entry(&s.Going)
	units := w.newUnitsChoice(s.Units, func(to model.Units) {
		if usual, err := usualSketch(to); err == nil {
			s.Units = to
			width.SetText(usual.Width)
			rise.SetText(usual.Rise)
			going.SetText(usual.Going)
		}
	})
	form, accept := w.form("New job: sketch the flight", "Begin", "Cancel", []*widget.FormItem{
		widget.NewFormItem(words.Say("Name"), name),
		widget.NewFormItem(words.Say("Units"), units),
		widget.NewFormItem(words.Say("Risers"), risers),
		widget.NewFormItem(words.Say("Width between sides"), width),
		widget.NewFormItem(words.Say("Rise of a step"), rise),
		widget.NewFormItem(words.Say("Going of a step"), going),
		widget.NewFormItem("", widget.NewLabel(words.Say("Guesses will do: readings replace them."))),
	}, func(ok bool) {
		if !ok {
			return
		}
		j, err := s.job()
		if err != nil {
			w.ask("Error", model.Capital(err.Error()), choice{"OK", widget.HighImportance, func() {}})
			w.shown[len(w.shown)-1].SetOnClosed(func() { w.askSketch(s) })
			return
		}
		w.use(w.config.home().New(j))
	})
	submit = accept
	form.Resize(fyne.NewSize(520, 0))
	w.show(form)
	w.win.Canvas().Focus(name)
}

// newUnitsChoice offers the units as buttons, one of them marked; the library's
// own choice keeps Escape for itself. picked is called when the other is taken.
func (w *window) newUnitsChoice(at model.Units, picked func(model.Units)) fyne.CanvasObject {
	var tell func()
	button := func(name string, u model.Units) (b *dialogButton, mark func()) {
		b = w.newDialogButton(name, func() {
			if u != at {
				at = u
				tell()
				picked(u)
			}
		})
		b.Alignment, b.Importance = widget.ButtonAlignLeading, widget.LowImportance
		return b, func() {
			sign := "○ "
			if u == at {
				sign = "● "
			}
			b.SetText(sign + words.Say(name))
		}
	}
	imperial, markImperial := button("Imperial", model.Imperial)
	metric, markMetric := button("Metric", model.Metric)
	tell = func() { markImperial(); markMetric() }
	tell()
	return container.NewHBox(imperial, metric)
}
