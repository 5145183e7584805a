package walk

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"risewright/model"
)

// Setup is a stair with its sensors and its controller, to be walked on.
type Setup struct {
	Name    string
	Zones   []Zone // what the sensors see, in truth
	Known   []Zone // what the tables were made from; nil: the same
	Control model.Control
	Light   Light

	Faults       []Fault // by zone
	Single       bool    // sensors do not stay on while somebody moves
	Missed       float64 // share of movements that a sensor misses for a second
	FalsePerHour float64 // false pulses of each sensor
	BarW         float64 // watts of a bar at full, for the energy; 0: counted in hours of a bar at full
}

// Tables makes the controller's tables of a setup.
func (s *Setup) Tables() (*Tables, error) {
	zones := s.Known
	if zones == nil {
		zones = s.Zones
	}
	return Make(zones, s.Control, s.Light)
}

// Sim walks people over a stair. The same setup, seed and walkers give the same
// run, byte for byte.
type Sim struct {
	setup Setup
	t     *Tables
	core  *Core
	rand  *rand.Rand
	eyes  []eye
	dt    float64
	tick  int
	late  int // ticks of the entry latency

	bodies []body // on the way
	bars   []Bar
	inputs uint16
	litFor [MaxBars]int // ticks a bar has been lit
	score  Score

	// Watch, if set, is called after every tick that is walked through. Bars and
	// places are valid during the call only.
	Watch  func(at float64, bars []Bar, inputs uint16, places []Place)
	places []Place
	// Whole walks through the ticks in which nothing happens too, instead of
	// skipping them.
	Whole bool
}

// NewSim returns a simulation at the moment when the sensors have warmed up and
// the stair has been empty for long.
func NewSim(setup Setup, seed uint64) (*Sim, error) {
	t, err := setup.Tables()
	if err != nil {
		return nil, err
	}
	s := &Sim{setup: setup, t: t, core: NewCore(t)}
	s.restart(seed)
	return s, nil
}

// Tables returns the tables that the simulation runs on.
func (s *Sim) Tables() *Tables { return s.t }

// Core returns the controller's state.
func (s *Sim) Core() *Core { return s.core }

// restart puts the simulation back to its beginning, with another seed.
func (s *Sim) restart(seed uint64) {
	s.core.Reset()
	s.rand = pcg(seed)
	s.dt = float64(s.t.TickMS) / 1000
	latency := s.setup.Control.Latency
	for _, z := range s.setup.Zones {
		latency = max(latency, z.Latency)
	}
	s.late = s.ticks(latency) + 2
	s.newEyes()
	s.bodies, s.score = s.bodies[:0], Score{}
	s.litFor = [MaxBars]int{}
	quiet := 0
	for i := range s.t.Sensors {
		quiet = max(quiet, int(s.t.Sensors[i].Quiet))
	}
	idle := uint16(0)
	for i := range s.eyes {
		if s.eyes[i].fault == DeadOn {
			idle |= s.eyes[i].bit
			quiet = max(quiet, int(s.t.Stuck))
		}
	}
	for range int(s.t.Warm) + quiet + 2*int(s.t.Still) + 512 {
		s.bars = s.core.Step(Inputs{Sensors: idle})
	}
	s.tick = 0
}

// Run walks everybody, in the order of their Start, until all are gone and the
// lights have come to rest, and returns what came of it. Start is in seconds
// from the beginning of the run; after the last walker the stair is watched for
// at least as long as it takes to go dark.
func (s *Sim) Run(walkers []Walker) Score {
	order := make([]*Walker, len(walkers))
	for i := range walkers {
		order[i] = &walkers[i]
	}
	sort.SliceStable(order, func(i, k int) bool { return order[i].Start < order[k].Start })
	next, began := 0, s.tick
	for {
		if len(s.bodies) == 0 {
			still, ever := s.still()
			if next == len(order) && ever {
				break
			}
			// Nothing happens before the next walker or the next false pulse.
			if next < len(order) {
				still = min(still, began+int(order[next].Start/s.dt)-s.tick-1)
			}
			s.skip(still)
		}
		for next < len(order) && float64(s.tick-began)*s.dt >= order[next].Start {
			s.bodies = append(s.bodies, body{})
			s.bodies[len(s.bodies)-1].begin(order[next])
			next++
		}
		s.step()
	}
	s.score.Seconds = float64(s.tick-began) * s.dt
	s.score.Walks = len(walkers)
	s.score.close(s)
	return s.score
}

// still returns for how many ticks nothing happens by itself, and whether nothing
// ever does but false pulses; see Core.still.
func (s *Sim) still() (ticks int, ever bool) {
	ticks = s.core.still()
	ever = ticks == math.MaxInt
	for i := range s.eyes {
		e := &s.eyes[i]
		if !e.quiet() && e.fault != DeadOn {
			return 0, false
		}
		if e.spurious >= 0 {
			ticks = min(ticks, e.spurious-s.tick-1)
		}
	}
	return ticks, ever
}

// skip lets ticks pass in which nothing happens.
func (s *Sim) skip(ticks int) {
	if ticks <= 0 || s.Whole || s.setup.hasDeadOn() {
		return
	}
	s.core.skip(ticks)
	for i := range s.bars {
		s.score.BarHours += float64(s.bars[i].Level) / 255 * float64(ticks) * s.dt / 3600
		if s.t.Lit(s.bars[i].Index) {
			s.litFor[i] += ticks
			lit := s.dt * float64(ticks)
			s.score.Lit += lit
			s.score.Needless += lit
		}
	}
	s.tick += ticks
}

func (s *Setup) hasDeadOn() bool { return slices.Contains(s.Faults, DeadOn) }

// step takes everything on by one tick.
func (s *Sim) step() {
	for i := range s.bodies {
		s.bodies[i].step(s.dt)
	}
	s.sense()
	s.bars = s.core.Step(Inputs{Sensors: s.inputs})
	s.judge()
	if s.Watch != nil {
		s.places = s.places[:0]
		for i := range s.bodies {
			s.places = append(s.places, s.bodies[i].place)
		}
		s.Watch(float64(s.tick)*s.dt, s.bars, s.inputs, s.places)
	}
	s.tick++
	keep := s.bodies[:0]
	for i := range s.bodies {
		if !s.bodies[i].done {
			keep = append(keep, s.bodies[i])
		}
	}
	s.bodies = keep
}

// sense works out what the sensors say.
func (s *Sim) sense() {
	s.inputs = 0
	for i := range s.eyes {
		e := &s.eyes[i]
		moved := false
		for k := range s.bodies {
			b := &s.bodies[k]
			if !b.place.Moving {
				continue
			}
			at := b.place.On
			switch {
			case e.sure.Has(at) || e.sure.Has(b.place.Lifting):
				moved = true
				if b.seen < 0 && e.fault == Healthy {
					b.seen = s.tick
				}
			case e.may.Has(at): // some are seen there and some are not
				moved = moved || (int(b.w.Start*7)+i)&1 == 0
			}
		}
		if e.look(s.tick, moved, s) {
			s.inputs |= e.bit
		}
	}
	n := int(s.t.Bars)
	for k := range s.bodies {
		// Whoever stands on a floor is as good as not there, and comes in anew.
		if b := &s.bodies[k]; b.place.On < 0 || b.place.On > n || (b.place.On == 0 || b.place.On == n) && !b.place.Moving {
			b.seen = -1
		}
	}
}
