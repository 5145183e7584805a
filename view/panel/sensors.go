package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver/sensing"
	"risewright/view/canvas"
)

// sensorsTab takes where the sensors sit and what the controller does, and shows
// what follows: who is seen where, and which steps light for a walker.
type sensorsTab struct {
	desk    *Desk
	off, on *fyne.Container
	status  *para
	band    *canvas.Canvas
	list    *sensorList
	sensor  *sensorForm
	wish    *placeForm
	traffic *trafficForm
	walk    *walkForm
	control *controlForm
	scroll  *container.Scroll
}

// newSensorsTab returns the tab and what brings it up to date.
func newSensorsTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &sensorsTab{desk: d, status: newPara("").bold(), list: newSensorList(d), sensor: newSensorForm(d), wish: newPlaceForm(d), traffic: newTrafficForm(d), walk: newWalkForm(d), control: newControlForm(d)}
	t.band = canvas.New("Zones of the sensors", &bandScene{desk: d})
	t.band.Gained = func() { toSight(t.band) }
	t.band.Least = fyne.NewSize(300, 230)
	d.Watch(func(c Change) {
		if c != Pointed && d.tabs.shows(tabSensors) {
			t.band.Redraw()
		}
	})
	soft := func(s string) fyne.CanvasObject { return newPara(s).soft() }
	t.off = container.NewVBox(
		heading("Motion sensors"),
		newPara("Sensors under the rail light only the steps round whoever walks. Put in a first set, evenly spread, and see which step each one speaks for, which step nobody sees, and what a walker gets to see."),
		container.NewHBox(newButton("Put in sensors", t.start)),
		soft(mainsCaution),
	)
	t.on = container.NewVBox(
		t.status, t.band,
		soft("A row is a sensor, a column a step. Filled: everybody who moves there is seen. Dashed: somebody may be. Hatched: more than one sees it. Drag the ends of a zone here, or the sensors and the walker in plan and section. N chooses the next sensor."),
		heading("A walker"), t.walk.box,
		heading("Sensors"), t.list.box,
		container.NewHBox(newButton("Add a sensor", t.add)),
		t.sensor.box,
		heading("Find places"), t.wish.box,
		heading("What may fool them"), t.traffic.box,
		heading("How the controller lights the steps"), t.control.box,
		container.NewHBox(newButton("Take all sensors out", t.stop)),
		soft("Figures of sensors are those of their data sheets as far as seen; sizes and speeds of people are published, see the table of standings. Try every sensor on the stair for a week before it is fixed for good. The bars never replace the switched light."),
	)
	t.scroll = container.NewVScroll(container.New(&gap{x: 4, y: 2}, container.New(&stack{}, t.off, t.on)))
	d.onSettled(t.figures)
	d.onGo(func(p model.Place) bool {
		if !strings.HasPrefix(p.Field, "sensing") || !d.Job().Sensing.On() {
			return false
		}
		d.tabs.show(tabSensors)
		o := t.goTo(p.Field)
		d.focus(o)
		reveal(t.scroll, o.(fyne.CanvasObject))
		return true
	})
	return wheeled(t.scroll), t.tell
}

// goTo returns the control of a field of the job, or that of the chosen sensor's
// name.
func (t *sensorsTab) goTo(id string) fyne.Focusable {
	var i int
	if n, _ := fmt.Sscanf(id, "sensing.sensors.%d", &i); n == 1 {
		t.desk.ChooseSensor(i)
		return t.sensor.goTo(id)
	}
	for _, f := range []*form{&t.wish.form, &t.control.form, &t.traffic.form, &t.walk.form} {
		for _, x := range f.fields {
			if x.id == id || strings.HasPrefix(x.id, id+".") && id != "sensing" {
				return x.entry
			}
		}
	}
	return t.sensor.goTo("") // of the sensors as a whole
}

// start puts a first set in.
func (t *sensorsTab) start() {
	d := t.desk
	_ = d.Do(model.SetSensing{Sensing: model.FirstSensing(d.Job(), d.session.Tables().Senses)}) // an error has been shown
}

// stop takes all sensors out; an undo brings them back.
func (t *sensorsTab) stop() { _ = t.desk.Do(model.SetSensing{}) }

// add puts another sensor where the first gap in the sight of the others is.
func (t *sensorsTab) add() {
	d := t.desk
	job := d.Job()
	s, ok := d.chosenSensor()
	if !ok {
		return
	}
	r := d.Sensed()
	s.ID, s.Name, s.Removed = model.NewID(), fmt.Sprintf("sensor %d", len(job.Sensing.Sensors)+1), false
	if !s.Mount.Beside() {
		s.Mount, s.Below = model.RailLeft, 10
	}
	switch {
	case len(r.Blind) > 0:
		s.Along = sensing.Along(r.Blind[0])
	default:
		s.Along = float64(len(job.Flight.Steps)) / 2
	}
	if d.Do(model.AddSensor{Sensor: s}) == nil {
		d.ChooseSensor(len(job.Sensing.Sensors))
	}
}

// tell follows a change.
func (t *sensorsTab) tell(c Change) {
	d := t.desk
	job := d.session.Job()
	on := job.Sensing.On()
	if on {
		t.off.Hide()
		t.on.Show()
	} else {
		t.on.Hide()
		t.off.Show()
		return
	}
	if c == Walked {
		t.walk.tell()
		return
	}
	if c&(Answered|Viewed) != 0 {
		t.list.tell()
		t.sensor.tell()
		t.wish.tell()
		t.traffic.tell()
		t.control.tell()
	}
	t.walk.tell()
	t.figures()
}

// figures says in a line what the zones come to.
func (t *sensorsTab) figures() {
	d := t.desk
	if !d.sensing() {
		if d.session.Answer().Survey == nil && d.session.Job().Sensing.On() {
			setPara(t.status, "There is no stair to look at yet: mend the findings that stop work.")
		}
		return
	}
	r := d.Sensed()
	text := sensedWords(r)
	if l := d.litFor(); l != nil && d.Answer() == d.session.Answer() {
		text += " " + l.Words()
	}
	setPara(t.status, text)
	t.list.figures(r)
	t.traffic.figures(r)
}

// sensedWords sums up what sensors see.
func sensedWords(r *sensing.Result) string {
	if r.Stair == nil {
		return "There is no stair to look at yet."
	}
	works := 0
	for i := range r.Zones {
		if r.Zones[i].Settled() {
			works++
		}
	}
	s := fmt.Sprintf("%s at work", model.Plural(works, "sensor"))
	switch {
	case len(r.Blind) == 0:
		s += ", and everybody who moves is seen on every step."
	default:
		s += ". Blind: " + r.Stair.Listed(r.Blind) + "."
	}
	least := 0.0
	for i, o := range r.Overlaps {
		if i == 0 || o.Length < least {
			least = o.Length
		}
	}
	if len(r.Overlaps) > 0 {
		if least >= 0 {
			s += fmt.Sprintf(" Neighbours share %.1f steps at least.", least)
		} else {
			s += fmt.Sprintf(" The widest gap between neighbours is %.1f steps.", -least)
		}
	}
	return s
}

// sensorList is a row for each sensor of the job.
type sensorList struct {
	desk *Desk
	rows []sensorRow
	box  *fyne.Container
}

type sensorRow struct {
	pick              *pickRow
	name, where, sees *label
	state             *label
	away              *button
}

func sensorColumns() *columns {
	return &columns{least: []float32{90, 70, 150, 74, 70}, share: []float32{2, 1, 3, 0, 0}, gap: 6}
}

func newSensorList(d *Desk) *sensorList {
	return &sensorList{desk: d, box: container.New(&stack{gap: 1})}
}

func (t *sensorList) tell() {
	job := t.desk.session.Job()
	ss := job.Sensing.Sensors
	if len(ss) != len(t.rows) {
		t.rows = nil
		t.box.RemoveAll()
		head := func(s string) fyne.CanvasObject { return newLabel(s).soft().small() }
		t.box.Add(sensorColumns().row(head("sensor"), head("hangs"), head("sees for sure"), head(""), head("")))
		for i := range ss {
			r := sensorRow{name: newLabel(""), where: newLabel(""), sees: newLabel(""), state: newLabel("")}
			r.away = newButton("Take away", func() {
				s := t.desk.session.Job().Sensing.Sensors[i]
				_ = t.desk.Do(model.RemoveSensor{ID: s.ID, Back: s.Removed}) // an error has been shown
			})
			r.pick = newPickRow(t.desk, i, r.name, func(k int) {
				t.desk.ChooseSensor(k)
				if k >= 0 && k < len(t.rows) {
					focus(t.rows[k].pick)
				}
			})
			t.box.Add(sensorColumns().row(r.pick, r.where, r.sees, r.state, r.away))
			t.rows = append(t.rows, r)
		}
	}
	chosen := t.desk.Sensor()
	for i := range ss {
		r := &t.rows[i]
		r.name.set(t.desk.sensorName(i))
		r.where.set(mountWords(ss[i].Mount))
		r.pick.mark(i == chosen)
		word := "Take away"
		if ss[i].Removed {
			word = "Put back"
		}
		r.away.say(word, true)
	}
}

// figures shows what each sees.
func (t *sensorList) figures(r *sensing.Result) {
	if len(r.Zones) != len(t.rows) {
		return
	}
	for i := range t.rows {
		z := &r.Zones[i]
		sees, state, role := "", "", base.ColorNamePlaceHolder
		switch {
		case z.Removed:
			sees, state = "taken away; its place is kept", "○ away"
		case z.Err != "":
			sees, state, role = z.Err, "■ blind", base.ColorNameError
		case z.Sure.Len() == 0:
			sees, state, role = "nobody for sure", "▲ blind", base.ColorNameWarning
		default:
			sees = seenSpan(r, z.Sure)
			state = "● sees"
			role = base.ColorNameSuccess
		}
		t.rows[i].sees.set(sees)
		t.rows[i].state.put(state, role)
	}
}

// seenSpan says which steps a zone covers.
func seenSpan(r *sensing.Result, s sensing.Span) string {
	if s.Len() == 1 {
		return r.Stair.PositionWords(s.First)
	}
	return r.Stair.PositionWords(s.First) + " to " + r.Stair.PositionWords(s.Last)
}

func mountWords(m model.Mount) string {
	switch m {
	case model.RailLeft:
		return "left rail"
	case model.RailRight:
		return "right rail"
	case model.WallLeft:
		return "left wall"
	case model.WallRight:
		return "right wall"
	}
	return string(m)
}
