package panel

import (
	"fmt"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver"
	"risewright/view/canvas"
	"risewright/view/drawing"
	"risewright/view/zones"
)

// sensorDrawing lays the sensors over a drawing of the stair. While their tab is
// at the front they can be dragged, and so can the ends of the chosen one's zone
// and whoever walks; otherwise every touch goes to the drawing below.
type sensorDrawing struct {
	*lightDrawing
	hot zones.Grip    // under the pointer
	to  drawing.Point // of the drag, scene

	walking bool // the walker is dragged

	sensorFit fitOnce[sensorFit]
}

var _ canvas.Gripped = (*sensorDrawing)(nil)

func withSensors(s *lightDrawing) *sensorDrawing {
	d := &sensorDrawing{lightDrawing: s}
	s.desk.onSettle(s.desk.settleSensors)
	return d
}

func (s *sensorDrawing) zoneOptions(v drawing.Viewport) zones.Options {
	o := s.desk.zoneOptions(v)
	o.Section, o.Hover = s.section, s.hot
	return o
}

// Draw implements canvas.Scene.
func (s *sensorDrawing) Draw(l *drawing.List, v drawing.Viewport) {
	s.lightDrawing.Draw(l, v)
	if !s.desk.sensing() {
		return
	}
	a := s.desk.Answer()
	if s.things() {
		s.drawThings(l, v)
	}
	s.drawWalk(l, a, v)
	zones.Draw(l, s.desk.Sensed(), s.place(a, v), s.zoneOptions(v))
}

// gripAt returns the grip under a pixel.
func (s *sensorDrawing) gripAt(v drawing.Viewport, at drawing.Point) (zones.Grip, bool) {
	if !s.desk.sensing() || v.Scale <= 0 {
		return zones.Grip{}, false
	}
	a := s.desk.session.Answer()
	if g, ok := zones.Find(zones.Grips(s.desk.Sensed(), s.place(a, v), s.zoneOptions(v)), v.Scene(at), grabRadius*v.Paper/v.Scale); ok {
		return g, true
	}
	return s.thingAt(v, at)
}

// Hover implements canvas.Hand.
func (s *sensorDrawing) Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, on bool) {
	if !s.desk.sensing() {
		return s.lightDrawing.Hover(v, at, out)
	}
	g, found := zones.Grip{}, false
	if !out {
		if s.onWalker(v, at) {
			s.desk.point("Drag the walker up and down: the steps light as the controller lights them.")
			return false, true
		}
		g, found = s.gripAt(v, at)
	}
	was := s.hot
	s.hot = g
	if !found {
		if was.Kind != zones.NoGrip {
			s.desk.point("")
			return true, false
		}
		return s.lightDrawing.Hover(v, at, out)
	}
	if !g.Is(was) {
		s.desk.point(s.desk.gripWords(g))
		return true, true
	}
	return false, true
}

// sensorName names a sensor of the job by its place.
func (d *Desk) sensorName(i int) string {
	s := d.session.Job().Sensing.Sensors
	if i < 0 || i >= len(s) {
		return "sensor"
	}
	if s[i].Name == "" {
		return fmt.Sprintf("sensor %d", i+1)
	}
	return fmt.Sprintf("%d %s", i+1, s[i].Name)
}

// Grab implements canvas.Hand.
func (s *sensorDrawing) Grab(v drawing.Viewport, at drawing.Point) bool {
	if s.onWalker(v, at) {
		s.walking = true
		s.desk.takeWalker()
		return true
	}
	g, ok := s.gripAt(v, at)
	if !ok {
		return s.lightDrawing.Grab(v, at)
	}
	return s.take(v, g)
}

// take takes hold of a grip.
func (s *sensorDrawing) take(v drawing.Viewport, g zones.Grip) bool {
	s.to = g.At
	opts := s.options(v)
	s.desk.takeSensor(g, func() (model.Edit, error) {
		if g.Kind == zones.ThingGrip {
			return s.moveThing(g, &opts), nil
		}
		start := s.desk.sensors.drag.start
		place := s.place(s.desk.sensors.drag.answer, v)
		if g.Kind == zones.SensorGrip {
			return zones.Move(start, place, g, opts, s.section, s.to), nil
		}
		return s.desk.endSensor(g, zones.AlongOver(start, place, s.to))
	})
	return true
}

// Grips implements canvas.Gripped: those of the sensors, what moves and warms
// near the stair, and then those of the drawing below.
func (s *sensorDrawing) Grips(v drawing.Viewport) []canvas.Grip {
	if !s.desk.sensing() || s.mapped() || v.Scale <= 0 {
		return s.lightDrawing.Grips(v)
	}
	a := s.desk.Answer()
	r, place, o := s.desk.Sensed(), s.place(a, v), s.zoneOptions(v)
	var all []zones.Grip
	for i := range r.Zones { // the ends of every zone: coming to one chooses its sensor
		o.Chosen = i
		for _, g := range zones.Grips(r, place, o) {
			if g.Sensor == i {
				all = append(all, g)
			}
		}
	}
	if s.things() {
		o := s.options(v)
		all = append(all, zones.ThingGrips(&a.Job.Sensing, &o, s.zoneOptions(v))...)
	}
	var out []canvas.Grip
	for _, g := range all {
		out = append(out, s.desk.sensorGrip(g, thingStep, &s.hot, func(v drawing.Viewport) bool { return s.take(v, g) }))
	}
	return append(out, s.lightDrawing.Grips(v)...)
}

// sensorGrip is a grip for the keyboard: coming to it makes it the hot one of its
// drawing and chooses its sensor.
func (d *Desk) sensorGrip(g zones.Grip, step float64, hot *zones.Grip, take func(drawing.Viewport) bool) canvas.Grip {
	key := g
	key.At = drawing.Point{}
	return canvas.Grip{Key: key, At: g.At, Step: step, Take: take, Show: func() {
		*hot = g
		d.ChooseSensor(g.Sensor)
		d.point(d.keyedGrip(g))
	}}
}

// thingStep is how far an arrow key moves a sensor or what is near the stair, mm.
const thingStep = 10

// Drag implements canvas.Hand.
func (s *sensorDrawing) Drag(v drawing.Viewport, at drawing.Point) {
	switch {
	case s.walking && !s.desk.walkable(): // the stair went under the pointer, by an undo
	case s.walking:
		s.desk.moveWalker(zones.AlongOver(s.desk.Sensed(), s.place(s.desk.session.Answer(), v), v.Scene(at)))
	case s.desk.sensors.drag.grip.Kind != zones.NoGrip:
		s.to = v.Scene(at)
		s.desk.draggedSensor()
	default:
		s.lightDrawing.Drag(v, at)
	}
}

// Drop implements canvas.Hand.
func (s *sensorDrawing) Drop() {
	switch {
	case s.walking:
		s.walking = false
	case s.desk.sensors.drag.grip.Kind != zones.NoGrip:
		s.desk.dropSensor()
	default:
		s.lightDrawing.Drop()
	}
}

// Cancel implements canvas.Hand.
func (s *sensorDrawing) Cancel() {
	s.walking = false
	s.desk.cancelSensor()
	s.lightDrawing.Cancel()
}

// Key implements canvas.Hand: N chooses the next sensor, W moves the walker a
// step up and S a step down.
func (s *sensorDrawing) Key(k fyne.KeyName) bool {
	if s.desk.sensing() {
		switch k {
		case fyne.KeyN:
			if n := len(s.desk.session.Job().Sensing.Sensors); n > 0 {
				s.desk.ChooseSensor((s.desk.Sensor() + 1) % n)
			}
			return true
		case fyne.KeyW:
			s.desk.stepWalker(+1)
			return true
		case fyne.KeyS:
			s.desk.stepWalker(-1)
			return true
		}
	}
	return s.lightDrawing.Key(k)
}

// bandScene is the band of steps by sensors.
type bandScene struct {
	desk *Desk
	hot  zones.Grip
	to   float64 // place along the flight of the drag
}

var _ canvas.Gripped = (*bandScene)(nil)

func (s *bandScene) options(v drawing.Viewport) zones.Options {
	o := s.desk.zoneOptions(v)
	o.Hover = s.hot
	return o
}

// Draw implements canvas.Scene.
func (s *bandScene) Draw(l *drawing.List, v drawing.Viewport) {
	s.desk.Settle()
	zones.Band(l, s.desk.Sensed(), s.options(v))
}

// Fit implements canvas.Scene.
func (s *bandScene) Fit(width, height, paper float64) drawing.Viewport {
	return zones.FitBand(s.desk.Sensed(), s.options(drawing.Viewport{}), width, height, paper)
}

func (s *bandScene) gripAt(v drawing.Viewport, at drawing.Point) (zones.Grip, bool) {
	if v.Scale <= 0 {
		return zones.Grip{}, false
	}
	return zones.Find(zones.BandGrips(s.desk.Sensed(), s.options(v)), v.Scene(at), grabRadius*v.Paper/v.Scale)
}

// Hover implements canvas.Hand.
func (s *bandScene) Hover(v drawing.Viewport, at drawing.Point, out bool) (changed, on bool) {
	g := zones.Grip{}
	if !out {
		g, on = s.gripAt(v, at)
	}
	changed = !g.Is(s.hot)
	if changed {
		s.hot = g
		hint := ""
		if on {
			hint = s.desk.gripWords(g)
		}
		s.desk.point(hint)
	}
	return changed, on
}

// Grab implements canvas.Hand.
func (s *bandScene) Grab(v drawing.Viewport, at drawing.Point) bool {
	g, ok := s.gripAt(v, at)
	if !ok {
		return false
	}
	return s.take(g)
}

// take takes hold of an end of a zone.
func (s *bandScene) take(g zones.Grip) bool {
	s.to = zones.AlongAt(g.At.X)
	s.desk.takeSensor(g, func() (model.Edit, error) { return s.desk.endSensor(g, s.to) })
	return true
}

// Grips implements canvas.Gripped: the ends of the zones.
func (s *bandScene) Grips(v drawing.Viewport) []canvas.Grip {
	var out []canvas.Grip
	for _, g := range zones.BandGrips(s.desk.Sensed(), s.options(v)) {
		out = append(out, s.desk.sensorGrip(g, zones.Column*bandStep, &s.hot, func(drawing.Viewport) bool { return s.take(g) }))
	}
	return out
}

// bandStep is how far an arrow key moves the end of a zone, in steps of the
// stair.
const bandStep = 0.1

// Drag implements canvas.Hand.
func (s *bandScene) Drag(v drawing.Viewport, at drawing.Point) {
	s.to = zones.AlongAt(v.Scene(at).X)
	s.desk.draggedSensor()
}

// Drop implements canvas.Hand.
func (s *bandScene) Drop() { s.desk.dropSensor() }

// Cancel implements canvas.Hand.
func (s *bandScene) Cancel() { s.desk.cancelSensor() }

// Click implements canvas.Hand: it chooses the sensor of a row.
func (s *bandScene) Click(v drawing.Viewport, at drawing.Point) {
	if i := zones.SensorAt(s.desk.Sensed(), v.Scene(at)); i >= 0 {
		s.desk.ChooseSensor(i)
	}
}

// Key implements canvas.Hand.
func (s *bandScene) Key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyUp:
		s.desk.ChooseSensor(s.desk.Sensor() + 1)
	case fyne.KeyDown:
		s.desk.ChooseSensor(s.desk.Sensor() - 1)
	default:
		return false
	}
	return true
}

// drawWalk draws whoever is put on the stair, and what the controller lights.
func (s *sensorDrawing) drawWalk(l *drawing.List, a *solver.Answer, v drawing.Viewport) {
	w := s.desk.walk()
	if w == nil {
		return
	}
	w.draw(l, s.desk.Sensed(), s.place(a, v), s.section, v)
}
