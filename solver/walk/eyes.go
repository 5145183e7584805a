package walk

import (
	"math"
	"math/rand/v2"
)

// Fault is what is wrong with a sensor in a simulation.
type Fault uint8

// The faults.
const (
	Healthy Fault = iota
	DeadOff       // never on
	DeadOn        // always on
)

// eye is a sensor as it behaves: what it sees comes out late, is held, and leaves
// it blind for a while.
type eye struct {
	sure, may Span
	bit       uint16
	fault     Fault
	single    bool // a movement while it is on does not keep it on

	latency, hold, block int // ticks
	on                   bool
	since                int // tick at which it will be on, or -1
	until                int // tick at which it goes off
	blind                int // tick from which it sees again
	spurious             int // tick of the next false pulse
}

// look takes in whether anybody moved in the eye's sight, and returns whether
// the output is on.
func (e *eye) look(tick int, moved bool, s *Sim) bool {
	switch e.fault {
	case DeadOff:
		return false
	case DeadOn:
		return true
	}
	if e.spurious >= 0 && tick >= e.spurious {
		e.spurious = tick + s.falseIn()
		if !e.on && e.since < 0 {
			e.since = tick
		}
	}
	if moved && !e.on && e.since < 0 && tick >= e.blind {
		if s.setup.Missed > 0 && s.rand.Float64() < s.setup.Missed {
			e.blind = tick + s.ticks(missedS)
		} else {
			e.since = tick
			if e.latency > 0 {
				e.since += e.latency - s.rand.IntN(e.latency/2+1)
			}
		}
	}
	if e.since >= 0 && tick >= e.since {
		e.on, e.since, e.until = true, -1, tick+e.hold
	}
	if e.on {
		if moved && !e.single {
			e.until = tick + e.hold
		}
		if tick >= e.until {
			e.on, e.blind = false, tick+e.block
		}
	}
	return e.on
}

// missedS is how long a sensor that misses somebody goes on missing them,
// seconds; a guess.
const missedS = 1.0

// quiet says whether the eye stays off by itself until somebody moves, or until
// its next false pulse.
func (e *eye) quiet() bool { return e.fault != DeadOn && !e.on && e.since < 0 }

// falseIn draws the ticks to the next false pulse of one sensor.
func (s *Sim) falseIn() int {
	if s.setup.FalsePerHour <= 0 {
		return math.MaxInt32
	}
	mean := 3600 / s.setup.FalsePerHour / s.dt
	return int(min(math.MaxInt32, 1+mean*s.rand.ExpFloat64()))
}

// newEyes makes the sensors of a setup.
func (s *Sim) newEyes() {
	s.eyes = s.eyes[:0]
	for i := range s.setup.Zones {
		z := &s.setup.Zones[i]
		if z.Removed {
			continue
		}
		e := eye{sure: z.Sure(), may: z.May(), bit: 1 << i, since: -1, single: s.setup.Single,
			latency: int(z.Latency/s.dt + 1e-9), hold: max(1, s.ticks(z.Hold)), block: int(z.Block / s.dt), spurious: -1}
		if i < len(s.setup.Faults) {
			e.fault = s.setup.Faults[i]
		}
		if s.setup.FalsePerHour > 0 {
			e.spurious = s.falseIn()
		}
		s.eyes = append(s.eyes, e)
	}
}

// ticks returns a time in ticks, rounded up.
func (s *Sim) ticks(seconds float64) int { return int(math.Ceil(seconds/s.dt - 1e-9)) }

// pcg returns the random source of a simulation.
func pcg(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x7761)) }
