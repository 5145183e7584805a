package model_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/model"
)

// nan and inf stand for numbers that no field may hold.
var nan, inf = math.NaN(), math.Inf(1)

// details, overlay and the rest return an edit that leaves j as it is but for
// what change does.
func details(j model.Job, change func(*model.SetDetails)) model.Edit {
	e := model.DetailsOf(j)
	change(&e)
	return e
}

func overlay(j model.Job, change func(*model.Overlay)) model.Edit {
	o := j.Overlay
	change(&o)
	return model.SetOverlay{Overlay: o}
}

func existing(j model.Job, change func(*model.Existing)) model.Edit {
	x := j.Existing
	change(&x)
	return model.SetExisting{Existing: x}
}

func step(j model.Job, i int, change func(*model.SetStep)) model.Edit {
	e := model.StepOf(j.Flight.Steps[i])
	change(&e)
	return e
}

func reading(j model.Job, i int, change func(*model.Reading)) model.Edit {
	r := backWidth("new")
	change(&r)
	e := model.SetReading{Reading: r}
	if i >= 0 {
		e.Step = j.Flight.Steps[i].ID
	}
	return e
}

// freshStep is a step that is in no job yet, above the top of a plain flight.
func freshStep(name string) model.Step {
	j := plainJob(2)
	s := j.Flight.Steps[1]
	s.ID = id(name)
	s.Corners = []model.Corner{{X: 0, Y: 9000}, {X: 914, Y: 9000}, {X: 914, Y: 9290}, {X: 0, Y: 9290}}
	s.Readings = []model.Reading{backWidth(name)}
	return s
}

func tables(j model.Job, change func(*model.SetInstruments)) model.Edit {
	e := model.SetInstruments{Instruments: append([]model.Instrument(nil), j.Instruments...), States: append([]model.StateRow(nil), j.States...)}
	change(&e)
	return e
}

func checks(j model.Job, change func(*model.SetChecks)) model.Edit {
	e := model.SetChecks{
		Rail:     append([]model.Height(nil), j.Flight.Rail...),
		Headroom: append([]model.Height(nil), j.Flight.Headroom...),
		Doors:    append([]model.Door(nil), j.Flight.Doors...),
	}
	change(&e)
	return e
}

func TestEditsThatApply(t *testing.T) {
	j := plainJob(4)
	steps := j.Flight.Steps
	for _, c := range []struct {
		name     string
		edit     model.Edit
		revision int // how far it goes up
		changed  func(model.Job) bool
	}{
		{"details", details(j, func(e *model.SetDetails) { e.Name, e.Units = "Other", model.Imperial }), 0,
			func(k model.Job) bool { return k.Name == "Other" && k.Units == model.Imperial }},
		{"overlay", overlay(j, func(o *model.Overlay) { o.Tread = 15 }), 0, func(k model.Job) bool { return k.Overlay.Tread == 15 }},
		{"existing", existing(j, func(x *model.Existing) { x.Overhang = 30 }), 0, func(k model.Job) bool { return k.Existing.Overhang == 30 }},
		{"instruments", tables(j, func(e *model.SetInstruments) { e.Instruments[0].Spread = 2 }), 0,
			func(k model.Job) bool { return k.Instruments[0].Spread == 2 }},
		{"checks", checks(j, func(e *model.SetChecks) { e.Rail = nil; e.Doors[0].Gap = 3 }), 0,
			func(k model.Job) bool { return len(k.Flight.Rail) == 0 && k.Flight.Doors[0].Gap == 3 }},
		{"corner", model.MoveCorners{Name: "corner", Moves: []model.CornerMove{{Step: steps[1].ID, Corner: 2, To: model.Corner{X: 920, Y: 540}}}}, 0,
			func(k model.Job) bool { return k.Flight.Steps[1].Corners[2] == model.Corner{X: 920, Y: 540} }},
		{"heights", model.MoveHeights{Name: "tread", Moves: []model.HeightMove{{Step: steps[2].ID, Left: 571, Right: 569}}}, 0,
			func(k model.Job) bool { return k.Flight.Steps[2].TopLeft == 571 && k.Flight.Steps[2].TopRight == 569 }},
		{"step", step(j, 1, func(e *model.SetStep) { e.PackLeft, e.PackRight, e.Left.Kind = -2, 3, model.Open }), 0,
			func(k model.Job) bool {
				return k.Flight.Steps[1].PackLeft == -2 && k.Flight.Steps[1].PackRight == 3 && k.Flight.Steps[1].Left.Kind == model.Open
			}},
		{"insert", model.InsertStep{At: 4, Step: freshStep("top")}, 1,
			func(k model.Job) bool { return len(k.Flight.Steps) == 5 && k.StepIndex(id("top")) == 4 }},
		{"remove a step with a reading and a rail height", model.RemoveStep{Step: steps[0].ID}, 1,
			func(k model.Job) bool {
				s := k.Flight.Steps[0]
				return len(k.Flight.Steps) == 3 && s.ID == steps[1].ID && s.TopLeft == 190 && s.Corners[0] == model.Corner{} && len(k.Flight.Rail) == 0 && len(k.Flight.Headroom) == 1
			}},
		{"remove a step without readings", model.RemoveStep{Step: steps[2].ID}, 0, func(k model.Job) bool { return len(k.Flight.Steps) == 3 }},
		{"new reading", reading(j, 2, func(r *model.Reading) { r.Value = 911 }), 1,
			func(k model.Job) bool {
				return len(k.Flight.Steps[2].Readings) == 1 && k.Flight.Steps[2].Readings[0].Value == 911
			}},
		{"reading again", reading(j, 0, func(r *model.Reading) { r.ID, r.Value = id("reading a"), 913 }), 1,
			func(k model.Job) bool {
				return len(k.Flight.Steps[0].Readings) == 1 && k.Flight.Steps[0].Readings[0].Value == 913
			}},
		{"flight reading", reading(j, -1, func(r *model.Reading) { r.Kind = model.TotalGoing }), 1,
			func(k model.Job) bool { return len(k.Flight.Readings) == 2 }},
		{"remove readings", model.RemoveReadings{IDs: []model.ID{id("reading a"), id("total")}}, 1,
			func(k model.Job) bool {
				return len(k.Flight.Steps[0].Readings) == 0 && len(k.Flight.Readings) == 0
			}},
		{"set aside", model.SetAside{IDs: []model.ID{id("reading a")}, Aside: true}, 1,
			func(k model.Job) bool { return k.Flight.Steps[0].Readings[0].Aside }},
		{"batch", model.Batch{Name: "two", Edits: []model.Edit{
			overlay(j, func(o *model.Overlay) { o.Tread = 15 }), reading(j, 2, func(*model.Reading) {})}}, 1,
			func(k model.Job) bool { return k.Overlay.Tread == 15 && len(k.Flight.Steps[2].Readings) == 1 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := encoded(t, j)
			k, err := c.edit.Apply(j)
			if err != nil {
				t.Fatal(err)
			}
			if after := encoded(t, j); after != before {
				t.Error("the old job was changed")
			}
			if !c.changed(k) {
				t.Errorf("the change is not in the new job:\n%s", encoded(t, k))
			}
			if got := k.Revision - j.Revision; got != c.revision {
				t.Errorf("the revision went up by %d, want %d", got, c.revision)
			}
			if c.edit.Label() == "" {
				t.Error("no label for the undo menu")
			}
			if _, err := model.Decode([]byte(encoded(t, k))); err != nil {
				t.Errorf("the new job can not be opened again: %v", err)
			}
		})
	}
}

func TestEditsThatChangeNothing(t *testing.T) {
	j := plainJob(4)
	for name, e := range map[string]model.Edit{
		"details": model.DetailsOf(j), "step": model.StepOf(j.Flight.Steps[1]), "corners": model.MoveCorners{Name: "nothing"},
		"overlay": model.SetOverlay{Overlay: j.Overlay}, "checks": checks(j, func(*model.SetChecks) {}), "batch": model.Batch{Name: "none"},
	} {
		k, err := e.Apply(j)
		if err != nil || encoded(t, k) != encoded(t, j) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestEditsRefuse(t *testing.T) {
	j := plainJob(4)
	steps := j.Flight.Steps
	nobody := id("nobody")
	full := j
	full.Flight.Steps = append([]model.Step(nil), steps...)
	for i := range model.MaxReadings {
		full.Flight.Steps[2].Readings = append(full.Flight.Steps[2].Readings, backWidth(fmt.Sprint("full ", i)))
	}
	tall := plainJob(model.MaxSteps)
	move := func(step model.ID, corner int, to model.Corner) model.Edit {
		return model.MoveCorners{Name: "corner", Moves: []model.CornerMove{{Step: step, Corner: corner, To: to}}}
	}
	for _, c := range []struct {
		name  string
		job   model.Job
		edit  model.Edit
		words string
	}{
		{"tolerance 0", j, details(j, func(e *model.SetDetails) { e.Tolerance = 0 }), "tolerance must be more than 0"},
		{"tolerance NaN", j, details(j, func(e *model.SetDetails) { e.Tolerance = model.Length(nan) }), "tolerance must be more than 0"},
		{"tolerance infinite", j, details(j, func(e *model.SetDetails) { e.Tolerance = model.Length(inf) }), "tolerance"},
		{"spread NaN", j, details(j, func(e *model.SetDetails) { e.SketchSpread = model.Length(nan) }), "spread of the sketch"},
		{"units", j, details(j, func(e *model.SetDetails) { e.Units = "cubits" }), "cubits"},
		{"fraction", j, details(j, func(e *model.SetDetails) { e.Fraction = 5 }), "1/5 in"},
		{"notes too long", j, details(j, func(e *model.SetDetails) { e.Notes = strings.Repeat("x", model.MaxText+1) }), "at most 20000"},
		{"overlay of nothing", j, overlay(j, func(o *model.Overlay) { o.Tread = 0 }), "the new tread's thickness is 0 mm"},
		{"overlay NaN", j, overlay(j, func(o *model.Overlay) { o.Fit = model.Length(nan) }), "the fit allowance"},
		{"undercut", j, overlay(j, func(o *model.Overlay) { o.Undercut = 11 * model.Degree }), "undercut"},
		{"back joint", j, overlay(j, func(o *model.Overlay) { o.Back = "glued" }), "glued"},
		{"existing below 0", j, existing(j, func(x *model.Existing) { x.Overhang = -1 }), "existing overhang"},
		{"no instruments", j, model.SetInstruments{}, "no table of instruments"},
		{"spread 0", j, tables(j, func(e *model.SetInstruments) { e.Instruments[0].Spread = 0 }), `the spread of "Rods" is 0`},
		{"instrument in use removed", j, tables(j, func(e *model.SetInstruments) { e.Instruments = e.Instruments[1:] }), `"rods" is not in the job's table`},
		{"instrument twice", j, tables(j, func(e *model.SetInstruments) { e.Instruments[1].ID = "rods" }), "another has the same"},
		{"instrument of nothing", j, tables(j, func(e *model.SetInstruments) { e.Instruments[3].Measures = "colour" }), `measures "colour"`},
		{"standing", j, tables(j, func(e *model.SetInstruments) { e.Instruments[3].Standing = "gospel" }), "gospel"},
		{"state twice", j, tables(j, func(e *model.SetInstruments) { e.States[0].State = model.Bare }), "there twice"},
		{"state below 0", j, tables(j, func(e *model.SetInstruments) { e.States[0].Length = -1 }), "adds a spread of -1"},
		{"rail of no step", j, checks(j, func(e *model.SetChecks) { e.Rail[0].Step = nobody }), "names a step the flight does not have"},
		{"headroom 0", j, checks(j, func(e *model.SetChecks) { e.Headroom[0].Value = 0 }), "a headroom point is 0 mm"},
		{"two of one id", j, checks(j, func(e *model.SetChecks) { e.Rail[0].ID = e.Headroom[0].ID }), "another has the same"},
		{"door below 0", j, checks(j, func(e *model.SetChecks) { e.Doors[0].Gap = -1 }), `the door "hall"`},
		{"corner of no step", j, move(nobody, 0, model.Corner{}), "no such step"},
		{"no such corner", j, move(steps[1].ID, 4, model.Corner{}), "step 2 has no corner 5"},
		{"corner before the first", j, move(steps[1].ID, -1, model.Corner{}), "no corner 0"},
		{"corner NaN", j, move(steps[1].ID, 0, model.Corner{X: model.Length(nan)}), "not a number"},
		{"corner across", j, move(steps[1].ID, 0, model.Corner{X: 1000, Y: 400}), "step 2: the opening would cross"},
		{"corner on a corner", j, move(steps[1].ID, 0, steps[1].Corners[1]), "step 2: the opening would cross or touch"},
		{"corner on an edge", j, move(steps[1].ID, 0, model.Corner{X: 914, Y: 300}), "cross or touch"},
		{"height of no step", j, model.MoveHeights{Moves: []model.HeightMove{{Step: nobody}}}, "no such step"},
		{"height infinite", j, model.MoveHeights{Moves: []model.HeightMove{{Step: steps[0].ID, Left: model.Length(inf)}}}, "step 1: the new height"},
		{"no such step", j, model.SetStep{Step: nobody}, "no such step"},
		{"side", j, step(j, 1, func(e *model.SetStep) { e.Left.Kind = "hedge" }), "hedge"},
		{"lean NaN", j, step(j, 1, func(e *model.SetStep) { e.Left.Lean = model.Angle(nan) }), "step 2: the lean"},
		{"nosing", j, step(j, 1, func(e *model.SetStep) { e.Nosing = "" }), "existing nosing"},
		{"thickness below 0", j, step(j, 1, func(e *model.SetStep) { e.Thickness = -1 }), "packing or thickness"},
		{"pack NaN", j, step(j, 1, func(e *model.SetStep) { e.PackRight = model.Length(nan) }), "packing or thickness"},
		{"insert below", j, model.InsertStep{At: -1, Step: freshStep("x")}, "no place 0"},
		{"insert above", j, model.InsertStep{At: 5, Step: freshStep("x")}, "no place 6"},
		{"insert twice", j, model.InsertStep{At: 1, Step: steps[0]}, "already has this step"},
		{"insert nothing", j, model.InsertStep{At: 1}, "step 2"},
		{"insert a reading twice", j, model.InsertStep{At: 1, Step: freshStep("a")}, "another has the same"},
		{"insert in a full flight", tall, model.InsertStep{At: 1, Step: freshStep("x")}, "at most 1000"},
		{"remove the landing nosing", j, model.RemoveStep{Step: steps[3].ID}, "the landing nosing stays"},
		{"remove no step", j, model.RemoveStep{Step: nobody}, "no such step"},
		{"remove from two", plainJob(2), model.RemoveStep{Step: steps[0].ID}, "at least 2"},
		{"reading at no step", j, model.SetReading{Step: nobody, Reading: backWidth("x")}, "no such step"},
		{"reading NaN", j, reading(j, 1, func(r *model.Reading) { r.Value = nan }), "back width: its value is not a number"},
		{"reading infinite", j, reading(j, 1, func(r *model.Reading) { r.Value = inf }), "not a number"},
		{"width 0", j, reading(j, 1, func(r *model.Reading) { r.Value = 0 }), "more than 0"},
		{"kind", j, reading(j, 1, func(r *model.Reading) { r.Kind = "girth" }), `"girth" is not a kind`},
		{"total at a step", j, reading(j, 1, func(r *model.Reading) { r.Kind = model.TotalRise }), "once for the whole flight"},
		{"width of the flight", j, reading(j, -1, func(*model.Reading) {}), "read at a step"},
		{"instrument", j, reading(j, 1, func(r *model.Reading) { r.Instrument = "string" }), `"string" is not in`},
		{"gauge for a width", j, reading(j, 1, func(r *model.Reading) { r.Instrument = "gauge" }), "does not measure this"},
		{"flat corner", j, reading(j, 1, func(r *model.Reading) { r.Kind, r.Instrument, r.Value = model.GaugeBackLeft, "gauge", 0 }), "between 0 and 360"},
		{"lean of 45 degrees", j, reading(j, 1, func(r *model.Reading) { r.Kind, r.Instrument, r.Value = model.LeanLeft, "feeler", math.Pi/4 }), "below 45"},
		{"state", j, reading(j, 1, func(r *model.Reading) { r.State = "hoped" }), "hoped"},
		{"reading without id", j, reading(j, 1, func(r *model.Reading) { r.ID = model.ID{} }), "no id"},
		{"reading of another step", j, reading(j, 1, func(r *model.Reading) { r.ID = id("reading a") }), "filed elsewhere"},
		{"reading of the flight", j, reading(j, 1, func(r *model.Reading) { r.ID = id("total") }), "filed elsewhere"},
		{"too many readings", full, reading(j, 2, func(*model.Reading) {}), "400 readings here already"},
		{"remove no reading", j, model.RemoveReadings{IDs: []model.ID{nobody}}, "1 of 1 readings are no longer"},
		{"remove none", j, model.RemoveReadings{}, "no reading is chosen"},
		{"set aside one of two", j, model.SetAside{IDs: []model.ID{id("reading a"), nobody}, Aside: true}, "1 of 2 readings"},
		{"batch", j, model.Batch{Name: "drag", Edits: []model.Edit{overlay(j, func(o *model.Overlay) { o.Tread = 15 }), move(nobody, 0, model.Corner{})}},
			"drag, part 2 of 2 (move corner): the job has no such step"},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := encoded(t, c.job)
			k, err := c.edit.Apply(c.job)
			if err == nil {
				t.Fatal("it was applied")
			}
			if !strings.Contains(err.Error(), c.words) {
				t.Errorf("message %q lacks %q", err, c.words)
			}
			if encoded(t, c.job) != before || encoded(t, k) != before {
				t.Error("the job was changed")
			}
		})
	}
	if _, err := (model.SetStep{Step: nobody}).Apply(j); !errors.Is(err, model.ErrNoSuchStep) {
		t.Errorf("%v is not ErrNoSuchStep", err)
	}
}

// TestEditsMendABrokenJob checks that an edit of a job that has a stop finding
// is refused only for what it adds: else a broken job could never be mended.
func TestEditsMendABrokenJob(t *testing.T) {
	j := plainJob(4)
	j.Overlay.Tread, j.Overlay.Riser = 0, 0
	k, err := overlay(j, func(o *model.Overlay) { o.Tread = 20 }).Apply(j)
	if err != nil || k.Overlay.Tread != 20 {
		t.Errorf("mending one of two faults: %v", err)
	}
	if _, err := overlay(j, func(o *model.Overlay) { o.Fit = -1 }).Apply(j); err == nil {
		t.Error("a new fault was let in beside the old ones")
	}
}

// TestEditsShareNothingWithTheirCaller changes an edit's lists after it was
// applied; the job must not follow.
func TestEditsShareNothingWithTheirCaller(t *testing.T) {
	j := plainJob(4)
	s := freshStep("x")
	tab := tables(j, func(*model.SetInstruments) {}).(model.SetInstruments)
	chk := checks(j, func(*model.SetChecks) {}).(model.SetChecks)
	k, err := model.Batch{Name: "all", Edits: []model.Edit{model.InsertStep{At: 4, Step: s}, tab, chk}}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	before := encoded(t, k)
	s.Corners[0].X, s.Edges[0], s.Readings[0].Value = -1, model.Left, -1
	tab.Instruments[0].Spread, tab.Instruments[0].Default[0], tab.States[0].Length = -1, "x", -1
	chk.Rail[0].Value, chk.Headroom[0].Value, chk.Doors[0].Gap = -1, -1, -1
	if encoded(t, k) != before {
		t.Error("the job changed with its caller's lists")
	}
}

// randomEdit makes an edit that may or may not apply to j. name is new for
// every call.
func randomEdit(rng *rand.Rand, j model.Job, name string) model.Edit {
	at := rng.IntN(len(j.Flight.Steps))
	s := j.Flight.Steps[at]
	near := func(l model.Length) model.Length { return l + model.Length(rng.NormFloat64()*40) }
	someReading := func() model.ID {
		var ids []model.ID
		for _, s := range j.Flight.Steps {
			for _, r := range s.Readings {
				ids = append(ids, r.ID)
			}
		}
		if len(ids) == 0 {
			return id("nobody")
		}
		return ids[rng.IntN(len(ids))]
	}
	to := []model.Edge{model.Left, model.Right}[rng.IntN(2)]
	switch rng.IntN(19) {
	case 0:
		return details(j, func(e *model.SetDetails) {
			e.Name, e.Tolerance = name, model.Length(rng.NormFloat64()+2)
		})
	case 1:
		return overlay(j, func(o *model.Overlay) { o.Tread = near(30) })
	case 2:
		return existing(j, func(x *model.Existing) { x.Overhang = near(30) })
	case 3:
		c := rng.IntN(len(s.Corners))
		return model.MoveCorners{Name: "corner", Moves: []model.CornerMove{{Step: s.ID, Corner: c,
			To: model.Corner{X: near(s.Corners[c].X), Y: near(s.Corners[c].Y)}}}}
	case 4:
		return model.MoveHeights{Name: "tread", Moves: []model.HeightMove{{Step: s.ID, Left: near(s.TopLeft), Right: near(s.TopRight)}}}
	case 5:
		return step(j, at, func(e *model.SetStep) { e.PackLeft, e.PackRight, e.Thickness = near(0), near(0), near(40) })
	case 6:
		return model.InsertStep{At: rng.IntN(len(j.Flight.Steps) + 1), Step: freshStep(name)}
	case 7:
		return model.RemoveStep{Step: s.ID}
	case 8:
		return reading(j, at, func(r *model.Reading) { r.ID, r.Value = id(name), float64(near(100)) })
	case 9:
		return model.RemoveReadings{IDs: []model.ID{someReading()}}
	case 10:
		return model.SetAside{IDs: []model.ID{someReading()}, Aside: rng.IntN(2) == 0}
	case 11:
		return model.TurnToWinders{From: s.ID, Count: 1 + rng.IntN(3), Angle: model.Angle(30+rng.IntN(80)) * model.Degree, Side: to}
	case 12:
		return model.InsertLanding{At: s.ID, Turn: []model.Turn{model.QuarterTurn, model.HalfTurn}[rng.IntN(2)], Side: to}
	case 13:
		return model.OpenSide{From: s.ID, To: j.Flight.Steps[len(j.Flight.Steps)-1].ID, Side: to, Returned: rng.IntN(2) == 0, Balusters: rng.IntN(3)}
	case 16:
		return model.Straighten{At: s.ID}
	case 17:
		return model.CloseSide{From: j.Flight.Steps[0].ID, To: s.ID, Side: to, Kind: model.Wall}
	case 18:
		return model.PlainFirstStep{}
	case 14:
		return model.StartingStep{Width: near(1000), Radius: near(100)}
	}
	return model.Batch{Name: "batch", Edits: []model.Edit{randomEdit(rng, j, name+"a"), randomEdit(rng, j, name+"b")}}
}

// TestRandomEdits applies random edits: none may change the job it is given,
// and each job made can be saved and opened.
func TestRandomEdits(t *testing.T) {
	const seed = 20261102
	rng := rand.New(rand.NewPCG(seed, 1))
	j := plainJob(4)
	applied, refused := 0, 0
	for i := range 600 {
		e := randomEdit(rng, j, fmt.Sprint("edit ", i))
		before := encoded(t, j)
		k, err := e.Apply(j)
		if encoded(t, j) != before {
			t.Fatalf("seed %d, edit %d (%s) changed its job", seed, i, e.Label())
		}
		if err != nil {
			refused++
			if encoded(t, k) != before {
				t.Fatalf("seed %d, edit %d (%s) failed and gave another job", seed, i, e.Label())
			}
			continue
		}
		applied++
		if _, err := model.Decode([]byte(encoded(t, k))); err != nil {
			t.Fatalf("seed %d, edit %d (%s): the job can not be opened: %v", seed, i, e.Label(), err)
		}
		j = k
	}
	if applied < 200 || refused < 30 {
		t.Errorf("seed %d: %d applied, %d refused: the mix tests too little", seed, applied, refused)
	}
	t.Logf("seed %d: %d applied, %d refused, %d steps at the end", seed, applied, refused, len(j.Flight.Steps))
}

// A tread put in and taken out again leaves the flight where it was, and the
// steps above stand one rise and one going farther up meanwhile. Readings taken
// from the step below a change are set aside, never lost.
func TestANewTreadMovesTheFlightAboveIt(t *testing.T) {
	j := plainJob(5)
	for at := 0; at < 5; at++ {
		var rise model.Reading
		rise.ID, rise.Kind, rise.Value, rise.State = id("rise"), model.RiseLeft, 190, model.Bare
		tool, ok := j.DefaultInstrument(model.RiseLeft)
		if !ok {
			t.Fatal("the job has no tool for a rise")
		}
		rise.Instrument = tool.ID
		with, err := model.SetReading{Step: j.Flight.Steps[at].ID, Reading: rise}.Apply(j)
		if err != nil {
			t.Fatal(err)
		}
		e, err := model.NewTread(with, at, min(at, 3), id("new tread"))
		if err != nil {
			t.Fatal(err)
		}
		k, err := e.Apply(with)
		if err != nil {
			t.Fatal(err)
		}
		if len(k.Flight.Steps) != 6 || k.StepIndex(id("new tread")) != at {
			t.Fatalf("at %d: the tread is at %d of %d", at, k.StepIndex(id("new tread")), len(k.Flight.Steps))
		}
		for i := range k.Flight.Steps {
			want := j.Flight.Steps[0].TopLeft + model.Length(i)*(j.Flight.Steps[1].TopLeft-j.Flight.Steps[0].TopLeft)
			if got := k.Flight.Steps[i].TopLeft; got != want {
				t.Errorf("at %d: step %d stands at %v, want %v", at, i+1, got, want)
			}
		}
		above := k.Flight.Steps[at+1].Readings
		if !above[len(above)-1].Aside {
			t.Errorf("at %d: the rise read from the step that was below is still in use", at)
		}
		back, err := model.RemoveStep{Step: id("new tread")}.Apply(k)
		if err != nil {
			t.Fatal(err)
		}
		for i := range back.Flight.Steps {
			if got, want := back.Flight.Steps[i].Corners[0], j.Flight.Steps[i].Corners[0]; got != want {
				t.Errorf("at %d: step %d came back at %v, was at %v", at, i+1, got, want)
			}
		}
	}
	if _, err := model.NewTread(j, 5, 3, id("x")); err == nil {
		t.Error("put a tread above the landing nosing")
	}
}
