package handle

import (
	"risewright/model"
	"risewright/solver"
	"risewright/solver/survey"
	"risewright/view/drawing"
)

// Kind says what a handle drags.
type Kind string

// The kinds of handle: the first four lie on the plan, the others on the
// section.
const (
	Corner       Kind = "corner"        // one corner of an opening
	SideLine     Kind = "side line"     // the left or right side of an opening
	NosingLine   Kind = "nosing line"   // a new nose line, up and down the flight
	LandingDepth Kind = "landing depth" // the rear edge of the landing nosing

	TreadHeight Kind = "tread height" // an existing tread, left and right together
	FloorBottom Kind = "bottom floor" // new finish on the bottom floor
	FloorTop    Kind = "top floor"    // new finish on the top floor
	Rail        Kind = "rail"         // a handrail height
	Overhang    Kind = "overhang"     // new nose past the new riser, of the whole flight
)

// ID names a handle. IDs can be compared; the zero ID names none.
type ID struct {
	Kind   Kind
	Step   int        // counted from 1; 0 for the flight as a whole
	Corner int        // of Corner: the index in model.Step.Corners
	Side   model.Edge // of SideLine: model.Left or model.Right
	Height model.ID   // of Rail: the height's id
}

// Handle is a point of a drawing that can be dragged.
type Handle struct {
	ID    ID
	At    drawing.Point // in the scene of its drawing
	Held  []model.ID    // the readings that hold it; nil when it is free
	Words string        // such as "T7, back left corner"
	// Along is the direction it can go, or zero when it can go anywhere.
	Along drawing.Point
}

// Hit returns the handle nearest to pixel px and within radius pixels of it.
// Of handles equally near the later one wins, as it is painted on top.
func Hit(hs []Handle, v drawing.Viewport, px drawing.Point, radius float64) (Handle, bool) {
	at, best := -1, radius
	for i := range hs {
		if d := v.Pixel(hs[i].At).Sub(px).Len(); d <= best {
			at, best = i, d
		}
	}
	if at < 0 {
		return Handle{}, false
	}
	return hs[at], true
}

// Maker makes the handles of one answer.
type Maker struct {
	a     *solver.Answer
	o     *Options
	steps []survey.Step
	probe prober
}

// NewMaker returns a Maker for a as o draws it.
func NewMaker(a *solver.Answer, o *Options) *Maker {
	return &Maker{a: a, o: o, steps: Steps(a)}
}

// Make returns handle id at a place of its drawing, with the readings that hold
// it and its words.
func (m *Maker) Make(id ID, at drawing.Point) Handle {
	h := Handle{ID: id, At: at, Words: id.words(m.steps)}
	switch id.Kind {
	case TreadHeight, FloorBottom, FloorTop, Rail:
		h.Along = drawing.Point{Y: 1}
	case Overhang:
		h.Along = drawing.Point{X: 1}
	}
	if id.Kind.free() {
		return h
	}
	g, err := gripOf(m.steps, id, m.o.WholeSide)
	if err != nil {
		return h
	}
	if g.n == 1 && id.Kind != Overhang {
		h.Along = m.o.Turn(g.axes[0])
	}
	h.Held = m.probe.held(g, m.a, nil)
	return h
}
