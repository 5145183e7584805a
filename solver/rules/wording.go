package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"risewright/model"
	"risewright/solver/buildup"
)

// StandingWords says how far a limit's value can be trusted, for people.
func StandingWords(s model.Standing) string {
	switch s {
	case model.Seen:
		return "read in a stored copy of the publication"
	case model.Transcription:
		return "read in a third party's copy of the text, not in the publication"
	case model.Secondary:
		return "read on a page that restates the publication"
	case model.Memory:
		return "from memory, not seen: advice only, look it up"
	case model.Yours:
		return "set by you"
	}
	return "of unknown standing: look it up"
}

// source says where a limit comes from, what it is worth and who decides.
func source(l *model.Limit) string {
	text := fmt.Sprintf("Limit: %s, section %s; %s.", l.Quantity, l.Section, StandingWords(l.Standing))
	if l.Note != "" {
		text += " Note: " + l.Note + "."
	}
	return text + " " + Deference
}

// bound names the end of a limit, so that a value from memory is never called
// published.
func bound(over bool, s model.Standing) string {
	end := "maximum"
	if !over {
		end = "minimum"
	}
	switch s {
	case model.Memory:
		return "the " + end + " from memory"
	case model.Yours:
		return "your " + end
	}
	return "the published " + end
}

// verb joins a subject to its figure.
func (m measure) verb() string {
	switch m {
	case riseSpread, goingSpread, nosingSpread, riseAdjacent, goingAdjacent, winderSpread:
		return "will differ by"
	case treadSlope:
		return "will slope"
	case flightRise:
		return "will rise"
	case flightRisers:
		return "has"
	}
	return "will be"
}

// remedy says what to try.
func (m measure) remedy() string {
	switch m {
	case rise, riseSpread, riseAdjacent, twoRisePlusGoing:
		return "raise a floor, choose another tread thickness, or pack or plane treads; the remedies listed with the build-up are worked out for this flight"
	case winderWalkline, winderNarrow, winderSpread:
		return "set the nose lines of the turn out again; check the readings first; what is too narrow as built stays so under boards"
	case landingDepth:
		return "the noses take room from a landing: see what the old one had, and ask the local official"
	case going, goingSpread, goingAdjacent:
		return "set the nose lines out again, or pack out risers; check the readings first"
	case nosing, nosingSpread:
		return "change the overhang, or set the nose line out again"
	case headroom:
		return "a thinner tread, or ask a builder about what hangs above; do not cut structure without advice"
	case railHeight:
		return "refix the rail at the right height above the new noses before anyone uses the stair"
	case pitch:
		return "the pitch is that of the flight; ask the local official what is allowed in an existing building"
	case treadSlope:
		return "pack the tread level before it is covered"
	case widthClear:
		return "check what stands between the sides at the height the code names"
	}
	return "ask the local official what is allowed in an existing building"
}

// subject names the place of a sample.
func (c *checker) subject(m measure, s sample) string {
	k := s.step
	switch m {
	case rise:
		return c.sided(fmt.Sprintf("riser %d", k), c.b.Steps[k-1].RiseAfter, s.side)
	case going:
		if s.side == buildup.Middle {
			return fmt.Sprintf("the going of step %d, %s,", k, c.tapers(k))
		}
		return c.sided(fmt.Sprintf("the going of step %d", k), c.b.Steps[k-1].GoingAfter, s.side)
	case riseSpread:
		return between("risers", c.b.RiseAfter)
	case goingSpread:
		return between("the goings of steps", c.b.GoingAfter)
	case nosingSpread:
		return between("the nosings of steps", c.b.Nosing)
	case riseAdjacent:
		return fmt.Sprintf("neighbouring risers %d and %d", k-1, k)
	case goingAdjacent:
		return fmt.Sprintf("the neighbouring goings of steps %d and %d", k-1, k)
	case nosing:
		return fmt.Sprintf("the nosing of step %d", k)
	case headroom:
		return fmt.Sprintf("the headroom above step %d", k)
	case railHeight:
		return fmt.Sprintf("the handrail above step %d", k)
	case twoRisePlusGoing:
		return fmt.Sprintf("twice the rise plus the going at riser %d", k)
	case pitch:
		if len(c.b.Runs) > 1 {
			r := &c.b.Runs[s.index]
			return fmt.Sprintf("the pitch of risers %d to %d", r.First, r.Last)
		}
		return "the pitch"
	case treadSlope:
		return "tread " + strconv.Itoa(k)
	case widthClear:
		return fmt.Sprintf("the clear width at step %d", k)
	case winderWalkline:
		return fmt.Sprintf("winder %d, at the walking line,", k)
	case winderNarrow:
		return fmt.Sprintf("winder %d, at its narrow end,", k)
	case winderSpread:
		large, small, _ := c.winderExtremes()
		return fmt.Sprintf("winders %d and %d, at the walking line,", large.step, small.step)
	case landingDepth:
		return fmt.Sprintf("the depth of the landing at step %d", k)
	case flightRise, flightRisers:
		if len(c.b.Runs) > 1 {
			r := &c.b.Runs[s.index]
			return fmt.Sprintf("the flight of risers %d to %d", r.First, r.Last)
		}
	}
	return "the flight"
}

// tapers words where the going of a tapered step k is measured.
func (c *checker) tapers(k int) string {
	if k > 1 && c.b.Steps[k-2].Winder != nil {
		if _, l := c.walk.going(c.b.Steps[k-2].Winder); !c.walk.middleOf(l) {
			return "at the walking line"
		}
	}
	return "at mid width"
}

// visibly is the difference of left and right from which the side is named.
const visibly = 0.5

func (c *checker) sided(name string, s buildup.Sides, side buildup.Side) string {
	if math.Abs(s.Left.At-s.Right.At) < visibly || side == buildup.Middle {
		return name
	}
	return name + " at the " + side.String()
}

func between(name string, u buildup.Uniformity) string {
	a, b := u.Largest, u.Smallest
	if a.Step == b.Step {
		one := map[string]string{"risers": "riser", "the goings of steps": "the going of step", "the nosings of steps": "the nosing of step"}[name]
		return fmt.Sprintf("the two sides of %s %d", one, a.Step)
	}
	return fmt.Sprintf("%s %d and %d", name, a.Step, b.Step)
}

// arithmetic shows how the figure came about.
func (c *checker) arithmetic(m measure, s sample) string {
	k := s.step
	switch m {
	case rise:
		return c.riseSum(k, s.side)
	case riseSpread:
		u := c.b.RiseAfter
		return fmt.Sprintf("%s %s", c.riseSum(u.Largest.Step, u.Largest.Side), c.riseSum(u.Smallest.Step, u.Smallest.Side))
	case riseAdjacent:
		return fmt.Sprintf("%s %s", c.riseSum(k-1, s.side), c.riseSum(k, s.side))
	case going:
		o := &c.b.Steps[k-1]
		if s.side == buildup.Middle && k > 1 && c.b.Steps[k-2].Winder != nil {
			return c.winderArithmetic(winderWalkline, k-1)
		}
		return fmt.Sprintf("From new nose line %d to new nose line %d %s; the old riser faces stand %s apart.",
			k-1, k, c.fine(o.GoingAfter.On(s.side).At), c.fine(o.GoingBefore.On(s.side).At))
	case goingSpread, nosingSpread:
		u := c.b.GoingAfter
		if m == nosingSpread {
			u = c.b.Nosing
		}
		return fmt.Sprintf("Largest at step %d %s: %s. Smallest at step %d %s: %s.",
			u.Largest.Step, u.Largest.Side, c.fine(u.Largest.Value.At),
			u.Smallest.Step, u.Smallest.Side, c.fine(u.Smallest.Value.At))
	case goingAdjacent:
		return fmt.Sprintf("Step %d %s: %s. Step %d: %s.", k-1, s.side, c.fine(c.b.Steps[k-2].GoingAfter.On(s.side).At),
			k, c.fine(c.b.Steps[k-1].GoingAfter.On(s.side).At))
	case nosing:
		return "The overhang of the overlay, from the new riser face to the new nose."
	case headroom, railHeight:
		h := c.b.Headroom
		if m == railHeight {
			h = c.b.Rail
		}
		x := h[s.index]
		return fmt.Sprintf("%s as it stands − %s the nose rises − %s for moving the nose line %s forward on this pitch = %s.",
			c.fine(x.Before.At), c.fine(x.Raised), c.fine(x.Advanced), c.fine(c.b.Steps[k-1].Forward), c.fine(x.After.At))
	case twoRisePlusGoing:
		g := c.b.GoingAt(k)
		return fmt.Sprintf("2 x %s + %s = %s.", c.fine(c.b.Steps[k-1].RiseAfter.Mean()),
			c.fine(c.b.Steps[g-1].GoingAfter.Mean()), c.fine(s.at))
	case pitch:
		if len(c.b.Runs) > 1 {
			return "The rises of this flight above its first, over its goings."
		}
		return fmt.Sprintf("Mean rise %s over mean going %s.", c.fine(c.b.MeanRise), c.fine(c.b.MeanGoing))
	case treadSlope:
		o := &c.b.Steps[k-1]
		return fmt.Sprintf("%s out of level across, and %s fore and aft.", c.fine(o.Across.At), c.figure(treadSlope, math.Abs(o.Fall.At)))
	case widthClear:
		return "The narrower of front and back, between the sides at the height of the new tread; what the code measures higher up is not known here."
	case winderWalkline, winderNarrow:
		return c.winderArithmetic(m, k)
	case winderSpread:
		large, small, _ := c.winderExtremes()
		return fmt.Sprintf("Winder %d: %s. Winder %d: %s. %s.", large.step, c.fine(large.at), small.step, c.fine(small.at), c.walk.source)
	case landingDepth:
		return "From its nose line to the far side, or from the next nose line back, whichever is less, at the height of the new finish."
	case flightRise:
		if len(c.b.Runs) > 1 {
			r := &c.b.Runs[s.index]
			return fmt.Sprintf("From %s to %s above the old bottom floor, finish to finish.", c.fine(r.Foot), c.fine(r.Foot+r.Rise.At))
		}
		return fmt.Sprintf("%s old floor to old floor − %s laid on the bottom floor + %s on the top floor = %s.",
			c.fine(c.b.FlightRiseBefore.At), c.fine(c.b.FloorBottom), c.fine(c.b.FloorTop), c.fine(c.b.FlightRise.At))
	}
	return "Counted from the bottom floor to the landing nosing."
}

// riseSum shows how riser k comes about at a side.
func (c *checker) riseSum(k int, side buildup.Side) string {
	o := &c.b.Steps[k-1]
	above := o.NewTop.On(side).At - o.OldTop.On(side).At
	below := c.b.FloorBottom
	if k > 1 {
		u := &c.b.Steps[k-2]
		below = u.NewTop.On(side).At - u.OldTop.On(side).At
	}
	// Rounded each by itself the four may not add up. What was measured gives
	// way, by at most three half steps of print: it is the least sure.
	after := c.rounded(o.RiseAfter.On(side).At)
	existing := after - c.rounded(above) + c.rounded(below)
	return fmt.Sprintf("Riser %d %s: %s existing + %s laid above − %s laid below = %s.",
		k, side, c.fine(existing), c.fine(above), c.fine(below), c.fine(after))
}

func (c *checker) length(v float64) string { return c.format.Length(model.Length(v)) }

// fine prints a length so closely that what is shown in a detail can be
// followed.
func (c *checker) fine(v float64) string { return c.fineFormat().Length(model.Length(v)) }

// rounded returns v as fine prints it.
func (c *checker) rounded(v float64) float64 { return float64(c.fineFormat().Round(model.Length(v))) }

func (c *checker) fineFormat() model.Format {
	f := c.format
	f.Fraction, f.Step = 64, 0.1
	return f
}

// figure prints a value of measure m.
func (c *checker) figure(m measure, v float64) string {
	return figure(c.format, m, v)
}

func figure(f model.Format, m measure, v float64) string {
	switch m {
	case pitch:
		return strconv.FormatFloat(v*180/math.Pi, 'f', 2, 64) + "°"
	case treadSlope:
		if v < 1e-4 { // flatter than 1 in 10,000 no level shows
			return "level"
		}
		return "1:" + strings.TrimSuffix(strconv.FormatFloat(1/v, 'f', 1, 64), ".0")
	case flightRisers:
		return model.Plural(int(math.Round(v)), "riser")
	}
	return f.Length(model.Length(v))
}

// amount prints how far a limit is exceeded, never rounded to nothing.
func (c *checker) amount(m measure, v float64) string {
	switch m {
	case pitch:
		return strconv.FormatFloat(v*180/math.Pi, 'g', 3, 64) + "°"
	case treadSlope:
		return strconv.FormatFloat(v*1000, 'g', 3, 64) + " mm in a metre"
	case flightRisers:
		return model.Plural(int(math.Round(v)), "riser")
	}
	if c.format.Round(model.Length(v)) != 0 {
		return c.length(v)
	}
	// less than half of what is shown: say it in the job's own unit all the same
	return strings.TrimPrefix(c.format.PlusMinus(model.Length(v)), "±")
}

// bandText prints the 95 % band of a figure.
func (c *checker) bandText(m measure, band float64) string {
	switch m {
	case pitch:
		return "±" + strconv.FormatFloat(math.Ceil(band*180/math.Pi*100)/100, 'f', 2, 64) + "°"
	case treadSlope:
		return "±" + strconv.FormatFloat(math.Ceil(band*10000)/10, 'f', 1, 64) + " mm in a metre"
	}
	return c.format.PlusMinus(model.Length(band))
}

// pair prints a figure and the end of the limit it is held against. The
// figure is printed finer when it would otherwise read the same as the limit.
func (c *checker) pair(m measure, l *model.Limit, v float64, over bool) (value, limit string) {
	at := l.Lo
	if over {
		at = l.Hi
	}
	unit, _ := unitOf(l.Unit)
	limit = c.limitText(m, l.Unit, at)
	value = c.figure(m, v)
	if m == pitch || m == treadSlope || m == flightRisers || value != c.figure(m, at*unit) {
		return value, limit
	}
	fine := c.format
	fine.Fraction, fine.Step = 64, 0.01
	if value = figure(fine, m, v); value == figure(fine, m, at*unit) { // closer than a 64th
		value = "a hair under " + value
		if over {
			value = "a hair over " + figure(fine, m, v)
		}
	}
	return value, limit
}

// limitText prints a limit in the unit it is published in, exactly, and then in
// the job's when that is another.
func (c *checker) limitText(m measure, unit string, at float64) string {
	switch unit {
	case "in":
		inches := model.Format{Units: model.Imperial, Fraction: 128}.Length(model.Length(at) * model.Inch)
		if c.format.Units == model.Imperial {
			return inches
		}
		return fmt.Sprintf("%s (%s mm)", inches, strconv.FormatFloat(math.Round(at*25.4*1000)/1000, 'f', -1, 64))
	case "mm":
		mm := strconv.FormatFloat(at, 'f', -1, 64) + " mm"
		if c.format.Units != model.Imperial {
			return mm
		}
		return fmt.Sprintf("%s (%s)", mm, c.length(at))
	case "deg":
		return strconv.FormatFloat(at, 'f', -1, 64) + "°"
	case "count":
		return model.Plural(int(math.Round(at)), "riser")
	}
	return c.figure(m, at)
}
