package panel

import (
	"fmt"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
	"risewright/solver/lux"
	"risewright/view/lights"
	"risewright/view/scene"
)

// StillWanted is what a still picture is to be made of.
type StillWanted struct {
	Scene  *scene.Scene
	Camera scene.Camera
	View   scene.View
	Time   scene.Time
	Before bool
	// Left, where not nil, is the stair before, for the part of the width at the
	// left of the divider.
	Left    *scene.Scene
	Divider float64 // 0 to 1
	// Width and Height are those of the window's picture, to keep its shape.
	Width, Height int
}

// divide moves the divider between before and after.
func (p *pictureDesk) divide(at float64) {
	p.divider = math.Max(0.02, math.Min(0.98, at))
	p.repaint(true)
	if p.shown != nil {
		p.shown()
	}
}

// nextWalker goes from nobody to somebody going up, going down, and nobody.
func (p *pictureDesk) nextWalker() {
	switch {
	case p.walker == 0:
		p.walker, p.down = p.midway(), false
	case !p.down:
		p.down = true
	default:
		p.walker, p.down = 0, false
	}
}

// midway is the step where somebody on the stair is well seen.
func (p *pictureDesk) midway() float64 { return math.Round(float64(p.desk.Steps())*0.36) + 0.3 }

// walkBy moves the walker.
func (p *pictureDesk) walkBy(steps float64) {
	if p.walker == 0 {
		p.walker = p.midway()
		return
	}
	p.walker = math.Max(0.5, math.Min(float64(p.desk.Steps())-0.5, p.walker+steps))
}

// makeStill hands what is seen to whoever makes a still of it.
func (p *pictureDesk) makeStill() {
	d := p.desk
	side := 0
	if p.shows == showBefore {
		side = 1
	}
	c, ok := p.eye()
	w := p.worlds[side]
	if d.MakeStill == nil || !ok || w == nil {
		return
	}
	wanted := StillWanted{Scene: w.Scene(), Camera: c, View: p.view, Time: p.time, Before: side == 1, Width: p.size.X, Height: p.size.Y}
	if before := p.worlds[1]; p.shows == showBoth && before != nil {
		wanted.Left, wanted.Divider = before.Scene(), p.divider
	}
	d.MakeStill(wanted)
}

// pictureTab takes from where, when and in what colours the stair is seen.
type pictureTab struct {
	desk   *Desk
	p      *pictureDesk
	views  []*button
	times  []*button
	shows  []*button
	walks  []*button
	where  *para
	lit    *para // what tells the bars how bright to be
	still  *button
	status *para
	groups []*swatchGroup
}

// newPictureTab returns the tab and what brings it up to date.
func newPictureTab(d *Desk) (fyne.CanvasObject, func(Change)) {
	t := &pictureTab{desk: d, p: d.pictures, where: newPara(""), lit: newPara("").soft(), status: newPara("")}
	p := t.p
	t.status.soft()
	row := func(bs *[]*button, items ...fyne.CanvasObject) fyne.CanvasObject {
		for _, o := range items {
			if b, ok := o.(*button); ok {
				*bs = append(*bs, b)
			}
		}
		return container.New(&wrap{gap: 4}, items...)
	}
	var views []fyne.CanvasObject
	for i, v := range scene.Views() {
		views = append(views, newButton(fmt.Sprintf("%d  %s", i+1, model.Capital(string(v))), func() { p.look(v) }))
	}
	var times []fyne.CanvasObject
	for _, x := range scene.Times() {
		times = append(times, newButton(model.Capital(string(x)), func() { p.change(func() { p.time = x }) }))
	}
	var shows []fyne.CanvasObject
	for i, name := range []string{"After", "Before", "Both, with a divider"} {
		shows = append(shows, newButton(name, func() { p.change(func() { p.shows = pictured(i) }) }))
	}
	walker := func(on, down bool) func() {
		return func() {
			p.change(func() {
				p.down = down
				switch {
				case !on:
					p.walker = 0
				case p.walker == 0:
					p.walker = p.midway()
				}
			})
		}
	}
	walks := []fyne.CanvasObject{newButton("Nobody", walker(false, false)), newButton("Somebody going up", walker(true, false)), newButton("Going down", walker(true, true))}
	down := newButton("◀", func() { p.change(func() { p.walkBy(-0.5) }) })
	up := newButton("▶", func() { p.change(func() { p.walkBy(0.5) }) })
	t.still = newButton("Make the still…", p.makeStill)
	t.still.Importance = widget.HighImportance
	objects := []fyne.CanvasObject{
		t.status,
		heading("Look from"), row(&t.views, views...),
		newPara("Drag in the picture to go round, turn the wheel to approach. Keys: arrows, + and −, 1 to 6 for the views, Home for the view as it was.").soft(),
		heading("Time of day"), row(&t.times, times...),
		heading("Which stair"), row(&t.shows, shows...),
		newPara("Drag the divider in the picture, or press [ and ] there.").soft(),
		heading("On the stair"), row(&t.walks, walks...),
		container.NewHBox(down, up, padded(t.where)),
		newPara("In the evening and at night the bars are lit round the walker; with nobody there they show the steady scene or the night light.").soft(),
		t.lit,
	}
	looks := d.session.Tables().Looks
	for _, g := range t.swatchGroups(looks) {
		t.groups = append(t.groups, g)
		objects = append(objects, heading(g.title), g.box)
	}
	objects = append(objects,
		newPara("Colours and names of woods, stains and paints are from memory and mixed by eye: hold a real sample against the wall before anything is bought. Rooms, doors and windows are made up.").soft(),
		container.NewHBox(t.still),
		newPara("The still is worked out slowly, with the true light of the bars, and kept as a PNG.").soft(),
	)
	scroll := container.NewVScroll(container.New(&gap{x: 4, y: 2}, container.New(&stack{gap: 3}, objects...)))
	d.onGo(func(at model.Place) bool {
		if len(at.Field) < 5 || at.Field[:5] != "look." {
			return false
		}
		d.tabs.show(tabPicture)
		return true
	})
	return wheeled(scroll), t.tell
}

func (t *pictureTab) tell(c Change) {
	p := t.p
	press := func(bs []*button, at int) {
		for i, b := range bs {
			want := widget.MediumImportance
			if i == at {
				want = widget.HighImportance
			}
			if b.Importance != want {
				b.Importance = want
				b.Refresh()
			}
		}
	}
	for i, v := range scene.Views() {
		if v == p.view {
			press(t.views, i)
		}
	}
	for i, x := range scene.Times() {
		if x == p.time {
			press(t.times, i)
		}
	}
	press(t.shows, int(p.shows))
	switch {
	case p.walker == 0:
		press(t.walks, 0)
		setPara(t.where, "")
	case p.down:
		press(t.walks, 2)
	default:
		press(t.walks, 1)
	}
	if p.walker > 0 {
		setPara(t.where, fmt.Sprintf("on step %.1f of %d", p.walker, t.desk.Steps()))
	}
	status := "Nobody has measured the rooms: they are made up about the stair."
	if s := p.atWork(); s != "" {
		status = s
	}
	if !t.desk.Job().Lighting.On() {
		status += " The job has no light bars yet: put them in with the tab Lights."
	}
	setPara(t.status, status)
	lit := ""
	if w := p.worlds[0]; w != nil {
		lit = w.Scene().LitBy.String()
	}
	setOrHide(t.lit, lit)
	t.still.say("Make the still…", t.desk.MakeStill != nil && p.worlds[0] != nil)
	if c&Answered != 0 {
		for _, g := range t.groups {
			g.tell()
		}
	}
}

// swatchGroup is the swatches of one choice.
type swatchGroup struct {
	title string
	box   *fyne.Container
	items []*lookSwatch
	of    []func() (on bool, a, b color.NRGBA)
}

func (g *swatchGroup) tell() {
	for i, s := range g.items {
		s.set(g.of[i]())
	}
}

func (g *swatchGroup) add(name string, pick func(), of func() (bool, color.NRGBA, color.NRGBA)) {
	on, a, b := of()
	s := newLookSwatch(name, a, b, pick)
	s.on = on
	g.items, g.of = append(g.items, s), append(g.of, of)
	g.box.Add(s)
}

// swatchGroups makes the swatches of all that can be chosen.
func (t *pictureTab) swatchGroups(looks model.FinishTable) []*swatchGroup {
	d := t.desk
	var out []*swatchGroup
	group := func(title string) *swatchGroup {
		g := &swatchGroup{title: title, box: container.New(&wrap{gap: 5})}
		out = append(out, g)
		return g
	}
	// chosen says whether an id is the choice; nothing chosen is the first.
	chosen := func(part model.LookPart, id string, first bool) bool {
		at := d.Job().Look.Of(part)
		return at == id || at == "" && first
	}
	pick := func(part model.LookPart, id string) func() {
		return func() { _ = d.Do(model.SetLook{Look: d.Job().Look.With(part, id)}) } // an error has been shown
	}
	stained := func(w model.WoodLook, f model.Finish) (color.NRGBA, color.NRGBA) {
		return blend(w.Early, f.Colour, f.Cover), blend(w.Late, f.Colour, f.Cover)
	}
	species := func() string {
		if id := d.Job().Shop.Species; id != "" {
			return id
		}
		if s := d.session.Tables().Wood.Species; len(s) > 0 {
			return s[0].ID
		}
		return ""
	}
	stain := func() (f model.Finish) {
		for i, s := range looks.Stains {
			if chosen(model.LookStain, s.ID, i == 0) {
				f = s
			}
		}
		return f
	}
	g := group("Wood")
	for _, s := range d.session.Tables().Wood.Species {
		w, own := looks.Wood(s.ID)
		if !own {
			continue
		}
		g.add(model.Capital(s.Name), func() { shopEdit(d, func(x *model.Shop) { x.Species = s.ID }) }, func() (bool, color.NRGBA, color.NRGBA) {
			a, b := stained(w, stain())
			return species() == s.ID, a, b
		})
	}
	g = group("Stain")
	for i, s := range looks.Stains {
		g.add(s.Name, pick(model.LookStain, s.ID), func() (bool, color.NRGBA, color.NRGBA) {
			w, _ := looks.Wood(species())
			a, b := stained(w, s)
			return chosen(model.LookStain, s.ID, i == 0), a, b
		})
	}
	g = group("Sheen")
	for i, s := range looks.Sheens {
		g.add(s.Name, pick(model.LookSheen, s.ID), func() (bool, color.NRGBA, color.NRGBA) {
			w, _ := looks.Wood(species())
			a, _ := stained(w, stain())
			shine := blend([3]uint8{a.R, a.G, a.B}, [3]uint8{255, 255, 255}, 0.6*s.Gloss*(1-s.Rough))
			return chosen(model.LookSheen, s.ID, i == 0), a, shine
		})
	}
	for _, part := range []struct {
		p     model.LookPart
		title string
	}{{model.LookRiser, "Risers"}, {model.LookTrim, "Skirts and trim"}, {model.LookWall, "Walls"}} {
		g = group(part.title)
		for i, x := range looks.PaintsFor(part.p) {
			c := blend(x.Colour, x.Colour, 0)
			g.add(x.Name, pick(part.p, x.ID), func() (bool, color.NRGBA, color.NRGBA) { return chosen(part.p, x.ID, i == 0), c, c })
		}
		if part.p == model.LookRiser {
			g.add("As the treads", pick(part.p, model.WoodRisers), func() (bool, color.NRGBA, color.NRGBA) {
				w, _ := looks.Wood(species())
				a, b := stained(w, stain())
				return chosen(part.p, model.WoodRisers, false), a, b
			})
		}
	}
	g = group("Light of the bars")
	for i, x := range looks.Lights {
		g.add(x.Name, pick(model.LookLight, x.ID), func() (bool, color.NRGBA, color.NRGBA) {
			c := blend(x.Colour, x.Colour, 0)
			kelvin := x.Kelvin
			if kelvin == 0 && x.Colour == (model.RGB{}) {
				l := d.Job().Lighting
				kelvin = lights.WhiteOf(&l)
			}
			if kelvin > 0 {
				c = screenColour(scene.White(kelvin))
			}
			return chosen(model.LookLight, x.ID, i == 0), c, c
		})
	}
	g = group("Carpet before")
	for i, x := range looks.Carpets {
		c := blend(x.Colour, x.Colour, 0)
		g.add(x.Name, pick(model.LookCarpet, x.ID), func() (bool, color.NRGBA, color.NRGBA) { return chosen(model.LookCarpet, x.ID, i == 0), c, c })
	}
	return out
}

// blend lays a share of one colour over another.
func blend(a, b [3]uint8, share float64) color.NRGBA {
	f := func(i int) uint8 { return uint8(math.Round(float64(a[i])*(1-share) + float64(b[i])*share)) }
	return color.NRGBA{f(0), f(1), f(2), 255}
}

// screenColour is a colour of light as bright as a screen can show it.
func screenColour(c scene.Colour) color.NRGBA {
	most := math.Max(c[0], math.Max(c[1], c[2]))
	f := func(v float64) uint8 {
		return uint8(math.Round(255 * lux.Encode(v/most)))
	}
	return color.NRGBA{f(c[0]), f(c[1]), f(c[2]), 255}
}

// wrap lays objects in rows, as many in each as fit.
type wrap struct{ gap, wide float32 }

// Layout implements fyne.Layout.
func (w *wrap) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	w.wide = s.Width
	w.place(objects, s.Width, true)
}

// MinSize implements fyne.Layout: as high as it is at the width it last had.
func (w *wrap) MinSize(objects []fyne.CanvasObject) fyne.Size {
	wide := w.wide
	if wide <= 0 {
		wide = 420
	}
	least := float32(0)
	for _, o := range objects {
		least = max(least, o.MinSize().Width)
	}
	return fyne.NewSize(least, w.place(objects, wide, false))
}

// place lays the objects out at a width and returns how high they are.
func (w *wrap) place(objects []fyne.CanvasObject, wide float32, move bool) float32 {
	var x, y, high float32
	for _, o := range objects {
		m := o.MinSize()
		if x > 0 && x+m.Width > wide {
			x, y, high = 0, y+high+w.gap, 0
		}
		if move {
			o.Move(fyne.NewPos(x, y))
			o.Resize(m)
		}
		x += m.Width + w.gap
		high = max(high, m.Height)
	}
	return y + high
}
