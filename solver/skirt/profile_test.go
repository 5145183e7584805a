package skirt_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/skirt"
)

func TestProfiles(t *testing.T) {
	for _, thickness := range []float64{19.05, 20, 27} {
		for _, s := range skirt.Shapes() {
			p := skirt.Profile{Shape: s}
			if why := p.Validate(thickness); why != "" {
				t.Errorf("%s: %s", s, why)
			}
			o := p.Outline(thickness)
			if d := math.Abs(o[0][1] - thickness); d > 1e-9 {
				t.Errorf("%s begins %g off the underside", s, d)
			}
			if d := math.Abs(o[len(o)-1][1]); d > 1e-9 {
				t.Errorf("%s ends %g off the face", s, d)
			}
			front := math.Inf(1)
			for i, q := range o {
				front = math.Min(front, q[0])
				// only taken away from the square edge
				if q[0] < -1e-9 || q[1] < -1e-9 || q[1] > thickness+1e-9 {
					t.Errorf("%s: %v lies outside the board", s, q)
				}
				if i > 0 && q[1] > o[i-1][1]+1e-9 {
					t.Errorf("%s: turns down at %v", s, q)
				}
			}
			if math.Abs(front) > 1e-9 {
				t.Errorf("%s does not reach the nose line: %g", s, front)
			}
		}
	}
	// a half-round of 20 keeps 10 mm from its centre, within the chord error
	for _, q := range (skirt.Profile{Shape: skirt.HalfRound}).Outline(20) {
		if d := q.Sub(mgl64.Vec2{10, 10}).Len(); math.Abs(d-10) > 1e-9 {
			t.Errorf("half-round: a point %g from the centre", d)
		}
	}
}

func TestProfileFaults(t *testing.T) {
	good := []mgl64.Vec2{{8, 20}, {0, 12}, {0, 8}, {8, 0}}
	for name, c := range map[string]struct {
		p    skirt.Profile
		want bool
	}{
		"traced":         {skirt.Profile{Shape: skirt.Traced, Points: good}, true},
		"two points":     {skirt.Profile{Shape: skirt.Traced, Points: good[:2]}, false},
		"too short":      {skirt.Profile{Shape: skirt.Traced, Points: good[:3]}, false},
		"off the line":   {skirt.Profile{Shape: skirt.Traced, Points: []mgl64.Vec2{{8, 20}, {2, 10}, {8, 0}}}, false},
		"crosses itself": {skirt.Profile{Shape: skirt.Traced, Points: []mgl64.Vec2{{8, 20}, {0, 12}, {6, 12}, {0, 14}, {8, 0}}}, false},
		"not a number":   {skirt.Profile{Shape: skirt.Traced, Points: []mgl64.Vec2{{8, 20}, {math.NaN(), 10}, {8, 0}}}, false},
		"no shape":       {skirt.Profile{Shape: "wavy"}, false},
		"negative":       {skirt.Profile{Shape: skirt.Eased, Size: -1}, false},
	} {
		if why := c.p.Validate(20); (why == "") != c.want {
			t.Errorf("%s: %q", name, why)
		}
	}
}

// TestTracedRadius traces a quarter circle by hand, with pencil wobble, and a
// bevel: the radius comes back.
func TestTracedRadius(t *testing.T) {
	var ps []mgl64.Vec2
	ps = append(ps, mgl64.Vec2{0.1, 20})
	for i := range 13 {
		a := math.Pi + math.Pi/2*float64(i)/12
		r := 12 + 0.05*math.Sin(float64(5*i))
		ps = append(ps, mgl64.Vec2{12 + r*math.Cos(a), 12 + r*math.Sin(a)})
	}
	e := skirt.Profile{Shape: skirt.Traced, Points: ps}.Edge(20)
	if math.Abs(e.Radius-12) > 0.3 || e.Rough > 0.2 || e.Bevel != 0 {
		t.Errorf("traced radius 12: %+v", e)
	}
	e = skirt.Profile{Shape: skirt.Traced, Points: []mgl64.Vec2{{0, 20}, {0, 8}, {4, 4}, {8, 0}}}.Edge(20)
	if math.Abs(e.Bevel-8) > 1e-9 || e.Radius != 0 {
		t.Errorf("traced bevel 8: %+v", e)
	}
}

// TestNosingLimits holds the two published limits on a nosing of the US model
// code, R311.7.5.3: radius of curvature at most 9/16 in (14.3 mm), bevel at most
// 1/2 in (12.7 mm); a transcription, so Outside and no more.
func TestNosingLimits(t *testing.T) {
	table := model.RuleTable{Limits: []model.Limit{
		{ID: "irc.nosing.radius", Op: "max", Hi: 0.5625, Unit: "in", Section: "R311.7.5.3", Standing: model.Transcription},
		{ID: "irc.nosing.bevel", Op: "max", Hi: 0.5, Unit: "in", Section: "R311.7.5.3", Standing: model.Transcription},
		{ID: "x.nosing.edge", Op: "range", Lo: 0.0625, Hi: 0.5625, Unit: "in", Standing: model.Memory, Classes: []string{"public"}},
	}}
	for name, c := range map[string]struct {
		p         skirt.Profile
		thickness float64
		class     string
		want      int
		severity  model.Severity
	}{
		"half-round of 28 mm: 14.0":          {skirt.Profile{Shape: skirt.HalfRound}, 28, "private", 0, 0},
		"half-round of 29 mm: 14.5":          {skirt.Profile{Shape: skirt.HalfRound}, 29, "private", 1, model.Outside},
		"bevel of 12.7":                      {skirt.Profile{Shape: skirt.Bevelled, Size: 12.7}, 20, "private", 0, 0},
		"bevel of 13":                        {skirt.Profile{Shape: skirt.Bevelled, Size: 13}, 20, "private", 1, model.Outside},
		"square, where an edge is asked for": {skirt.Profile{}, 20, "public", 1, model.Advice},
		"eased by 1 mm, 1.6 asked for":       {skirt.Profile{Shape: skirt.Eased, Size: 1}, 20, "public", 1, model.Advice},
		"no profile":                         {skirt.Profile{Shape: "wavy"}, 20, "private", 1, model.Block},
	} {
		got := skirt.CheckProfile(c.p, c.thickness, table, c.class)
		if len(got) != c.want || c.want > 0 && got[0].Severity != c.severity {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
