package survey

import (
	"math"
	"math/rand/v2"
	"testing"

	"risewright/model"
)

// plant puts a blunder into one random reading whose normalised residual is
// then expected to be at least atLeast, and returns its id. It reports false
// when the chosen reading is too little checked for any sane blunder to show.
func plant(tr *truth, rng *rand.Rand, atLeast float64) (model.ID, bool) {
	res := Solve(tr.job)
	c := res.Checks[rng.IntN(len(res.Checks))]
	if c.Redundancy < 0.01 {
		return model.ID{}, false
	}
	size := atLeast * (1 + rng.ExpFloat64()*0.5) * c.Spread / math.Sqrt(c.Redundancy)
	if rng.IntN(2) == 0 {
		size = -size
	}
	change := func(rs []model.Reading) {
		for i := range rs {
			if rs[i].ID == c.Reading {
				rs[i].Value += size
			}
		}
	}
	change(tr.job.Flight.Readings)
	for i := range tr.job.Flight.Steps {
		change(tr.job.Flight.Steps[i].Readings)
	}
	return c.Reading, true
}

// Must show 3. A blunder of expected normalised residual 6 or more is named,
// alone or with the one reading it cannot be told from.
func TestAPlantedBlunderIsNamed(t *testing.T) {
	rng := newRand(t, 3)
	flights, named, pairs, missed := 0, 0, 0, 0
	for flights < sweep(150, 1000) {
		tr := randomTruth(rng, 2+rng.IntN(19))
		tr.read(rng, 1)
		tr.blur(rng, 15)
		id, ok := plant(&tr, rng, 6)
		if !ok {
			continue
		}
		flights++
		res := Solve(tr.job)
		found := false
		for n, c := range res.Conflicts {
			if len(c.Suspects) > 2 {
				t.Fatalf("%d suspects named", len(c.Suspects))
			}
			if n == 0 && len(c.Suspects) == 2 {
				pairs++
			}
			for _, s := range c.Suspects {
				found = found || (n == 0 && s.Reading == id)
			}
		}
		if found {
			named++
		} else if len(res.Conflicts) == 0 {
			missed++
		}
	}
	t.Logf("%d flights with a blunder: named in %.1f %%, two named in %.1f %%, nothing noticed in %.1f %%",
		flights, percent(named, flights), percent(pairs, flights), percent(missed, flights))
	if percent(named, flights) < 97 {
		t.Errorf("named in %.1f %%, want 97", percent(named, flights))
	}
}

// Must show 3. Without a blunder, at most two flights in a hundred are accused.
func TestNoBlunderNoAccusation(t *testing.T) {
	rng := newRand(t, 4)
	count, accused := sweep(300, 1000), 0
	for f := 0; f < count; f++ {
		tr := randomTruth(rng, 2+rng.IntN(19))
		tr.read(rng, 1)
		tr.blur(rng, 15)
		if len(Solve(tr.job).Conflicts) > 0 {
			accused++
		}
	}
	t.Logf("%d flights without a blunder: %.1f %% accused", count, percent(accused, count))
	if percent(accused, count) > 2 {
		t.Errorf("%.1f %% accused, want at most 2", percent(accused, count))
	}
}

// Must show 5, for the widths a tread is cut to.
func TestBandsHold(t *testing.T) {
	rng := newRand(t, 5)
	surveys, in, all := sweep(300, 2000), 0, 0
	for f := 0; f < surveys; f++ {
		tr := randomTruth(rng, 3+rng.IntN(12))
		tr.read(rng, 1)
		tr.blur(rng, 15)
		res := Solve(tr.job)
		p := newProblem(&tr.job)
		var r row
		i := rng.IntN(len(p.sites))
		for _, k := range []model.Kind{model.FrontWidth, model.BackWidth} {
			fig, _ := res.Steps[i].Figure(k)
			observe(&r, p.sites, i, k, tr.x)
			all++
			if math.Abs(fig.Value-r.predicted) <= Band95*fig.Spread {
				in++
			}
		}
	}
	t.Logf("%d surveys: the true width lies in its 95 %% band in %.1f %%", surveys, percent(in, all))
	if p := percent(in, all); p < 93 || p > 97 {
		t.Errorf("in %.1f %%, want 93 to 97", p)
	}
}

func percent(a, b int) float64 { return 100 * float64(a) / float64(b) }

// A survey with most readings missing settles, accuses nobody and releases no
// step whose widths were not read.
func TestThinSurveysSettle(t *testing.T) {
	rng := newRand(t, 6)
	count, accused, released := sweep(200, 1000), 0, 0
	for f := 0; f < count; f++ {
		tr := randomTruth(rng, 2+rng.IntN(15))
		tr.read(rng, 1)
		tr.blur(rng, 20)
		for range 1 + rng.IntN(5) {
			thin(&tr, rng)
		}
		res := Solve(tr.job)
		if res.Status != Converged {
			t.Fatalf("flight %d: %s", f, res.Status)
		}
		if len(res.Conflicts) > 0 {
			accused++
		}
		for i, s := range res.Steps {
			if s.Readiness != ReadyCut {
				continue
			}
			released++
			for _, k := range []model.Kind{model.FrontWidth, model.BackWidth} {
				found := false
				for _, r := range tr.job.Flight.Steps[i].Readings {
					found = found || r.Kind == k
				}
				if !found {
					t.Fatalf("flight %d: step %d is ready to cut without a %s", f, i+1, k.Words())
				}
			}
		}
	}
	t.Logf("%d thin surveys: %.1f %% accused, %d steps released", count, percent(accused, count), released)
	if percent(accused, count) > 2 {
		t.Errorf("%.1f %% accused, want at most 2", percent(accused, count))
	}
	if released == 0 {
		t.Error("no step was released at all, so the test proves nothing")
	}
}

// Two slips of about one size on cards far apart are two conflicts, each with
// its own reading, and not two suspects of one.
func TestTwoSlipsAreNotRivals(t *testing.T) {
	rng := newRand(t, 77)
	for range 20 {
		tr := randomTruth(rng, 10)
		tr.read(rng, 1)
		tr.blur(rng, 10)
		size := 2.0 * float64(model.Degree)
		want := map[model.ID]int{}
		for _, at := range []int{2, 7} {
			r := tr.reading(at, model.GaugeBackLeft)
			r.Value += size
			want[r.ID] = 1
		}
		res := Solve(tr.job)
		named := map[model.ID]int{}
		for _, c := range res.Conflicts {
			step := c.Suspects[0].Step
			for _, s := range c.Suspects {
				named[s.Reading]++
				if d := s.Step - step; d < -1 || d > 1 {
					t.Errorf("steps %d and %d cannot be told apart", step+1, s.Step+1)
				}
			}
		}
		for id := range want {
			if named[id] != 1 {
				t.Errorf("a slip is named %d times in %+v", named[id], res.Conflicts)
			}
		}
	}
}
