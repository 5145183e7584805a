package model_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"risewright/model"
)

// shaped returns a plain job of n risers with a reading of every kind at each
// step and the long ones of the flight.
func shaped(t testing.TB, n int) model.Job {
	t.Helper()
	j := plainJob(n)
	put := func(step model.ID, k model.Kind, name string) {
		in, ok := j.DefaultInstrument(k)
		if !ok {
			return
		}
		v := 100.0
		if k.Quantity() != model.QuantityLength {
			v = 0.1
		}
		var err error
		j, err = model.SetReading{Step: step, Reading: model.Reading{ID: id(name), Kind: k, Value: v, Instrument: in.ID, State: model.Bare}}.Apply(j)
		if err != nil {
			t.Fatal(err)
		}
	}
	for i := range j.Flight.Steps {
		for _, k := range model.StepKinds() {
			put(j.Flight.Steps[i].ID, k, fmt.Sprint("shape ", i, k))
		}
	}
	put(model.ID{}, model.TotalGoing, "going of all")
	put(model.ID{}, model.TotalRise, "rise of all")
	return j
}

// used lists the kinds in use at step i.
func used(j model.Job, i int) map[model.Kind]bool {
	out := map[model.Kind]bool{}
	for _, r := range j.Flight.Steps[i].Readings {
		if !r.Aside {
			out[r.Kind] = true
		}
	}
	return out
}

// apply applies e and holds it to the rules of an edit: the old job stays as it
// was, the new one is valid and can be opened again, and one undo brings the old
// one back.
func apply(t testing.TB, j model.Job, e model.Edit) model.Job {
	t.Helper()
	before := encoded(t, j)
	k, err := e.Apply(j)
	if err != nil {
		t.Fatalf("%s: %v", e.Label(), err)
	}
	if encoded(t, j) != before {
		t.Fatalf("%s changed its job", e.Label())
	}
	if b := blocks(k); len(b) > 0 {
		t.Fatalf("%s leaves %v", e.Label(), b)
	}
	if back, err := model.Decode([]byte(encoded(t, k))); err != nil || encoded(t, back) != encoded(t, k) {
		t.Fatalf("%s: the job can not be opened again: %v", e.Label(), err)
	}
	h := model.NewHistory(j)
	if err := h.Do(e); err != nil {
		t.Fatal(err)
	}
	if !h.Undo() || encoded(t, h.Job()) != before {
		t.Fatalf("%s is not undone in one", e.Label())
	}
	return k
}

// offLine returns how far p lies to the left of the line from a to b.
func offLine(a, b, p model.Corner) float64 {
	return float64((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X)) / float64(a.Distance(b))
}

// joined holds each nose line to the riser face behind the step below: parallel
// to it and the set of the nose in front.
func joined(t testing.TB, j model.Job) {
	t.Helper()
	forward := float64(model.NoseSetForward(j))
	for i := 1; i < len(j.Flight.Steps); i++ {
		s, u := j.Flight.Steps[i-1], j.Flight.Steps[i]
		for _, c := range []int{u.FrontLeft(), u.FrontRight()} {
			if d := offLine(s.Corners[s.BackLeft()], s.Corners[s.BackRight()], u.Corners[c]); math.Abs(d+forward) > 1e-6 {
				t.Errorf("the nose of step %d lies %.6f mm before the riser face, want %g", i+1, -d, forward)
			}
		}
	}
}

// heading returns the direction of nose line i, from left to right.
func heading(j model.Job, i int) float64 {
	s := j.Flight.Steps[i]
	a, b := s.Corners[s.FrontLeft()], s.Corners[s.FrontRight()]
	return math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X))
}

func turnedBy(a, b float64) float64 { return math.Remainder(b-a, 2*math.Pi) }

func TestTurnToWinders(t *testing.T) {
	j := shaped(t, 10)
	for _, c := range []struct {
		count   int
		angle   float64
		side    model.Edge
		well    model.Length
		corners string // of each winder
	}{
		// three to a quarter turn, the middle one a kite: the usual turn
		{3, 90, model.Left, 0, "4 5 4"},
		{3, 90, model.Right, 0, "4 5 4"},
		// the riser of two meets the corner of the walls, so its nose takes it in
		{2, 90, model.Left, 60, "4 5"},
		{1, 45, model.Right, 200, "5"},
		{6, 180, model.Left, 100, "4 5 4 4 5 4"},
		{4, 60, model.Right, 300, "4 4 5 4"},
	} {
		t.Run(fmt.Sprint(c.count, " to ", c.angle, " ", c.side), func(t *testing.T) {
			e := model.TurnToWinders{From: j.Flight.Steps[3].ID, Count: c.count, Angle: model.Angle(c.angle) * model.Degree, Side: c.side, Well: c.well}
			k := apply(t, j, e)
			joined(t, k)
			var got []string
			for i := range c.count {
				got = append(got, fmt.Sprint(len(k.Flight.Steps[3+i].Corners)))
			}
			if s := strings.Join(got, " "); s != c.corners {
				t.Errorf("the winders have %s corners, want %s", s, c.corners)
			}
			way := 1.0
			if c.side == model.Right {
				way = -1
			}
			last := len(j.Flight.Steps) - 1
			if d := turnedBy(heading(j, last), heading(k, last)) - way*c.angle*math.Pi/180; math.Abs(turnedBy(0, d)) > 1e-9 {
				t.Errorf("the top turned %.6f rad too far", d)
			}
			for i := range j.Flight.Steps {
				if a, b := j.Flight.Steps[i], k.Flight.Steps[i]; a.TopLeft != b.TopLeft || a.TopRight != b.TopRight {
					t.Errorf("step %d changed its height", i+1)
				}
			}
			for i := 3 + c.count; i <= last; i++ { // the flight above is as it was
				for n := 1; n < 4; n++ {
					a, b := j.Flight.Steps[i].Corners, k.Flight.Steps[i].Corners
					if d := a[0].Distance(a[n]) - b[0].Distance(b[n]); math.Abs(float64(d)) > 1e-6 {
						t.Errorf("step %d changed its shape", i+1)
					}
				}
			}
			if u := used(k, 3); u[model.FrontWidth] || u[model.GaugeBackLeft] || !u[model.GoingLeft] || !u[model.RiseLeft] || !u[model.TiltFore] {
				t.Errorf("the first winder keeps %v", u)
			}
			if u := used(k, 3+c.count); !u[model.FrontWidth] || u[model.GoingLeft] || !u[model.RiseLeft] {
				t.Errorf("the step above keeps %v", u)
			}
			if u := used(k, 2); !u[model.FrontWidth] || !u[model.GoingRight] {
				t.Errorf("the step below lost readings: %v", u)
			}
			if !k.Flight.Readings[0].Aside && k.Flight.Readings[0].Kind == model.TotalGoing || k.Revision != j.Revision+1 {
				t.Errorf("the total going is still in use, or the revision is %d", k.Revision)
			}
		})
	}
}

// The narrow end of a winder is what its well and angle make of it, less
// nothing: a chord of the circle round the middle of the turn.
func TestWindersNarrowEnd(t *testing.T) {
	j := plainJob(8)
	const well = 150.0
	k := apply(t, j, model.TurnToWinders{From: j.Flight.Steps[2].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Left, Well: well})
	for i := 2; i < 5; i++ {
		a, b := k.Flight.Steps[i], k.Flight.Steps[i+1]
		got := float64(a.Corners[a.FrontLeft()].Distance(b.Corners[b.FrontLeft()]))
		// nose lines lie forward of the risers that point at the middle, so
		// their inner ends lie on a circle of radius hypot(well, forward)
		want := 2 * math.Hypot(well, float64(model.NoseSetForward(j))) * math.Sin(15*math.Pi/180)
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("tread %d is %.6f mm at its narrow end, want %.6f", i+1, got, want)
		}
	}
}

func TestInsertLanding(t *testing.T) {
	j := shaped(t, 9)
	forward := model.NoseSetForward(j)
	at := j.Flight.Steps[4].ID
	for _, c := range []struct {
		edit    model.InsertLanding
		corners int
		turn    float64
	}{
		{model.InsertLanding{At: at, Turn: model.QuarterTurn, Side: model.Left}, 5, 90},
		{model.InsertLanding{At: at, Turn: model.QuarterTurn, Side: model.Right, Depth: 1000}, 5, -90},
		{model.InsertLanding{At: at, Turn: model.HalfTurn, Side: model.Left, Gap: 120}, 6, 180},
		{model.InsertLanding{At: at, Turn: model.HalfTurn, Side: model.Right}, 6, -180},
	} {
		t.Run(fmt.Sprint(c.edit.Turn, " ", c.edit.Side), func(t *testing.T) {
			k := apply(t, j, c.edit)
			joined(t, k)
			s := k.Flight.Steps[4]
			if !s.Landing || len(s.Corners) != c.corners || s.TopLeft != j.Flight.Steps[4].TopLeft {
				t.Fatalf("the landing is %+v", s)
			}
			if d := turnedBy(heading(j, 8), heading(k, 8)) - c.turn*math.Pi/180; math.Abs(turnedBy(0, d)) > 1e-9 {
				t.Errorf("the upper flight turned %.6f rad too far", d)
			}
			// the nose line is where it was, the far wall its depth behind it
			depth := c.edit.Depth
			if depth == 0 {
				depth = 914 + forward
			}
			far := 0.0
			for _, p := range s.Corners {
				far = math.Max(far, offLine(s.Corners[s.FrontLeft()], s.Corners[s.FrontRight()], p))
			}
			if math.Abs(far-float64(depth)) > 1e-9 || s.Corners[0].Distance(j.Flight.Steps[4].Corners[0]) > 1e-9 {
				t.Errorf("the landing is %.4f mm deep, want %g", far, float64(depth))
			}
			if u := used(k, 4); u[model.LeftDepth] || !u[model.GoingLeft] {
				t.Errorf("the landing keeps %v", u)
			}
		})
	}
}

// Four quarter landings to one side, or two half ones, bring the flight back to
// the way it went.
func TestLandingsGoRound(t *testing.T) {
	for _, side := range []model.Edge{model.Left, model.Right} {
		for _, c := range []struct {
			turn model.Turn
			at   []int
		}{{model.QuarterTurn, []int{2, 4, 6, 8}}, {model.HalfTurn, []int{2, 6}}} {
			j := plainJob(12)
			k := j
			for _, i := range c.at {
				k = apply(t, k, model.InsertLanding{At: k.Flight.Steps[i].ID, Turn: c.turn, Side: side})
			}
			joined(t, k)
			if d := turnedBy(heading(j, 11), heading(k, 11)); math.Abs(d) > 1e-9 {
				t.Errorf("%s to the %s: the top is turned by %g", c.turn, side, d)
			}
		}
	}
}

// elsewhere returns the job's sketch taken elsewhere; with mirror, left and
// right change places.
func elsewhere(j model.Job, mirror bool, to func(model.Corner) model.Corner) model.Job {
	steps := append([]model.Step(nil), j.Flight.Steps...)
	for i, s := range steps {
		n := len(s.Corners)
		cs, es := make([]model.Corner, n), make([]model.Edge, n)
		for c, p := range s.Corners {
			if !mirror {
				cs[c], es[c] = to(p), s.Edges[c]
				continue
			}
			// corner c becomes the one that ends its edge, going the other way
			cs[(n+1-c)%n] = to(p)
			e := s.Edges[c]
			switch e {
			case model.Left:
				e = model.Right
			case model.Right:
				e = model.Left
			}
			es[(n-c)%n] = e
		}
		if mirror {
			s.TopLeft, s.TopRight, s.Left, s.Right = s.TopRight, s.TopLeft, s.Right, s.Left
			s.RoundLeft, s.RoundRight = s.RoundRight, s.RoundLeft
		}
		s.Corners, s.Edges = cs, es
		steps[i] = s
	}
	j.Flight.Steps = steps
	return j
}

// Moved, turned or mirrored before or after a turn is made: the same flight.
func TestTurnsKeepTheLaws(t *testing.T) {
	const seed = 20261125
	rng := rand.New(rand.NewPCG(seed, 1))
	other := map[model.Edge]model.Edge{model.Left: model.Right, model.Right: model.Left}
	for n := range 60 {
		j := plainJob(10)
		for i := range j.Flight.Steps {
			j.Flight.Steps[i].Left.Kind = model.Open
		}
		side := []model.Edge{model.Left, model.Right}[rng.IntN(2)]
		at := j.Flight.Steps[1+rng.IntN(4)].ID
		make := func(side model.Edge) model.Edit {
			switch n % 4 {
			case 0:
				return model.InsertLanding{At: at, Turn: model.QuarterTurn, Side: side, Depth: 800 + model.Length(n)*5}
			case 1:
				return model.InsertLanding{At: at, Turn: model.HalfTurn, Side: side, Gap: model.Length(n)}
			case 2:
				return model.StartingStep{Width: 1000 + model.Length(n), Radius: 100 + model.Length(n)}
			}
			return model.TurnToWinders{From: at, Count: 2 + n%3, Angle: (40 + model.Angle(n)) * model.Degree, Side: side, Well: 50 + model.Length(n)}
		}
		sin, cos := math.Sincos(rng.Float64() * 7)
		dx, dy := rng.Float64()*1e4, rng.Float64()*1e4
		turn := func(c model.Corner) model.Corner {
			return model.Corner{X: c.X*model.Length(cos) - c.Y*model.Length(sin) + model.Length(dx), Y: c.X*model.Length(sin) + c.Y*model.Length(cos) + model.Length(dy)}
		}
		flip := func(c model.Corner) model.Corner { return model.Corner{X: -c.X, Y: c.Y} }
		plain := apply(t, j, make(side))
		same := func(what string, a, b model.Job) {
			for i := range a.Flight.Steps {
				s, u := a.Flight.Steps[i], b.Flight.Steps[i]
				if len(s.Corners) != len(u.Corners) || fmt.Sprint(s.Edges) != fmt.Sprint(u.Edges) || s.RoundLeft != u.RoundLeft {
					t.Fatalf("seed %d, %d: %s: step %d has edges %v, want %v", seed, n, what, i+1, s.Edges, u.Edges)
				}
				for c := range s.Corners {
					// coordinates reach 1e4 mm, spaced 2e-12, through a few dozen operations
					if d := s.Corners[c].Distance(u.Corners[c]); d > 1e-8 {
						t.Fatalf("seed %d, %d: %s: corner %d of step %d is %g mm off", seed, n, what, c, i+1, float64(d))
					}
				}
			}
		}
		same("moved", apply(t, elsewhere(j, false, turn), make(side)), elsewhere(plain, false, turn))
		same("mirrored", apply(t, elsewhere(j, true, flip), make(other[side])), elsewhere(plain, true, flip))
	}
}

func TestOpenSide(t *testing.T) {
	j := shaped(t, 6)
	s := j.Flight.Steps
	k := apply(t, j, model.OpenSide{From: s[1].ID, To: s[5].ID, Side: model.Right, Returned: true, Balusters: 2, Length: 900})
	for i, u := range k.Flight.Steps {
		open := i >= 1
		if u.Right.MitredReturn() != open || u.Left != s[i].Left {
			t.Errorf("step %d: right %+v, left %+v", i+1, u.Right, u.Left)
		}
		want := 0
		if open && i < 5 {
			want = 2
		}
		if len(u.Balusters) != want {
			t.Fatalf("step %d has %d balusters, want %d", i+1, len(u.Balusters), want)
		}
		if want > 0 && (u.Balusters[0].Behind != 254.0/4 || u.Balusters[1].Behind != 254.0*3/4 || u.Balusters[1].Side != model.Right) {
			t.Errorf("step %d: balusters %+v", i+1, u.Balusters)
		}
	}
	if k.Revision != j.Revision {
		t.Error("no reading changed, and the revision did")
	}
	// the other side keeps its own; the same side gets new ones
	k = apply(t, k, model.OpenSide{From: s[2].ID, To: s[2].ID, Side: model.Left, Returned: true, Balusters: 1})
	k = apply(t, k, model.OpenSide{From: s[2].ID, To: s[2].ID, Side: model.Right, Returned: true, Balusters: 3})
	if n := len(k.Flight.Steps[2].Balusters); n != 4 {
		t.Errorf("step 3 has %d balusters, want 4", n)
	}
}

func TestStartingStep(t *testing.T) {
	j := plainJob(4)
	j.Flight.Steps[0].Left.Kind = model.Open
	k := apply(t, j, model.StartingStep{Width: 1014, Radius: 150})
	s := k.Flight.Steps[0]
	if s.Corners[0] != (model.Corner{X: -100}) || s.Corners[1] != j.Flight.Steps[0].Corners[1] || s.RoundLeft != 150 || s.RoundRight != 0 {
		t.Errorf("left only: %+v", s)
	}
	j.Flight.Steps[0].Right.Kind = model.Open
	k = apply(t, j, model.StartingStep{Width: 1114, Radius: 100})
	s = k.Flight.Steps[0]
	if s.Corners[0].X != -100 || s.Corners[1].X != 1014 || s.Corners[2].X != 1014 || s.RoundRight != 100 {
		t.Errorf("both: %+v", s)
	}
}

func TestTurnsRefuse(t *testing.T) {
	j := plainJob(8)
	s := j.Flight.Steps
	winders := model.TurnToWinders{From: s[2].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Left}
	landing := model.InsertLanding{At: s[2].ID, Turn: model.QuarterTurn, Side: model.Left}
	wound := apply(t, j, winders)
	for _, c := range []struct {
		name  string
		job   model.Job
		edit  model.Edit
		words string
	}{
		{"no step", j, with(winders, func(e *model.TurnToWinders) { e.From = id("nobody") }), "no such step"},
		{"side", j, with(winders, func(e *model.TurnToWinders) { e.Side = model.Back }), `"back"`},
		{"no winder", j, with(winders, func(e *model.TurnToWinders) { e.Count = 0 }), "0 steps"},
		{"past the top", j, with(winders, func(e *model.TurnToWinders) { e.Count = 6 }), "not all treads below the top floor"},
		{"no angle", j, with(winders, func(e *model.TurnToWinders) { e.Angle = 0 }), "0.0°"},
		{"NaN", j, with(winders, func(e *model.TurnToWinders) { e.Angle = model.Angle(nan) }), "a turn of ?"},
		{"too steep", j, with(winders, func(e *model.TurnToWinders) { e.Count, e.Angle = 2, 150*model.Degree }), "2 winders for a turn of 150.0°"},
		{"hardly", j, with(winders, func(e *model.TurnToWinders) { e.Angle = 1 * model.Degree }), "hardly"},
		{"well", j, with(winders, func(e *model.TurnToWinders) { e.Well = -1 }), "a well of -1.0 mm"},
		{"turned already", wound, winders, "no straight tread"},
		{"from before a turn", wound, with(winders, func(e *model.TurnToWinders) { e.From = s[1].ID; e.Count = 2 }), "turned against"},
		{"landing at the top", j, with(landing, func(e *model.InsertLanding) { e.At = s[7].ID }), "below the top floor"},
		{"landing turn", j, with(landing, func(e *model.InsertLanding) { e.Turn = "third" }), `"third"`},
		{"landing depth", j, with(landing, func(e *model.InsertLanding) { e.Depth = 40 }), "40.0 mm deep"},
		{"landing NaN", j, with(landing, func(e *model.InsertLanding) { e.Depth = model.Length(nan) }), "NaN mm deep"},
		{"gap", j, with(landing, func(e *model.InsertLanding) { e.Gap = model.Length(inf) }), "gap"},
		{"open downwards", j, model.OpenSide{From: s[3].ID, To: s[2].ID, Side: model.Left, Returned: true}, "name the lower one first"},
		{"open front", j, model.OpenSide{From: s[3].ID, To: s[3].ID, Side: model.Front, Returned: true}, `"front"`},
		{"many balusters", j, model.OpenSide{From: s[3].ID, To: s[3].ID, Side: model.Left, Returned: true, Balusters: 11}, "11 balusters"},
		{"baluster length", j, model.OpenSide{From: s[3].ID, To: s[3].ID, Side: model.Left, Returned: true, Length: model.Length(nan)}, "NaN mm long"},
		{"closed start", j, model.StartingStep{Width: 1000, Radius: 100}, "closed at both sides"},
		{"narrow start", opened(j), model.StartingStep{Width: 900, Radius: 100}, "900.0 mm wide"},
		{"round start", opened(j), model.StartingStep{Width: 1000, Radius: 300}, "smaller radius"},
		{"sharp start", opened(j), model.StartingStep{Width: 1000}, "radius 0.0 mm"},
		{"closing a round side", apply(t, opened(j), model.StartingStep{Width: 1000, Radius: 100}),
			step(j, 0, func(e *model.SetStep) {}), "left front corner is round"},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := encoded(t, c.job)
			k, err := c.edit.Apply(c.job)
			if err == nil || !strings.Contains(err.Error(), c.words) {
				t.Fatalf("error %v lacks %q", err, c.words)
			}
			if encoded(t, k) != before || encoded(t, c.job) != before {
				t.Error("the job was changed")
			}
		})
	}
}

func with[E model.Edit](e E, change func(*E)) model.Edit {
	change(&e)
	return e
}

func opened(j model.Job) model.Job {
	j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
	j.Flight.Steps[0].Left.Kind = model.Open
	return j
}

// A tread put in beside a landing takes its going from treads; none is made a
// copy of a landing.
func TestNewTreadBesideALanding(t *testing.T) {
	j := plainJob(8)
	k := apply(t, j, model.InsertLanding{At: j.Flight.Steps[3].ID, Turn: model.QuarterTurn, Side: model.Left})
	if _, err := model.NewTread(k, 3, 3, id("x")); err == nil || !strings.Contains(err.Error(), "step 4 is a landing") {
		t.Errorf("a copy of the landing: %v", err)
	}
	e, err := model.NewTread(k, 4, 4, id("x"))
	if err != nil {
		t.Fatal(err)
	}
	m := apply(t, k, e)
	if m.Flight.Steps[4].Landing || len(m.Flight.Steps[4].Corners) != 4 {
		t.Errorf("the new tread is %+v", m.Flight.Steps[4])
	}
	if d := float64(e.Forward.X*e.Forward.X + e.Forward.Y*e.Forward.Y); math.Abs(math.Sqrt(d)-254) > 1e-9 {
		t.Errorf("the flight above moved by %+v", e.Forward)
	}
}

func TestValidateMoreStairs(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*model.Job)
		rule  string
	}{
		{"landing on top", func(j *model.Job) { j.Flight.Steps[3].Landing = true }, "job.landing"},
		{"round below 0", func(j *model.Job) { j.Flight.Steps[0].RoundLeft = -1 }, "job.round"},
		{"round and closed", func(j *model.Job) { j.Flight.Steps[0].RoundRight = 100 }, "job.round"},
		{"return below 0", func(j *model.Job) { j.Overlay.Return = -1 }, "job.size"},
		{"baluster without id", func(j *model.Job) { j.Flight.Steps[1].Balusters = []model.Baluster{{Side: model.Left}} }, "job.id"},
		{"baluster in front", func(j *model.Job) {
			j.Flight.Steps[1].Balusters = []model.Baluster{{ID: id("b"), Side: model.Front}}
		}, "job.balusters"},
		{"baluster before the nose", func(j *model.Job) {
			j.Flight.Steps[1].Balusters = []model.Baluster{{ID: id("b"), Side: model.Left, Behind: -1}}
		}, "job.balusters"},
		{"baluster twice", func(j *model.Job) {
			j.Flight.Steps[1].Balusters = []model.Baluster{{ID: id("b"), Side: model.Left}, {ID: id("b"), Side: model.Right}}
		}, "job.id"},
		{"too many balusters", func(j *model.Job) {
			j.Flight.Steps[1].Balusters = make([]model.Baluster, model.MaxBalusters+1)
		}, "job.balusters"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := plainJob(4)
			c.spoil(&j)
			if got := blocks(j); len(got) != 1 || got[0] != c.rule {
				t.Errorf("findings %v, want %s", got, c.rule)
			}
		})
	}
}
