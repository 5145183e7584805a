package panel

import (
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/lights"
	"risewright/view/zones"
)

// things says whether this drawing shows what moves and warms near the stair, so
// that it can be moved: the plan, while the sensors' tab is at the front.
func (s *sensorDrawing) things() bool {
	if s.section || !s.desk.sensing() {
		return false
	}
	c := s.desk.session.Job().Sensing
	return len(c.Passers)+len(c.Warm) > 0
}

// drawThings draws them over the plan.
func (s *sensorDrawing) drawThings(l *drawing.List, v drawing.Viewport) {
	o := s.options(v)
	zones.DrawThings(l, &s.desk.Answer().Job.Sensing, s.desk.Sensed(), &o, s.zoneOptions(v))
}

// thingAt returns the grip of a thing under a pixel.
func (s *sensorDrawing) thingAt(v drawing.Viewport, at drawing.Point) (zones.Grip, bool) {
	if !s.things() {
		return zones.Grip{}, false
	}
	o := s.options(v)
	return zones.Find(zones.ThingGrips(&s.desk.session.Answer().Job.Sensing, &o, s.zoneOptions(v)), v.Scene(at), grabRadius*v.Paper/v.Scale)
}

// moveThing returns what brings the thing in hand to where the pointer is.
func (s *sensorDrawing) moveThing(g zones.Grip, opts *handle.Options) model.Edit {
	return zones.MoveThing(&s.desk.sensors.drag.answer.Job.Sensing, g, opts, s.to)
}

// sensorFit is what a fit with sensors hangs on.
type sensorFit struct {
	answer               *solver.Answer
	opts                 handle.Options
	width, height, paper float64
	walks, things        bool
}

// Fit implements canvas.Scene: it leaves room for the sensors, which may hang
// above all else, for what is near the stair, and in the section for whoever
// walks, from end to end. That of the job is fitted, so that the drawing does not
// run away from a drag.
func (s *sensorDrawing) Fit(width, height, paper float64) drawing.Viewport {
	if !s.desk.walkable() || s.mapped() {
		return s.lightDrawing.Fit(width, height, paper)
	}
	now := sensorFit{answer: s.desk.session.Answer(), opts: s.options(drawing.Viewport{}), width: width, height: height, paper: paper,
		walks: s.section && s.desk.walk() != nil, things: s.things()}
	return s.sensorFit.get(now, func() drawing.Viewport { return s.fitSensors(now) })
}

// fitSensors makes the fit.
func (s *sensorDrawing) fitSensors(now sensorFit) drawing.Viewport {
	a, paper := now.answer, now.paper
	r := s.desk.sensedJob()
	return handle.Fit(func(l *drawing.List, scale float64) {
		v := drawing.Viewport{Scale: scale * paper, Paper: paper}
		o := s.options(v)
		s.draw(l, a, o)
		place := s.place(a, v)
		if place == nil {
			return
		}
		mark := func(at drawing.Point) {
			l.Circle(at, markRoom/scale, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
		}
		if a.Power != nil {
			mark(place(0, lights.BoxOf(a)))
		}
		for _, g := range zones.Grips(r, place, s.zoneOptions(v)) {
			if g.Kind == zones.SensorGrip {
				mark(g.At)
			}
		}
		if now.walks {
			for _, at := range [2]float64{-1, float64(len(a.Job.Flight.Steps)) + 0.5} {
				(&walkShow{at: at, why: " "}).draw(l, r, place, true, v)
			}
		}
		if now.things {
			zones.DrawThings(l, &a.Job.Sensing, r, &o, zones.Options{Scale: scale})
		}
	}, now.width, now.height, paper)
}

// markRoom is the room round a mark on the drawings and its word, paper mm.
const markRoom = 4

// gripWords says what a grip is and does.
func (d *Desk) gripWords(g zones.Grip) string { return d.gripName(g) + ": " + g.Words() + "." }

// keyedGrip says the same for the keyboard.
func (d *Desk) keyedGrip(g zones.Grip) string {
	return d.gripName(g) + ", " + g.What() + ": " + keyedWords + "."
}

func (d *Desk) gripName(g zones.Grip) string {
	if g.Kind == zones.ThingGrip {
		c := d.session.Job().Sensing
		return model.Capital(zones.ThingName(&c, g.Thing))
	}
	return d.sensorName(g.Sensor)
}
