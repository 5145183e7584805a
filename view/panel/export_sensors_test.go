package panel

import "risewright/solver/walk"

// PutWalker puts somebody in front of the stair, or takes them off.
func (d *Desk) PutWalker(on bool) { d.putWalker(on) }

// MoveWalker lets the walker go to a place along the flight.
func (d *Desk) MoveWalker(to float64) { d.moveWalker(to) }

// WalkBars returns the bars as lit for the walker.
func (d *Desk) WalkBars() []walk.Bar { return append([]walk.Bar(nil), d.walking.bars...) }

// WalkerAt returns where the walker is, or nil.
func (d *Desk) WalkerAt() *float64 { return d.walkerAt() }

// PlayWalk has somebody walk the flight.
func (d *Desk) PlayWalk(up bool) { d.playWalk(up) }

// FindPlaces looks for places of sensors.
func (d *Desk) FindPlaces() { d.findPlaces() }

// KeepA keeps the stair as it is, to be compared with.
func (d *Desk) KeepA() {
	s := d.setupOf("A")
	d.walking.kept = &s
}

// RunDays lets people walk.
func (d *Desk) RunDays() { d.runDay() }

// Days returns what came of it.
func (d *Desk) Days() []walk.Outcome { return d.walking.days }

// Placed returns how many sensors the last search placed.
func (d *Desk) Placed() int {
	if d.sensors.place == nil {
		return -1
	}
	return len(d.sensors.place.Sensors)
}

// WhyLit says why steps are dark or stay lit.
func (d *Desk) WhyLit() string { return d.whyLit() }

// UnderFoot says why the step underfoot is dark or dim.
func (d *Desk) UnderFoot() string { return d.underFoot() }

// FewWalks has days walked with one part in so many of the usual walks.
func (d *Desk) FewWalks(part int) { d.walking.few = part }
