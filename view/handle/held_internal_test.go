package handle

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// TestPredictIsTheSurveys holds the plain twin to the survey's own figures.
func TestPredictIsTheSurveys(t *testing.T) {
	for _, a := range surveyed(t) {
		steps := Steps(a)
		n := 0
		for i := range steps {
			for _, f := range steps[i].Figures {
				got, ok := predict(steps, i, f.Kind)
				if !ok || math.Abs(got-f.Value) > 1e-9 {
					t.Errorf("step %d %s: %v %v, the survey has %v", i+1, f.Kind, got, ok, f.Value)
				}
				n++
			}
		}
		for _, c := range a.Survey.Checks {
			if got, ok := predict(steps, c.Step, c.Kind); c.Used && (!ok || math.Abs(got-c.Adjusted) > 1e-9) {
				t.Errorf("%s of step %d: %v %v, the survey has %v", c.Kind, c.Step+1, got, ok, c.Adjusted)
			}
			n++
		}
		if n < 100 {
			t.Fatalf("only %d figures compared", n)
		}
	}
}

// TestHeldByNamesWhatTouches: a corner is held by the width, depths, diagonals
// and gauges that end at it, and by nothing at the other end of the flight.
func TestHeldByNamesWhatTouches(t *testing.T) {
	a := surveyed(t)[0]
	held := map[model.Kind]bool{}
	for _, id := range HeldBy(a, ID{Kind: Corner, Step: 6, Corner: a.Survey.Steps[5].BL}) {
		r, step, ok := a.Job.Reading(id)
		if !ok {
			t.Fatalf("no reading %s", id)
		}
		if step < 0 || step == 5 {
			held[r.Kind] = true
		} else if step < 4 || step > 7 {
			t.Errorf("held by the %s of step %d, far away", r.Kind.Words(), step+1)
		}
		if r.Kind == model.RiseLeft || r.Kind == model.LeanLeft || r.Kind == model.TiltFore {
			t.Errorf("held by the %s, which is no matter of plan", r.Kind.Words())
		}
	}
	read := map[model.Kind]bool{}
	for _, r := range a.Job.Flight.Steps[5].Readings {
		read[r.Kind] = true
	}
	any := false
	for _, k := range []model.Kind{model.BackWidth, model.LeftDepth, model.DiagonalLeft, model.GaugeBackLeft} {
		if read[k] {
			any = true
			if !held[k] {
				t.Errorf("not held by the %s that ends there", k.Words())
			}
		}
	}
	if !any {
		t.Fatal("the job has no reading at that corner")
	}
	// heights: rises and totals hold a tread, widths do not
	for _, id := range HeldBy(a, ID{Kind: TreadHeight, Step: 6}) {
		r, _, _ := a.Job.Reading(id)
		switch r.Kind {
		case model.RiseLeft, model.RiseRight:
		default:
			t.Errorf("tread height held by the %s", r.Kind.Words())
		}
	}
	// what is set aside holds nothing
	ids := HeldBy(a, ID{Kind: TreadHeight, Step: 6})
	if len(ids) == 0 {
		t.Fatal("nothing holds the tread, though its rises are read")
	}
	job, err := model.SetAside{IDs: ids, Aside: true}.Apply(a.Job)
	if err != nil {
		t.Fatal(err)
	}
	if left := HeldBy(solved(t, job), ID{Kind: TreadHeight, Step: 6}); len(left) > 0 {
		t.Errorf("still held by %v", left)
	}
}

func TestLettered(t *testing.T) {
	for in, want := range map[string]string{
		`36 5/16"`: "36\u202f5⁄16″", `5/8"`: "5⁄8″", `3' 0 5/16"`: "3′ 0\u202f5⁄16″",
		"918.5 mm": "918.5\u202fmm", "±1/32\"": "±1⁄32″", "": "",
	} {
		if got := Lettered(in); got != want {
			t.Errorf("Lettered(%q) = %q, want %q", in, got, want)
		}
	}
}

// TestShownFive: an opening 900 by 280 whose front edge rises by 10 to the
// right. Its nominal front lies at 5, so the corners are 5 off it, and shown
// 25 off it at ×5. The sides and the back are true and stay.
func TestShownFive(t *testing.T) {
	s := survey.Step{Corners: []mgl64.Vec2{{0, 0}, {900, 10}, {900, 280}, {0, 280}}, FR: 1, BR: 2, BL: 3}
	o := Options{Exaggerate: 5}
	want := []mgl64.Vec2{{0, -20}, {900, 30}, {900, 280}, {0, 280}}
	for c, got := range o.Shown(nil, &s) {
		if got.Sub(want[c]).Len() > 1e-9 {
			t.Errorf("corner %d is shown at %v, want %v", c, got, want[c])
		}
	}
	// a winder is tapered by design and is never exaggerated
	s.Corners[1] = mgl64.Vec2{900, 230}
	for c, got := range o.Shown(nil, &s) {
		if got != s.Corners[c] {
			t.Errorf("corner %d of a winder is shown at %v, is at %v", c, got, s.Corners[c])
		}
	}
}
