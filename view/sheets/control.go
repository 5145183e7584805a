package sheets

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/view/drawing"
)

// control lists how the controller is set, with how far each value can be
// trusted and room for what it is on the day.
func (b *book) control(sensing *model.Sensing) {
	b.heading("How the controller is set", 30)
	c, first := sensing.Rules(), model.FirstControl()
	type setting struct {
		title, value string
		chosen       bool
		std          model.Standing
	}
	var rows []setting
	for _, f := range model.ControlFacts() {
		v := f.Get(&c)
		rows = append(rows, setting{model.Capital(f.Title), settingWords(&f, v), v != f.Get(&first), f.Standing})
	}
	rows = append(rows,
		setting{"An end's sensor lights dimly until a second one is on", yesNo(c.Hall), c.Hall != first.Hall, model.Memory},
		setting{"Dark while there is daylight enough", yesNo(c.Daylight), c.Daylight != first.Daylight, model.Memory})
	from := func(r setting) string {
		if r.chosen {
			return standing(model.Yours)
		}
		return "first value, " + standing(r.std)
	}
	alike := true
	for _, r := range rows {
		alike = alike && !r.chosen && r.std == rows[0].std
	}
	const day = "........................"
	cols := []column{{title: "setting", width: 92, bold: true}, figures("value", 36), {title: "", width: 3}}
	if !alike {
		cols = append(cols, column{title: "it is", width: 47})
	}
	g := b.grid(3.3, append(cols, column{title: "on the day", width: 44})...)
	for _, r := range rows {
		cells := []string{r.title, r.value, ""}
		if !alike {
			cells = append(cells, from(r))
		}
		g.row(append(cells, day)...)
	}
	b.y += 1
	if alike {
		b.paragraph(fmt.Sprintf("Each is a first value, %s.", standing(rows[0].std)), letter{size: 3.3, bold: true})
	}
	b.paragraph("First values are common practice, no source: they are tried on the stair. A step where somebody may be never goes dark, whatever is set here.", letter{size: 3, ink: drawing.LetterSoft})
	b.y += gap
}

// settingWords writes a setting with its unit.
func settingWords(f *model.ControlFact, v float64) string {
	switch {
	case f.ID == "most" && v == 0:
		return "as the scenes ask for"
	case f.ID == "revert" && v == 0:
		return "never"
	case f.Unit == "share":
		return trim(100*v, 1) + " %"
	case f.Unit == "s" && v >= 3600:
		return trim(v/3600, 2) + " h"
	}
	if f.Whole {
		return model.Plural(int(v), strings.TrimSuffix(f.Unit, "s"))
	}
	return trim(v, 2) + " " + f.Unit
}

func yesNo(on bool) string {
	if on {
		return "yes"
	}
	return "no"
}

// inputs lists what is wired to the controller, with room for the pins. Inputs
// are numbered in the order of the job's sensors, from 0.
func (b *book) inputs(sensing *model.Sensing) {
	b.heading("What is wired to the controller", 30)
	const blank, tick = "..............", "□"
	g := b.grid(3.3, column{title: "in its files", width: 40, bold: true}, column{title: "what it is", width: 88}, column{title: "pin", width: 30}, column{title: "tried", width: 16, align: drawing.AlignMiddle})
	for i := range sensing.Sensors {
		x := &sensing.Sensors[i]
		name := x.Name
		if name == "" {
			name = fmt.Sprintf("sensor %d", i+1)
		}
		what := fmt.Sprintf("output of sensor %d, %s, %s; pulled down", i+1, name, mountWords(x.Mount))
		if x.Removed {
			what = fmt.Sprintf("nothing: sensor %d, %s, was taken away; pull it down to ground", i+1, name)
		}
		g.row(fmt.Sprintf("RW_PIN_INPUT_%d", i), what, blank, tick)
	}
	for _, p := range [][2]string{
		{"RW_PIN_DATA", "data of the strips, through its resistor"},
		{"RW_PIN_BUTTON", "push button for the scenes, to ground"},
		{"RW_PIN_DAYLIGHT", "reads 1 when daylight is enough; to ground where there is no such sensor"},
		{"RW_PIN_HEARTBEAT", "turns over while the program runs; may hold up a relay"},
		{"RW_PIN_LAMP", "lamp that is lit while a sensor is stuck or silent"},
	} {
		g.row(p[0], p[1], blank, tick)
	}
	b.y += 1
	b.paragraph("A sensor that is taken away or broken off must read as off: every input is pulled down. Its output must not be above what the pin bears.", letter{size: 3})
	b.y += gap
}
