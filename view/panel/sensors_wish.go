package panel

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver/sensing"
)

// placeForm takes what is wished of the sensors' places, finds places, and puts
// them into the job.
type placeForm struct {
	desk   *Desk
	form   form
	every  *check
	hall   *check
	class  *chooser
	mounts *chooser
	find   *button
	use    *button
	words  *para
	box    *fyne.Container
}

// mountSets are what the search may use, with words.
var mountSets = []struct {
	words  string
	mounts []model.Mount
}{
	{"under both rails", nil},
	{"under the left rail", []model.Mount{model.RailLeft}},
	{"under the right rail", []model.Mount{model.RailRight}},
	{"on the left wall", []model.Mount{model.WallLeft}},
	{"on the right wall", []model.Mount{model.WallRight}},
	{"rails and walls", []model.Mount{model.RailLeft, model.RailRight, model.WallLeft, model.WallRight}},
}

func newPlaceForm(d *Desk) *placeForm {
	f := &placeForm{desk: d, form: form{desk: d, tab: tabSensors}, words: newPara("")}
	f.every = newCheck("Every step is seen", func(on bool) { f.change(func(w *model.SensorWish) { w.Every = on }) })
	f.hall = newCheck("Nobody in hall or landing is seen", func(on bool) { f.change(func(w *model.SensorWish) { w.NoHall = on }) })
	f.class = newChooser(func(i int) { f.change(func(w *model.SensorWish) { w.Class = sensorTables(d).Classes[i].ID }) })
	f.mounts = newChooser(func(i int) { f.change(func(w *model.SensorWish) { w.Mounts = mountSets[i].mounts }) })
	f.find = newButton("Find places", d.findPlaces)
	f.use = newButton("Use these", f.take)
	f.box = container.New(&stack{gap: 1},
		container.NewGridWithColumns(2, f.every, f.hall),
		container.NewGridWithColumns(2,
			f.count("overlap", "Neighbours share, steps", func(w *model.SensorWish) *int { return &w.Overlap }, "0"),
			f.count("most", "Sensors at most", func(w *model.SensorWish) *int { return &w.Most }, "any"),
			f.count("longest", "Steps of one at most", func(w *model.SensorWish) *int { return &w.Longest }, "any"),
			f.bore(),
			fieldColumns().row(newLabel("Class"), f.class),
			fieldColumns().row(newLabel("May hang"), f.mounts)),
		container.NewHBox(f.find, f.use), f.words)
	return f
}

func (f *placeForm) change(do func(*model.SensorWish)) {
	w := f.desk.Job().Sensing.Wish
	do(&w)
	_ = f.desk.Do(model.SetSensorWish{Wish: w}) // an error has been shown
}

func (f *placeForm) count(id, name string, at func(*model.SensorWish) *int, none string) fyne.CanvasObject {
	x := newField(f.desk, "sensing.wish."+id, name,
		func(j *model.Job) string {
			w := j.Sensing.Wish
			if n := *at(&w); n > 0 {
				return strconv.Itoa(n)
			}
			return ""
		},
		func(j *model.Job, text string) (model.Edit, error) {
			w := j.Sensing.Wish
			v, err := parseWhole(text, 0, model.MaxSensors, true)
			*at(&w) = int(v)
			return model.SetSensorWish{Wish: w}, err
		})
	x.entry.SetPlaceHolder(none)
	return f.form.add(x).box
}

// bore is the field of the hoods to be had; nothing is none.
func (f *placeForm) bore() fyne.CanvasObject {
	x := newField(f.desk, "sensing.wish.bore", "Bore of hoods",
		func(j *model.Job) string {
			if j.Sensing.Wish.Bore == 0 {
				return ""
			}
			return fieldText(j.Format(), j.Sensing.Wish.Bore)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			w := j.Sensing.Wish
			v, err := model.Length(0), error(nil)
			if strings.TrimSpace(text) != "" {
				v, err = ReadLength(text, j.Units)
			}
			w.Bore = v
			return model.SetSensorWish{Wish: w}, err
		})
	x.entry.SetPlaceHolder("no hoods")
	return f.form.add(x).box
}

// take puts the places found into the job.
func (f *placeForm) take() {
	g := &f.desk.sensors
	if g.place == nil || len(g.place.Sensors) == 0 {
		return
	}
	s := f.desk.Job().Sensing
	s.Sensors = append([]model.Sensor(nil), g.place.Sensors...)
	_ = f.desk.Do(model.SetSensing{Sensing: s}) // an error has been shown
}

func (f *placeForm) tell() {
	d := f.desk
	w := d.session.Job().Sensing.Wish
	f.every.show(w.Every)
	f.hall.show(w.NoHall)
	classes := sensorTables(d).Classes
	names, at := make([]string, len(classes)), 0
	for i := range classes {
		names[i] = classes[i].Title
		if classes[i].ID == w.Class {
			at = i
		}
	}
	f.class.words(names, nil)
	f.class.set(at)
	sets, set := make([]string, len(mountSets)), -1
	for i := range mountSets {
		sets[i] = mountSets[i].words
		if fmt.Sprint(mountSets[i].mounts) == fmt.Sprint(w.Mounts) {
			set = i
		}
	}
	f.mounts.words(sets, nil)
	f.mounts.set(set)
	f.form.tell()

	g := &d.sensors
	f.find.say("Find places", !g.placing)
	f.use.say("Use these", g.place != nil && len(g.place.Sensors) > 0 && !g.placing)
	switch {
	case g.placing:
		setPara(f.words, "Looking…")
	case g.fault != "":
		setPara(f.words, g.fault)
	case g.place == nil:
		setPara(f.words, "The search tries places, tilts, tape and hoods, and proves how few sensors do.")
	default:
		stale := ""
		if g.placeOf != d.session.Answer() {
			stale = "For the job before its last change: "
		}
		setPara(f.words, stale+placementWords(d.Sensed(), g.place))
	}
}

// placementWords says what the search found, and what is lost with one sensor
// fewer or with one that fails.
func placementWords(r *sensing.Result, p *sensing.Placement) string {
	if r.Stair == nil {
		return model.Sentence(p.Why)
	}
	var out []string
	switch {
	case p.Found:
		out = append(out, fmt.Sprintf("%s do what is wished.", model.Capital(model.Plural(len(p.Sensors), "sensor"))))
	case len(p.Sensors) == 0:
		out = append(out, model.Sentence(p.Why))
	default:
		out = append(out, model.Sentence(p.Why), fmt.Sprintf("The best %s leave unseen: %s.", model.Plural(len(p.Sensors), "sensor"), listed(r, p.Blind)))
	}
	out = append(out, model.Sentence(p.Proven))
	if n := len(p.Sensors); n > 1 {
		if len(p.Fewer) > 0 {
			out = append(out, fmt.Sprintf("With %d the best leaves unseen: %s.", n-1, r.Stair.Listed(p.Fewer)))
		} else {
			out = append(out, fmt.Sprintf("With %d every step is still seen, and neighbours share %s.", n-1, model.Plural(p.FewerOverlap, "step")))
		}
	}
	for i := range p.Failed {
		if len(p.Failed[i]) > 0 {
			out = append(out, fmt.Sprintf("Should %s fail, nobody sees %s.", p.Sensors[i].Name, r.Stair.Listed(p.Failed[i])))
		}
	}
	return strings.Join(out, " ")
}

func listed(r *sensing.Result, ks []int) string {
	if len(ks) == 0 {
		return "nothing"
	}
	return r.Stair.Listed(ks)
}
