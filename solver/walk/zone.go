package walk

import "risewright/model"

// Zone is what the rules know of one sensor. Zone i is wired to input i.
type Zone struct {
	Name string
	// First and Last are the positions where everybody who moves is seen for
	// sure; none when Last < First.
	First, Last int
	// MayFirst and MayLast are those where somebody may be seen; both 0 when they
	// are the same as First and Last.
	MayFirst, MayLast int
	// Removed says that the sensor was taken away and its input is pulled down.
	Removed bool

	Hold    float64 // its output stays on after a movement, seconds
	Block   float64 // blind after its output has gone off, seconds
	WarmUp  float64 // not to be trusted after power comes on, seconds
	Latency float64 // from movement to output at most, seconds
}

// Sure returns the positions where everybody is seen.
func (z *Zone) Sure() Span { return Span{z.First, z.Last} }

// May returns the positions where somebody may be seen; it holds Sure.
func (z *Zone) May() Span {
	if z.MayFirst == 0 && z.MayLast == 0 {
		return z.Sure()
	}
	if z.Last < z.First {
		return Span{z.MayFirst, z.MayLast}
	}
	return Span{min(z.MayFirst, z.First), max(z.MayLast, z.Last)}
}

// Span is a run of positions; it is empty when Last < First.
type Span struct{ First, Last int }

// Has says whether the span has a position.
func (s Span) Has(k int) bool { return k >= s.First && k <= s.Last }

// Len returns how many positions the span has.
func (s Span) Len() int { return max(0, s.Last-s.First+1) }

// within returns the part of s between two positions.
func (s Span) within(low, high int) Span { return Span{max(s.First, low), min(s.Last, high)} }

// Light is what the rules know of the bars.
type Light struct {
	Bars   int // as many as risers
	Scenes []model.Scene
	Cap    float64 // brightness never exceeded, 0 to 1; 0: none
}

// LightOf returns the bars and scenes of a job.
func LightOf(job *model.Job) Light {
	return Light{Bars: len(job.Flight.Steps), Scenes: job.Lighting.Scenes, Cap: job.Lighting.Cap}
}
