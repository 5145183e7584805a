package rules

import (
	"math"

	"risewright/model"
	"risewright/solver/buildup"
)

// measure is a quantity of the flight that a row can be held against.
type measure int

// The measures, in the order of measureNames.
const (
	rise measure = iota
	riseSpread
	riseAdjacent
	going
	goingSpread
	goingAdjacent
	nosing
	nosingSpread
	headroom
	railHeight
	twoRisePlusGoing
	pitch
	treadSlope
	widthClear
	flightRise
	flightRisers
	winderWalkline
	winderNarrow
	winderSpread
	landingDepth
	walklinePlace // says where winders are measured; nothing is held against it
	measures      // how many there are
)

// measureNames are the words a rule table uses.
var measureNames = [measures]string{
	"rise", "rise_spread", "rise_adjacent", "going", "going_spread", "going_adjacent",
	"nosing", "nosing_spread", "headroom", "rail_height", "two_rise_plus_going",
	"pitch", "tread_slope", "width_clear", "flight_rise", "flight_risers",
	"winder_walkline", "winder_narrow", "winder_spread", "landing_depth", "walkline",
}

// Measures returns the names of the measures that are tested. A table may name
// no others.
func Measures() []string { return append([]string(nil), measureNames[:]...) }

func measureOf(name string) (measure, bool) {
	for i, n := range measureNames {
		if n == name {
			return measure(i), true
		}
	}
	return 0, false
}

// each calls use with every place of measure m.
func (c *checker) each(m measure, use func(sample)) {
	b := c.b
	one := func(step int, side buildup.Side, v buildup.Value) {
		use(sample{step: step, side: side, at: v.At, band: v.Band()})
	}
	both := func(step int, s buildup.Sides) {
		one(step, buildup.Left, s.Left)
		one(step, buildup.Right, s.Right)
	}
	switch m {
	case rise:
		for i := range b.Steps {
			both(i+1, b.Steps[i].RiseAfter)
		}
	case going:
		for i := range b.Steps {
			s := &b.Steps[i]
			switch {
			case !s.HasGoing:
			case s.Tapered && c.ownWinders: // the code has a row for them
			case s.Tapered && b.Steps[i-1].Winder != nil:
				g, _ := c.walk.going(b.Steps[i-1].Winder)
				one(i+1, buildup.Middle, g)
			default:
				both(i+1, s.GoingAfter)
			}
		}
	case nosing:
		// Set out from the riser by the same block at every step.
		for i := range b.Steps {
			use(sample{step: i + 1, at: b.Steps[i].Nosing})
		}
	case riseSpread:
		spread(b.RiseAfter, use)
	case goingSpread:
		spread(b.GoingAfter, use)
	case nosingSpread:
		spread(b.Nosing, use)
	case riseAdjacent:
		adjacent(b.RiseAfter, use)
	case goingAdjacent:
		adjacent(b.GoingAfter, use)
	case headroom, railHeight:
		hs := b.Headroom
		if m == railHeight {
			hs = b.Rail
		}
		for i, h := range hs {
			use(sample{step: h.Step, at: h.After.At, band: h.After.Band(), index: i})
		}
	case twoRisePlusGoing:
		if len(b.Steps) < 2 {
			return
		}
		for i := range b.Steps {
			if b.GoingAt(i+1) > 0 {
				one(i+1, buildup.Middle, b.Steps[i].TwoRisePlusGoing)
			}
		}
	case pitch:
		for i := range b.Runs {
			if p := b.Runs[i].Pitch; p.At > 0 {
				use(sample{at: p.At, band: p.Band(), index: i})
			}
		}
	case treadSlope:
		for i := range b.Steps {
			one(i+1, buildup.Middle, b.Steps[i].Slope)
		}
	case widthClear:
		for i := range b.Steps {
			one(i+1, buildup.Middle, b.Steps[i].Width)
		}
	case flightRise:
		for i := range b.Runs {
			r := &b.Runs[i]
			use(sample{at: r.Rise.At, band: r.Rise.Band(), index: i})
		}
	case flightRisers:
		for i := range b.Runs {
			use(sample{at: float64(b.Runs[i].Risers()), index: i})
		}
	case winderWalkline:
		c.eachWinder(func(k int, w *buildup.Winder) {
			g, _ := c.walk.going(w)
			one(k, buildup.Middle, g)
		})
	case winderNarrow:
		c.eachWinder(func(k int, w *buildup.Winder) { one(k, buildup.Middle, w.Narrow()) })
	case winderSpread:
		c.winderSpread(use)
	case landingDepth:
		for i := range b.Steps {
			if l := b.Steps[i].Landing; l != nil {
				one(i+1, buildup.Middle, l.Depth)
			}
		}
	}
}

func spread(u buildup.Uniformity, use func(sample)) {
	if u.Count > 1 {
		use(sample{step: u.Largest.Step, side: u.Largest.Side, at: u.Spread.At, band: u.Spread.Band()})
	}
}

func adjacent(u buildup.Uniformity, use func(sample)) {
	if u.AdjacentStep > 0 {
		use(sample{step: u.AdjacentStep, side: u.AdjacentSide, at: u.Adjacent.At, band: u.Adjacent.Band()})
	}
}

// place returns where a click on the finding leads.
func (c *checker) place(m measure, s sample) model.Place {
	p := model.Place{Step: s.step}
	right := s.side == buildup.Right
	pick := func(l, r model.Kind) {
		p.Kind = l
		if right {
			p.Kind = r
		}
	}
	switch m {
	case rise, riseSpread, riseAdjacent:
		pick(model.RiseLeft, model.RiseRight)
		p.Field = c.riseField(s.step)
	case going, goingSpread, goingAdjacent, twoRisePlusGoing:
		pick(model.GoingLeft, model.GoingRight)
	case nosing, nosingSpread:
		p.Field = "overlay.overhang"
	case headroom:
		p.Field = "flight.headroom"
	case railHeight:
		p.Field = "flight.rail"
	case treadSlope:
		p.Kind = model.TiltFore
		t := &c.b.Steps[s.step-1]
		if math.Abs(t.Fall.At) < t.Slope.At*math.Sqrt2/2 { // the tilt across is the steeper part
			p.Kind = model.TiltAcross
		}
	case widthClear:
		p.Kind = model.FrontWidth
	case winderWalkline, winderNarrow, winderSpread:
		p.Kind = model.FrontWidth
	case landingDepth:
		p.Kind = model.RightDepth
	case flightRise:
		p.Kind = model.TotalRise
	case pitch:
		p.Kind = model.TotalGoing
	case flightRisers:
		p.Field = "flight.steps"
	}
	return p
}

// riseField returns the field of the job that most directly moves riser k.
func (c *checker) riseField(k int) string {
	switch k {
	case 1:
		return "overlay.floor_bottom"
	case len(c.b.Steps):
		return "overlay.floor_top"
	}
	return "steps.pack"
}
