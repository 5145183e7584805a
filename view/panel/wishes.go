package panel

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// wishForm is what is asked of the order of fitting.
type wishForm struct {
	desk   *Desk
	form   form
	checks []wishCheck
	back   *chooser
	sides  [2]*label
	bars   [2]*field // balusters a tread
	box    *fyne.Container
}

// wishCheck is a tick with what it stands for.
type wishCheck struct {
	*check
	id string
	at func(*model.Wishes) *bool
	// side is that of the stair, or -1; only says on which kind of side it
	// counts, nil for any.
	side int
	only func(model.SideKind) bool
}

// change hands changed wishes to the session.
func (f *wishForm) change(do func(*model.Wishes)) {
	w := f.desk.Job().Wishes
	do(&w)
	_ = f.desk.Do(model.SetWishes{Wishes: w}) // an error has been shown
}

func wishSide(w *model.Wishes, s int) *model.SideWish {
	if s == int(pieces.Left) {
		return &w.Left
	}
	return &w.Right
}

var sideNames = [2]string{"left", "right"}

// backJoints are the wishes for the backs of treads; the first leaves it open.
var backJoints = [...]model.BackJoint{"", model.BackUnderRiser, model.BackAgainstRiser}

func isSkirt(k model.SideKind) bool { return k == model.Skirt }
func notOpen(k model.SideKind) bool { return k != model.Open }

func newWishForm(d *Desk) *wishForm {
	f := &wishForm{desk: d, form: form{desk: d, tab: tabOrder}}
	tick := func(id, text string, side int, only func(model.SideKind) bool, at func(*model.Wishes) *bool) fyne.CanvasObject {
		c := wishCheck{id: id, at: at, side: side, only: only}
		c.check = newCheck(text, func(on bool) { f.change(func(w *model.Wishes) { *at(w) = on }) })
		f.checks = append(f.checks, c)
		return c.check
	}
	grid := container.NewGridWithColumns(2)
	for s := range f.sides {
		f.sides[s] = newLabel("").bold()
		grid.Add(padded(f.sides[s]))
	}
	for _, row := range []struct {
		id, text string
		only     func(model.SideKind) bool
		at       func(*model.SideWish) *bool
	}{
		{"keep", "The old skirt stays", isSkirt, func(w *model.SideWish) *bool { return &w.Keep }},
		{"battered", "It is battered: not to be seen", isSkirt, func(w *model.SideWish) *bool { return &w.Battered }},
		{"no_false", "No board over the old one", isSkirt, func(w *model.SideWish) *bool { return &w.NoFalse }},
		{"wiring", "Wires here stay reachable", notOpen, func(w *model.SideWish) *bool { return &w.Wiring }},
	} {
		for s := range f.sides {
			grid.Add(tick("wishes."+sideNames[s]+"."+row.id, row.text, s, row.only, func(w *model.Wishes) *bool { return row.at(wishSide(w, s)) }))
		}
	}
	for _, row := range []struct {
		id, text string
		at       func(*model.SideWish) *model.Length
	}{
		{"old_thickness", "Old skirt, thickness", func(w *model.SideWish) *model.Length { return &w.OldThickness }},
		{"margin_first", "Above the first nose", func(w *model.SideWish) *model.Length { return &w.MarginFirst }},
		{"margin_last", "Above the last nose", func(w *model.SideWish) *model.Length { return &w.MarginLast }},
	} {
		for s := range f.sides {
			grid.Add(f.form.add(f.length("wishes."+sideNames[s]+"."+row.id, row.text, func(w *model.Wishes) *model.Length { return row.at(wishSide(w, s)) })).box)
		}
	}
	for s := range f.sides {
		f.bars[s] = f.count("wishes."+sideNames[s]+".balusters", "Balusters a tread", s)
		grid.Add(f.form.add(f.bars[s]).box)
	}
	both := container.NewGridWithColumns(2,
		tick("wishes.usable_every_evening", "Usable every evening", -1, nil, func(w *model.Wishes) *bool { return &w.Usable }),
		tick("wishes.same_sides", "Both sides alike", -1, nil, func(w *model.Wishes) *bool { return &w.SameSides }),
		tick("wishes.light_bars", "Light bar under every nose", -1, nil, func(w *model.Wishes) *bool { return &w.LightBars }),
		tick("wishes.coves", "Cove under every nose", -1, nil, func(w *model.Wishes) *bool { return &w.Coves }),
		tick("wishes.first_timer", "Nobody has scribed a skirt yet", -1, nil, func(w *model.Wishes) *bool { return &w.FirstTimer }),
		tick("wishes.sleep_below", "The household sleeps below", -1, nil, func(w *model.Wishes) *bool { return &w.SleepBelow }),
	)
	f.back = newChooser(func(i int) { f.change(func(w *model.Wishes) { w.Back = backJoints[i] }) })
	f.back.words([]string{"whichever is best", "runs under the riser", "butts against the riser"}, nil)
	hours := newField(d, "wishes.evening_hours", "Hours an evening",
		func(j *model.Job) string { return hoursText(j.Wishes.EveningHours) },
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseHours(text)
			w := j.Wishes
			w.EveningHours = v
			return model.SetWishes{Wishes: w}, err
		})
	hours.entry.SetPlaceHolder("3")
	more := container.NewGridWithColumns(2, fieldColumns().row(newLabel("Back of a tread"), f.back), f.form.add(hours).box)
	f.box = container.NewVBox(grid, both, more)
	return f
}

// hoursText writes hours, nothing for the usual ones.
func hoursText(h float64) string {
	if h == 0 {
		return ""
	}
	return strconv.FormatFloat(h, 'g', 4, 64)
}

// parseHours reads hours; nothing is the usual ones.
func parseHours(text string) (float64, error) {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "h"))
	if text == "" {
		return 0, nil
	}
	v, doubt := readFigure(text)
	if doubt != nil {
		return 0, doubt
	}
	if !(v >= 0 && v <= 24) {
		return 0, fmt.Errorf("%q is no number of hours; type 0 to 24, or nothing for the usual", text)
	}
	return v, nil
}

func (f *wishForm) length(id, name string, at func(*model.Wishes) *model.Length) *field {
	x := newField(f.desk, id, name,
		func(j *model.Job) string {
			w := j.Wishes
			if *at(&w) == 0 {
				return ""
			}
			return fieldText(j.Format(), *at(&w))
		},
		func(j *model.Job, text string) (model.Edit, error) {
			w := j.Wishes
			if text == "" {
				*at(&w) = 0
				return model.SetWishes{Wishes: w}, nil
			}
			l, err := ReadLength(text, j.Units)
			if err == nil && l < 0 {
				err = fmt.Errorf("%q is below 0; leave it empty if it was not measured", text)
			}
			*at(&w) = l
			return model.SetWishes{Wishes: w}, err
		})
	x.entry.SetPlaceHolder("not measured")
	return x
}

func (f *wishForm) count(id, name string, s int) *field {
	return newField(f.desk, id, name,
		func(j *model.Job) string {
			w := j.Wishes
			n := wishSide(&w, s).Balusters
			if n == 0 && !opens(j, s) {
				return ""
			}
			return strconv.Itoa(n)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			n, err := strconv.Atoi(text)
			if err != nil || n < 0 || n > 10 {
				return nil, fmt.Errorf("%q is no number of balusters from 0 to 10; type one", text)
			}
			w := j.Wishes
			wishSide(&w, s).Balusters = n
			return model.SetWishes{Wishes: w}, nil
		})
}

// opens says whether a side is open at any step.
func opens(j *model.Job, side int) bool {
	for i := range j.Flight.Steps {
		s := j.Flight.Steps[i].Left
		if side == int(pieces.Right) {
			s = j.Flight.Steps[i].Right
		}
		if s.Kind == model.Open {
			return true
		}
	}
	return false
}

func (f *wishForm) tell() {
	job := f.desk.Job()
	f.form.tell()
	w := job.Wishes
	var kinds [2]model.SideKind
	for s := range f.sides {
		kinds[s] = skirt.KindOf(&job, pieces.Side(s))
		words := map[model.SideKind]string{model.Skirt: "a skirt", model.Wall: "a bare wall", model.Open: "open"}[kinds[s]]
		f.sides[s].set(fmt.Sprintf("%s side: %s", model.Capital(sideNames[s]), words))
	}
	for s, x := range f.bars {
		// those that are wished for can still be taken back
		x.permit(opens(&job, s) || wishSide(&w, s).Balusters > 0, "the side is closed")
	}
	for _, c := range f.checks {
		c.show(*c.at(&w))
		// a wish that does not count can still be taken back
		c.allow(c.side < 0 || c.only == nil || c.only(kinds[c.side]) || *c.at(&w))
	}
	for i, b := range backJoints {
		if b == w.Back {
			f.back.set(i)
		}
	}
}

// goTo returns the control of a field, or nil.
func (f *wishForm) goTo(id string) fyne.Focusable {
	for _, c := range f.checks {
		if c.id == id {
			return c.check
		}
	}
	for _, x := range f.form.fields {
		if x.id == id {
			return x.entry
		}
	}
	if id == "wishes.back" {
		return f.back
	}
	return nil
}
