package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// sensorForm changes the chosen sensor.
type sensorForm struct {
	desk   *Desk
	form   form
	of     model.ID
	title  *label
	class  *chooser
	mount  *chooser
	beside *fyne.Container // place along the flight
	free   *fyne.Container // place in the room
	about  *para
	box    *fyne.Container
}

func newSensorForm(d *Desk) *sensorForm {
	f := &sensorForm{desk: d, form: form{desk: d, tab: tabSensors}, title: newLabel("").bold(), about: newPara("").soft()}
	f.class = newChooser(func(i int) {
		rows := sensorTables(d).Classes
		f.change(func(s *model.Sensor) { s.Class = rows[i].ID })
	})
	f.mount = newChooser(func(i int) { f.change(func(s *model.Sensor) { f.hang(s, model.Mounts()[i]) }) })
	name := f.text("name", "Name", func(s *model.Sensor) *string { return &s.Name })
	grid := func(objects ...fyne.CanvasObject) *fyne.Container { return container.NewGridWithColumns(2, objects...) }
	f.beside = grid(
		f.number("along", "Along, in steps", -4, 1004, func(s *model.Sensor) *float64 { return &s.Along }),
		f.length("below", "Below rail, above noses", func(s *model.Sensor) *model.Length { return &s.Below }))
	f.free = container.NewGridWithColumns(3,
		f.length("at.x", "To the right", func(s *model.Sensor) *model.Length { return &s.At.X }),
		f.length("at.y", "Up the flight", func(s *model.Sensor) *model.Length { return &s.At.Y }),
		f.length("at.z", "Height", func(s *model.Sensor) *model.Length { return &s.At.Z }))
	f.box = container.New(&stack{gap: 1},
		f.title,
		grid(name, fieldColumns().row(newLabel("Class"), f.class)),
		grid(fieldColumns().row(newLabel("Hangs"), f.mount), fieldColumns().row(newLabel(""), container.NewHBox(newButton("Delete it", f.remove)))),
		f.beside, f.free,
		grid(
			f.angle("yaw", "Turned, to the left", func(s *model.Sensor) *model.Angle { return &s.Yaw }),
			f.angle("tilt", "Tilted down", func(s *model.Sensor) *model.Angle { return &s.Tilt }),
			f.length("hood.bore", "Hood, bore", func(s *model.Sensor) *model.Length { return &s.Hood.Bore }),
			f.length("hood.depth", "Hood, depth", func(s *model.Sensor) *model.Length { return &s.Hood.Depth }),
			f.angle("mask.left", "Tape from, left", func(s *model.Sensor) *model.Angle { return &s.Mask.Left }),
			f.angle("mask.right", "Tape from, right", func(s *model.Sensor) *model.Angle { return &s.Mask.Right }),
			f.angle("mask.up", "Tape from, up", func(s *model.Sensor) *model.Angle { return &s.Mask.Up }),
			f.angle("mask.down", "Tape from, down", func(s *model.Sensor) *model.Angle { return &s.Mask.Down }),
		), f.about)
	return f
}

// change changes the chosen sensor by one edit.
func (f *sensorForm) change(do func(*model.Sensor)) {
	s, ok := f.desk.chosenSensor()
	if !ok {
		return
	}
	do(&s)
	_ = f.desk.Do(model.SetSensor{Sensor: s}) // an error has been shown
}

// hang puts a sensor on another mount, at the place where it was as far as that
// can be said.
func (f *sensorForm) hang(s *model.Sensor, m model.Mount) {
	was := s.Mount.Beside()
	r := f.desk.Sensed()
	if r.Stair != nil && was != m.Beside() {
		lens, _ := r.Stair.Lens(s)
		if m.Beside() {
			s.Along, s.Below = float64(r.Stair.Risers)/2, 10
		} else {
			s.At = model.Point{X: model.Length(lens[0]), Y: model.Length(lens[1]), Z: model.Length(lens[2])}
		}
	}
	s.Mount = m
	if m.OnWall() && s.Below < 100 {
		s.Below = 300 // above the noses; common practice, no source
	}
}

func (f *sensorForm) remove() {
	if s, ok := f.desk.chosenSensor(); ok {
		_ = f.desk.Do(model.DeleteSensor{ID: s.ID}) // an error has been shown
	}
}

// get returns the chosen sensor of a job for a field.
func (f *sensorForm) get(j *model.Job) model.Sensor {
	if i := j.Sensing.Sensor(f.of); i >= 0 {
		return j.Sensing.Sensors[i]
	}
	return model.Sensor{}
}

func (f *sensorForm) field(id, name string, get func(*model.Job, *model.Sensor) string, put func(*model.Job, *model.Sensor, string) error) fyne.CanvasObject {
	return f.form.add(newField(f.desk, "sensing.sensor."+id, name,
		func(j *model.Job) string {
			s := f.get(j)
			return get(j, &s)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			s := f.get(j)
			if err := put(j, &s, text); err != nil {
				return nil, err
			}
			return model.SetSensor{Sensor: s}, nil
		})).box
}

func (f *sensorForm) text(id, name string, at func(*model.Sensor) *string) fyne.CanvasObject {
	return f.field(id, name, func(_ *model.Job, s *model.Sensor) string { return *at(s) },
		func(_ *model.Job, s *model.Sensor, text string) error { *at(s) = text; return nil })
}

func (f *sensorForm) length(id, name string, at func(*model.Sensor) *model.Length) fyne.CanvasObject {
	return f.field(id, name, func(j *model.Job, s *model.Sensor) string { return fieldText(j.Format(), *at(s)) },
		func(j *model.Job, s *model.Sensor, text string) (err error) {
			*at(s), err = ReadLength(text, j.Units)
			return err
		})
}

func (f *sensorForm) number(id, name string, least, most float64, at func(*model.Sensor) *float64) fyne.CanvasObject {
	return f.field(id, name, func(_ *model.Job, s *model.Sensor) string { return numberText(*at(s), false) },
		func(_ *model.Job, s *model.Sensor, text string) (err error) {
			*at(s), err = parseNumber(text, least, most, false)
			return err
		})
}

// angle is a field of degrees; nothing is 0.
func (f *sensorForm) angle(id, name string, at func(*model.Sensor) *model.Angle) fyne.CanvasObject {
	return f.field(id, name,
		func(_ *model.Job, s *model.Sensor) string {
			if *at(s) == 0 {
				return "0°"
			}
			return model.FormatDegrees(*at(s), 1)
		},
		func(_ *model.Job, s *model.Sensor, text string) (err error) {
			if strings.TrimSpace(text) == "" {
				*at(s) = 0
				return nil
			}
			*at(s), err = readAngle(text)
			return err
		})
}

// goTo returns the control of a field such as sensing.sensors.2.tilt.
func (f *sensorForm) goTo(id string) fyne.Focusable {
	parts := strings.SplitN(id, ".", 4)
	if len(parts) == 4 {
		switch parts[3] {
		case "class":
			return f.class
		case "mount":
			return f.mount
		}
		for _, x := range f.form.fields {
			if x.id == "sensing.sensor."+parts[3] || strings.HasPrefix(x.id, "sensing.sensor."+parts[3]+".") {
				return x.entry
			}
		}
	}
	return f.form.fields[0].entry
}

func (f *sensorForm) tell() {
	d := f.desk
	s, ok := d.chosenSensor()
	if !ok {
		f.box.Hide()
		return
	}
	f.box.Show()
	if s.ID != f.of {
		f.form.leave()
		f.of = s.ID
	}
	f.title.set("The chosen sensor: " + d.sensorName(d.Sensor()))
	rows := sensorTables(d).Classes
	at := -1
	names := make([]string, len(rows))
	for i := range rows {
		names[i] = rows[i].Title
		if rows[i].ID == s.Class {
			at = i
		}
	}
	f.class.words(names, nil)
	f.class.set(at)
	mounts := model.Mounts()
	words := make([]string, len(mounts))
	where := -1
	for i, m := range mounts {
		words[i] = mountWords(m)
		if m == s.Mount {
			where = i
		}
	}
	f.mount.words(words, nil)
	f.mount.set(where)
	if s.Mount.Beside() {
		f.beside.Show()
		f.free.Hide()
	} else {
		f.free.Show()
		f.beside.Hide()
	}
	f.form.tell()
	about := ""
	if at >= 0 {
		c := &rows[at]
		about = fmt.Sprintf("%s: %.0f° across, %.0f° up and down, reaches %.1f m; on for %.1f s, then blind for %.1f s; settles %.0f s after power comes (%s).",
			c.Title, c.H.Value, tall(c), c.RangeM.Value, c.HoldLeast.Value, c.Block.Value, c.WarmUp.Value, standingWords(c.RangeM.Standing))
	}
	setPara(f.about, about)
}

// tall is the field of a class from top to bottom, degrees.
func tall(c *model.SensorClass) float64 {
	if c.V.Value > 0 {
		return c.V.Value
	}
	return c.H.Value
}

// sensorTables returns the tables of sensors with the job's own rows.
func sensorTables(d *Desk) model.SensorTables {
	return d.session.Tables().Senses.With(d.session.Job().Sensing.Own)
}
