package walk

// Inputs is what the controller reads in one tick.
type Inputs struct {
	Sensors  uint16 // bit i is input i
	Button   bool   // pressed
	Daylight bool   // enough of it
	Lost     bool   // the sensors' inputs cannot be trusted
}

// Bar is what one bar is given.
type Bar struct {
	Index  uint8 // brightness before Gamma; see Tables.Lit
	Level  uint8 // share of full, of 255
	Colour Colour
}

// Flags of a position or of the border above it, for one tick.
const (
	flagCovered = 1 << iota // a sensor sees one side of the border
	flagOpen                // somebody may have crossed it unseen as yet
	flagSeen                // a sensor is sure of the position
	flagFresh               // somebody there may not have moved yet
)

// Core is the state of the rules. It allocates nothing after NewCore. The C core
// holds the same fields and takes the same steps.
type Core struct {
	t *Tables

	age     [MaxBars + 1]uint8 // 0: nobody can be there; else ticks somebody may have been there, up to Dwell
	flags   [MaxBars + 1]uint8
	level   [MaxBars]uint16 // brightness, 256 to an index
	settled [MaxBars]uint16 // where each level is going; only for still
	busy    bool            // the whole flight was lit for a time; only for still

	on     uint16 // sensors, by bit of their row
	rose   uint16
	masked uint16
	silent uint16
	low    [MaxSensors]uint16 // ticks off
	high   [MaxSensors]uint16 // ticks on
	since  [MaxSensors]uint16 // ticks since it came on
	keep   [MaxSensors]uint16 // ticks its window stays
	trail  [MaxSensors]uint16 // ticks it lights nothing, because the next one came on
	came   [MaxSensors]Came
	asked  [MaxSensors]uint16 // ticks left in which somebody must turn out to have been there

	warm, all, run uint16
	lastEnd        bool // an end's sensor was among the last that were on
	scene          uint8
	pressed        uint8
	phase, shown   uint32 // ticks of the pattern, and of the scene
	conflicts      uint16

	bars [MaxBars]Bar
}

// NewCore returns the state at power-on.
func NewCore(t *Tables) *Core {
	c := &Core{t: t}
	c.Reset()
	return c
}

// Reset puts the state back to power-on.
func (c *Core) Reset() {
	*c = Core{t: c.t, warm: c.t.Warm, lastEnd: true}
	c.fill()
}

// fill says that anybody may be anywhere.
func (c *Core) fill() {
	for k := range int(c.t.Bars) + 1 {
		c.age[k] = c.t.Dwell
	}
}

// May says whether somebody may be at position k as far as the rules know, the
// latency ago.
func (c *Core) May(k int) bool { return k >= 0 && k <= int(c.t.Bars) && c.age[k] > 0 }

// Scene returns the row of the scene that is on.
func (c *Core) Scene() int { return int(c.scene) }

// Masked and Silent return the sensors, by bit of their row, that are left out
// for being on too long, and for having been passed without a word. Conflicts
// counts triggers where nobody could be.
func (c *Core) Masked() uint16 { return c.masked }

// Silent: see Masked.
func (c *Core) Silent() uint16 { return c.silent }

// Conflicts: see Masked.
func (c *Core) Conflicts() int { return int(c.conflicts) }

// Warming says whether the sensors are not trusted yet.
func (c *Core) Warming() bool { return c.warm > 0 }

// usable says whether a sensor is neither stuck nor silent.
func (c *Core) usable(s int) bool { return (c.masked|c.silent)&(1<<s) == 0 }

// next returns the nearest working sensor from s in a direction, or -1.
func (c *Core) next(s, by int) int {
	for s += by; s >= 0 && s < len(c.t.Sensors); s += by {
		if c.usable(s) {
			return s
		}
	}
	return -1
}

// Step takes the rules one tick on and returns the bars, from the bottom. They
// are valid until the next Step.
func (c *Core) Step(in Inputs) []Bar {
	c.button(in.Button)
	trusted := c.read(in)
	if trusted {
		c.judge()
		c.remove()
		c.grow()
		c.order()
		c.evidence()
	} else {
		c.fill()
		c.lastEnd = true
	}
	c.light(in, trusted)
	return c.bars[:c.t.Bars]
}

func up16(v *uint16) {
	if *v < 65535 {
		*v++
	}
}

// button steps to the next scene when the button has been down for two ticks.
func (c *Core) button(down bool) {
	t := c.t
	c.phase++
	if p := t.Scenes[c.scene].Period; c.phase >= p {
		c.phase = 0
	}
	if t.Scenes[c.scene].Kind == SceneSeasonal && t.Revert > 0 {
		if c.shown++; c.shown >= t.Revert {
			c.show(0)
		}
	}
	if !down {
		c.pressed = 0
		return
	}
	if c.pressed < 3 {
		c.pressed++
	}
	if c.pressed == 2 {
		next := c.scene + 1
		if int(next) >= len(t.Scenes) {
			next = 0
		}
		c.show(next)
	}
}

func (c *Core) show(scene uint8) { c.scene, c.phase, c.shown = scene, 0, 0 }

// read takes in the sensors and says whether they may be trusted.
func (c *Core) read(in Inputs) bool {
	t := c.t
	if c.warm > 0 || in.Lost {
		if c.warm > 0 {
			c.warm--
		}
		c.on, c.rose, c.masked, c.silent, c.all, c.run = 0, 0, 0, 0, 0, 0
		for s := range t.Sensors {
			c.low[s], c.high[s], c.keep[s], c.trail[s], c.asked[s], c.came[s] = 0, 0, 0, 0, 0, CameUnknown
		}
		return false
	}
	c.rose = 0
	for s := range t.Sensors {
		bit := uint16(1) << s
		up16(&c.since[s])
		if in.Sensors&(1<<t.Sensors[s].Input) == 0 {
			c.on &^= bit
			c.masked &^= bit
			c.high[s] = 0
			up16(&c.low[s])
			continue
		}
		if c.on&bit == 0 {
			c.rose |= bit
			c.since[s] = 0
		}
		c.on |= bit
		c.silent &^= bit
		c.low[s] = 0
		up16(&c.high[s])
		if c.high[s] >= t.Stuck {
			c.masked |= bit
		}
	}
	return true
}

// judge says of every position and border what the sensors say about it.
func (c *Core) judge() {
	t := c.t
	for k := range int(t.Bars) + 1 {
		c.flags[k] = 0
	}
	for s := range t.Sensors {
		row := &t.Sensors[s]
		if !c.usable(s) || row.Sure[1] < row.Sure[0] {
			continue
		}
		first := int(row.Sure[0])
		border, place := uint8(flagCovered), uint8(flagSeen)
		if c.low[s] < row.Quiet {
			border |= flagOpen
		}
		if uint32(c.low[s]) < uint32(row.Quiet)+uint32(t.Still) {
			place |= flagFresh
		}
		if first > 0 {
			c.flags[first-1] |= border
		}
		for k := first; k <= int(row.Sure[1]); k++ {
			c.flags[k] |= border | place
		}
	}
}

// crossable says whether somebody may have crossed from position k to k+1 or
// back.
func (c *Core) crossable(k int) bool {
	return c.flags[k]&(flagCovered|flagOpen) != flagCovered
}

// remove takes positions out of the set where somebody would have been seen to
// move by now.
func (c *Core) remove() {
	t := c.t
	n := int(t.Bars)
	on, none := false, true
	end := uint16(65535)   // ticks since the last of the ends' was on
	least := uint16(65535) // ticks since the last of the working ones was on
	quiet := uint16(0)     // the longest lockout and latency
	for s := range t.Sensors {
		if !c.usable(s) {
			continue
		}
		none = false
		if c.on&(1<<s) != 0 {
			on = true
		}
		if t.Sensors[s].End != 0 {
			end = min(end, c.low[s])
		}
		least, quiet = min(least, c.low[s]), max(quiet, t.Sensors[s].Quiet)
	}
	if none {
		c.fill()
		return
	}
	if on {
		c.lastEnd = end <= t.Part
	}
	still := uint32(quiet) + uint32(t.Still)
	if !on && !c.lastEnd {
		if uint32(least) >= still {
			c.fill() // somebody stands on the stair and cannot be told where
		}
		return
	}
	// Steps that lie open to a floor, with no sensor on the way, stay.
	low, high := 0, n
	for low < n && c.crossable(low) && c.flags[low+1]&flagSeen == 0 {
		low++
	}
	for high > 0 && c.crossable(high-1) && c.flags[high-1]&flagSeen == 0 {
		high--
	}
	gone := uint32(least) >= still+uint32(t.Still)
	for k := 1; k < n; k++ {
		switch c.flags[k] & (flagSeen | flagFresh) {
		case flagSeen:
			c.age[k] = 0
		case 0:
			if gone && k > low && k < high {
				c.age[k] = 0
			}
		}
	}
}

// grow lets everybody walk on for a tick, as fast as they can.
func (c *Core) grow() {
	n, dwell := int(c.t.Bars), c.t.Dwell
	for k := 1; k < n; k++ {
		if c.age[k] > 0 && c.age[k] < dwell {
			c.age[k]++
		}
	}
	c.age[0], c.age[n] = dwell, dwell
	// Whoever joins has age 1, less than Dwell, and so is not carried further in
	// the same tick.
	for k := 0; k <= n; k++ {
		if c.age[k] < dwell {
			continue
		}
		if k < n && c.age[k+1] == 0 && c.crossable(k) {
			c.age[k+1] = 1
		}
		if k > 0 && c.age[k-1] == 0 && c.crossable(k-1) {
			c.age[k-1] = 1
		}
	}
}

// order looks at the sensors that have just come on: from where somebody came,
// whether they run; and, when a moment has passed, whether anybody could be there
// at all.
func (c *Core) order() {
	t := c.t
	for s := range t.Sensors {
		bit := uint16(1) << s
		if c.rose&bit == 0 || !c.usable(s) {
			continue
		}
		c.asked[s] = t.Late
		below, above := c.before(s, -1, false), c.before(s, 1, false)
		if below < 0 && above < 0 {
			below, above = c.before(s, -1, true), c.before(s, 1, true)
		}
		up, down := below >= 0, above >= 0
		if up && down { // the farther of the two may have seen first who now comes to this one
			up, down = c.came[above] == CameBelow && c.came[below] != CameAbove, c.came[below] == CameAbove && c.came[above] != CameBelow
		}
		c.trail[s] = 0
		switch {
		case up:
			c.came[s] = CameBelow
			c.handOn(s, -1)
			if below == s-1 && c.since[below] < t.Sensors[s].RunUp {
				c.run = t.Run
			}
		case down:
			c.came[s] = CameAbove
			c.handOn(s, 1)
			if above == s+1 && c.since[above] < t.Sensors[s].RunDown {
				c.run = t.Run
			}
		default:
			c.came[s] = CameUnknown
		}
	}
	for s := range t.Sensors {
		bit := uint16(1) << s
		if c.asked[s] > 0 {
			if c.asked[s]--; c.possible(&t.Sensors[s]) {
				c.asked[s] = 0
			} else if c.asked[s] == 0 {
				c.conflict(s)
			}
		}
		switch {
		case c.on&bit == 0:
			c.trail[s] = 0
		case c.trail[s] > 0:
			if c.trail[s]--; c.trail[s] == 0 {
				c.came[s] = CameUnknown // somebody else is still there, or they came back
			}
		}
		switch {
		case !c.usable(s):
			c.keep[s] = 0
		case c.on&bit != 0 && c.trail[s] == 0:
			c.keep[s] = t.Keep
		case c.on&bit == 0 && c.keep[s] > 0:
			c.keep[s]--
		}
	}
}

// before returns the nearest working sensor from s in a direction if it was on a
// short while ago, or -1. Those that were not may be passed over when somebody
// may come into the sight of s straight from that of one beyond: sensors glimpse
// farther than they are sure of, and the upper of two may be the first to see
// somebody who goes up.
func (c *Core) before(s, by int, over bool) int {
	p := c.next(s, by)
	for first := true; p >= 0 && (first || over && c.t.meet(s, p)); first = false {
		if c.low[p] <= c.t.Order {
			return p
		}
		p = c.next(p, by)
	}
	return -1
}

// meet says whether somebody may be in the sight of two sensors, or go from that
// of one straight into that of the other.
func (t *Tables) meet(a, b int) bool {
	x, y := &t.Sensors[a].May, &t.Sensors[b].May
	return int(x[0]) <= int(y[1])+1 && int(y[0]) <= int(x[1])+1
}

// handOn ends the windows of the sensors from s in a direction whose walker s has
// seen. One of which s may see somebody on the first step of its zone keeps its
// window: the walker may still be there, where that of s does not reach.
func (c *Core) handOn(s, by int) {
	row := &c.t.Sensors[s]
	p := c.next(s, by)
	for first := true; p >= 0 && (first || c.t.meet(s, p)); first = false {
		of := &c.t.Sensors[p]
		zone := of.Sure
		if zone[1] < zone[0] {
			zone = of.May
		}
		passed := row.May[0] > zone[0] // by somebody who goes up
		if by > 0 {
			passed = row.May[1] < zone[1]
		}
		if passed {
			c.keep[p] = 0
			if c.on&(1<<p) != 0 {
				c.trail[p] = of.Trail
			}
		}
		p = c.next(p, by)
	}
}

// possible says whether by the set somebody may be where a sensor has come on.
// The set is about a moment that lies the latency back, and so was the movement,
// or less; so the question is asked over that time.
func (c *Core) possible(row *Sensor) bool {
	for k := int(row.May[0]); k <= int(row.May[1]); k++ {
		if c.age[k] > 0 {
			return true
		}
	}
	return false
}

// conflict lights the whole flight, because sensor s came on where nobody could
// be, and leaves out the neighbour that should have been passed on the way.
func (c *Core) conflict(s int) {
	t := c.t
	c.all = t.AllOn
	up16(&c.conflicts)
	c.fill()
	passed, ends := uint16(0), uint16(0)
	for by := -1; by <= 1; by += 2 {
		p := s + by
		if p < 0 || p >= len(t.Sensors) || !c.usable(p) || c.low[p] < t.Sensors[p].Quiet {
			continue
		}
		// It was passed if the one beyond it was on a short while ago. With none
		// beyond it, somebody may have come from the floor.
		if beyond := c.next(p, by); beyond < 0 {
			ends |= 1 << p
		} else if c.low[beyond] <= 2*t.Order {
			passed |= 1 << p
		}
	}
	if passed == 0 {
		passed = ends
	}
	c.silent |= passed
}

// evidence adds the positions where sensors that are on are sure of somebody, once
// it is known that somebody could be there. By the set somebody is there already;
// this is for the case that a sensor missed them.
func (c *Core) evidence() {
	t := c.t
	for s := range t.Sensors {
		if c.on&(1<<s) == 0 || !c.usable(s) || c.asked[s] > 0 {
			continue
		}
		span := t.Sensors[s].Sure
		if span[1] < span[0] {
			span = t.Sensors[s].May
		}
		for k := max(1, int(span[0])); k <= min(int(t.Bars)-1, int(span[1])); k++ {
			c.age[k] = t.Dwell
		}
	}
}
