package panel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver"
	"risewright/view/lights"
)

// sceneForm changes the scene that is looked at: what it is for, its colours and
// how they change; and adds and removes scenes.
type sceneForm struct {
	desk     *Desk
	form     form
	at       int // the index of the scene shown
	which    *chooser
	kind     *chooser
	pattern  *chooser
	channels *field
	only     *check
	colours  *fyne.Container
	lines    []colourLine
	white    bool // lines have a white channel
	more     *chooser
	fold     *fyne.Container // all but the buttons, hidden without a scene
	remove   *button
	named    []lights.Named
	box      *fyne.Container
}

// colourLine is one colour of the scene.
type colourLine struct {
	look     *swatches
	channels []*field
	name     *label
}

func newSceneForm(d *Desk) *sceneForm {
	f := &sceneForm{desk: d, form: form{desk: d, tab: tabLights}, colours: container.New(&stack{gap: 1})}
	f.which = newChooser(d.lookAtScene)
	f.kind = newChooser(func(i int) { f.change(func(s *model.Scene) { s.Kind = model.SceneKinds()[i] }) })
	f.kind.words(model.TextsOf(model.SceneKinds()), sceneKindWords())
	f.pattern = newChooser(func(i int) { f.change(func(s *model.Scene) { s.Pattern = model.ScenePatterns()[i] }) })
	f.pattern.words(model.TextsOf(model.ScenePatterns()), []string{"still", "alternate: every bar takes the next colour", "chase: the colours climb the flight", "twinkle: pixels dim and come back"})
	f.only = newCheck("Only for comparison", func(on bool) { f.change(func(s *model.Scene) { s.Shown = on }) })
	name := f.text("name", "Name")
	hours := f.number("hours", "Hours a day", 24, "none", func(s *model.Scene) *float64 { return &s.Hours })
	f.channels = f.count("channels", "Channels on, of a pixel", 8, "all", func(s *model.Scene) *int { return &s.Channels })
	period := f.number("period", "Period, seconds", model.MaxPeriod, "stands still", func(s *model.Scene) *float64 { return &s.Period })
	f.more = newChooser(func(i int) {
		f.more.set(0)
		if i > 0 && i <= len(f.named) {
			c := f.named[i-1].Colour
			f.change(func(s *model.Scene) { s.Colours = append(s.Colours, c) })
		}
	})
	f.remove = newButton("Remove this scene", f.drop)
	f.fold = container.New(&stack{gap: 1},
		container.NewGridWithColumns(2,
			name.box, fieldColumns().row(newLabel("When"), f.kind),
			hours.box, f.channels.box,
			fieldColumns().row(newLabel("Pattern"), f.pattern), period.box,
			f.only),
		f.colours,
		fieldColumns().row(newLabel("Add a colour"), f.more))
	f.box = container.New(&stack{gap: 2}, fieldColumns().row(newLabel("Change the scene"), f.which), f.fold,
		container.NewHBox(newButton("Add a scene", f.add), f.remove))
	return f
}

func sceneKindWords() []string {
	return []string{"walk-through: while somebody is on the stair", "steady: as long as it is switched on", "night light: dim, while nobody is on the stair", "seasonal: for show", "off: nothing lit"}
}

// lookAtScene looks at the scene with an index: the map, the colours on the
// drawings and the form follow.
func (d *Desk) lookAtScene(i int) {
	if i != d.lights.scene {
		d.lights.scene = i
		d.tell(Viewed)
	}
}

// shown returns the scene that the form shows.
func (f *sceneForm) shown() model.Scene {
	if s := f.desk.session.Job().Lighting.Scenes; f.at >= 0 && f.at < len(s) {
		return s[f.at]
	}
	return model.Scene{}
}

// setScene returns the edit that changes the scene shown.
func (f *sceneForm) setScene(j *model.Job, do func(*model.Scene)) model.Edit {
	l := j.Lighting
	l.Scenes = slices.Clone(l.Scenes)
	if i := f.at; i >= 0 && i < len(l.Scenes) {
		l.Scenes[i].Colours = slices.Clone(l.Scenes[i].Colours)
		do(&l.Scenes[i])
	}
	return model.SetLighting{Lighting: l}
}

func (f *sceneForm) change(do func(*model.Scene)) {
	job := f.desk.Job()
	_ = f.desk.Do(f.setScene(&job, do)) // an error has been shown
}

// add puts a scene at the end and looks at it.
func (f *sceneForm) add() {
	changeLights(f.desk, func(l *model.Lighting) {
		taken := func(name string) bool {
			return slices.ContainsFunc(l.Scenes, func(s model.Scene) bool { return s.Name == name })
		}
		n := len(l.Scenes) + 1
		for taken(fmt.Sprintf("scene %d", n)) {
			n++
		}
		l.Scenes = append(slices.Clone(l.Scenes), model.Scene{Name: fmt.Sprintf("scene %d", n), Kind: model.Steady, Level: 0.2})
	})
	f.desk.lookAtScene(len(f.desk.Job().Lighting.Scenes) - 1)
}

// drop takes the scene looked at out.
func (f *sceneForm) drop() {
	i := f.desk.lights.scene
	changeLights(f.desk, func(l *model.Lighting) {
		if i >= 0 && i < len(l.Scenes) {
			l.Scenes = slices.Delete(slices.Clone(l.Scenes), i, i+1)
		}
	})
	f.desk.lookAtScene(max(0, min(i, len(f.desk.Job().Lighting.Scenes)-1)))
}

func (f *sceneForm) text(id, name string) *field {
	return f.form.add(newField(f.desk, "lighting.scene."+id, name,
		func(*model.Job) string { s := f.shown(); return s.Name },
		func(j *model.Job, text string) (model.Edit, error) {
			var err error
			if text == "" {
				err = fmt.Errorf("a scene needs a name")
			}
			return f.setScene(j, func(s *model.Scene) { s.Name = text }), err
		}).words())
}

func (f *sceneForm) number(id, name string, most float64, word string, at func(*model.Scene) *float64) *field {
	x := newField(f.desk, "lighting.scene."+id, name,
		func(*model.Job) string { s := f.shown(); return numberText(*at(&s), true) },
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := parseNumber(text, 0, most, true)
			return f.setScene(j, func(s *model.Scene) { *at(s) = v }), err
		})
	x.entry.SetPlaceHolder(word)
	return f.form.add(x)
}

// count is a field of a whole number that colours stand in for; empty is 0, which
// stands for a word.
func (f *sceneForm) count(id, name string, most int, word string, at func(*model.Scene) *int) *field {
	x := newField(f.desk, "lighting.scene."+id, name,
		func(*model.Job) string {
			s := f.shown()
			if len(s.Colours) > 0 { // then it is not read
				return ""
			}
			return numberText(float64(*at(&s)), true)
		},
		func(j *model.Job, text string) (model.Edit, error) {
			n, err := 0, error(nil)
			if text != "" {
				n, err = strconv.Atoi(text)
			}
			if err != nil || n < 0 || n > most {
				return nil, fmt.Errorf("%q is no whole number from 0 to %d; type one, as figures alone", text, most)
			}
			return f.setScene(j, func(s *model.Scene) { *at(s) = n }), nil
		})
	x.entry.SetPlaceHolder(word)
	return f.form.add(x)
}

// channel is an entry of one channel of a colour of the scene.
func (f *sceneForm) channel(i int, what string, at func(*model.Colour) *int) *field {
	return newField(f.desk, fmt.Sprintf("lighting.scene.colours.%d.%s", i, what), what,
		func(*model.Job) string {
			if s := f.shown(); i < len(s.Colours) {
				return strconv.Itoa(*at(&s.Colours[i]))
			}
			return ""
		},
		func(j *model.Job, text string) (model.Edit, error) {
			v, err := strconv.Atoi(text)
			if err != nil || v < 0 || v > 255 {
				return nil, fmt.Errorf("%q is no level from 0 to 255", text)
			}
			return f.setScene(j, func(s *model.Scene) {
				if i < len(s.Colours) {
					*at(&s.Colours[i]) = v
				}
			}), nil
		})
}

func (f *sceneForm) colourColumns() *columns {
	return &columns{least: []float32{30, 46, 46, 46, 46, 90, 84}, share: []float32{1, 1, 1, 1, 1, 4, 0}, gap: 6}
}

// fill makes a line for every colour.
func (f *sceneForm) fill(n int, white bool) {
	if n == len(f.lines) && white == f.white {
		return
	}
	keep := len(f.form.fields)
	for _, l := range f.lines {
		keep -= len(l.channels)
	}
	f.form.fields = f.form.fields[:keep]
	f.lines, f.white = nil, white
	f.colours.RemoveAll()
	head := func(s string) fyne.CanvasObject { return newLabel(s).soft().small() }
	if n > 0 {
		last := ""
		if white {
			last = "white"
		}
		f.colours.Add(f.colourColumns().row(head(""), head("red"), head("green"), head("blue"), head(last)))
	}
	for i := range n {
		line := colourLine{look: newSwatches(), name: newLabel("").soft()}
		for _, c := range []struct {
			what string
			at   func(*model.Colour) *int
		}{
			{"red", func(c *model.Colour) *int { return &c.Red }}, {"green", func(c *model.Colour) *int { return &c.Green }},
			{"blue", func(c *model.Colour) *int { return &c.Blue }}, {"white", func(c *model.Colour) *int { return &c.White }},
		} {
			if c.what != "white" || white {
				line.channels = append(line.channels, f.form.add(f.channel(i, c.what, c.at)))
			}
		}
		row := []fyne.CanvasObject{line.look}
		faults := []fyne.CanvasObject{}
		for _, x := range line.channels {
			row, faults = append(row, x.entry), append(faults, x.fault.box)
		}
		if !white {
			row = append(row, newLabel(""))
		}
		row = append(row, line.name, newButton("Remove", func() {
			f.change(func(s *model.Scene) {
				if i < len(s.Colours) {
					s.Colours = slices.Delete(s.Colours, i, i+1)
				}
			})
		}))
		f.colours.Add(container.New(&stack{}, append([]fyne.CanvasObject{f.colourColumns().row(row...)}, faults...)...))
		f.lines = append(f.lines, line)
	}
	f.box.Refresh()
}

func (f *sceneForm) tell(a *solver.Answer) {
	d := f.desk
	scenes := d.Job().Lighting.Scenes
	names := make([]string, len(scenes))
	for i, s := range scenes {
		names[i] = s.Name
	}
	f.which.words(names, nil)
	if d.lights.scene >= len(names) {
		d.lights.scene = 0
	}
	if d.lights.scene != f.at {
		f.form.leave()
		f.at = d.lights.scene
	}
	s, ok := d.litScene()
	f.remove.say("Remove this scene", ok)
	if ok != f.fold.Visible() {
		if ok {
			f.fold.Show()
		} else {
			f.fold.Hide()
		}
		f.box.Refresh()
	}
	if !ok {
		f.which.set(-1)
		return
	}
	f.which.set(d.lights.scene)
	f.kind.set(slices.Index(model.SceneKinds(), s.Kind.Of()))
	f.pattern.set(slices.Index(model.ScenePatterns(), s.Pattern.Of()))
	f.only.show(s.Shown)
	f.named = lights.Colours(a)
	more := []string{"choose one…"}
	for _, n := range f.named {
		more = append(more, n.Name)
	}
	f.more.words(more, nil)
	f.more.set(0)
	f.more.enable(len(s.Colours) < model.MaxColours)
	f.fill(len(s.Colours), a.Bars.Strip.Channels > 3)
	for i, c := range s.Colours {
		f.lines[i].look.show(lights.Previews(a, model.Scene{Colours: []model.Colour{c}}))
		f.lines[i].name.set(lights.Name(a, c))
	}
	f.form.tell()
	// With colours of its own the number of channels is not read.
	f.channels.permit(len(s.Colours) == 0, "by the colours")
}

// goTo returns the control of a field of a scene, given as lighting.scenes.2.kind
// or, of the one looked at, lighting.scene.kind; or nil.
func (f *sceneForm) goTo(id string) fyne.Focusable {
	what, ok := strings.CutPrefix(id, "lighting.scene.")
	if !ok {
		rest, ok := strings.CutPrefix(id, "lighting.scenes.")
		if !ok {
			return nil
		}
		number, field, _ := strings.Cut(rest, ".")
		i, err := strconv.Atoi(number)
		if err != nil || i < 0 || i >= len(f.which.short) {
			return nil
		}
		what = field
		f.desk.lookAtScene(i)
	}
	switch what {
	case "kind":
		return f.kind
	case "pattern":
		return f.pattern
	case "shown":
		return f.only
	case "colours":
		if len(f.lines) > 0 {
			return f.lines[0].channels[0].entry
		}
		return f.more
	}
	for _, x := range f.form.fields {
		if x.id == "lighting.scene."+what {
			return x.entry
		}
	}
	return nil
}
