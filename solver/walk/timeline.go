package walk

// Timeline is a run to be played: a frame every so often.
type Timeline struct {
	Tables *Tables
	Seed   uint64
	Every  float64 // seconds from frame to frame
	Frames []Frame
	Score  Score
}

// Frame is one moment of a run.
type Frame struct {
	At      float64 // seconds
	Bars    []Bar   // from the bottom
	Sensors uint16  // inputs that are on
	Walkers []Place
}

// mostFrames bounds the memory of a timeline: an hour at 25 a second.
const mostFrames = 90_000

// Record runs walkers over a setup and keeps a frame every so many seconds (0: a
// twenty-fifth), an hour's worth at most at 25 a second. The run itself goes on
// to its end. Keep the walkers to a few: nothing is skipped between them.
func Record(setup Setup, walkers []Walker, seed uint64, every float64) (*Timeline, error) {
	sim, err := NewSim(setup, seed)
	if err != nil {
		return nil, err
	}
	if !(every > 0) {
		every = 0.04
	}
	tl := &Timeline{Tables: sim.t, Seed: seed, Every: every}
	sim.Whole = true
	next := 0.0
	sim.Watch = func(at float64, bars []Bar, inputs uint16, places []Place) {
		if at+1e-9 < next || len(tl.Frames) == mostFrames {
			return
		}
		next += every
		tl.Frames = append(tl.Frames, Frame{at, append([]Bar(nil), bars...), inputs, append([]Place(nil), places...)})
	}
	tl.Score = sim.Run(walkers)
	return tl, nil
}

// Frame returns the frame shown at a time in seconds, or nil when there is none.
func (tl *Timeline) Frame(at float64) *Frame {
	i := int(at/tl.Every + 1e-9)
	if len(tl.Frames) == 0 || !(at >= 0) {
		return nil
	}
	return &tl.Frames[min(i, len(tl.Frames)-1)]
}
