package model_test

import (
	"math"
	"strings"
	"testing"

	"risewright/model"
)

// sameSketch compares what is sketched of two jobs, to the rounding of a turn
// there and back: 1e-8 mm over some metres.
func sameSketch(t *testing.T, what string, got, want model.Job) {
	t.Helper()
	for i, s := range want.Flight.Steps {
		g := got.Flight.Steps[i]
		if len(g.Corners) != len(s.Corners) || g.Landing != s.Landing || g.Left != s.Left || g.Right != s.Right ||
			g.RoundLeft != s.RoundLeft || g.RoundRight != s.RoundRight || g.TopLeft != s.TopLeft || len(g.Balusters) != len(s.Balusters) {
			t.Fatalf("%s: step %d is %+v, want %+v", what, i+1, g, s)
		}
		for c := range s.Corners {
			if off := float64(g.Corners[c].Distance(s.Corners[c])); !(off < 1e-8) || g.Edges[c] != s.Edges[c] {
				t.Errorf("%s: step %d, corner %d lies %g mm off", what, i+1, c+1, off)
			}
		}
	}
}

// What makes a turn is undone by what takes it away, whichever of its steps is
// named: the sketch is what it was, and the readings taken of the turn are set
// aside.
func TestStraightenTakesATurnAway(t *testing.T) {
	j := shaped(t, 9)
	s := j.Flight.Steps
	for _, side := range []model.Edge{model.Left, model.Right} {
		for _, e := range []model.Edit{
			model.TurnToWinders{From: s[2].ID, Count: 3, Angle: 90 * model.Degree, Side: side},
			model.TurnToWinders{From: s[0].ID, Count: 4, Angle: 180 * model.Degree, Side: side, Well: 80},
			model.TurnToWinders{From: s[2].ID, Count: 2, Angle: 37 * model.Degree, Side: side},
			model.InsertLanding{At: s[3].ID, Turn: model.QuarterTurn, Side: side},
			model.InsertLanding{At: s[3].ID, Turn: model.HalfTurn, Side: side, Gap: 150},
		} {
			k := apply(t, j, e)
			for i := range s {
				first, last, ok := model.TurnAt(k, i)
				if !ok {
					continue
				}
				if first > i || last < i {
					t.Errorf("step %d is said to belong to the turn from %d to %d", i+1, first+1, last+1)
				}
				sameSketch(t, e.Label(), apply(t, k, model.Straighten{At: s[i].ID}), j)
			}
			if _, _, ok := model.TurnAt(k, len(s)-1); ok {
				t.Error("the top floor is taken for a turn")
			}
		}
	}
	// with a going of its own, what lies above moves on by the difference
	k := apply(t, apply(t, j, model.InsertLanding{At: s[3].ID, Turn: model.HalfTurn, Side: model.Left}), model.Straighten{At: s[3].ID, Going: 300})
	going := float64(s[4].Corners[0].Y - s[3].Corners[0].Y)
	if got := float64(k.Flight.Steps[8].Corners[0].Y - s[8].Corners[0].Y); math.Abs(got-(300-going)) > 1e-8 {
		t.Errorf("the top floor moved by %g mm, want %g", got, 300-going)
	}
}

// A side opened can be closed again, and a starting step made plain.
func TestSidesAndStartingStepsAreTakenAway(t *testing.T) {
	j := shaped(t, 6)
	s := j.Flight.Steps
	opened := apply(t, j, model.OpenSide{From: s[0].ID, To: s[2].ID, Side: model.Right, Balusters: 2})
	if got := opened.Flight.Steps[1].Right; got.Kind != model.Open || got.Returned {
		t.Errorf("opened without a return: %+v", got)
	}
	closed := apply(t, opened, model.CloseSide{From: s[0].ID, To: s[5].ID, Side: model.Right, Kind: s[0].Right.Kind})
	sameSketch(t, "closed", closed, j)
	started := apply(t, opened, model.StartingStep{Width: 1100, Radius: 120})
	plain := apply(t, started, model.PlainFirstStep{})
	opened.Flight.Steps[0].Balusters = nil // they had to be set out anew
	sameSketch(t, "plain", plain, opened)
}

func TestTakingAwayRefuses(t *testing.T) {
	j := shaped(t, 6)
	s := j.Flight.Steps
	opened := apply(t, j, model.OpenSide{From: s[0].ID, To: s[2].ID, Side: model.Left})
	started := apply(t, opened, model.StartingStep{Width: 1000, Radius: 120})
	inches := j
	inches.Units, inches.Fraction = model.Imperial, 16
	for _, c := range []struct {
		name, words string
		job         model.Job
		edit        model.Edit
	}{
		{"no turn", "step 3 is no winder and no landing", j, model.Straighten{At: s[2].ID}},
		{"no step", model.ErrNoSuchStep.Error(), j, model.Straighten{}},
		{"going", "a going of -5.0 mm", apply(t, j, model.InsertLanding{At: s[2].ID, Turn: model.QuarterTurn, Side: model.Left}), model.Straighten{At: s[2].ID, Going: -5}},
		{"not open", "the right side is not open from step 1 to step 3", opened, model.CloseSide{From: s[0].ID, To: s[2].ID, Side: model.Right, Kind: model.Wall}},
		{"close with what", `closed by "open"`, opened, model.CloseSide{From: s[0].ID, To: s[2].ID, Side: model.Left, Kind: model.Open}},
		{"close downwards", "name the lower one first", opened, model.CloseSide{From: s[2].ID, To: s[0].ID, Side: model.Left, Kind: model.Wall}},
		{"close a round end", "step 1 runs round at its left", started, model.CloseSide{From: s[0].ID, To: s[2].ID, Side: model.Left, Kind: model.Wall}},
		{"no starting step", "there is no starting step", opened, model.PlainFirstStep{}},
		{"errors in inches", `a well of -1"; give more than 0 and up to 118 1/8"`, inches, model.TurnToWinders{From: s[1].ID, Count: 3, Angle: 90 * model.Degree, Side: model.Left, Well: -model.Inch}},
	} {
		k, err := c.edit.Apply(c.job)
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v, want %q", c.name, err, c.words)
		}
		if encoded(t, k) != encoded(t, c.job) {
			t.Errorf("%s: the job changed", c.name)
		}
	}
}
