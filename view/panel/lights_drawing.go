package panel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/bars"
	"risewright/solver/lux"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/lightmap"
	"risewright/view/lights"
)

// lightDrawing lays the light bars over a drawing of the stair. While the tab
// of the lights is at the front they can be dragged and picked, and the plan
// may show the light map instead; otherwise every touch goes to the drawing
// below.
type lightDrawing struct {
	*stairDrawing
	section bool

	hot lights.Grip // under the pointer

	// the drag in hand
	grip   lights.Grip
	start  *solver.Answer
	from   drawing.Point // scene
	to     drawing.Point
	moved  bool // since the last solve
	change model.Edit
	mapFit fitOnce[mapFit]
}

var _ canvas.Gripped = (*lightDrawing)(nil)

// withLights lays the lights over a drawing.
func withLights(s *stairDrawing, section bool) *lightDrawing {
	d := &lightDrawing{stairDrawing: s, section: section}
	s.desk.onSettle(d.settleLights)
	return d
}

// place returns how points of the stair come into this drawing.
func (s *lightDrawing) place(a *solver.Answer, v drawing.Viewport) lights.Place {
	if s.section {
		return lights.Section(a, s.options(v))
	}
	return lights.Plan(s.options(v))
}

func (s *lightDrawing) over(v drawing.Viewport) lights.Options {
	d := s.desk
	return lights.Options{Scale: s.options(v).Scale, Exaggerate: d.view.Exaggerate, Section: s.section, Chosen: d.step,
		Lit: d.lit, Hover: s.hot, Held: s.grip, Grips: d.lighting(), Colour: d.lampOf()}
}

// mapped says whether this is the plan, and shows the light map.
func (s *lightDrawing) mapped() bool { return !s.section && s.desk.mapping() }

func (s *lightDrawing) mapOptions(v drawing.Viewport) lightmap.Options {
	o := lightmap.Options{Bars: s.desk.lights.luxBars, Colours: s.desk.lampNames()}
	if v.Paper > 0 {
		o.Scale = v.Scale / v.Paper
	}
	return o
}

// Draw implements canvas.Scene.
func (s *lightDrawing) Draw(l *drawing.List, v drawing.Viewport) {
	if s.mapped() {
		s.desk.Settle()
		lightmap.Draw(l, s.desk.lights.lux, s.mapOptions(v))
		return
	}
	s.stairDrawing.Draw(l, v)
	if a := s.desk.Answer(); a.Power != nil && !s.desk.playing() {
		lights.Draw(l, a, s.place(a, v), s.over(v))
	}
}

// Fit implements canvas.Scene.
func (s *lightDrawing) Fit(width, height, paper float64) drawing.Viewport {
	if s.mapped() {
		return s.fitMap(width, height, paper)
	}
	if a := s.desk.session.Answer(); a.Power != nil && s.desk.lighting() {
		return s.fitWithLights(a, width, height, paper)
	}
	return s.stairDrawing.Fit(width, height, paper)
}

// mapFit is what a fit of the light map hangs on.
type mapFit struct {
	of                   *lux.Result
	width, height, paper float64
	names                string // of the colours, which the legend says
}

// fitMap fits the light map: while the next one is worked out the same is shown at
// every change of the job.
func (s *lightDrawing) fitMap(width, height, paper float64) drawing.Viewport {
	o := s.mapOptions(drawing.Viewport{})
	now := mapFit{of: s.desk.lights.lux, width: width, height: height, paper: paper, names: strings.Join(o.Colours, "\n")}
	return s.mapFit.get(now, func() drawing.Viewport { return lightmap.Fit(now.of, o, width, height, paper) })
}

// fitWithLights leaves room for the box, which may stand beside the flight.
func (s *lightDrawing) fitWithLights(a *solver.Answer, width, height, paper float64) drawing.Viewport {
	v := s.stairDrawing.Fit(width, height, paper)
	place := s.place(a, v)
	if place == nil {
		return v
	}
	const margin = 5 // paper mm round the box, for its square and its word
	for range 3 {
		px := v.Pixel(place(0, lights.BoxOf(a)))
		out := max(margin*paper-px.X, px.X+margin*paper-width, margin*paper-px.Y, px.Y+1.6*margin*paper-height)
		if !(out > 0) {
			return v
		}
		// Shrink about the side that is farthest from the box.
		at := drawing.Point{X: 0, Y: 0}
		if px.X < width/2 {
			at.X = width
		}
		if px.Y < height/2 {
			at.Y = height
		}
		reach := max(math.Abs(px.X-at.X), math.Abs(px.Y-at.Y), 1)
		v = v.Zoom(at, max(0.3, 1-out/reach))
	}
	return v
}

// Inks implements canvas.Inked: lamps and the light map have colours of their
// own.
func (s *lightDrawing) Inks(p drawing.Palette) drawing.Palette {
	p = p.Lit(s.desk.lamps()...)
	if s.mapped() {
		return lightmap.Palette(p)
	}
	return p
}

// gripAt returns the grip of the lights under a pixel.
func (s *lightDrawing) gripAt(v drawing.Viewport, at drawing.Point) (lights.Grip, bool) {
	if !s.desk.lighting() || s.mapped() {
		return lights.Grip{}, false
	}
	a := s.desk.session.Answer()
	gs := lights.Grips(a, s.place(a, v), s.over(v))
	for i := len(gs) - 1; i >= 0; i-- { // the box lies on top
		if v.Pixel(gs[i].At).Sub(at).Len() <= grabRadius*v.Paper {
			return gs[i], true
		}
	}
	return lights.Grip{}, false
}

// How far an arrow key moves the box, and the other grips of the lights, which
// go from step to step and from side to side: about as far as those lie apart.
const (
	boxStep = 10  // mm
	tapStep = 250 // mm
)

// Grips implements canvas.Gripped.
func (s *lightDrawing) Grips(v drawing.Viewport) []canvas.Grip {
	if s.mapped() {
		return nil
	}
	var out []canvas.Grip
	if s.desk.lighting() {
		a := s.desk.Answer()
		for i, g := range lights.Grips(a, s.place(a, v), s.over(v)) {
			step := float64(boxStep)
			if g.Kind != lights.BoxGrip {
				step = tapStep
			}
			out = append(out, canvas.Grip{Key: [2]int{int(g.Kind), i}, At: g.At, Step: step,
				Show: func() {
					s.hot = g
					s.desk.point(keyedHint(s.hint(g)))
				},
				Take: func(v drawing.Viewport) bool { return s.take(v, g, g.At) },
			})
		}
	}
	return append(out, s.stairDrawing.Grips(v)...)
}

// hint tells about a grip under the pointer.
func (s *lightDrawing) hint(g lights.Grip) string {
	switch g.Kind {
	case lights.EnterGrip:
		return fmt.Sprintf("The feeder joins the bus at %s: drag it along the bars.", bars.Name(g.Step))
	case lights.CavityGrip:
		return fmt.Sprintf("The wires climb %s: drag this to the other side, or to the middle for under the stair.", cavityWords(s.desk.Job().Lighting.Cavity))
	}
	return "Box with supply and controller: drag it; the volts follow."
}

// Hover implements canvas.Hand.
func (s *lightDrawing) Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, on bool) {
	g := lights.Grip{}
	found := false
	if !out {
		g, found = s.gripAt(v, at)
	}
	was := s.hot
	s.hot = g
	if found {
		if !g.Is(was) {
			s.desk.point(s.hint(g))
			return true, true
		}
		return false, true
	}
	if s.mapped() {
		return false, false
	}
	if step := s.barAt(v, at); step > 0 && !out {
		words := "click it to light it."
		if s.desk.lit(step) {
			words = "click it to put it out."
		}
		s.desk.point(fmt.Sprintf("%s: %s", bars.Name(step), words))
		return was.Kind != lights.NoGrip, true
	}
	changed, on = s.stairDrawing.Hover(v, at, out)
	if was.Kind != lights.NoGrip {
		changed = true
	}
	if !on {
		s.desk.point("")
	}
	return changed, on
}

// pickRadius is how far from a bar a click still means it, in paper mm: less
// than grabRadius, because the noses above the bars are dragged there.
const pickRadius = 2.0

// barAt returns the step of the bar of the section under a pixel, or 0.
func (s *lightDrawing) barAt(v drawing.Viewport, at drawing.Point) int {
	if !s.section || !s.desk.lighting() || v.Scale <= 0 {
		return 0
	}
	a := s.desk.session.Answer()
	return lights.BarAt(a, s.place(a, v), s.over(v), v.Scene(at), pickRadius*v.Paper/v.Scale)
}

// Grab implements canvas.Hand.
func (s *lightDrawing) Grab(v drawing.Viewport, at drawing.Point) bool {
	if s.mapped() {
		return false
	}
	g, ok := s.gripAt(v, at)
	if !ok && s.barAt(v, at) > 0 {
		return false // a click is to pick it
	}
	if !ok {
		return s.stairDrawing.Grab(v, at)
	}
	return s.take(v, g, v.Scene(at))
}

// take takes hold of a grip at a scene point.
func (s *lightDrawing) take(v drawing.Viewport, g lights.Grip, from drawing.Point) bool {
	s.desk.Leave()
	s.grip, s.start, s.opts = g, s.desk.session.Answer(), s.options(v)
	s.from, s.to, s.moved, s.change = from, from, false, nil
	return true
}

// Drag implements canvas.Hand. It only notes where the pointer is;
// settleLights solves for it when the next frame is drawn.
func (s *lightDrawing) Drag(v drawing.Viewport, at drawing.Point) {
	if s.grip.Kind == lights.NoGrip {
		s.stairDrawing.Drag(v, at)
		return
	}
	s.to, s.moved = v.Scene(at), true
	s.desk.tell(Dragged)
}

// settleLights solves for the last place of the pointer.
func (s *lightDrawing) settleLights() {
	if !s.moved || s.grip.Kind == lights.NoGrip {
		return
	}
	s.moved = false
	defer s.desk.settled()
	l, ok := s.dragged()
	if !ok {
		s.change, s.desk.preview = nil, nil
		return
	}
	e := model.SetLighting{Lighting: l}
	a, err := s.desk.session.Preview(e)
	if err != nil {
		return // the grip stays at the last place it can be in
	}
	s.change, s.desk.preview = e, a
}

// dragged returns the lighting with the grip where the pointer is, and whether
// that changes anything.
func (s *lightDrawing) dragged() (model.Lighting, bool) {
	l := s.start.Job.Lighting
	to := s.grip.At.Add(s.to.Sub(s.from))
	if s.grip.Kind == lights.BoxGrip {
		was := l.Box
		l.Box = lights.BoxAt(s.start, s.opts, s.section, to)
		snap := func(v *model.Length, was model.Length) {
			if k := s.opts.Snap; k > 0 && *v != was {
				*v = model.Length(math.Round(float64(*v/k))) * k
			}
		}
		snap(&l.Box.X, was.X)
		snap(&l.Box.Y, was.Y)
		snap(&l.Box.Z, was.Z)
		return l, l.Box != was
	}
	place := lights.Plan(s.opts)
	if s.section {
		place = lights.Section(s.start, s.opts)
	}
	if s.grip.Kind == lights.CavityGrip {
		was := l.Cavity
		l.Cavity = lights.CavityAt(s.start, place, to)
		return l, l.Cavity != was && !(was == "" && l.Cavity == model.CavityLeft)
	}
	step := lights.TapAt(s.start, place, to)
	steps := s.start.Job.Flight.Steps
	if step == s.grip.Step || step < 1 || step > len(steps) || s.grip.Step < 1 || s.grip.Step > len(steps) {
		return l, false
	}
	id := steps[step-1].ID
	if i := slices.Index(l.Enters, steps[s.grip.Step-1].ID); i >= 0 {
		l.Enters = slices.Clone(l.Enters)
		l.Enters[i] = id
	} else {
		l.Enters = []model.ID{id}
	}
	return l, true
}

// Drop implements canvas.Hand.
func (s *lightDrawing) Drop() {
	if s.grip.Kind == lights.NoGrip {
		s.stairDrawing.Drop()
		return
	}
	s.settleLights()
	e := s.change
	s.grip, s.change, s.start = lights.Grip{}, nil, nil
	s.desk.preview = nil
	if e == nil || s.desk.Do(e) != nil {
		s.desk.tell(Dragged)
	}
}

// Cancel implements canvas.Hand.
func (s *lightDrawing) Cancel() {
	if s.grip.Kind != lights.NoGrip {
		s.grip, s.change, s.start, s.moved = lights.Grip{}, nil, nil, false
	}
	s.stairDrawing.Cancel()
}

// Click implements canvas.Hand: on a bar of the section it lights the bar.
func (s *lightDrawing) Click(v drawing.Viewport, at drawing.Point) {
	if step := s.barAt(v, at); step > 0 {
		s.desk.Leave()
		s.desk.Choose(step)
		s.desk.PickBar(step)
		return
	}
	s.stairDrawing.Click(v, at)
}

// Key implements canvas.Hand: L lights the bar of the chosen step.
func (s *lightDrawing) Key(k fyne.KeyName) bool {
	if k == fyne.KeyL && s.desk.lighting() && s.desk.step > 0 {
		s.desk.PickBar(s.desk.step)
		return true
	}
	return s.stairDrawing.Key(k)
}

// cavityWords says where the wires climb.
func cavityWords(c model.Cavity) string {
	switch c {
	case model.CavityRight:
		return "at the right"
	case model.CavityUnder:
		return "under the stair"
	}
	return "at the left"
}
