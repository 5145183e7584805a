package panel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver/buildup"
)

// buildupTab shows what the overlay does to the flight, and lets the overlay,
// the packing, the rail, the headroom and the doors be changed.
type buildupTab struct {
	desk *Desk
	form form // the overlay
	back *chooser

	summary  *para
	steps    *stepTable
	checks   *checkTable
	remedies *remedyList
}

// newBuildupTab returns the tab and what brings it up to date.
func newBuildupTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &buildupTab{desk: d, form: form{desk: d, tab: tabBuildup}, summary: newPara("")}
	t.steps, t.checks, t.remedies = newStepTable(d), newCheckTable(d), newRemedyList(d)
	grid := container.NewGridWithColumns(2)
	for _, f := range overlayFields(d) {
		grid.Add(t.form.add(f).box)
	}
	joints := []model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser}
	t.back = newChooser(func(i int) {
		o := d.Job().Overlay
		o.Back = joints[i]
		_ = d.Do(model.SetOverlay{Overlay: o}) // an error has been shown
	})
	t.back.words([]string{"runs under the riser", "butts against the riser"}, nil)
	grid.Add(fieldColumns().row(newLabel("Back of a tread"), t.back))

	body := container.NewVBox(
		heading("Rises within the limits"), t.remedies.box,
		heading("What is laid"), grid,
		heading("Rises, goings and packing"), t.summary, t.steps.box,
		heading("Rail, headroom and doors"), t.checks.box,
		newPara("A raised or lowered floor, a planed tread and a cut door touch structure and safety: local code and licensed people decide."),
	)
	scroll := container.NewVScroll(container.New(&gap{x: 4, y: 2}, body))
	d.onGo(func(p model.Place) bool {
		if t.form.goTo(p.Field) {
			reveal(scroll, t.form.focused())
			return true
		}
		return false
	})
	d.onGo(func(p model.Place) bool {
		o := t.checks.goTo(p)
		if o == nil {
			o = t.steps.goTo(p)
		}
		if o == nil {
			return false
		}
		d.tabs.show(tabBuildup)
		d.focus(o)
		reveal(scroll, o.(fyne.CanvasObject))
		return true
	})
	return wheeled(scroll), t.tell
}

// heading is the title of a part of a tab.
func heading(text string) fyne.CanvasObject {
	l := newLabel(text).bold()
	l.role = base.ColorNamePrimary
	return container.NewVBox(container.New(&gap{y: 3}, l))
}

// reveal scrolls an object into sight.
func reveal(s *container.Scroll, o fyne.CanvasObject) {
	if o == nil || s.Content == nil {
		return
	}
	if size, least := s.Content.Size(), s.Content.MinSize(); size.Height < least.Height || size.Width < least.Width {
		s.Refresh() // it has grown since it was laid out, and would not scroll so far
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	from := fyne.CurrentApp().Driver().AbsolutePositionForObject(s.Content)
	size := o.Size().Max(o.MinSize())
	// along returns the offset that shows a part of the content.
	along := func(offset, at, size, room float32) float32 {
		switch {
		case room <= 0:
		case at < offset:
			return max(0, at)
		case at+size > offset+room:
			return max(0, min(at, at+size-room))
		}
		return offset
	}
	to := s.Offset
	if s.Direction != container.ScrollHorizontalOnly {
		to.Y = along(to.Y, at.Y-from.Y, size.Height, s.Size().Height)
	}
	if s.Direction != container.ScrollVerticalOnly {
		to.X = along(to.X, at.X-from.X, size.Width, s.Size().Width)
	}
	s.ScrollToOffset(to)
}

func overlayFields(d *Desk) []*field {
	length := func(id, name string, at func(*model.Overlay) *model.Length) *field {
		return lengthField(d, "overlay."+id, name,
			func(j *model.Job) model.Length { return *at(&j.Overlay) },
			func(j *model.Job, l model.Length) model.Edit {
				o := j.Overlay
				*at(&o) = l
				return model.SetOverlay{Overlay: o}
			})
	}
	return []*field{
		length("tread", "New tread", func(o *model.Overlay) *model.Length { return &o.Tread }),
		length("riser", "New riser", func(o *model.Overlay) *model.Length { return &o.Riser }),
		length("landing", "Landing nosing", func(o *model.Overlay) *model.Length { return &o.Landing }),
		length("landing_depth", "Landing depth", func(o *model.Overlay) *model.Length { return &o.LandingDepth }),
		length("floor_bottom", "Bottom floor adds", func(o *model.Overlay) *model.Length { return &o.FloorBottom }),
		length("floor_top", "Top floor adds", func(o *model.Overlay) *model.Length { return &o.FloorTop }),
		length("overhang", "Overhang", func(o *model.Overlay) *model.Length { return &o.Overhang }),
		length("riser_gap", "Gap above a riser", func(o *model.Overlay) *model.Length { return &o.RiserGap }),
		length("fit", "Fit at each end", func(o *model.Overlay) *model.Length { return &o.Fit }),
		newField(d, "overlay.undercut", "Undercut",
			func(j *model.Job) string { return model.FormatDegrees(j.Overlay.Undercut, 1) },
			func(j *model.Job, text string) (model.Edit, error) {
				a, err := readAngle(text)
				o := j.Overlay
				o.Undercut = a
				return model.SetOverlay{Overlay: o}, err
			}),
	}
}

// focused returns the entry that has the keyboard, or nil.
func (m *form) focused() fyne.CanvasObject {
	for _, f := range m.fields {
		if f.entry.focused {
			return f.entry
		}
	}
	return nil
}

func (t *buildupTab) tell(c Change) {
	if c&(Answered|Chosen|Dragged) == 0 {
		return
	}
	a := t.desk.Answer()
	b := &a.Buildup
	job := a.Job
	f := job.Format()
	show := func(v float64) string { return f.Length(model.Length(v)) }
	if len(b.Steps) == 0 {
		setPara(t.summary, "Not solved: mend what the list below says first.")
	} else {
		text := fmt.Sprintf("Rises differ by %s before and %s after (from %s at step %d to %s at step %d); mean %s, pitch %s.",
			show(b.RiseBefore.Spread.At), show(b.RiseAfter.Spread.At),
			show(b.RiseAfter.Smallest.Value.At), b.RiseAfter.Smallest.Step,
			show(b.RiseAfter.Largest.Value.At), b.RiseAfter.Largest.Step,
			show(b.MeanRise), model.FormatDegrees(model.Angle(b.Pitch.At), 1))
		if b.GoingAfter.Count > 1 {
			text += fmt.Sprintf(" Goings differ by %s after.", show(b.GoingAfter.Spread.At))
		}
		setPara(t.summary, text)
	}
	t.steps.tell(a)
	t.checks.tell(a)
	if c&Answered != 0 {
		t.form.tell()
		i := 0
		if job.Overlay.Back == model.BackAgainstRiser {
			i = 1
		}
		t.back.set(i)
		t.remedies.tell()
	}
}

// both writes a figure at the left and the right, once if they print alike.
func both(f model.Format, s buildup.Sides) string {
	l, r := f.Number(model.Length(s.Left.At)), f.Number(model.Length(s.Right.At))
	if l == r {
		return l
	}
	return l + " · " + r
}
