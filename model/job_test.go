package model_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"risewright/model"
)

// root is the parent of every id in these tests.
var root = model.NamedID(model.ID{}, "model tests")

func id(name string) model.ID { return model.NamedID(root, name) }

// plainJob is a straight flight of n risers with one reading at step 1 and one
// for the flight, a rail height, a headroom point and a door. Its values are
// our own; nothing else about it matters.
func plainJob(n int) model.Job {
	base := model.Job{
		ID: id("job"), Name: "Plain", Units: model.Metric, Code: "irc",
		Tolerance: 0.8, SketchSpread: 25,
		Instruments: []model.Instrument{
			{ID: "rods", Name: "Rods", Measures: model.QuantityLength, Spread: 0.35, Standing: model.Memory, Default: []model.Kind{model.BackWidth}},
			{ID: "gauge", Name: "Gauge", Measures: model.QuantityAngle, Spread: 0.0035, Standing: model.Memory},
			{ID: "feeler", Name: "Feeler", Measures: model.QuantityLean, Spread: 0.0015, Standing: model.Memory},
			{ID: "level", Name: "Level", Measures: model.QuantitySlope, Spread: 0.0005, Standing: model.Yours, Note: "ours"},
		},
		States: []model.StateRow{
			{State: model.Guessed, Length: 10, Angle: 0.03, Slope: 0.01, Standing: model.Memory},
			{State: model.OverCarpet, Length: 4, Angle: 0.02, Slope: 0.004, Standing: model.Memory},
			{State: model.Bare, Standing: model.Memory},
			{State: model.Checked, Standing: model.Memory},
		},
		Existing: model.Existing{Tread: 25, Riser: 19, Overhang: 25},
		Overlay: model.Overlay{Tread: 20, Riser: 12, Landing: 20, LandingDepth: 90, Overhang: 25,
			Fit: 0.5, Undercut: 2 * model.Degree, RiserGap: 1.5, Back: model.BackUnderRiser},
	}
	j := model.Sketch(model.SketchSpec{Risers: n, Width: 914, Rise: 190, Going: 254, Base: base,
		IDs: func(i int) model.ID { return id(fmt.Sprint("step ", i)) }})
	j.Flight.Steps[0].Readings = []model.Reading{backWidth("a")}
	j.Flight.Readings = []model.Reading{{ID: id("total"), Kind: model.TotalRise, Value: 190 * float64(n), Instrument: "rods", State: model.Bare}}
	j.Flight.Rail = []model.Height{{ID: id("rail"), Step: j.Flight.Steps[0].ID, Value: 900, Typed: "900"}}
	j.Flight.Headroom = []model.Height{{ID: id("head"), Step: j.Flight.Steps[1].ID, Value: 2100}}
	j.Flight.Doors = []model.Door{{ID: id("door"), Name: "hall", Gap: 12, Clearance: 4}}
	return j
}

// backWidth is a reading of the back width whose id comes from name.
func backWidth(name string) model.Reading {
	return model.Reading{ID: id("reading " + name), Kind: model.BackWidth, Value: 914, Typed: "914", Instrument: "rods",
		State: model.Bare, Taken: time.Date(2026, 11, 2, 9, 0, 0, 0, time.UTC)}
}

// encoded is the job as a file; it fails the test when there is none.
func encoded(t interface {
	Helper()
	Fatalf(string, ...any)
}, j model.Job) string {
	t.Helper()
	b, err := model.Encode(j)
	if err != nil {
		t.Fatalf("Encode: %v", err)
	}
	return string(b)
}

// drawJob draws a valid job: any number of steps up to 12, openings of three
// to six corners, any readings. Its shape need not be a stair anyone built.
func drawJob(t *rapid.T) model.Job {
	j := plainJob(rapid.IntRange(model.MinSteps, 12).Draw(t, "risers"))
	from, ids := rapid.Uint32().Draw(t, "ids"), 0
	newID := func() model.ID { ids++; return id(fmt.Sprint("drawn ", from, " ", ids)) }
	text := rapid.StringOfN(rapid.RuneFrom([]rune("abc é½″<&>\"\\/\n\t\u2028😀")), 0, 12, -1)
	length := func(lo, hi float64) model.Length { return model.Length(rapid.Float64Range(lo, hi).Draw(t, "length")) }
	angle := func() model.Angle { return model.Angle(rapid.Float64Range(-0.7, 0.7).Draw(t, "angle")) }
	j.ID, j.Name, j.Place, j.Notes = newID(), text.Draw(t, "name"), text.Draw(t, "place"), text.Draw(t, "notes")
	j.Units = rapid.SampledFrom([]model.Units{model.Imperial, model.Metric}).Draw(t, "units")
	j.Fraction = rapid.SampledFrom([]int{0, 16, 32}).Draw(t, "fraction")
	j.Code, j.CodeClass = text.Draw(t, "code"), text.Draw(t, "class")
	j.Tolerance, j.SketchSpread = length(0.01, 9), length(0.1, 99)
	j.Revision = rapid.IntRange(0, 1e6).Draw(t, "revision")
	j.Existing = model.Existing{Tread: length(0, 40), Riser: length(0, 30), Overhang: length(0, 40)}
	j.Overlay = model.Overlay{Tread: length(1, 40), Riser: length(1, 30), Landing: length(1, 40), LandingDepth: length(10, 300),
		Overhang: length(0, 40), Fit: length(0, 3), Undercut: model.Angle(rapid.Float64Range(0, 0.17).Draw(t, "undercut")), RiserGap: length(0, 3),
		Back:        rapid.SampledFrom([]model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser}).Draw(t, "back"),
		FloorBottom: length(0, 30), FloorTop: length(0, 30), Return: length(0, 40)}
	side := func() model.Side {
		return model.Side{Kind: rapid.SampledFrom([]model.SideKind{model.Wall, model.Skirt, model.Open}).Draw(t, "side"), Lean: angle(),
			Returned: rapid.Bool().Draw(t, "returned")}
	}
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.ID = newID()
		s.Corners, s.Edges = drawOpening(t)
		s.TopLeft, s.TopRight, s.Fall = length(-1e5, 1e5), length(-1e5, 1e5), angle()
		s.Left, s.Right = side(), side()
		s.Nosing = rapid.SampledFrom([]model.NosingState{model.NosingKept, model.NosingCut, model.NosingPacked}).Draw(t, "nosing")
		s.PackLeft, s.PackRight, s.Thickness = length(-9, 9), length(-9, 9), length(0, 40)
		s.Landing = i < len(j.Flight.Steps)-1 && rapid.Bool().Draw(t, "landing")
		if s.Left.Kind == model.Open {
			s.RoundLeft = length(0, 300)
		}
		if s.Right.Kind == model.Open {
			s.RoundRight = length(0, 300)
		}
		s.Balusters = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Baluster {
			return model.Baluster{ID: newID(), Side: rapid.SampledFrom([]model.Edge{model.Left, model.Right}).Draw(t, "baluster"),
				Behind: length(0, 300), Length: length(0, 1000)}
		}), 0, 2).Draw(t, "balusters")
		s.Readings = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Reading { return drawReading(t, newID(), model.StepKinds()) }), 0, 4).Draw(t, "readings")
	}
	j.Flight.Readings = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Reading { return drawReading(t, newID(), model.FlightKinds()) }), 0, 3).Draw(t, "flight readings")
	height := rapid.Custom(func(t *rapid.T) model.Height {
		return model.Height{ID: newID(), Step: rapid.SampledFrom(j.Flight.Steps).Draw(t, "step").ID, Value: length(1, 3000), Typed: text.Draw(t, "typed")}
	})
	j.Flight.Rail = rapid.SliceOfN(height, 0, 2).Draw(t, "rail")
	j.Flight.Headroom = rapid.SliceOfN(height, 0, 2).Draw(t, "headroom")
	j.Flight.Doors = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Door {
		return model.Door{ID: newID(), Name: text.Draw(t, "name"), Top: rapid.Bool().Draw(t, "top"), Gap: length(0, 50), Clearance: length(0, 20)}
	}), 0, 2).Draw(t, "doors")
	return j
}

// drawOpening draws a polygon with corners on an ellipse, so that it is simple
// and anticlockwise, and names its edges.
func drawOpening(t *rapid.T) ([]model.Corner, []model.Edge) {
	edges := rapid.SampledFrom([][]model.Edge{
		model.StraightEdges(),
		{model.Front, model.Back, model.Left},
		{model.Front, model.Right, model.Back},
		{model.Front, model.Right, model.Right, model.Back, model.Left},
		{model.Front, model.Right, model.Right, model.Back, model.Left, model.Left},
	}).Draw(t, "edges")
	at := model.Corner{X: model.Length(rapid.Float64Range(-1e4, 1e4).Draw(t, "x")), Y: model.Length(rapid.Float64Range(-1e4, 1e4).Draw(t, "y"))}
	n := len(edges)
	cs := make([]model.Corner, n)
	for i := range cs {
		a := -2.5 + 2*math.Pi*(float64(i)+rapid.Float64Range(0, 0.6).Draw(t, "turn"))/float64(n)
		cs[i] = model.Corner{X: at.X + model.Length(450*math.Cos(a)), Y: at.Y + model.Length(200*math.Sin(a))}
	}
	return cs, append([]model.Edge(nil), edges...)
}

func drawReading(t *rapid.T, id model.ID, kinds []model.Kind) model.Reading {
	r := model.Reading{ID: id, Kind: rapid.SampledFrom(kinds).Draw(t, "kind"),
		Typed: rapid.StringOfN(rapid.RuneFrom([]rune("0123456789 /½\"'°")), 0, 9, -1).Draw(t, "typed"),
		State: rapid.SampledFrom(model.States()).Draw(t, "state"), Aside: rapid.Bool().Draw(t, "aside")}
	switch r.Kind.Quantity() {
	case model.QuantityLength:
		r.Instrument, r.Value = "rods", rapid.Float64Range(0.1, 5000).Draw(t, "mm")
	case model.QuantityAngle:
		r.Instrument, r.Value = "gauge", rapid.Float64Range(0.01, 6.2).Draw(t, "rad")
	case model.QuantityLean:
		r.Instrument, r.Value = "feeler", rapid.Float64Range(-0.7, 0.7).Draw(t, "rad")
	case model.QuantitySlope:
		r.Instrument, r.Value = "level", rapid.Float64Range(-0.7, 0.7).Draw(t, "rad")
	}
	if rapid.Bool().Draw(t, "timed") {
		zone := time.FixedZone("", 60*rapid.IntRange(-14*60, 14*60).Draw(t, "zone"))
		r.Taken = time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "second"), rapid.Int64Range(0, 999_999_999).Draw(t, "nano")).In(zone)
	}
	return r
}

// TestDrawnJobsAreValid holds the generator to its word: every test that draws
// a job rests on it.
func TestDrawnJobsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, f := range drawJob(t).Validate() {
			if f.Severity == model.Block {
				t.Fatalf("%s: %s; %s", f.Rule, f.Title, f.Remedy)
			}
		}
	})
}
