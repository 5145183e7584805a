package walk

// Live is a stair with one walker that a hand moves, for the window: drag
// somebody up and down the section and see which bars light.
type Live struct {
	sim *Sim
	at  float64 // seconds
	was float64
	set bool
}

// longest is the most that is walked through at once, in seconds; after a longer
// pause the stair has come to rest anyway.
const longest = 120

// mostFade is the longest fade, 30 s, in the shortest ticks, 5 ms; see
// model.ControlFacts.
const mostFade = 6000

// NewLive returns the stair, empty, at time 0.
func NewLive(setup Setup) (*Live, error) {
	sim, err := NewSim(setup, 1)
	if err != nil {
		return nil, err
	}
	return &Live{sim: sim}, nil
}

// Tables returns the tables that it runs on.
func (l *Live) Tables() *Tables { return l.sim.t }

// At moves the walker evenly from where they were to a place along the flight
// (see Walker), arriving at a time in seconds, and returns the bars then, from
// the bottom. Times that do not go on count as the time reached. The first call
// puts the walker there. The bars are valid until the next call.
func (l *Live) At(place, seconds float64) []Bar {
	if !l.set {
		l.set, l.was = true, place
		l.at = max(l.at, seconds)
		l.sim.bodies = append(l.sim.bodies[:0], body{})
		l.sim.bodies[0].begin(&Walker{Name: "by hand", From: place})
	}
	ticks := min(int((seconds-l.at)/l.sim.dt+1e-9), int(longest/l.sim.dt))
	if ticks <= 0 {
		return l.sim.bars
	}
	b := &l.sim.bodies[0]
	from := l.was
	for i := 1; i <= ticks; i++ {
		to := from + (place-from)*float64(i)/float64(ticks)
		b.carry(to)
		l.sim.sense()
		l.sim.bars = l.sim.core.Step(Inputs{Sensors: l.sim.inputs})
		l.sim.judge()
		l.sim.tick++
	}
	l.was = place
	l.at += float64(ticks) * l.sim.dt
	return l.sim.bars
}

// Show puts the first scene of a kind on, as the button does, lets its fade end
// with nobody moving, and returns the bars. Without such a scene it returns false
// and leaves on what was.
func (l *Live) Show(kind SceneKind) ([]Bar, bool) {
	s := l.sim
	found := false
	for range s.t.Scenes {
		found = found || s.t.Scenes[s.core.Scene()].Kind == kind
		for i := 0; i < 3 && !found; i++ { // down for two ticks, and up again
			s.bars = s.core.Step(Inputs{Button: i < 2})
		}
	}
	for range mostFade {
		if s.bars = s.core.Step(Inputs{}); s.core.still() > 0 {
			break
		}
	}
	return s.bars, found
}

// Sensors returns which inputs are on.
func (l *Live) Sensors() uint16 { return l.sim.inputs }

// Silent returns the inputs of sensors that the rules have found to have failed.
func (l *Live) Silent() uint16 {
	var out uint16
	for row := range l.sim.t.Sensors {
		if l.sim.core.Silent()&(1<<row) != 0 {
			out |= 1 << l.sim.t.Sensors[row].Input
		}
	}
	return out
}

// May says whether by the rules somebody may be at position k.
func (l *Live) May(k int) bool { return l.sim.core.May(k) }

// Feet returns the positions that the walker's feet are on.
func (l *Live) Feet() Place {
	if !l.set {
		return Place{On: -1, Lifting: -1}
	}
	return l.sim.bodies[0].place
}

// Score returns what came of it so far.
func (l *Live) Score() Score {
	s := l.sim.score
	s.close(l.sim)
	return s
}

// carry puts a walker somewhere, as moved by a hand.
func (b *body) carry(to float64) {
	way := 0
	switch {
	case to > b.at:
		way = 1
	case to < b.at:
		way = -1
	}
	b.place.Way, b.place.Moving = way, way != 0
	b.to(to)
	b.stands()
}
