package panel

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver/sensing"
)

// trafficForm lists what moves or warms near the stair, and which sensor it may
// fool.
type trafficForm struct {
	desk *Desk
	form form
	said string // what the rows were made for
	rows []*para
	list *fyne.Container
	box  *fyne.Container
}

func newTrafficForm(d *Desk) *trafficForm {
	f := &trafficForm{desk: d, form: form{desk: d, tab: tabSensors}, list: container.New(&stack{gap: 4})}
	add := func(word string, do func(*model.Job, *model.SetTraffic)) fyne.CanvasObject {
		return newButton(word, func() {
			job := d.Job()
			_ = d.Do(f.change(func(e *model.SetTraffic) { do(&job, e) })) // an error has been shown
		})
	}
	f.box = container.New(&stack{gap: 2}, f.list, container.NewHBox(
		add("Somebody in the hall", func(j *model.Job, e *model.SetTraffic) {
			e.Passers = append(e.Passers, passing(j, "somebody in the hall", model.AdultPasses, false))
		}),
		add("On the landing", func(j *model.Job, e *model.SetTraffic) {
			e.Passers = append(e.Passers, passing(j, "somebody on the landing", model.AdultPasses, true))
		}),
		add("A pet", func(j *model.Job, e *model.SetTraffic) {
			e.Passers = append(e.Passers, passing(j, "cat", model.PetPasses, false))
		}),
		add("A door", func(j *model.Job, e *model.SetTraffic) { e.Passers = append(e.Passers, swinging(j)) }),
		add("A radiator", func(j *model.Job, e *model.SetTraffic) { e.Warm = append(e.Warm, radiator(j)) }),
	), newPara("Drag them in the plan: a disc moves the whole, a square an end. Or type where they are, from the bottom of the stair as drawn: to the right, and up the flight.").soft())
	return f
}

// ends returns the y of the first and the last nose at mid width, and the x of
// the flight's middle at the bottom and at the top. The flight is taken as
// sketched; the places can be changed.
func ends(j *model.Job, top bool) (x, y model.Length) {
	s := j.Flight.Steps
	if len(s) == 0 {
		return 0, 0
	}
	step := &s[0]
	if top {
		step = &s[len(s)-1]
	}
	for i := range step.Corners {
		if i == 0 || !top && step.Corners[i].Y < y {
			y = step.Corners[i].Y
		}
		x += step.Corners[i].X
	}
	if n := len(step.Corners); n > 0 {
		x /= model.Length(n)
	}
	if top {
		for i := range step.Corners {
			y = min(y, step.Corners[i].Y)
		}
	}
	return x, y
}

// apart is how far from the stair things are put at first, and across how far to
// each side somebody walks.
const (
	apart  = 1200
	across = 1500
)

func passing(j *model.Job, name string, kind model.PasserKind, top bool) model.Passer {
	x, y := ends(j, top)
	if top {
		y += apart
	} else {
		y -= apart
	}
	return model.Passer{ID: model.NewID(), Name: name, Kind: kind, Top: top, Path: []model.Corner{{X: x - across, Y: y}, {X: x + across, Y: y}}}
}

func swinging(j *model.Job) model.Passer {
	x, y := ends(j, false)
	const leaf = 800
	y -= apart
	x += 600
	return model.Passer{ID: model.NewID(), Name: "door", Kind: model.DoorSwings, Path: []model.Corner{{X: x, Y: y}, {X: x + leaf, Y: y}, {X: x, Y: y - leaf}}}
}

func radiator(j *model.Job) model.WarmThing {
	x, y := ends(j, false)
	return model.WarmThing{ID: model.NewID(), Name: "radiator", Kind: model.Radiator,
		Low: model.Point{X: x + 700, Y: y - 1500, Z: 100}, High: model.Point{X: x + 800, Y: y - 700, Z: 700}}
}

// change changes the traffic by one edit.
func (f *trafficForm) change(do func(*model.SetTraffic)) model.Edit {
	s := f.desk.session.Job().Sensing
	e := model.SetTraffic{Passers: slices.Clone(s.Passers), Warm: slices.Clone(s.Warm)}
	for i := range e.Passers {
		e.Passers[i].Path = slices.Clone(e.Passers[i].Path)
	}
	do(&e)
	return e
}

// fill makes a block for every passer and warm thing.
func (f *trafficForm) fill(s *model.Sensing) {
	said := ""
	for i := range s.Passers {
		said += s.Passers[i].ID.String() + string(s.Passers[i].Kind)
	}
	for i := range s.Warm {
		said += s.Warm[i].ID.String()
	}
	if said == f.said {
		return
	}
	f.said, f.rows, f.form.fields = said, nil, nil
	f.list.RemoveAll()
	block := func(fields []fyne.CanvasObject, remove func(*model.SetTraffic)) {
		seen := newPara("").soft()
		f.rows = append(f.rows, seen)
		f.list.Add(container.New(&stack{gap: 1}, container.NewGridWithColumns(2, fields...),
			container.NewBorder(nil, nil, nil, newButton("Take out", func() { _ = f.desk.Do(f.change(remove)) }), seen)))
	}
	for i := range s.Passers {
		id := fmt.Sprintf("sensing.passers.%d.", i)
		at := func(j *model.Job) *model.Passer { return &j.Sensing.Passers[i] }
		fields := []fyne.CanvasObject{f.form.add(textField(f.desk, id+"name", model.Capital(string(s.Passers[i].Kind)),
			func(j *model.Job) string { return at(j).Name },
			func(_ *model.Job, v string) model.Edit {
				return f.change(func(e *model.SetTraffic) { e.Passers[i].Name = v })
			})).box,
			f.length(id+"height", "Height, 0 as usual", func(j *model.Job) model.Length { return at(j).Height },
				func(e *model.SetTraffic, v model.Length) { e.Passers[i].Height = v }),
		}
		for k := range s.Passers[i].Path {
			word := map[int]string{0: "from", 1: "to"}[k]
			if s.Passers[i].Kind == model.DoorSwings {
				word = [...]string{"hinge", "shut", "open"}[min(k, 2)]
			} else if word == "" {
				word = fmt.Sprint("point ", k+1)
			}
			fields = append(fields,
				f.length(fmt.Sprintf("%spath.%d.x", id, k), model.Capital(word)+", to the right", func(j *model.Job) model.Length { return at(j).Path[k].X },
					func(e *model.SetTraffic, v model.Length) { e.Passers[i].Path[k].X = v }),
				f.length(fmt.Sprintf("%spath.%d.y", id, k), model.Capital(word)+", up the flight", func(j *model.Job) model.Length { return at(j).Path[k].Y },
					func(e *model.SetTraffic, v model.Length) { e.Passers[i].Path[k].Y = v }))
		}
		block(fields, func(e *model.SetTraffic) { e.Passers = slices.Delete(e.Passers, i, i+1) })
	}
	for i := range s.Warm {
		id := fmt.Sprintf("sensing.warm.%d.", i)
		at := func(j *model.Job) *model.WarmThing { return &j.Sensing.Warm[i] }
		fields := []fyne.CanvasObject{f.form.add(textField(f.desk, id+"name", model.Capital(string(s.Warm[i].Kind)),
			func(j *model.Job) string { return at(j).Name },
			func(_ *model.Job, v string) model.Edit {
				return f.change(func(e *model.SetTraffic) { e.Warm[i].Name = v })
			})).box}
		for _, c := range []struct {
			id, name string
			of       func(*model.WarmThing) *model.Length
		}{
			{"low.x", "From, to the right", func(w *model.WarmThing) *model.Length { return &w.Low.X }},
			{"high.x", "To, to the right", func(w *model.WarmThing) *model.Length { return &w.High.X }},
			{"low.y", "From, up the flight", func(w *model.WarmThing) *model.Length { return &w.Low.Y }},
			{"high.y", "To, up the flight", func(w *model.WarmThing) *model.Length { return &w.High.Y }},
			{"low.z", "Its foot", func(w *model.WarmThing) *model.Length { return &w.Low.Z }},
			{"high.z", "Its top", func(w *model.WarmThing) *model.Length { return &w.High.Z }},
		} {
			fields = append(fields, f.length(id+c.id, c.name, func(j *model.Job) model.Length { return *c.of(at(j)) },
				func(e *model.SetTraffic, v model.Length) { *c.of(&e.Warm[i]) = v }))
		}
		block(fields, func(e *model.SetTraffic) { e.Warm = slices.Delete(e.Warm, i, i+1) })
	}
}

func (f *trafficForm) length(id, name string, get func(*model.Job) model.Length, set func(*model.SetTraffic, model.Length)) fyne.CanvasObject {
	return f.form.add(lengthField(f.desk, id, name, get, func(_ *model.Job, v model.Length) model.Edit {
		return f.change(func(e *model.SetTraffic) { set(e, v) })
	})).box
}

func (f *trafficForm) tell() {
	s := f.desk.session.Job().Sensing
	f.fill(&s)
	f.form.tell()
	if f.desk.sensing() {
		f.figures(f.desk.Sensed())
	}
}

// figures says what each thing may do: during a drag as it would be.
func (f *trafficForm) figures(r *sensing.Result) {
	s := f.desk.session.Job().Sensing
	for i := range f.rows {
		var id model.ID
		switch k := i - len(s.Passers); {
		case k < 0:
			id = s.Passers[i].ID
		case k < len(s.Warm):
			id = s.Warm[k].ID
		}
		setPara(f.rows[i], fooled(f.desk, r, id))
	}
}

// fooled says which sensors see a thing, and how much of it.
func fooled(d *Desk, r *sensing.Result, id model.ID) string {
	out := ""
	for _, t := range r.Triggers {
		if t.Thing != id {
			continue
		}
		if out != "" {
			out += "; "
		}
		out += fmt.Sprintf("%s sees up to %.0f %% of it", d.sensorName(t.Sensor), 100*t.Most)
		if !t.Warm && t.Part < 0.995 {
			out += fmt.Sprintf(", on %.0f %% of its way", 100*t.Part)
		}
	}
	if out == "" {
		return "○ No sensor sees it."
	}
	return "▲ " + model.Sentence(out)
}
