package fitting_test

import (
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"risewright/model"
	"risewright/solver/fitting"
)

// TestSidesThatCloseIn are flights whose sides converge going up. Where they
// run parallel in plan a tread slides in from the front. Where they close in to
// the front as well it can only be tilted in, while the ends' fit and undercut
// allow; else it is trapped and the undercut that would free it is named.
func TestSidesThatCloseIn(t *testing.T) {
	kept := model.SideWish{Keep: true, NoFalse: true}
	w := model.Wishes{Left: kept, Right: kept}
	way := func(r fitting.Result, id string) fitting.Way {
		for _, x := range r.Order {
			if x.ID == id {
				return x.Way
			}
		}
		return fitting.Way{}
	}
	for _, c := range []struct {
		name       string
		lean, turn float64 // both sides, degrees; negative closes in, going up or to the front
		undercut   float64
		want       string // the way, or "" for refused
	}{
		{"plumb and parallel", 0, 0, 1.5, "drop it straight down"},
		{"leaning in, parallel", -1, 0, 1.5, "slide it in from the front"},
		{"leaning in, closing to the front", -0.6, 1, 1.5, "tilt it in"},
		{"leaning in much, closing to the front", -3, 1, 1.5, ""},
		{"leaning out", 1, 1, 1.5, "drop it straight down"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := leaning(4, [2]float64{c.lean * degree, c.lean * degree}, [2]float64{c.turn * degree, c.turn * degree}, 0).known(0.2)
			f.job.Overlay.Undercut = model.Angle(c.undercut * degree)
			r := f.plain(w)
			if c.want == "" {
				if r.Status != fitting.Refused || r.Refusals[0].Trapped == "" || !strings.HasPrefix(r.Refusals[0].Trapped, "T") || !strings.Contains(r.Why, "close in going up") {
					t.Errorf("%s: %s", r.Status, r.Why)
				}
				return
			}
			if r.Status != fitting.Solved {
				t.Fatalf("%s: %s", r.Status, r.Why)
			}
			got := way(r, "T02")
			if !strings.HasPrefix(got.Words, c.want) {
				t.Errorf("T02: %q, want %q (%+v)", got.Words, c.want, got)
			}
			if got.Tilted != (c.want == "tilt it in") || got.Tilted && !(got.Needs > 0 && got.Needs <= got.Has) {
				t.Errorf("tilted: %+v", got)
			}
		})
	}
}

// TestSurveyNoiseTrapsNothing: each step of a surveyed flight goes by its own
// readings, so its boards and sides do not quite meet its neighbours'. Boards
// once followed half a metre out of their places rubbed on such sides by tenths
// of a millimetre, and every surveyed flight was refused.
func TestSurveyNoiseTrapsNothing(t *testing.T) {
	const seed = 17
	trials := 1
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		trials = 12
	}
	for trial := range trials {
		rng := rand.New(rand.NewPCG(seed, uint64(trial)))
		f := straight(14).known(0.3)
		for k := range f.res.Steps {
			s := &f.res.Steps[k]
			for c := range s.Corners {
				s.Corners[c][0] += rng.NormFloat64()
				s.Corners[c][1] += rng.NormFloat64()
			}
			s.TopLeft += rng.NormFloat64()
			s.TopRight += rng.NormFloat64()
			s.Fall = 0.004 * rng.NormFloat64()
			s.Lean = [2]float64{0.5 * degree * rng.NormFloat64(), 0.5 * degree * rng.NormFloat64()}
		}
		for name, w := range map[string]model.Wishes{
			"A":  {Left: model.SideWish{Keep: true}, Right: model.SideWish{Keep: true}},
			"D1": {Left: model.SideWish{Battered: true}},
			"C":  {Left: model.SideWish{Wiring: true, NoFalse: true}},
		} {
			r := f.plain(w)
			if r.Status != fitting.Solved || r.Left.Scheme() != name {
				t.Errorf("seed %d, trial %d: %s is %s %s, %s", seed, trial, name, r.Status, r.Left.Scheme(), r.Why)
			}
		}
	}
}
