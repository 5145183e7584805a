package panel

import (
	"fmt"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/bars"
	"risewright/view/lights"
)

// sceneTable is the scenes with the load that each makes.
type sceneTable struct {
	desk *Desk
	form form
	rows []sceneRow
	box  *fyne.Container
}

type sceneRow struct {
	pick               *pickRow // of the name
	name               *label
	look               *swatches
	level, bars        *field
	amps, watts, volts *label
}

func sceneColumns() *columns {
	return &columns{least: []float32{84, 34, 44, 44, 44, 44, 150}, share: []float32{2, 0, 1, 1, 1, 1, 3}, gap: 6}
}

func newSceneTable(d *Desk) *sceneTable {
	t := &sceneTable{desk: d, form: form{desk: d, tab: tabLights}, box: container.New(&stack{gap: 1})}
	return t
}

// fill makes a row for every scene of the job.
func (t *sceneTable) fill(n int) {
	if n == len(t.rows) {
		return
	}
	t.rows, t.form.fields = nil, nil
	t.box.RemoveAll()
	head := func(s string) fyne.CanvasObject { return newLabel(s).soft().small() }
	t.box.Add(sceneColumns().row(head("scene"), head("light"), head("bright, %"), head("bars lit"), newLabel("A").soft().small().right(), newLabel("W").soft().small().right(), head("worst pixel")))
	for i := range n {
		r := sceneRow{name: newLabel(""), look: newSwatches(), amps: newLabel("").right(), watts: newLabel("").right(), volts: newLabel("")}
		id := fmt.Sprintf("lighting.scenes.%d.", i)
		r.level = t.number(id+"level", i, 100, func(s *model.Scene) float64 { return s.Level * 100 }, func(s *model.Scene, v float64) { s.Level = v / 100 }, false)
		r.bars = t.number(id+"bars", i, model.MaxRows, func(s *model.Scene) float64 { return float64(s.Bars) }, func(s *model.Scene, v float64) { s.Bars = int(v) }, true)
		r.pick = newPickRow(t.desk, i, r.name, t.pick)
		line := sceneColumns().row(r.pick, r.look, r.level.entry, r.bars.entry, r.amps, r.watts, r.volts)
		t.box.Add(container.New(&stack{}, line, r.level.fault.box, r.bars.fault.box))
		t.rows = append(t.rows, r)
	}
}

// pick looks at the scene of a row and gives it the keyboard.
func (t *sceneTable) pick(i int) {
	if i >= 0 && i < len(t.rows) {
		t.desk.lookAtScene(i)
		focus(t.rows[i].pick)
	}
}

// number is an entry of one number of a scene; a whole one that is 0 is shown
// as all.
func (t *sceneTable) number(id string, i int, most float64, get func(*model.Scene) float64, put func(*model.Scene, float64), whole bool) *field {
	x := newField(t.desk, id, "",
		func(j *model.Job) string {
			if i >= len(j.Lighting.Scenes) {
				return ""
			}
			return numberText(get(&j.Lighting.Scenes[i]), whole)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			parse := parseNumber
			if whole {
				parse = parseWhole
			}
			v, err := parse(text, 0, most, whole)
			l := j.Lighting
			l.Scenes = slices.Clone(l.Scenes)
			if i < len(l.Scenes) {
				put(&l.Scenes[i], v)
			}
			return model.SetLighting{Lighting: l}, err
		})
	if whole {
		x.entry.SetPlaceHolder("all")
	}
	return t.form.add(x)
}

func (t *sceneTable) tell(a *solver.Answer) {
	scenes := t.desk.Job().Lighting.Scenes
	t.fill(len(scenes))
	t.form.tell()
	t.marks()
	for i := range t.rows {
		t.rows[i].look.show(lights.Previews(a, scenes[i]))
	}
	t.loads(a)
}

// marks shows which scene is looked at.
func (t *sceneTable) marks() {
	for i := range t.rows {
		t.rows[i].pick.mark(i == t.desk.lights.scene)
	}
}

// loads shows what each scene takes; also during a drag.
func (t *sceneTable) loads(a *solver.Answer) {
	for i := range t.rows {
		r := &t.rows[i]
		if a.Power == nil || i >= len(a.Power.Scenes) || i >= len(a.Job.Lighting.Scenes) {
			r.amps.set("")
			r.watts.set("")
			r.volts.set("")
			continue
		}
		s := &a.Power.Scenes[i]
		name := s.Scene.Name
		if s.Scene.Shown {
			name += " *"
		}
		r.name.set(name)
		r.amps.set(strconv.FormatFloat(s.Amps, 'f', 2, 64))
		r.watts.set(strconv.FormatFloat(s.Watts, 'f', 1, 64))
		text, role := "", base.ColorNameForeground
		if s.Step > 0 {
			text = fmt.Sprintf("%.2f V, %s", s.Lowest, bars.Name(s.Step))
		}
		switch {
		case s.Dim:
			text, role = "▲ "+text+": dim", base.ColorNameError
		case s.Shift:
			text, role = "▲ "+text+": colour shifts", base.ColorNameWarning
		}
		if s.Scene.Shown && role == base.ColorNameError {
			role = base.ColorNameWarning
		}
		r.volts.put(text, role)
	}
}
