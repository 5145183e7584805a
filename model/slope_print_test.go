package model_test

import (
	"math"
	"testing"

	"risewright/model"
)

// TestSlopesAreReadInTheJobsUnits: millimetres to the metre, or inches to the
// foot, and what is shown reads back to the same text.
func TestSlopesAreReadInTheJobsUnits(t *testing.T) {
	metric, imperial := model.Format{Units: model.Metric}, model.Format{Units: model.Imperial}
	for _, row := range []struct {
		rise             float64 // over a run of 1
		metric, imperial string
	}{
		{1.0 / 96, "10.4 mm/m", "1/8 in/ft"}, {-1.0 / 96, "-10.4 mm/m", "-1/8 in/ft"}, {1.0 / 48, "20.8 mm/m", "1/4 in/ft"},
		{0, "0.0 mm/m", "0 in/ft"}, {0.002, "2.0 mm/m", "1/32 in/ft"}, {1, "1000.0 mm/m", "12 in/ft"}, {2, "63.4°", "63.4°"},
		{math.NaN(), "?", "?"},
	} {
		a := model.Angle(math.Atan(row.rise))
		for _, c := range []struct {
			f    model.Format
			want string
		}{{metric, row.metric}, {imperial, row.imperial}} {
			got := c.f.Slope(a)
			if got != c.want {
				t.Errorf("%v in %s is %q, not %q", row.rise, c.f.Units, got, c.want)
			}
			if !(math.Abs(row.rise) <= 1) {
				continue
			}
			if back, err := model.ParseSlope(got); err != nil || c.f.Slope(back) != got {
				t.Errorf("%q reads back as %v, %v", got, back, err)
			}
		}
	}
	// A band is never nothing, and never less than it is.
	for _, rise := range []float64{0.0001, 0.0005, 0.001, 0.005, 0.05} {
		got := imperial.SlopePlusMinus(model.Angle(math.Atan(rise)))
		back, err := model.ParseSlope(got[len("±"):])
		if err != nil || math.Tan(float64(back)) < rise-1e-9 {
			t.Errorf("±%v is shown as %s, %v", rise, got, err)
		}
	}
	if got := metric.SlopePlusMinus(model.Angle(-math.Atan(0.0005))); got != "±0.5 mm/m" {
		t.Errorf("metric: %s", got)
	}
}
