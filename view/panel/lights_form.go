package panel

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/view/lights"
)

// lightForm is what is chosen of the light bars.
type lightForm struct {
	desk  *Desk
	form  form
	picks []lightPick
	ticks []lightTick
	box   *fyne.Container
}

// lightPick is a chooser of one word of the lighting.
type lightPick struct {
	*chooser
	id     string
	rows   func(*model.Job, model.LightTables) (values, words []string)
	at     func(*model.Lighting) *string
	values []string
}

type lightTick struct {
	*check
	id string
	at func(*model.Lighting) *bool
}

// changeLights hands changed lighting to the session. Lists in it must be
// cloned before they are changed.
func changeLights(d *Desk, do func(*model.Lighting)) {
	l := d.Job().Lighting
	do(&l)
	_ = d.Do(model.SetLighting{Lighting: l}) // an error has been shown
}

func newLightForm(d *Desk) *lightForm {
	f := &lightForm{desk: d, form: form{desk: d, tab: tabLights}}
	grid := func(objects ...fyne.CanvasObject) fyne.CanvasObject {
		return container.NewGridWithColumns(2, objects...)
	}
	f.box = container.NewVBox(
		heading("Bars"),
		f.pick("strip", "Strip", stripRows, func(l *model.Lighting) *string { return &l.Strip }),
		grid(
			f.length("setback", "Setback", func(l *model.Lighting) *model.Length { return &l.Setback }),
			f.length("end_clearance", "Clear at each end", func(l *model.Lighting) *model.Length { return &l.EndClearance }),
			f.length("bar_width", "Bar, width", func(l *model.Lighting) *model.Length { return &l.BarWidth }),
			f.length("bar_height", "Bar, height", func(l *model.Lighting) *model.Length { return &l.BarHeight }),
			f.length("lip", "Lip against glare", func(l *model.Lighting) *model.Length { return &l.Lip }),
			f.length("groove", "Groove in the tread", func(l *model.Lighting) *model.Length { return &l.Groove }),
			f.length("cove", "Cove, depth", func(l *model.Lighting) *model.Length { return &l.Cove }),
			f.number("white_kelvin", "Its white, kelvin", 1, model.LeastWhite, model.MostWhite, strconv.Itoa(model.UsualWhite), func(l *model.Lighting) *float64 { return &l.White }),
			f.length("notch_width", "Notch or bore, width", func(l *model.Lighting) *model.Length { return &l.NotchWidth }),
			f.length("notch_height", "Notch, height", func(l *model.Lighting) *model.Length { return &l.NotchHeight }),
			f.length("eye_height", "Eye, above the floor", func(l *model.Lighting) *model.Length { return &l.EyeHeight }),
			f.length("eye_distance", "Eye, before the stair", func(l *model.Lighting) *model.Length { return &l.EyeDistance }),
		),
		heading("Wires"),
		grid(
			f.pick("cavity", "Cavity", wordRows[model.Cavity]("at the left", model.CavityLeft, "at the right", model.CavityRight, "under the stair", model.CavityUnder), func(l *model.Lighting) *string { return (*string)(&l.Cavity) }),
			f.pick("trunk", "Power goes by", wordRows[model.Trunk]("one bus", model.Bus, "home runs", model.HomeRuns), func(l *model.Lighting) *string { return (*string)(&l.Trunk) }),
			f.pick("feed", "Each bar is fed at", wordRows[model.FeedEnds]("one end", model.FeedOne, "both ends", model.FeedBoth, "its middle", model.FeedMiddle), func(l *model.Lighting) *string { return (*string)(&l.Feed) }),
			f.pick("data", "Data goes", wordRows[model.DataWay]("back along the cavity", model.DataReturn, "to and fro", model.DataSerpentine, "by a line to each", model.DataLines), func(l *model.Lighting) *string { return (*string)(&l.Data) }),
			f.pick("wires.feeder", "Feeder", wireRows, func(l *model.Lighting) *string { return &l.Wires.Feeder }),
			f.pick("wires.bus", "Bus, home run", wireRows, func(l *model.Lighting) *string { return &l.Wires.Bus }),
			f.pick("wires.lead", "Lead into a bar", wireRows, func(l *model.Lighting) *string { return &l.Wires.Lead }),
			f.length("slack", "Slack of a run", func(l *model.Lighting) *model.Length { return &l.Slack }),
			f.number("drop", "Drop allowed, %", 100, 0, 100, "the usual", func(l *model.Lighting) *float64 { return &l.Drop }),
			f.number("celsius", "Wires, °C", 1, -20, 90, "", func(l *model.Lighting) *float64 { return &l.Warmth }),
		),
		heading("Box, supply and controller"),
		grid(
			f.length("box.x", "Box, to the right", func(l *model.Lighting) *model.Length { return &l.Box.X }),
			f.length("box.y", "Box, up the flight", func(l *model.Lighting) *model.Length { return &l.Box.Y }),
			f.length("box.z", "Box, height", func(l *model.Lighting) *model.Length { return &l.Box.Z }),
			f.pick("supply", "Supply", supplyRows, func(l *model.Lighting) *string { return &l.Supply }),
			f.count("supplies", "How many", 1, func(l *model.Lighting) *int { return &l.Supplies }),
			f.number("cap", "Firmware's cap, %", 100, 0, 100, "none", func(l *model.Lighting) *float64 { return &l.Cap }),
			f.number("frame_rate", "Frames a second", 1, 0, 1000, "any", func(l *model.Lighting) *float64 { return &l.FrameRate }),
			f.number("sample_ms", "Looks at sensors, ms", 1, 0, 10_000, "any", func(l *model.Lighting) *float64 { return &l.SampleMS }),
			f.count("sensors", "Inputs until sensors are placed", 0, func(l *model.Lighting) *int { return &l.Sensors }),
		),
		f.pick("controller", "Controller", controllerRows, func(l *model.Lighting) *string { return &l.Controller }),
		grid(
			f.tick("one_colour", "Every pixel of a bar alike", func(l *model.Lighting) *bool { return &l.OneColour }),
			f.tick("bar_at_a_time", "One bar after another", func(l *model.Lighting) *bool { return &l.BarAtATime }),
		),
	)
	return f
}

func (f *lightForm) pick(id, name string, rows func(*model.Job, model.LightTables) (values, words []string), at func(*model.Lighting) *string) fyne.CanvasObject {
	p := lightPick{id: "lighting." + id, rows: rows, at: at}
	i := len(f.picks)
	p.chooser = newChooser(func(k int) {
		v := f.picks[i].values[k]
		changeLights(f.desk, func(l *model.Lighting) { *at(l) = v })
	})
	p.chooser.quiet = false
	f.picks = append(f.picks, p)
	return fieldColumns().row(newLabel(name), p.chooser)
}

func (f *lightForm) tick(id, text string, at func(*model.Lighting) *bool) fyne.CanvasObject {
	c := newCheck(text, func(on bool) { changeLights(f.desk, func(l *model.Lighting) { *at(l) = on }) })
	f.ticks = append(f.ticks, lightTick{c, "lighting." + id, at})
	return c
}

func (f *lightForm) length(id, name string, at func(*model.Lighting) *model.Length) fyne.CanvasObject {
	return f.form.add(lengthField(f.desk, "lighting."+id, name,
		func(j *model.Job) model.Length { l := j.Lighting; return *at(&l) },
		func(j *model.Job, v model.Length) model.Edit {
			l := j.Lighting
			*at(&l) = v
			return model.SetLighting{Lighting: l}
		})).box
}

// number is a field of a plain number, shown times scale; empty is 0, which
// stands for what the word says.
func (f *lightForm) number(id, name string, scale, least, most float64, word string, at func(*model.Lighting) *float64) fyne.CanvasObject {
	x := newField(f.desk, "lighting."+id, name,
		func(j *model.Job) string {
			l := j.Lighting
			return numberText(*at(&l)*scale, word != "")
		},
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseNumber(text, least, most, word != "")
			l := j.Lighting
			*at(&l) = v / scale
			return model.SetLighting{Lighting: l}, err
		})
	x.entry.SetPlaceHolder(word)
	return f.form.add(x).box
}

func (f *lightForm) count(id, name string, least int, at func(*model.Lighting) *int) fyne.CanvasObject {
	x := newField(f.desk, "lighting."+id, name,
		func(j *model.Job) string {
			l := j.Lighting
			return strconv.Itoa(max(least, *at(&l)))
		},
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseWhole(text, float64(least), model.MaxRows, false)
			l := j.Lighting
			*at(&l) = int(v)
			return model.SetLighting{Lighting: l}, err
		})
	return f.form.add(x).box
}

// numberText writes a number as short as it goes; nothing for 0 where that
// stands for a word.
func numberText(v float64, empty bool) string {
	if v == 0 && empty {
		return ""
	}
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
}

// parseNumber reads a number; nothing is 0 where that is allowed.
func parseNumber(text string, least, most float64, empty bool) (float64, error) {
	text = strings.TrimSpace(strings.TrimSuffix(text, "%"))
	if text == "" && empty {
		return 0, nil
	}
	v, doubt := readFigure(text)
	if doubt != nil {
		return 0, doubt
	}
	if !(v >= least && v <= most) {
		return 0, fmt.Errorf("%q is no number from %s to %s; type one, as figures alone", text, plainly(least), plainly(most))
	}
	return v, nil
}

// wordRows lists words with what they mean in a job.
func wordRows[T ~string](pairs ...any) func(*model.Job, model.LightTables) (values, words []string) {
	var values, words []string
	for i := 0; i+1 < len(pairs); i += 2 {
		words = append(words, pairs[i].(string))
		values = append(values, string(pairs[i+1].(T)))
	}
	return func(*model.Job, model.LightTables) ([]string, []string) { return values, words }
}

func stripRows(_ *model.Job, t model.LightTables) (values, words []string) {
	for _, r := range t.Strips {
		values, words = append(values, r.ID), append(words, r.Title)
	}
	return values, words
}

// wireRows lists the wires of the job's own system first.
func wireRows(j *model.Job, t model.LightTables) (values, words []string) {
	own := "mm2"
	if j.Units == model.Imperial {
		own = "awg"
	}
	for _, first := range []bool{true, false} {
		for _, r := range t.Wires {
			if (r.System == own) == first {
				values, words = append(values, r.ID), append(words, r.Title)
			}
		}
	}
	return values, words
}

func supplyRows(_ *model.Job, t model.LightTables) (values, words []string) {
	for _, r := range t.Supplies {
		values, words = append(values, r.ID), append(words, r.Title)
	}
	return values, words
}

func controllerRows(_ *model.Job, t model.LightTables) (values, words []string) {
	for _, r := range t.Controllers {
		values, words = append(values, r.ID), append(words, r.Title)
	}
	return values, words
}

func (f *lightForm) tell() {
	job := f.desk.Job()
	t := f.desk.session.Tables().Lights.With(job.Lighting.Own)
	f.form.tell()
	for i := range f.picks {
		p := &f.picks[i]
		values, words := p.rows(&job, t)
		p.values = values
		p.chooser.words(words, nil)
		l, at := job.Lighting, -1
		for k, v := range values {
			if v == *p.at(&l) {
				at = k
			}
		}
		if at < 0 && *p.at(&l) == "" && (p.id == "lighting.cavity" || p.id == "lighting.trunk" || p.id == "lighting.feed" || p.id == "lighting.data") {
			at = 0 // what an empty word counts as
		}
		p.set(at)
	}
	for _, c := range f.ticks {
		l := job.Lighting
		c.show(*c.at(&l))
	}
}

// goTo returns the control of a field, or of the first of its kind, or nil.
func (f *lightForm) goTo(id string) fyne.Focusable {
	within := func(own string) bool { return own == id || strings.HasPrefix(own, id+".") }
	for _, p := range f.picks {
		if within(p.id) {
			return p.chooser
		}
	}
	for _, x := range f.form.fields {
		if within(x.id) {
			return x.entry
		}
	}
	for _, c := range f.ticks {
		if c.id == id {
			return c.check
		}
	}
	return nil
}

// newLumensField is the field of the light that a metre of strip gives. An
// empty one takes the table's.
func newLumensField(d *Desk) *field {
	x := newField(d, "lighting.own.practice."+lights.LumensID, "Lumens a metre, full",
		func(j *model.Job) string { return numberText(j.Lighting.Own.Practised(lights.LumensID).Value, true) },
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseNumber(text, 0, 100_000, true)
			l := j.Lighting
			var rows []model.PracticeValue
			for _, r := range l.Own.Practice {
				if r.ID != lights.LumensID {
					rows = append(rows, r)
				}
			}
			if v > 0 {
				rows = append(rows, model.PracticeValue{ID: lights.LumensID, Title: "light of a metre of strip at full brightness", Unit: "lm/m", Value: model.Rated{Value: v, Standing: model.Yours}})
			}
			l.Own.Practice = rows
			return model.SetLighting{Lighting: l}, err
		})
	return x
}

// parseWhole is parseNumber for whole numbers.
func parseWhole(text string, least, most float64, empty bool) (float64, error) {
	v, err := parseNumber(text, least, most, empty)
	if err == nil && v != float64(int(v)) {
		err = fmt.Errorf("%q is no whole number; type one, as figures alone", text)
	}
	return v, err
}

// plainly writes a limit without an exponent: 1000000, not 1e+06.
func plainly(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
