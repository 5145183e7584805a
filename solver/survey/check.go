package survey

import (
	"math"
)

const (
	// falseAlarm is the chance that a flight without a blunder is accused.
	falseAlarm = 0.01
	// power is the normal quantile for finding a blunder with 80 % certainty.
	power = 0.8416
	// unchecked is the redundancy below which a reading counts as checked by
	// nothing: its residual is then rounding, a ten-thousandth of its spread.
	unchecked = 1e-8
)

// critical returns the size a normalised residual must exceed among m
// readings, so that the largest of m exceeds it by chance once in a hundred
// flights (Bonferroni).
func critical(m int) float64 {
	if m == 0 {
		return math.Inf(1)
	}
	return math.Sqrt2 * math.Erfinv(1-falseAlarm/float64(m))
}

// checks returns the verdict on every reading at a solution.
func (p *problem) checks(sol *solution, set settings) []Check {
	out := make([]Check, len(p.readings))
	left := make(map[int]bool, len(set.without))
	for _, i := range set.without {
		left[i] = true
	}
	used := 0
	for i := range p.readings {
		if p.readings[i].used && !left[i] {
			used++
		}
	}
	limit := critical(used)
	flight := 0
	var r row
	for i := range p.readings {
		t := &p.readings[i]
		c := &out[i]
		*c = Check{
			Reading: t.reading.ID, Step: t.step, Kind: t.reading.Kind,
			Used: t.used && !left[i], Value: t.reading.Value, Spread: t.spread, Smallest: math.Inf(1),
		}
		if !observe(&r, p.sites, t.step, t.kindOf(set), sol.x) {
			c.Used = false
			continue
		}
		c.Adjusted = r.predicted
		c.Residual = c.Value - c.Adjusted
		if !c.Used {
			continue
		}
		if t.step < 0 {
			c.Redundancy = 1 - sol.farVariance(flight, t.spread)/(t.spread*t.spread)
			flight++
		} else {
			c.Redundancy = 1 - sol.covarianceOf(&r, &r)/(t.spread*t.spread)
		}
		if c.Redundancy < unchecked {
			c.Redundancy = 0
			continue
		}
		c.Redundancy = math.Min(c.Redundancy, 1)
		own := t.spread * math.Sqrt(c.Redundancy)
		c.Normal = c.Residual / own
		c.Smallest = (limit + power) * t.spread / math.Sqrt(c.Redundancy)
	}
	return out
}

// worst returns the place of the largest normalised residual, or -1.
func worst(cs []Check) int {
	at, size := -1, 0.0
	for i := range cs {
		if a := math.Abs(cs[i].Normal); cs[i].Used && a > size {
			at, size = i, a
		}
	}
	return at
}

// withoutAccused returns the verdicts at a solution that leaves the accused
// readings out. An accused reading is held against what the others give: by the
// algebra of least squares that difference is its own residual over its
// redundancy, so its normalised residual needs nothing that was not known.
func (p *problem) withoutAccused(with []Check, rest *solution, set settings) []Check {
	out := p.checks(rest, set)
	for _, i := range set.without {
		c := &out[i]
		c.Used, c.Accused = true, true
		c.Redundancy, c.Smallest = with[i].Redundancy, with[i].Smallest
		c.Normal = c.Residual * math.Sqrt(c.Redundancy) / c.Spread
	}
	return out
}
