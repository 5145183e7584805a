package walk

import (
	"math"
	"math/rand/v2"

	"risewright/model"
)

// Crowd says who walks over a stair in a day.
type Crowd struct {
	Walks   int     // up or down
	Hours   float64 // that they are spread over, by chance; 0: 24
	Passers int     // who stay in a hall, and only come near the stair

	// Mix is how often each pace of the table is met, by its id; none: as usual in
	// a household, a guess.
	Mix map[string]float64
	// Turn, Stand and Together are the shares of walks on which somebody turns
	// round, stands for a while, or is followed closely by another. All 0: as
	// usual, a guess.
	Turn, Stand, Together float64
	// StepM is a step along the pitch line, in metres; 0: that of a stair of 190
	// by 254 mm.
	StepM float64
	// Fastest is the speed that nobody passes, in steps a second; 0: the first
	// setting of the controller.
	Fastest float64
}

// usualMix is a guess at a household of two adults, a child and a guest.
func usualMix() map[string]float64 {
	return map[string]float64{"adult": 0.6, "child": 0.2, "older": 0.15, "runner": 0.05}
}

// Guesses of how people use a stair.
const (
	usualTurn     = 0.05
	usualStand    = 0.05
	usualTogether = 0.1
	standLeast    = 3.0 // seconds
	standMost     = 40.0
	fidgetMost    = 8.0 // seconds from one small movement of somebody who stands to the next
)

// Draw draws the walkers of a day on a flight of so many risers, in the order of
// their Start. Paces are the published ones (see the table for their standing).
// The same seed gives the same day whatever the sensors and the controller, so
// that placements and settings are compared with the same people.
func (c Crowd) Draw(seed uint64, risers int, paces []model.StairPace) []Walker {
	r := rand.New(rand.NewPCG(seed, 0x6461))
	d := drawer{r: r, n: float64(risers), hours: c.Hours, step: c.StepM, fastest: c.Fastest}
	if d.hours <= 0 {
		d.hours = 24
	}
	if d.step <= 0 {
		d.step = math.Hypot(0.190, 0.254)
	}
	if d.fastest <= 0 {
		d.fastest = model.FirstControl().Fastest
	}
	if c.Turn == 0 && c.Stand == 0 && c.Together == 0 {
		c.Turn, c.Stand, c.Together = usualTurn, usualStand, usualTogether
	}
	mix := c.Mix
	if len(mix) == 0 {
		mix = usualMix()
	}
	sum := 0.0
	for _, p := range paces {
		if mix[p.ID] > 0 {
			d.paces, d.upTo, sum = append(d.paces, p), append(d.upTo, sum+mix[p.ID]), sum+mix[p.ID]
		}
	}
	var out []Walker
	if len(d.paces) == 0 {
		return nil
	}
	for range c.Walks {
		w := d.walk(r.Float64()*d.hours*3600, c)
		if r.Float64() < c.Together {
			other := d.walk(w.Start+0.5+2*r.Float64(), c)
			if (other.From < 0) != (w.From < 0) && r.Float64() < 0.7 {
				other = d.turned(other) // mostly the same way
			}
			out = append(out, other)
		}
		out = append(out, w)
	}
	for range c.Passers {
		out = append(out, d.passer(r.Float64()*d.hours*3600))
	}
	sortWalkers(out)
	return out
}

// drawer draws walkers.
type drawer struct {
	r       *rand.Rand
	n       float64
	hours   float64
	step    float64
	fastest float64
	paces   []model.StairPace
	upTo    []float64
}

func (d *drawer) pace() *model.StairPace {
	x := d.r.Float64() * d.upTo[len(d.upTo)-1]
	for i := range d.paces {
		if x < d.upTo[i] {
			return &d.paces[i]
		}
	}
	return &d.paces[len(d.paces)-1]
}

// hall is how far from the flight walks begin and end, in steps.
const hall = 3.0

func (d *drawer) walk(start float64, c Crowd) Walker {
	p := d.pace()
	spread := d.r.NormFloat64() * p.Spread.Value
	speed := func(mps float64) float64 {
		v := min(p.Most.Value, max(p.Least.Value, mps+spread))
		return min(d.fastest, max(0.1, v/d.step))
	}
	up, down := speed(p.Up.Value), speed(p.Down.Value)
	w := Walker{Name: p.Title, Start: start, From: -hall}
	at := w.From
	to := func(place float64) *Leg {
		v := up
		if place < at {
			v = down
		}
		at = place
		w.Legs = append(w.Legs, Leg{To: place, Speed: v})
		return &w.Legs[len(w.Legs)-1]
	}
	end := d.n - 1 + hall
	if d.r.IntN(2) == 0 {
		w.From, end = end, w.From
		at = w.From
	}
	x, turn := d.r.Float64(), d.r.Float64()*(d.n-1)
	switch {
	case x < c.Turn:
		to(turn)
		to(w.From)
	case x < c.Turn+c.Stand:
		l := to(turn)
		l.Wait = standLeast + (standMost-standLeast)*d.r.Float64()
		l.Fidget = 1 + (fidgetMost-1)*d.r.Float64()
		to(end)
	default:
		to(end)
	}
	return w
}

// turned returns a walk the other way round.
func (d *drawer) turned(w Walker) Walker {
	flip := func(v float64) float64 { return d.n - 1 - v }
	w.From = flip(w.From)
	for i := range w.Legs {
		w.Legs[i].To = flip(w.Legs[i].To)
	}
	return w
}

// passer draws somebody who comes near one end and goes away again.
func (d *drawer) passer(start float64) Walker {
	p := d.pace()
	v := max(0.1, p.Level.Value/d.step)
	v = min(v, d.fastest)
	w := Walker{Name: p.Title + ", in the hall", Start: start, From: -hall}
	near := -0.1 - 0.8*d.r.Float64()
	w.Legs = []Leg{{To: near, Speed: v, Wait: 20 * d.r.Float64() * float64(d.r.IntN(2)), Fidget: 2}, {To: w.From, Speed: v}}
	if d.r.IntN(2) == 0 {
		w = d.turned(w)
	}
	return w
}
