package panel

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/solver/power"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/lights"
	"risewright/view/volts"
)

// voltScene is the chart of the volts along the bars; a click chooses a bar's
// step.
type voltScene struct {
	desk          *Desk
	width, height float64 // paper mm of the last fit
}

var _ canvas.Hand = (*voltScene)(nil)

func (s *voltScene) options() volts.Options {
	return volts.Options{Width: s.width, Height: s.height, Chosen: s.desk.step}
}

// Draw implements canvas.Scene.
func (s *voltScene) Draw(l *drawing.List, _ drawing.Viewport) {
	s.desk.Settle()
	volts.Draw(l, s.desk.Answer().Power, s.options())
}

// Fit implements canvas.Scene.
func (s *voltScene) Fit(width, height, paper float64) drawing.Viewport {
	s.width, s.height = width/paper, height/paper
	return drawing.Viewport{Scale: paper, Origin: drawing.Point{Y: height}, Paper: paper}
}

// Hover implements canvas.Hand.
func (s *voltScene) Hover(drawing.Viewport, drawing.Point, bool) (changed, on bool) {
	return false, false
}

// Grab implements canvas.Hand.
func (s *voltScene) Grab(drawing.Viewport, drawing.Point) bool { return false }

// Drag implements canvas.Hand.
func (s *voltScene) Drag(drawing.Viewport, drawing.Point) {}

// Drop implements canvas.Hand.
func (s *voltScene) Drop() {}

// Cancel implements canvas.Hand.
func (s *voltScene) Cancel() {}

// Click implements canvas.Hand.
func (s *voltScene) Click(v drawing.Viewport, at drawing.Point) {
	if step := volts.At(s.desk.Answer().Power, s.options(), v.Scene(at)); step > 0 {
		s.desk.Choose(step)
	}
}

// Key implements canvas.Hand.
func (s *voltScene) Key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyLeft, fyne.KeyDown:
		s.desk.Choose(max(1, s.desk.step-1))
	case fyne.KeyRight, fyne.KeyUp:
		s.desk.Choose(s.desk.step + 1)
	default:
		return false
	}
	return true
}

// budgetTable is what the bars ask of the chosen controller, limit by limit,
// and whether the other classes hold them.
type budgetTable struct{ box *fyne.Container }

func newBudgetTable() *budgetTable { return &budgetTable{box: container.New(&stack{})} }

func (t *budgetTable) tell(a *solver.Answer) {
	t.box.RemoveAll()
	if a.Power == nil || len(a.Power.Budgets) == 0 {
		t.box.Add(newPara("These strips take no data: a dimmer of the right volts and amps drives them.").soft())
		return
	}
	b := &a.Power.Budgets[0]
	cols := &columns{least: []float32{120, 54, 150}, share: []float32{1, 0, 5}, gap: 6}
	for i := range b.Limits {
		l := &b.Limits[i]
		share := fmt.Sprintf("%.0f %%", 100*l.Share())
		if math.IsInf(l.Share(), 0) {
			share = "over"
		}
		words := model.Capital(l.Words) + "."
		name, p := newLabel(l.Title()), newPara("")
		role := base.ColorNameForeground
		switch {
		case i == b.First && l.Share() > 1:
			words, role = "■ Breaks first. "+words, base.ColorNameError
		case l.Share() > 1:
			words, role = "■ Broken. "+words, base.ColorNameError
		case i == b.First:
			words = "Would break first. " + words
		}
		p.text, p.role = words, role
		p.wrap()
		t.box.Add(cols.row(name, newLabel(share).right(), p))
	}
	for _, m := range b.Modes {
		mark := "○ "
		if m.Chosen {
			mark = "● "
		}
		t.box.Add(newPara(fmt.Sprintf("%s%s: %d bytes, %.1f ms a frame, %s.", mark, model.Capital(m.Name), m.Bytes, m.FrameUS/1000, model.Plural(m.Lines, "output"))).soft())
	}
	for i := 1; i < len(a.Power.Budgets); i++ {
		o := &a.Power.Budgets[i]
		verdict := "holds the bars"
		if !o.Fits {
			verdict = "does not hold them: " + o.Limits[o.First].Words
		}
		t.box.Add(newPara(o.Class.Title + ": " + verdict + ".").soft())
	}
}

// sideTable lays the same flight at 5, 12 and 24 V side by side.
type sideTable struct {
	desk  *Desk
	box   *fyne.Container
	shown []power.Side
	words *para
}

func newSideTable(d *Desk) *sideTable {
	t := &sideTable{desk: d, box: container.New(&stack{gap: 2}), words: newPara("").soft()}
	t.box.Add(t.words)
	return t
}

func (t *sideTable) tell() {
	g := &t.desk.lights
	fresh := g.sidesOf == t.desk.session.Answer()
	switch {
	case fresh && g.fault != "":
		setPara(t.words, model.Capital(g.fault)+".")
	case g.sides == nil:
		setPara(t.words, "Working it out…")
	case !fresh:
		setPara(t.words, "Working it out… Below is that of the job before the last change.")
	default:
		setPara(t.words, "The smallest wires with the fewest feeds that keep within the drop.")
	}
	if len(g.sides) == len(t.shown) && (len(g.sides) == 0 || &g.sides[0] == &t.shown[0]) {
		return
	}
	t.shown = g.sides
	t.box.RemoveAll()
	t.box.Add(t.words)
	row := container.NewGridWithColumns(max(1, len(g.sides)))
	for i := range g.sides {
		row.Add(t.side(&g.sides[i]))
	}
	t.box.Add(row)
}

// side is one voltage, with a button that takes it.
func (t *sideTable) side(s *power.Side) fyne.CanvasObject {
	lights := t.desk.session.Tables().Lights.With(t.desk.Job().Lighting.Own)
	wire := func(id string) string {
		if w, ok := lights.Wire(id); ok {
			return w.Title
		}
		return "none"
	}
	box := container.New(&stack{}, newLabel(fmt.Sprintf("%g V", s.Volts)).bold())
	add := func(text string) { box.Add(newPara(text)) }
	if s.Strip.ID == "" {
		add("The table has no such strip.")
		return box
	}
	add(s.Strip.Title + ".")
	add(fmt.Sprintf("%d pixels; full white %.1f A, %.0f W.", s.Pixels, s.FullAmps, s.FullWatts))
	if s.Supply.ID != "" {
		add(fmt.Sprintf("%d × %s carries it.", s.Count, s.Supply.Title))
	}
	c := &s.Choice
	if !c.OK {
		add("▲ No wire of the table keeps within the drop.")
		return box
	}
	add(fmt.Sprintf("Bus %s, leads %s; fed at %s, %s.", wire(c.Wires.Bus), wire(c.Wires.Lead), feedWords(c.Feed), model.Plural(c.Points, "joint")))
	add(fmt.Sprintf("%.2f V lost, %.2f kg of copper.", c.Drop, c.Copper))
	side := *s
	box.Add(newButton(fmt.Sprintf("Take %g V", s.Volts), func() { t.take(side) }))
	return box
}

func feedWords(f model.FeedEnds) string {
	switch f {
	case model.FeedBoth:
		return "both ends"
	case model.FeedMiddle:
		return "the middle"
	}
	return "one end"
}

// take puts strip, supply, wires and feeds of a voltage into the job.
func (t *sideTable) take(s power.Side) {
	changeLights(t.desk, func(l *model.Lighting) {
		l.Strip, l.Feed, l.Wires, l.Enters = s.Strip.ID, s.Choice.Feed, s.Choice.Wires, s.Choice.Enters
		l.Trunk = model.Bus
		if s.Supply.ID != "" {
			l.Supply, l.Supplies = s.Supply.ID, s.Count
		}
	})
}

// lightMapForm switches the light map and says what the light comes to.
type lightMapForm struct {
	desk   *Desk
	on     *check
	scene  *chooser
	lumens *field
	words  *para
	box    *fyne.Container
}

func newLightMapForm(d *Desk) *lightMapForm {
	f := &lightMapForm{desk: d, words: newPara("").soft(), lumens: newLumensField(d)}
	f.on = newCheck("Light map on the plan", d.ShowLightMap)
	f.scene = newChooser(d.lookAtScene)
	f.box = container.New(&stack{gap: 2},
		container.NewGridWithColumns(2, f.on, fieldColumns().row(newLabel("Lit as in scene"), f.scene)),
		f.lumens.box, f.words)
	return f
}

func (f *lightMapForm) tell() {
	d := f.desk
	job := d.Job()
	g := &d.lights
	f.on.show(g.mapped)
	f.lumens.tell(&job)
	var names []string
	for _, s := range job.Lighting.Scenes {
		names = append(names, fmt.Sprintf("%s, %.0f %%", s.Name, 100*s.Level))
	}
	f.scene.words(names, nil)
	if g.scene >= len(names) {
		g.scene = 0
	}
	if len(names) > 0 {
		f.scene.set(g.scene)
	}
	a := d.session.Answer()
	if a.Power == nil {
		setPara(f.words, "")
		return
	}
	lm := lights.LumensPerMetre(a)
	f.lumens.entry.SetPlaceHolder(numberText(math.Round(lm.Value), true))
	text := ""
	switch {
	case !g.mapped:
		text = "Turn it on to see the lux on every tread."
	case g.lux == nil && g.luxRun.going():
		text = "Working out the light…"
	case g.lux == nil:
		text = "The light could not be worked out."
	default:
		text = luxWords(g.lux)
		if n := len(g.picked); n > 0 {
			text = fmt.Sprintf("Only %s lit. ", model.Plural(n, "picked bar")) + text
		}
	}
	setPara(f.words, text+fmt.Sprintf(" %.0f lm a metre at full brightness: %s (%s). ", lm.Value, standingOf(lm), lm.From)+lux.Supplement)
}

func standingOf(r model.Rated) string {
	if r.Standing == model.Yours {
		return "yours"
	}
	return "from " + string(r.Standing)
}

// luxWords says the least light there is on a tread, and which published levels
// it does not reach by itself.
func luxWords(r *lux.Result) string {
	worst := -1
	for i := range r.Surfaces {
		s := &r.Surfaces[i]
		if s.Kind != lux.Floor && (worst < 0 || s.Centre < r.Surfaces[worst].Centre) {
			worst = i
		}
	}
	if worst < 0 {
		return "Nothing is lit."
	}
	s := &r.Surfaces[worst]
	text := fmt.Sprintf("Darkest is %s: %s lx at its centre, %s least, %s mean.", s.Name(), lux.Print(s.Centre), lux.Print(s.Min), lux.Print(s.Mean))
	met, short := 0, ""
	for _, c := range r.Compare(lux.Published()) {
		if c.Met {
			met++
		} else if c.Dwelling {
			short += fmt.Sprintf(" Short of %s, %s: %.3g (%s).", c.Title, c.Measure, c.Value, c.Standing)
		}
	}
	return text + short + fmt.Sprintf(" %d of the %d published levels held against it are reached.", met, len(lux.Published()))
}

// powerBars returns the power side of the bars, none while it is not solved.
func powerBars(d *Desk) []power.BarPower {
	if p := d.session.Answer().Power; p != nil {
		return p.Bars
	}
	return nil
}
