package survey

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"

	"risewright/model"
)

// Twenty random flights against scipy.optimize.least_squares and numpy's dense
// inverse, from observation equations written afresh in testdata/judge.py.
func TestScipyAgrees(t *testing.T) {
	python := os.Getenv("RISEWRIGHT_PYTHON")
	if python == "" {
		python = "/usr/bin/python3" // Debian's, which python3-scipy belongs to
	}
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		if full() {
			t.Fatalf("the outside judge is missing: install python3-scipy (%v)", err)
		}
		t.Skip("python3-scipy is not installed")
	}
	type obj = map[string]any
	rng := newRand(t, 21)
	var in bytes.Buffer
	enc := json.NewEncoder(&in)
	var ours []*solution
	count := sweep(3, 20) // the judge is slow: dense, and by differences
	for f := 0; f < count; f++ {
		tr := randomTruth(rng, 2+rng.IntN(6))
		tr.read(rng, 1)
		tr.blur(rng, 15)
		thin(&tr, rng)
		p := newProblem(&tr.job)
		ours = append(ours, p.adjust(settings{}))
		var steps, readings []obj
		for i, s := range p.sites {
			steps = append(steps, obj{"corners": s.corners, "fl": s.fl, "fr": s.fr, "br": s.br, "bl": s.bl, "tilt": p.tilt[i]})
		}
		for _, r := range p.readings {
			readings = append(readings, obj{"kind": r.reading.Kind, "step": r.step, "value": r.reading.Value, "spread": r.spread})
		}
		if err := enc.Encode(obj{"steps": steps, "readings": readings, "prior": p.prior, "spread": p.spread,
			"forward": p.forward, "landing": p.landing,
			"nose_spread": noseLinkSpread, "side_spread": sideLinkSpread, "level_spread": levelSpread}); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(python, "testdata/judge.py")
	cmd.Stdin = &in
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	dec := json.NewDecoder(bytes.NewReader(out))
	worstX, worstSD := 0.0, 0.0
	for f, sol := range ours {
		var judge struct {
			X  []float64 `json:"x"`
			SD []float64 `json:"sd"`
		}
		if err := dec.Decode(&judge); err != nil {
			t.Fatalf("flight %d: %v", f, err)
		}
		if len(judge.X) != len(sol.x) {
			t.Fatalf("flight %d: the judge has %d unknowns, we have %d", f, len(judge.X), len(sol.x))
		}
		for i := range sol.x {
			worstX = math.Max(worstX, math.Abs(sol.x[i]-judge.X[i]))
			worstSD = math.Max(worstSD, math.Abs(math.Sqrt(sol.inverse.at(i, i))/judge.SD[i]-1))
		}
	}
	t.Logf("%d flights: coordinates within %.2g mm of scipy, standard deviations within %.2g", count, worstX, worstSD)
	if worstX > 1e-6 {
		t.Errorf("a coordinate differs by %g mm, want 1e-6", worstX)
	}
	if worstSD > 1e-6 {
		t.Errorf("a standard deviation differs by a factor %g, want 1e-6", worstSD)
	}
}

// thin drops about a third of the readings.
func thin(tr *truth, rng interface{ IntN(int) int }) {
	keep := func(rs []model.Reading) []model.Reading {
		var out []model.Reading
		for _, r := range rs {
			if rng.IntN(3) > 0 {
				out = append(out, r)
			}
		}
		return out
	}
	tr.job.Flight.Readings = keep(tr.job.Flight.Readings)
	for i := range tr.job.Flight.Steps {
		tr.job.Flight.Steps[i].Readings = keep(tr.job.Flight.Steps[i].Readings)
	}
}
