package rules

import (
	"fmt"
	"math"
	"strings"

	"risewright/model"
	"risewright/solver/buildup"
)

// What the trade looks for. Common practice, no source, unless said otherwise.
const (
	// sumQuery and sumStop are the differences of the sum of the rises from
	// the total rise that call for a query and for a stop, on a flight of
	// sumRisers: each rise read to ±1 mm makes ±3.7 over 14. On another number
	// they go with its square root, as random errors do.
	sumQuery  = 4.0
	sumStop   = 8.0
	sumRisers = 14
	// The overhang the trade works to; the same as the range published in the
	// IRC (3/4 to 1 1/4 in), as transcribed.
	overhangLeast = 19.05
	overhangMost  = 31.75
	// outOfLevel is how far a tread may be out of level across its width, and
	// how far the two sides of a riser may differ, before it is packed.
	outOfLevel = 3.0
	// fallMost is the steepest fore-and-aft fall; from memory.
	fallMost = 1.0 / 48
	// riserGapLeast and riserGapMost: a riser is cut 1 mm low, so that it is
	// never proud; beyond 2 mm the gap shows.
	riserGapLeast = 1.0
	riserGapMost  = 2.0
	// topGoing is how far the going to the landing nosing may differ from the
	// middle of the others. A larger top going is a known fall hazard.
	topGoing = 5.0
	// noseOff is how far a surveyed nose line may stand from where the overhang
	// puts it before it is set out again.
	noseOff = 3.0
	// overlayMoves is the least change of the first or last rise worth saying.
	overlayMoves = 0.5
	// readAgain ends what is said of packing out a tilt: the boards are made for
	// treads that lie as they were read.
	readAgain = ", and read its tilt and rises again: the risers are cut to them"
)

// practice adds what trade practice has to say.
func (c *checker) practice() {
	c.sumOfRises()
	c.overlayUniform()
	c.oldNose()
	c.overhang()
	c.riserGap()
	c.level()
	c.fall()
	c.riseAcross()
	c.landingGoing()
	c.winders()
	c.landings()
	c.noseLine()
	c.doors()
	c.bowedSides()
	c.heightsUnread()
}

// advise adds one piece of advice.
func (c *checker) advise(rule string, where model.Place, title, detail, remedy string) {
	if !strings.HasSuffix(detail, Practice+".") {
		detail += " This is " + Practice + "."
	}
	c.out = append(c.out, model.Finding{
		Rule: "practice." + rule, Severity: model.Advice, Where: where,
		Title: title, Detail: detail, Remedy: remedy, Section: Practice,
	})
}

// sumOfRises holds the sum of the rises as read against the total rise as
// read. It says nothing unless every riser and the total have been read.
func (c *checker) sumOfRises() {
	total, ok := meanOf(c.job.Flight.Readings, model.TotalRise)
	if !ok {
		return
	}
	sum := 0.0
	for i := range c.job.Flight.Steps {
		rs := c.job.Flight.Steps[i].Readings
		l, left := meanOf(rs, model.RiseLeft)
		r, right := meanOf(rs, model.RiseRight)
		switch {
		case left && right:
			sum += (l + r) / 2
		case left:
			sum += l
		case right:
			sum += r
		default:
			return
		}
	}
	n := len(c.job.Flight.Steps)
	share := math.Sqrt(float64(n) / sumRisers)
	off := math.Abs(sum - total)
	if off <= sumQuery*share+slack {
		return
	}
	title := fmt.Sprintf("the rises as read add up to %s; the total rise was read as %s", c.length(sum), c.length(total))
	remedy := "read the total again, then the rises; a steady error in a rule adds up"
	if off > sumStop*share+slack {
		title += ": stop and find out why"
		remedy = "order and cut nothing until the two agree; read the total again, then every rise"
	}
	c.advise("sum_of_rises", model.Place{Kind: model.TotalRise}, title,
		fmt.Sprintf("They differ by %s. Readings good to ±%s give about ±%s over %d risers; query beyond %s, stop beyond %s.",
			c.length(off), c.length(1), c.length(math.Sqrt(float64(n))), n, c.length(sumQuery*share), c.length(sumStop*share)), remedy)
}

// meanOf returns the mean of the readings of a kind that are in use.
func meanOf(rs []model.Reading, k model.Kind) (float64, bool) {
	sum, n := 0.0, 0
	for _, r := range rs {
		if r.Kind == k && !r.Aside {
			sum += r.Value
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// overlayUniform says what the overlay does to the first and last rise.
func (c *checker) overlayUniform() {
	first, last := &c.b.Steps[0], &c.b.Steps[len(c.b.Steps)-1]
	atFirst := first.RiseAfter.Mean() - first.RiseBefore.Mean()
	atLast := last.RiseAfter.Mean() - last.RiseBefore.Mean()
	if math.Abs(atFirst) < overlayMoves && math.Abs(atLast) < overlayMoves {
		return
	}
	why := "A floor that does not rise by as much as the treads keeps them from being equal."
	if c.b.FloorBottom == 0 && c.b.FloorTop == 0 {
		why = "With both floors left as they are no overlay is uniform: the first rise gains the board and the last loses it."
	}
	tight := 0
	for i := range c.b.Steps[:len(c.b.Steps)-1] {
		if !c.b.Steps[i].Room {
			tight++
		}
	}
	if tight > 0 {
		why += fmt.Sprintf(" For equal rises %s would have to lie lower than its board allows.", model.Plural(tight, "tread"))
	}
	c.advise("overlay.uniform", model.Place{Step: 1, Field: "overlay.floor_bottom"},
		fmt.Sprintf("the overlay makes the first rise %s and the last %s", c.change(atFirst), c.change(atLast)),
		fmt.Sprintf("First: %s to %s. Last: %s to %s. %s", c.length(first.RiseBefore.Mean()), c.length(first.RiseAfter.Mean()),
			c.length(last.RiseBefore.Mean()), c.length(last.RiseAfter.Mean()), why),
		"best first: raise both floors by the board; take the old treads off and fit full ones; a thin overlay and part of a floor; feather the landing floor over a metre or more")
}

func (c *checker) change(v float64) string {
	switch {
	case math.Abs(v) < overlayMoves:
		return "no different"
	case v > 0:
		return c.length(v) + " higher"
	}
	return c.length(-v) + " lower"
}

// oldNose names steps whose old nose would be buried under the overlay.
func (c *checker) oldNose() {
	if c.job.Existing.Overhang <= 0 {
		return
	}
	first, n := 0, 0
	for i := range c.job.Flight.Steps {
		if c.job.Flight.Steps[i].Nosing == model.NosingKept {
			if n == 0 {
				first = i + 1
			}
			n++
		}
	}
	if n == 0 {
		return
	}
	title := fmt.Sprintf("step %d still has its old nose", first)
	if n > 1 {
		title += fmt.Sprintf(" (and %d more)", n-1)
	}
	c.advise("old_nose", model.Place{Step: first, Field: "steps.nosing"}, title,
		fmt.Sprintf("It stands %s in front of the riser, where the new riser has to go.", c.length(float64(c.job.Existing.Overhang))),
		"cut it flush with the riser, or pack the riser out to it")
}

// overhang holds the overhang against the range the trade works to, unless the
// code has a limit on it.
func (c *checker) overhang() {
	if c.tested[nosing] {
		return
	}
	o := float64(c.job.Overlay.Overhang)
	if o >= overhangLeast-slack && o <= overhangMost+slack {
		return
	}
	c.advise("overhang", model.Place{Field: "overlay.overhang"},
		fmt.Sprintf("the new noses stand %s proud; %s to %s is usual", c.length(o), c.length(overhangLeast), c.length(overhangMost)),
		"A short nose gives little room for the foot or for a light under it; a long one trips.", "change the overhang")
}

func (c *checker) riserGap() {
	g := float64(c.job.Overlay.RiserGap)
	switch {
	case g < riserGapLeast-slack:
		c.advise("riser_gap", model.Place{Field: "overlay.riser_gap"},
			fmt.Sprintf("the risers are kept %s low; less than %s risks a riser standing proud", c.length(g), c.length(riserGapLeast)),
			"A proud riser holds the tread off its bed.", "keep risers 1 mm low")
	case g > riserGapMost+slack:
		c.advise("riser_gap", model.Place{Field: "overlay.riser_gap"},
			fmt.Sprintf("the risers are kept %s low; more than %s shows under the nose", c.length(g), c.length(riserGapMost)),
			"What is hidden by a bar or a cove may be more.", "keep risers 1 to 2 mm low")
	}
}

// worst returns the step of the largest absolute figure, and how many steps
// exceed most.
func (c *checker) worst(most float64, of func(*buildup.Step) float64) (step, n int, at float64) {
	for i := range c.b.Steps {
		v := of(&c.b.Steps[i])
		if math.Abs(v) <= most+slack {
			continue
		}
		n++
		if math.Abs(v) > math.Abs(at) {
			step, at = i+1, v
		}
	}
	return step, n, at
}

func more(n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf(" (and %d more)", n-1)
}

func higher(v float64) string {
	if v < 0 {
		return "left"
	}
	return "right"
}

func (c *checker) level() {
	k, n, v := c.worst(outOfLevel, func(s *buildup.Step) float64 { return s.Across.At })
	if n == 0 {
		return
	}
	c.advise("level", model.Place{Step: k, Kind: model.TiltAcross},
		fmt.Sprintf("tread %d will be out of level across by %s, %s side higher%s", k, c.length(math.Abs(v)), higher(v), more(n)),
		fmt.Sprintf("More than %s is packed out.", c.length(outOfLevel)), "pack the low side; the packing table gives left and right"+readAgain)
}

// fall says nothing when the code has its own limit on the slope of treads.
func (c *checker) fall() {
	if c.tested[treadSlope] {
		return
	}
	k, n, v := c.worst(fallMost, func(s *buildup.Step) float64 { return s.Fall.At })
	if n == 0 {
		return
	}
	low := "front"
	if v < 0 {
		low = "back"
	}
	c.advise("fall", model.Place{Step: k, Kind: model.TiltFore},
		fmt.Sprintf("tread %d will fall %s to the %s%s; 1:48 is the usual most", k, c.figure(treadSlope, math.Abs(v)), low, more(n)),
		"The figure 1:48 is from memory.", "pack the tread before it is covered"+readAgain)
}

func (c *checker) riseAcross() {
	k, n, v := c.worst(outOfLevel, func(s *buildup.Step) float64 { return s.RiseAfter.Right.At - s.RiseAfter.Left.At })
	if n == 0 {
		return
	}
	o := &c.b.Steps[k-1]
	c.advise("rise_across", model.Place{Step: k, Kind: model.RiseRight},
		fmt.Sprintf("riser %d will be %s at the left and %s at the right%s", k, c.length(o.RiseAfter.Left.At), c.length(o.RiseAfter.Right.At), more(n)),
		fmt.Sprintf("The sides differ by %s: the change of tilt from the tread below to the one above.", c.length(math.Abs(v))),
		"check the two readings, then pack one of the two treads"+readAgain)
}

// landingGoing compares the going to the landing nosing with the others.
func (c *checker) landingGoing() {
	n := len(c.b.Steps)
	last := &c.b.Steps[n-1]
	if n < 3 || !last.HasGoing || last.Tapered {
		return
	}
	sum, k := 0.0, 0
	for i := c.b.Runs[len(c.b.Runs)-1].First; i < n-1; i++ { // of its own flight
		if c.b.Steps[i].HasGoing && !c.b.Steps[i].Tapered {
			sum += c.b.Steps[i].GoingAfter.Mean()
			k++
		}
	}
	if k == 0 {
		return
	}
	mean := sum / float64(k)
	off := last.GoingAfter.Mean() - mean
	if math.Abs(off) <= topGoing+slack {
		return
	}
	word, why := "longer", "A top going larger than the rest is a known cause of falls."
	if off < 0 {
		word, why = "shorter", "The new risers move every nose forward; the landing nosing has to come forward as much."
	}
	c.advise("landing_going", model.Place{Step: n, Kind: model.GoingLeft},
		fmt.Sprintf("the going to the landing nosing will be %s %s than the others", c.length(math.Abs(off)), word),
		fmt.Sprintf("%s against a mean of %s. %s", c.length(last.GoingAfter.Mean()), c.length(mean), why),
		"set the landing nosing out again")
}

// noseLine finds nose lines that the survey puts elsewhere than the overhang
// does. It keeps quiet where the band is wider than what it would accuse.
func (c *checker) noseLine() {
	k, n, v := c.worst(noseOff, func(s *buildup.Step) float64 {
		l, r := s.Surveyed.Left, s.Surveyed.Right
		worst := 0.0
		for _, x := range [2]buildup.Value{l, r} {
			if off := x.At - s.Nosing; math.Abs(off) > x.Band() && math.Abs(off) > math.Abs(worst) {
				worst = off
			}
		}
		return worst
	})
	if n == 0 {
		return
	}
	way := "in front of"
	if v < 0 {
		way = "behind"
	}
	c.advise("nose_line", model.Place{Step: k, Kind: model.LeftDepth},
		fmt.Sprintf("the nose line surveyed at step %d lies %s %s where the overhang puts it%s", k, c.length(math.Abs(v)), way, more(n)),
		"From the riser face behind the step below, less the new riser, to the nose line.",
		"set the nose line out again from the riser with a block, and read the depths again")
}

// doors says which doors the new floor would bind.
func (c *checker) doors() {
	for i := range c.b.Doors {
		d := &c.b.Doors[i]
		if d.Undercut <= slack {
			continue
		}
		name := d.Name
		if name == "" {
			name = "a door"
		}
		floor := "bottom"
		if d.Top {
			floor = "top"
		}
		after := "would clear the new floor by " + c.length(d.After)
		if d.After < 0 {
			after = "would stand " + c.length(-d.After) + " into the new floor"
		}
		c.advise(fmt.Sprintf("door.%d", i+1), model.Place{Field: "flight.doors"},
			fmt.Sprintf("%s at the %s must be undercut by %s", name, floor, c.length(d.Undercut)),
			fmt.Sprintf("It %s: %s now, less the floor's build-up. A gap of %s is wanted.", after, c.length(d.Before), c.length(d.After+d.Undercut)),
			"take the door off and cut its lower edge; a fire door must not be cut without advice")
	}
}

// bowedSides names steps whose widths were read at front and back only. A bow
// of a side between the two shows in no other reading. A landing nosing and the
// board of a landing are too shallow for it to matter.
func (c *checker) bowedSides() {
	first, n := 0, 0
	for i := range c.job.Flight.Steps[:len(c.job.Flight.Steps)-1] {
		s := &c.job.Flight.Steps[i]
		if s.Landing || !s.Plain() || (s.Left.Kind == model.Open && s.Right.Kind == model.Open) {
			continue
		}
		var front, middle, back bool
		for _, r := range s.Readings {
			if r.Aside || !r.State.OnBareWood() {
				continue
			}
			front = front || r.Kind == model.FrontWidth
			middle = middle || r.Kind == model.MiddleWidth
			back = back || r.Kind == model.BackWidth
		}
		if !front || !back || middle {
			continue
		}
		if n++; n == 1 {
			first = i + 1
		}
	}
	if n == 0 {
		return
	}
	c.advise("bowed_side", model.Place{Step: first, Kind: model.MiddleWidth},
		fmt.Sprintf("the middle width of step %d has not been read%s; a bowed side would not show", first, more(n)),
		"Both widths and all angles can be right and the board still not go in.",
		"read the width half way between nose and riser as well")
}

// heightsUnread says that the code has a limit on the rail or the headroom and
// nothing to hold against it, where the overlay raises the noses.
func (c *checker) heightsUnread() {
	up := 0.0
	for i := range c.b.Steps {
		up = math.Max(up, c.b.Steps[i].NewTop.Mean()-c.b.Steps[i].OldTop.Mean())
	}
	if up <= slack {
		return
	}
	var none []string
	if c.tested[railHeight] && len(c.b.Rail) == 0 {
		none = append(none, "handrail height")
	}
	if c.tested[headroom] && len(c.b.Headroom) == 0 {
		none = append(none, "headroom")
	}
	if len(none) == 0 {
		return
	}
	c.out = append(c.out, model.Finding{
		Rule: "rules.unread", Severity: model.Note, Where: model.Place{},
		Title:  fmt.Sprintf("no %s has been given; the noses will rise by %s", strings.Join(none, " and no "), c.length(up)),
		Detail: "The code has a limit on it, which cannot be judged. What was just enough before will not be enough after.",
		Remedy: "measure up from the noses, plumb, at both ends and where it is least, and give the heights with the build-up",
	})
}
