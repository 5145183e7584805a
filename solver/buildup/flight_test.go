package buildup_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/survey"
)

const inch = 25.4

// flight is a straight flight in a few numbers, all in mm.
type flight struct {
	risers                int
	rise, going           float64
	tread, riser          float64
	landing               float64
	overhang, oldOverhang float64
	bottom, top           float64 // floor build-ups
}

// job draws the flight with the overlay over it.
func (f flight) job() model.Job {
	base := model.Job{Units: model.Metric, Tolerance: 0.8, SketchSpread: 25}
	base.Existing = model.Existing{Tread: 25, Riser: 18, Overhang: model.Length(f.oldOverhang)}
	base.Overlay = model.Overlay{
		Tread: model.Length(f.tread), Riser: model.Length(f.riser), Landing: model.Length(f.landing), LandingDepth: 90,
		Overhang: model.Length(f.overhang), RiserGap: 1, Back: model.BackUnderRiser,
		FloorBottom: model.Length(f.bottom), FloorTop: model.Length(f.top),
	}
	return model.Sketch(model.SketchSpec{
		Risers: f.risers, Width: 914, Rise: model.Length(f.rise), Going: model.Length(f.going), Base: base,
		IDs: func(i int) model.ID { return model.NamedID(model.ID{}, fmt.Sprintf("step %d", i+1)) },
	})
}

// exactly returns the survey that has every corner and height of the job's
// sketch, each with the same independent spread.
func exactly(j model.Job, spread float64) *survey.Result {
	r := &survey.Result{Status: survey.Converged}
	for _, s := range j.Flight.Steps {
		t := survey.Step{
			FL: s.FrontLeft(), FR: s.FrontRight(), BR: s.BackRight(), BL: s.BackLeft(),
			TopLeft: float64(s.TopLeft), TopRight: float64(s.TopRight), Fall: math.Tan(float64(s.Fall)),
			Lean: [2]float64{float64(s.Left.Lean), float64(s.Right.Lean)},
		}
		for _, c := range s.Corners {
			t.Corners = append(t.Corners, mgl64.Vec2{float64(c.X), float64(c.Y)})
		}
		_, _, fall, _, _, n := survey.Unknowns(len(t.Corners))
		t.Cov = make([]float64, n*n)
		for i := 0; i < n; i++ {
			v := spread * spread
			if i >= fall { // slopes and leans
				v *= 1e-6
			}
			t.Cov[i*n+i] = v
		}
		if k := len(r.Steps); k > 0 {
			_, _, _, _, _, m := survey.Unknowns(len(r.Steps[k-1].Corners))
			t.Cross = make([]float64, n*m)
		}
		r.Steps = append(r.Steps, t)
	}
	return r
}

// uneven returns a flight with every height and corner moved at random.
func uneven(rng *rand.Rand, risers int, by float64) model.Job {
	f := flight{
		risers: risers, rise: 170 + 40*rng.Float64(), going: 230 + 60*rng.Float64(),
		tread: 6 + 20*rng.Float64(), riser: 6 + 12*rng.Float64(), landing: 20, overhang: 19 + 12*rng.Float64(),
		oldOverhang: 30 * rng.Float64(), bottom: 20 * rng.Float64(), top: 20 * rng.Float64(),
	}
	j := f.job()
	off := func() model.Length { return model.Length(by * rng.NormFloat64()) }
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.TopLeft += off()
		s.TopRight += off()
		s.Fall = model.Angle(0.01 * rng.NormFloat64())
		for c := range s.Corners {
			s.Corners[c].X += off()
			s.Corners[c].Y += off()
		}
	}
	return j
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// rounding is what float64 leaves of sums of a few coordinates up to 1e5 mm,
// spaced 1.5e-11.
const rounding = 1e-9

func compute(j model.Job) buildup.Result { return buildup.Compute(j, exactly(j, 0)) }

// seeded prints how to run a failing random test again.
func seeded(t *testing.T, seed uint64) *rand.Rand {
	t.Helper()
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("seed %d; run again with: go test ./solver/buildup -run '^%s$'", seed, t.Name())
		}
	})
	return rand.New(rand.NewPCG(seed, 0))
}
