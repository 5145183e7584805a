package walk

// Spread is how much of a flight lights while one person walks it, on the average
// over the time from the first nose line to the last: what the stair is built for
// is that only the steps round them do.
type Spread struct {
	Bars   int
	Bright float64 // bars that are brighter than dim, those that fade among them
	Dim    float64 // bars that are just dim
}

// Wide says whether most of the flight is bright, three fifths of it, and more
// than is of use to somebody. Common practice, no source.
func (s Spread) Wide() bool { return s.Bright > 0.6*float64(s.Bars) && s.Bright > wide }

// wide is how many bright bars are too many for one walker: the six that are of
// use, and two fifths of that for where within a zone they are and for those that fade.
const wide = 1.4 * (needBehind + 1 + needAhead)

// SpreadOf lets one person walk over a stair, up or down, at so many steps a
// second, and returns how much of it lights. They walk it twice: where a sensor
// sees some people and not others, once it sees them and once it does not.
func SpreadOf(setup Setup, up bool, speed float64) (Spread, error) {
	sim, err := NewSim(setup, 1)
	if err != nil {
		return Spread{}, err
	}
	n := float64(setup.Light.Bars)
	out := Spread{Bars: setup.Light.Bars}
	ticks := 0
	sim.Watch = func(_ float64, bars []Bar, _ uint16, places []Place) {
		for _, p := range places {
			if p.Along < 0 || p.Along > n-1 {
				continue
			}
			ticks++
			for i := range bars {
				switch {
				case bars[i].Index > sim.t.Dim:
					out.Bright++
				case sim.t.Lit(bars[i].Index):
					out.Dim++
				}
			}
		}
	}
	from, to := -hall, n-1+hall
	if !up {
		from, to = to, from
	}
	// So far apart that the stair has gone dark, and at whole seconds of which
	// sense takes one for somebody who is seen and the other for one who is not.
	legs := []Leg{{To: to, Speed: speed}}
	sim.Run([]Walker{{From: from, Legs: legs}, {Start: 601, From: from, Legs: legs}})
	if ticks > 0 {
		out.Bright /= float64(ticks)
		out.Dim /= float64(ticks)
	}
	return out, nil
}
