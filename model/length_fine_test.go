package model_test

import (
	"testing"

	"risewright/model"
)

func TestGapsAreReadOffAFeelerOrATape(t *testing.T) {
	imperial := model.Format{Units: model.Imperial, Fraction: 32}
	metric := model.Format{Units: model.Metric}
	for _, c := range []struct {
		f         model.Format
		l         model.Length
		gap, fine string
	}{
		{imperial, 0.3048, "0.012 in", "0.012 in"},
		{imperial, model.Inch / 16, "0.062 in", "0.062 in"},
		{imperial, 24.2, `15/16"`, "0.953 in"},
		{metric, 0.31, "0.3 mm", "0.3 mm"},
		{metric, 24.2, "24.0 mm", "24.2 mm"},
	} {
		if got := c.f.Gap(c.l); got != c.gap {
			t.Errorf("a gap of %v is %q, not %q", float64(c.l), got, c.gap)
		}
		if got := c.f.Fine(c.l); got != c.fine {
			t.Errorf("%v is %q, not %q", float64(c.l), got, c.fine)
		}
	}
}
