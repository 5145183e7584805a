package panel

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// controlForm takes how the controller lights the steps.
type controlForm struct {
	desk  *Desk
	form  form
	hall  *check
	day   *check
	reset *button
	box   *fyne.Container
}

func newControlForm(d *Desk) *controlForm {
	f := &controlForm{desk: d, form: form{desk: d, tab: tabSensors}}
	change := func(do func(*model.Control)) {
		c := d.Job().Sensing.Rules()
		do(&c)
		_ = d.Do(model.SetControl{Control: c}) // an error has been shown
	}
	f.hall = newCheck("The end's sensor lights dimly until a second one is on", func(on bool) { change(func(c *model.Control) { c.Hall = on }) })
	f.day = newCheck("Dark while there is daylight enough", func(on bool) { change(func(c *model.Control) { c.Daylight = on }) })
	f.reset = newButton("First values again", func() { _ = d.Do(model.SetControl{}) })
	var fields []fyne.CanvasObject
	for _, fact := range model.ControlFacts() {
		fields = append(fields, f.field(fact))
	}
	f.box = container.New(&stack{gap: 1},
		container.NewGridWithColumns(2, fields...), f.hall, f.day, container.NewHBox(f.reset),
		newPara("First values are common practice, no source: try them on the stair. A step that may be occupied never goes dark, whatever is set here.").soft())
	return f
}

func (f *controlForm) field(fact model.ControlFact) fyne.CanvasObject {
	unit := fact.Unit
	if unit == "share" {
		unit = "0 to 1"
	}
	return f.form.add(newField(f.desk, "sensing.control."+fact.ID, fmt.Sprintf("%s, %s", model.Capital(fact.Title), unit),
		func(j *model.Job) string {
			c := j.Sensing.Rules()
			return strconv.FormatFloat(fact.Get(&c), 'g', 6, 64)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			parse := parseNumber
			if fact.Whole {
				parse = parseWhole
			}
			v, err := parse(text, fact.Least, fact.Most, false)
			c := j.Sensing.Rules()
			fact.Set(&c, v)
			return model.SetControl{Control: c}, err
		})).box
}

func (f *controlForm) tell() {
	s := f.desk.session.Job().Sensing
	c := s.Rules()
	f.hall.show(c.Hall)
	f.day.show(c.Daylight)
	f.reset.say("First values again", s.Control != (model.Control{}))
	f.form.tell()
}
