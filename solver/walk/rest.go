package walk

import "math"

// still returns for how many further ticks, with all sensors off, nothing would
// change but the counts of how long they have been off: 0 when something is on
// its way, and math.MaxInt when nothing would ever change.
func (c *Core) still() int {
	t := c.t
	if c.warm > 0 || c.busy || c.on&^c.masked != 0 || c.pressed > 0 || t.Scenes[c.scene].Kind == SceneSeasonal {
		return 0
	}
	for k := 1; k < int(t.Bars); k++ {
		if c.age[k] > 0 && c.age[k] < t.Dwell {
			return 0
		}
	}
	for i := range int(t.Bars) {
		if c.level[i] != c.settled[i] {
			return 0
		}
	}
	quiet := uint32(0)
	for s := range t.Sensors {
		quiet = max(quiet, uint32(t.Sensors[s].Quiet))
	}
	wait := math.MaxInt
	for s := range t.Sensors {
		if c.keep[s] > 0 || c.asked[s] > 0 {
			return 0
		}
		if c.on&(1<<s) != 0 { // left out, until it goes off
			continue
		}
		// The counts at which judge and remove say something else.
		own := uint32(t.Sensors[s].Quiet)
		for _, at := range [4]uint32{own, own + uint32(t.Still), quiet + uint32(t.Still), quiet + 2*uint32(t.Still)} {
			if low := uint32(c.low[s]); low < at {
				wait = min(wait, int(at-low)-1)
			}
		}
	}
	return wait
}

// skip lets so many ticks pass in which nothing changes.
func (c *Core) skip(ticks int) {
	for s := range c.t.Sensors {
		if c.on&(1<<s) != 0 {
			c.high[s] = uint16(min(65535, int(c.high[s])+ticks))
		} else {
			c.low[s] = uint16(min(65535, int(c.low[s])+ticks))
		}
		c.since[s] = uint16(min(65535, int(c.since[s])+ticks))
	}
	if p := c.t.Scenes[c.scene].Period; p > 0 {
		c.phase = uint32((int64(c.phase) + int64(ticks)) % int64(p))
	}
}
