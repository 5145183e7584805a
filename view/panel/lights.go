package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/power"
	"risewright/view/canvas"
)

// lightsTab takes what is chosen of the light bars, and shows what follows:
// volts, loads, supply, controller, and the light on the treads.
type lightsTab struct {
	desk   *Desk
	off    *fyne.Container // while the job has no lighting
	on     *fyne.Container
	form   *lightForm
	status *para
	volts  *canvas.Canvas
	scenes *sceneTable
	scene  *sceneForm
	key    *colourKey
	bar    *barForm
	rows   *rowEditor
	supply *para
	budget *budgetTable
	sides  *sideTable
	light  *lightMapForm
	scroll *container.Scroll
}

// newLightsTab returns the tab and what brings it up to date.
func newLightsTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &lightsTab{desk: d, form: newLightForm(d), scenes: newSceneTable(d), scene: newSceneForm(d), key: newColourKey(), bar: newBarForm(d), rows: newRowEditor(d), supply: newPara(""), budget: newBudgetTable(), sides: newSideTable(d), light: newLightMapForm(d), status: newPara("").bold()}
	t.volts = canvas.New("Volts along the bars", &voltScene{desk: d})
	t.volts.Gained = func() { toSight(t.volts) }
	t.volts.Least = fyne.NewSize(300, 190)
	soft := func(s string) fyne.CanvasObject { return newPara(s).soft() }
	t.off = container.NewVBox(
		heading("Light bars under the noses"),
		newPara("A bar under every nose lights the tread below it. Put them in with usual sizes and a supply, wires and a controller that hold them, and change what you like: the arithmetic follows."),
		container.NewHBox(newButton("Put in light bars", t.start)),
		soft(mainsCaution),
	)
	var cautions []fyne.CanvasObject
	for _, s := range power.Cautions() {
		cautions = append(cautions, soft(s))
	}
	t.on = container.NewVBox(
		t.status,
		t.volts,
		soft("Volts along the bars, the lowest in any scene to be carried. In plan and section drag the box, and the disc where the feeder joins the bus; in the plan drag the lozenge to move the cavity to the other side. Click a bar in the section, or press L, to light it."),
		heading("Light on the treads"), t.light.box,
		heading("Scenes and their load"), t.scenes.box,
		soft("* is for comparison: the supply need not carry it. Click a name to look at the scene and change it."),
		t.scene.box,
		soft("Colours as a screen can show them: whites by their temperature, and what the strip makes of its channels."), t.key.box,
		heading("Will the supply carry it"), t.supply,
		heading("Does the controller hold it"), t.budget.box,
		heading("The same flight at 5, 12 and 24 V"), t.sides.box,
		t.form.box,
		heading("A single bar"), t.bar.box,
		heading("Strips, wires, fuses, supplies and controllers"), t.rows.box,
		container.NewHBox(newButton("Take the light bars out", t.stop)),
		heading("Cautions"), container.New(&stack{}, cautions...),
	)
	d.onSettled(func() {
		if d.tabs.shows(tabLights) {
			t.figures()
		}
	})
	t.scroll = container.NewVScroll(container.New(&gap{x: 4, y: 2}, container.New(&stack{}, t.off, t.on)))
	d.onGo(func(p model.Place) bool {
		if !strings.HasPrefix(p.Field, "lighting") || !d.Job().Lighting.On() {
			return false
		}
		o := t.goTo(p.Field)
		d.tabs.show(tabLights)
		if o != nil {
			d.focus(o)
			reveal(t.scroll, o.(fyne.CanvasObject))
		}
		return true
	})
	return wheeled(t.scroll), t.tell
}

// goTo returns the control of a field, or nil.
func (t *lightsTab) goTo(id string) fyne.Focusable {
	if id == t.light.lumens.id {
		return t.light.lumens.entry
	}
	if o := t.rows.goTo(id); o != nil {
		return o
	}
	if o := t.bar.goTo(id); o != nil {
		return o
	}
	for _, f := range t.scenes.form.fields {
		if strings.HasPrefix(f.id, id) {
			return f.entry
		}
	}
	if o := t.scene.goTo(id); o != nil {
		return o
	}
	return t.form.goTo(id)
}

const mainsCaution = "The mains side is for a licensed person. The supply stands ventilated and reachable, never buried. These bars never replace the switched stair light."

// start puts light bars of usual sizes in, with a supply and wires that hold them.
func (t *lightsTab) start() {
	_ = t.desk.Do(model.SetLighting{Lighting: solver.FirstLighting(t.desk.session.Answer(), t.desk.session.Tables())}) // an error has been shown
}

// stop takes the lighting out; an undo brings it back.
func (t *lightsTab) stop() { _ = t.desk.Do(model.SetLighting{}) }

func (t *lightsTab) tell(c Change) {
	on := t.desk.Job().Lighting.On()
	if on == t.off.Visible() || on != t.on.Visible() {
		if on {
			t.off.Hide()
			t.on.Show()
		} else {
			t.on.Hide()
			t.off.Show()
		}
		t.scroll.Content.Refresh()
	}
	if !on {
		return
	}
	t.desk.light()
	if c&(Answered|Dragged|Chosen) != 0 {
		t.volts.Redraw()
	}
	a := t.desk.Answer()
	switch {
	case c&Answered != 0:
		t.form.tell()
		t.scene.tell(a)
		t.scenes.tell(a)
		t.key.tell(a)
		t.bar.tell()
		t.rows.tell()
		t.judge(a)
		setPara(t.supply, supplyWords(a))
		t.budget.tell(a)
		t.sides.tell()
		t.light.tell()
	case c&Dragged != 0:
		t.figures()
	}
	if c&(Chosen|Answered) == Chosen {
		t.bar.tell()
	}
	if c&(Viewed|Answered) == Viewed {
		t.scene.tell(a)
		t.scenes.marks()
	}
	if c&Viewed != 0 {
		t.sides.tell()
		t.light.tell()
	}
}

// figures shows what a drag comes to.
func (t *lightsTab) figures() {
	a := t.desk.Answer()
	t.scenes.loads(a)
	t.judge(a)
}

// judge says in a line how the bars stand.
func (t *lightsTab) judge(a *solver.Answer) {
	role := base.ColorNameSuccess
	text := ""
	worst := model.Note
	count := map[model.Severity]int{}
	for i := range a.Findings {
		if f := &a.Findings[i]; strings.HasPrefix(f.Rule, "light.") {
			count[f.Severity]++
			worst = max(worst, f.Severity)
		}
	}
	switch {
	case a.Power == nil:
		text, role = "○ Not solved: mend what the list below says first.", base.ColorNameError
	case worst >= model.Outside:
		text, role = fmt.Sprintf("▲ %d outside a limit, %d to look at: see the list below.", count[model.Outside]+count[model.Block], count[model.Advice]), base.ColorNameError
	case worst == model.Advice:
		text, role = fmt.Sprintf("○ %d to look at: see the list below.", count[model.Advice]), base.ColorNameWarning
	default:
		text = "● Nothing found against these bars."
	}
	if p := a.Power; p != nil && p.Worst >= 0 && p.Worst < len(p.Scenes) {
		s := &p.Scenes[p.Worst]
		text += fmt.Sprintf(" Worst pixel %.2f V of %g V in “%s”; %.2f V may be lost.", s.Lowest, p.Supply.Volts.Value, s.Scene.Name, p.Limit)
	}
	if t.status.role != role {
		t.status.role = role
		t.status.Refresh()
	}
	setPara(t.status, text)
}

// supplyWords is the arithmetic of the supply.
func supplyWords(a *solver.Answer) string {
	p := a.Power
	if p == nil {
		return ""
	}
	l, st := &p.Load, &p.Strip
	if l.Rated == 0 {
		return "No supply is chosen."
	}
	n := a.Bars.Pixels()
	text := fmt.Sprintf("Everything at full white: %d pixels × %d channels × %g mA = %.2f A. ", n, st.Channels, st.ChannelMA.Value, l.FullAll)
	if l.Count > 1 {
		text += fmt.Sprintf("Of %d supplies the busiest has %.2f A of it. ", l.Count, l.Full)
	}
	switch {
	case l.Over > 0:
		text += fmt.Sprintf("That exceeds the supply's %g A by %.2f A. ", l.Rated, l.Over)
	case l.Full > l.Usable:
		text += fmt.Sprintf("The supply's %g A only look enough: for long loads %.0f %% of them, %g A, may be used. ", l.Rated, 100*l.Margin, l.Usable)
	default:
		text += fmt.Sprintf("The supply gives %g A, and %g A for long loads. ", l.Rated, l.Usable)
	}
	if l.Cap < 1 {
		text += fmt.Sprintf("A cap of %.1f %% in the firmware keeps within %g A. For full white with the margin it takes %s. ", float64(int(1000*l.Cap))/10, l.Usable, model.Plural(l.Needed, "such supply"))
	}
	if l.IdleKWh > 0 {
		text += fmt.Sprintf("Dark, it all takes %.1f W: %.0f kWh a year, %.0f with the scenes' hours.", l.IdleWatts, l.IdleKWh, l.YearlyKWh)
	}
	return strings.Replace(text, "such supplys", "such supplies", 1)
}
