package bars_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// winding is a sketch with a landing that turns to the left and winders that
// turn to the right.
func winding(t *testing.T, turn model.Turn) model.Job {
	t.Helper()
	base, err := tables.NewJob(model.Metric, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		t.Fatal(err)
	}
	j := model.Sketch(model.SketchSpec{Risers: 15, Width: 960, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("winding ", i)) }})
	for _, e := range []model.Edit{
		model.InsertLanding{At: j.Flight.Steps[5].ID, Turn: turn, Side: model.Left, Gap: 200, Depth: 1050},
		model.TurnToWinders{From: j.Flight.Steps[9].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Right, Well: 300},
	} {
		if j, err = e.Apply(j); err != nil {
			t.Fatalf("%s: %v", e.Label(), err)
		}
	}
	return j
}

// TestOneBarANosing: N risers have N bars, whatever further boards the flight
// has, and bar k lights tread k-1.
func TestOneBarANosing(t *testing.T) {
	j := winding(t, model.QuarterTurn)
	id := func(i int) model.ID { return j.Flight.Steps[i].ID }
	j, err := model.OpenSide{From: id(0), To: id(4), Side: model.Left, Returned: true, Balusters: 2, Length: 850}.Apply(j)
	if err != nil {
		t.Fatal(err)
	}
	ps := pieces.Make(j, survey.Solve(j))
	if len(ps) < 2*len(j.Flight.Steps)+3 {
		t.Fatalf("%d boards on %d steps: the flight has no returns", len(ps), len(j.Flight.Steps))
	}
	bs := bars.Make(j, model.FirstLighting(j, table(t)), table(t), ps).Bars
	if len(bs) != len(j.Flight.Steps) {
		t.Fatalf("%d bars under %d noses", len(bs), len(j.Flight.Steps))
	}
	for i, b := range bs {
		if b.Step != i+1 || b.Lights != i || b.Pixels == 0 {
			t.Errorf("bar %d: %s with %d pixels lights %s", i+1, b.Name(), b.Pixels, b.LightsWords())
		}
	}
}

// offLine returns how far p lies from the line from a to b.
func offLine(p, a, b mgl64.Vec2) float64 {
	d := b.Sub(a)
	f := 0.0
	if n := d.Dot(d); n > 0 {
		f = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
	}
	return p.Sub(a.Add(d.Mul(f))).Len()
}

// TestClimbFollowsTheSide: at winders and landings the wires stay within 60 mm
// of the side of the stair, which is skirt and nosing, and never cut across a
// tread; along a straight side they have no bend.
func TestClimbFollowsTheSide(t *testing.T) {
	const within = 60
	for _, turn := range []model.Turn{model.QuarterTurn, model.HalfTurn} {
		j := winding(t, turn)
		ps := pieces.Make(j, survey.Solve(j))
		for _, c := range []struct {
			cavity model.Cavity
			edge   model.Edge
			bends  bool // winders to the right turn round the corner at the left, the landing round that at the right
		}{{model.CavityLeft, model.Left, true}, {model.CavityRight, model.Right, true}, {model.CavityUnder, "", false}} {
			l := model.FirstLighting(j, table(t))
			l.Cavity = c.cavity
			bs := bars.Make(j, l, table(t), ps).Bars
			bent, worst := 0, 0.0
			for i := range len(bs) - 1 {
				bent += len(bs[i].Climb)
				if c.edge == "" {
					continue
				}
				var side [][2]mgl64.Vec2
				s := &j.Flight.Steps[i]
				for k, e := range s.Edges {
					if e == c.edge {
						a, b := s.Corners[k], s.Corners[(k+1)%len(s.Corners)]
						side = append(side, [2]mgl64.Vec2{{float64(a.X), float64(a.Y)}, {float64(b.X), float64(b.Y)}})
					}
				}
				way := append(append([]mgl64.Vec3{bs[i].Way.At}, bs[i].Climb...), bs[i+1].Way.At)
				for k := 0; k+1 < len(way); k++ {
					if way[k+1][2] < way[k][2] {
						t.Errorf("%s turn, %s, from %s: the way goes down", turn, c.cavity, bs[i].Name())
					}
					for f := 0.0; f <= 1; f += 0.1 {
						p := way[k].Add(way[k+1].Sub(way[k]).Mul(f)).Vec2()
						off := math.Inf(1)
						for _, e := range side {
							off = math.Min(off, offLine(p, e[0], e[1]))
						}
						if off > within {
							t.Fatalf("%s turn, %s, from %s: the way lies %.0f mm off the side", turn, c.cavity, bs[i].Name(), off)
						}
						worst = math.Max(worst, off)
					}
				}
			}
			if (bent > 0) != c.bends {
				t.Errorf("%s turn, %s: %d bends", turn, c.cavity, bent)
			}
			t.Logf("%s turn, %s: %d bends, at most %.0f mm off", turn, c.cavity, bent, worst)
		}
	}
	f := straight(5)
	for _, b := range f.bars(t, f.light(t)).Bars {
		if len(b.Climb) > 0 {
			t.Errorf("%s: bends along a straight side", b.Name())
		}
	}
}
