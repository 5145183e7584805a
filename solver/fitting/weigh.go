package fitting

import (
	"math"

	"risewright/model"
)

// Weights say what each trouble counts for, in minutes, so that unlike things
// can be added. They are this program's own weighing, from the hours that the
// trade notes give for skirts (1.5 to 2 straight, 3 to 5 scribed), and carry no
// authority: the choice they lead to is explained so that it can be judged.
type Weights struct {
	NewSkirt     float64 // putting up a new skirt, without its lines
	FalseSkirt   float64 // the same, thin, over the old one
	Rough        float64 // cutting a board to the old steps where anything butts it
	TakeOff      float64 // taking the old skirt off
	MeasureAgain float64 // after the old skirt has gone
	Cap          float64
	Housing      float64 // routing one skirt for all its ends
	Narrower     float64 // what a board takes from the clear width
	Applied      float64 // beads look put on
	Seasonal     float64 // filler that opens every winter, on one side
	Plaster      float64 // ends against a bare wall, which is neither flat nor painted wood

	Edge     float64 // scribing an end or back of a riser or tread
	Line     float64 // scribing a line of a skirt
	Bead     float64 // cutting one bead
	Seen     float64 // each joint seen
	Remake   float64 // times the chance that a gap is beyond its limit
	Fill     float64 // a millimetre of gap over what is good
	Creep    float64 // measuring one end again and creeping up to it: no end costs more
	Novice   float64 // factor on the lines of a skirt for a first-timer
	BarTails float64 // a bar whose tail must be led behind a skirt
}

func usualWeights() Weights {
	return Weights{
		NewSkirt: 105, FalseSkirt: 60, Rough: 40, TakeOff: 45, MeasureAgain: 45,
		Cap: 40, Housing: 600, Narrower: 20, Applied: 300, Seasonal: 400, Plaster: 40,
		Edge: 6, Line: 9, Bead: 5, Seen: 1, Remake: 30, Fill: 10, Creep: 6, Novice: 2, BarTails: 3,
	}
}

// rising says that a gap never makes a choice cheaper.
func (w *Weights) rising() bool { return w.Remake >= 0 && w.Fill >= 0 && w.Creep >= 0 }

// Cost is what a choice comes to, minutes.
type Cost struct {
	Boards   float64 // making, taking off, and what they look like or take up
	Scribing float64
	Gaps     float64 // made again or filled
	Seen     float64
	Access   float64 // caps and bar tails
}

// Total is the sum.
func (c Cost) Total() float64 { return c.Boards + c.Scribing + c.Gaps + c.Seen + c.Access }

// weigh returns the cost of a build whose gaps have been filled in.
func (w *Weights) weigh(b *build, c choice, kinds [2]model.SideKind, first bool) Cost {
	var out Cost
	for s, d := range c.side {
		out.Boards += w.side(d, kinds[s])
		if d.Cap {
			out.Access += w.Cap
		}
	}
	for i := range b.joints {
		w.joint(&out, &b.joints[i], first)
	}
	for i := range b.items {
		switch b.items[i].Kind {
		case BeadRun:
			out.Boards += w.Bead
		case Bar:
			for _, d := range c.side {
				if d.TreadPast && d.Removable() {
					out.Access += w.BarTails
				}
			}
		}
	}
	return out
}

// side returns what the board of a side costs beside its joints.
func (w *Weights) side(d Decision, kind model.SideKind) float64 {
	v := 0.0
	switch d.Board {
	case BareWall:
		v = w.Plaster
	case FalseBoard:
		v = w.FalseSkirt + w.Narrower
	case NewSkirt:
		v = w.NewSkirt + w.MeasureAgain
		if kind == model.Skirt {
			v += w.TakeOff
		} else {
			v += w.Narrower
		}
	}
	if (d.Board == FalseBoard || d.Board == NewSkirt) && !(d.RiserPast && d.TreadPast) {
		v += w.Rough
	}
	switch d.Ends {
	case Bead:
		v += w.Applied
	case Caulk:
		v += w.Seasonal
	case Housed:
		v += w.Housing
	}
	return v
}

// joint adds what one joint costs.
func (w *Weights) joint(c *Cost, j *Joint, first bool) {
	if j.Scribed != "" {
		v := w.Edge
		if j.kind == skirtLevel || j.kind == skirtPlumb {
			v = w.Line
			if first {
				v *= w.Novice
			}
		}
		c.Scribing += v
	}
	if !j.Visible {
		return
	}
	c.Seen += w.Seen
	v := w.Remake*j.Gap.Beyond + w.Fill*j.Gap.Over
	if k := j.kind; k == treadEnd || k == riserEnd || k == treadBack {
		v = math.Min(v, w.Creep)
	}
	c.Gaps += v
}
