package rules

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver/buildup"
)

// Where the walking line of a winder lies when the table has no row for it.
const (
	// dwellingWalkline is 12 in from the narrow side, as the codes of the United
	// States have it; from memory.
	dwellingWalkline = 12 * float64(model.Inch)
	// narrowFlight, middleOffset: Approved Document K measures in the middle of a
	// flight narrower than 1 m, else 270 mm from each side (1998 edition, as
	// seen; the row adk.taper.measure says so in words).
	narrowFlight = 1000.0
	middleOffset = 270.0
	// winderAlike is how far the goings of the winders of a flight may differ
	// where the code has no figure. Common practice, no source.
	winderAlike = 10.0
)

// walkline is where the code measures winders.
type walkline struct {
	offset   float64 // from the inner side; 0: by the width of the flight
	middle   bool    // always in the middle
	width    float64 // of the flight, where it is narrowest
	source   string  // and how far that can be trusted
	standing model.Standing
}

// walklineOf returns where the table measures winders.
func walklineOf(t *model.RuleTable, class string) walkline {
	for i := range t.Limits {
		l := &t.Limits[i]
		if !l.AppliesTo(class) {
			continue
		}
		unit, ok := unitOf(l.Unit)
		if ok && l.Measure == measureNames[walklinePlace] && l.Op == "eq" {
			w := walkline{offset: l.Lo * unit, standing: l.Standing,
				source: fmt.Sprintf("Where it lies: section %s, %s", l.Section, StandingWords(l.Standing))}
			if l.ID == "nbc.taper.measure" {
				w.source += "; it counts from the inside handrail, of which only the side is known here"
			}
			return w
		}
		if l.ID == "adk.taper.measure" {
			return walkline{standing: l.Standing, source: fmt.Sprintf("Where it lies: section %s, %s", l.Section, StandingWords(l.Standing))}
		}
	}
	if t.ID == "ibc" {
		return walkline{offset: dwellingWalkline, standing: model.Memory,
			source: "Where it lies: " + StandingWords(model.Memory)}
	}
	return walkline{middle: true, standing: model.Memory, source: "The chosen code does not say where, as far as is known here"}
}

// lines returns the lines along which a winder is measured.
func (k *walkline) lines(w *buildup.Winder) []buildup.Walkline {
	switch {
	case k.offset > 0 && k.offset < w.Width():
		return []buildup.Walkline{{Offset: k.offset}}
	case k.offset > 0 || k.middle || k.width < narrowFlight:
		// the nose lines of a kite run on into its corner; the middle is that
		// of the flight
		return []buildup.Walkline{{Offset: math.Min(k.width, w.Width()) / 2}}
	}
	return []buildup.Walkline{{Offset: middleOffset}, {Offset: middleOffset, From: buildup.FromOuter}}
}

// middleOf says whether a line is the middle of the flight.
func (k *walkline) middleOf(l buildup.Walkline) bool {
	return l.From == buildup.FromInner && l.Offset != k.offset && l.Offset != middleOffset
}

// going returns the going of a winder that counts: along the line where it is
// least.
func (k *walkline) going(w *buildup.Winder) (buildup.Value, buildup.Walkline) {
	var least buildup.Value
	var at buildup.Walkline
	for n, l := range k.lines(w) {
		if g := w.Going(l); n == 0 || g.At < least.At {
			least, at = g, l
		}
	}
	return least, at
}

// where words the line that a winder was measured along.
func (c *checker) where(l buildup.Walkline) string {
	switch l.From {
	case buildup.AtMiddle:
		return "in the middle of its width"
	case buildup.FromOuter:
		return c.fine(l.Offset) + " from the wide side"
	}
	if c.walk.middleOf(l) {
		return "in the middle of the flight, " + c.fine(l.Offset) + " from the narrow side"
	}
	return c.fine(l.Offset) + " from the narrow side"
}

// eachWinder calls use for every winder, with its tread's number.
func (c *checker) eachWinder(use func(tread int, w *buildup.Winder)) {
	for i := range c.b.Steps {
		if w := c.b.Steps[i].Winder; w != nil {
			use(i+1, w)
		}
	}
}

// winderExtremes returns the largest and the smallest going of the winders of
// the run where they differ most, and the number of winders there.
func (c *checker) winderExtremes() (large, small sample, n int) {
	worst := -1.0
	for r := range c.b.Runs {
		var hi, lo sample
		count := 0
		c.eachWinder(func(tread int, w *buildup.Winder) {
			if c.b.RunOf(tread) != r {
				return
			}
			g, _ := c.walk.going(w)
			s := sample{step: tread, at: g.At, band: g.Band()}
			if count == 0 || s.at > hi.at {
				hi = s
			}
			if count == 0 || s.at < lo.at {
				lo = s
			}
			count++
		})
		if count > 1 && hi.at-lo.at > worst {
			worst, large, small, n = hi.at-lo.at, hi, lo, count
		}
	}
	return large, small, n
}

// winderSpread calls use with the difference of the winders of a flight.
func (c *checker) winderSpread(use func(sample)) {
	large, small, n := c.winderExtremes()
	if n < 2 {
		return
	}
	// Neighbours share a nose line, which this takes for two.
	use(sample{step: large.step, at: large.at - small.at, band: math.Hypot(large.band, small.band)})
}

// winderArithmetic shows how the going of a winder came about.
func (c *checker) winderArithmetic(m measure, k int) string {
	w := c.b.Steps[k-1].Winder
	if m == winderNarrow {
		return fmt.Sprintf("From new nose line %d to new nose line %d at the %s end.", k, k+1, w.Inner)
	}
	g, l := c.walk.going(w)
	return fmt.Sprintf("From new nose line %d to new nose line %d, %s: %s. %s.", k, k+1, c.where(l), c.fine(g.At), c.walk.source)
}

// rests says whether a measure rests on where the walking line lies.
func (m measure) rests() bool { return m == winderWalkline || m == winderSpread }

// winders compares winders with each other where the code has no figure.
func (c *checker) winders() {
	if c.tested[winderSpread] {
		return
	}
	large, small, n := c.winderExtremes()
	if n < 2 || large.at-small.at <= winderAlike+slack {
		return
	}
	c.advise("winders", model.Place{Step: small.step},
		fmt.Sprintf("the goings of winders %d and %d differ by %s", large.step, small.step, c.length(large.at-small.at)),
		fmt.Sprintf("%s and %s. %s. A foot expects the same from winders that follow each other.",
			c.winderArithmetic(winderWalkline, large.step), c.winderArithmetic(winderWalkline, small.step), c.walk.source),
		"set the nose lines of the turn out again")
}

// landings says which landings are narrower than a flight they serve.
func (c *checker) landings() {
	for i := range c.b.Steps {
		l := c.b.Steps[i].Landing
		if l == nil || l.Width >= l.Served-1 { // a millimetre is out of square, no fault of the landing
			continue
		}
		c.advise("landing_width", model.Place{Step: i + 1},
			fmt.Sprintf("the landing at step %d is %s wide and the flight it serves %s", i+1, c.length(l.Width), c.length(l.Served)),
			"Codes ask for a landing no narrower than its flights.", "see what stands in its width, and ask the local official")
	}
}
