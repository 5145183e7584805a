package rules_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/rules"
	"risewright/solver/survey"
)

const inch = 25.4

// table reads a rule table as the program ships it.
func table(t testing.TB, id string) model.RuleTable {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "assets", "rules", id+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var out model.RuleTable
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	if len(out.Limits) == 0 {
		t.Fatalf("%s has no limits", id)
	}
	var waived struct {
		Limits []struct {
			ExemptGoing float64 `json:"exempt_going"`
		}
	}
	if err := json.Unmarshal(text, &waived); err != nil {
		t.Fatal(err)
	}
	for i := range waived.Limits {
		out.Limits[i].ExemptGoing = waived.Limits[i].ExemptGoing
	}
	return out
}

// plain is a flight that no code and no practice finds fault with: both floors
// rise by the treads' 20 mm. change may spoil it.
func plain(risers int, rise, going float64, change func(*model.Job)) model.Job {
	base := model.Job{Units: model.Metric, Tolerance: 0.8, SketchSpread: 25, Code: "irc"}
	base.Existing = model.Existing{Tread: 25, Riser: 18, Overhang: 25}
	base.Overlay = model.Overlay{
		Tread: 20, Riser: 18, Landing: 20, LandingDepth: 90, Overhang: 25, RiserGap: 1,
		Back: model.BackUnderRiser, FloorBottom: 20, FloorTop: 20,
	}
	j := model.Sketch(model.SketchSpec{
		Risers: risers, Width: 1200, Rise: model.Length(rise), Going: model.Length(going), Base: base,
		IDs: func(i int) model.ID { return model.NamedID(model.ID{}, fmt.Sprintf("step %d", i+1)) },
	})
	if change != nil {
		change(&j)
	}
	return j
}

// surveyed returns the survey that has the sketch's corners and heights, with
// independent spreads of the heights and of the corners.
func surveyed(j model.Job, heights, corners float64) *survey.Result {
	r := &survey.Result{Status: survey.Converged}
	for _, s := range j.Flight.Steps {
		t := survey.Step{
			FL: s.FrontLeft(), FR: s.FrontRight(), BR: s.BackRight(), BL: s.BackLeft(),
			TopLeft: float64(s.TopLeft), TopRight: float64(s.TopRight), Fall: math.Tan(float64(s.Fall)),
		}
		for _, c := range s.Corners {
			t.Corners = append(t.Corners, mgl64.Vec2{float64(c.X), float64(c.Y)})
		}
		l, right, _, _, _, n := survey.Unknowns(len(t.Corners))
		t.Cov = make([]float64, n*n)
		for i := 0; i < l; i++ {
			t.Cov[i*n+i] = corners * corners
		}
		t.Cov[l*n+l], t.Cov[right*n+right] = heights*heights, heights*heights
		if k := len(r.Steps); k > 0 {
			_, _, _, _, _, m := survey.Unknowns(len(r.Steps[k-1].Corners))
			t.Cross = make([]float64, n*m)
		}
		r.Steps = append(r.Steps, t)
	}
	return r
}

// check returns the findings on an exactly known flight.
func check(j model.Job, t model.RuleTable) []model.Finding {
	b := buildup.Compute(j, surveyed(j, 0, 0))
	return rules.Check(j, &b, t)
}

func byRule(fs []model.Finding) map[string]model.Finding {
	out := map[string]model.Finding{}
	for _, f := range fs {
		out[f.Rule] = f
	}
	return out
}
