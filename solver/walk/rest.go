package walk

// resting says whether further ticks with all sensors off would change nothing
// but the counts of how long they have been off.
func (c *Core) resting() bool {
	t := c.t
	if c.warm > 0 || c.all > 0 || c.run > 0 || c.on&^c.masked != 0 || c.pressed > 0 || t.Scenes[c.scene].Kind == SceneSeasonal {
		return false
	}
	quiet := uint16(0)
	for s := range t.Sensors {
		quiet = max(quiet, t.Sensors[s].Quiet)
	}
	for s := range t.Sensors {
		if c.keep[s] > 0 || c.asked[s] > 0 || c.masked&(1<<s) == 0 && uint32(c.low[s]) < uint32(quiet)+2*uint32(t.Still)+1 || c.low[s] < 2*t.Order+1 && c.masked&(1<<s) == 0 {
			return false
		}
	}
	for k := range int(t.Bars) + 1 {
		if c.age[k] > 0 && c.age[k] < t.Dwell {
			return false
		}
	}
	for i := range int(t.Bars) {
		if c.level[i] != c.settled[i] {
			return false
		}
	}
	return true
}

// skip lets so many ticks pass at rest.
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
