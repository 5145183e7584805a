package stock

import (
	"math"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

const (
	// quantile99 is the one-sided 99 % quantile of the normal distribution: a
	// length lengthened by so many standard deviations is long enough in 99
	// cases of 100.
	quantile99 = 2.3263478740408408
	// roughMetric and roughImperial are what a rough length is rounded up to:
	// nobody cuts a blank finer. Common practice, no source.
	roughMetric = 5.0
	// tight is the least a board may have over its piece in width, mm, as in
	// package saw. Common practice, no source.
	tight         = 2.0
	roughImperial = 25.4 / 4
)

// rough rounds a length up to what a blank is cut to.
func rough(v float64, u model.Units) float64 {
	step := roughMetric
	if u == model.Imperial {
		step = roughImperial
	}
	// What float64 adds to a whole number of steps is no step more.
	const slack = 1e-6
	return math.Ceil(v/step-slack) * step
}

// BlankOf returns the blank of a piece: the box round its solid, along the edge
// at the fence, with the spare that the practice asks for, and while the piece
// is not released what its spread calls for.
func BlankOf(p *pieces.Piece, g model.Goods, u model.Units) Blank {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, v := range p.Solid.Verts {
		for k := range 2 {
			lo[k], hi[k] = math.Min(lo[k], v[k]), math.Max(hi[k], v[k])
		}
	}
	b := Blank{Piece: p.ID, Spare: g.Figure("spare-length", 25)}
	length, width := hi[0]-lo[0], hi[1]-lo[1]
	spare := g.Figure("spare-width", 6)
	least := math.Min(tight, spare)
	if !p.Released {
		b.Unsure = quantile99 / survey.Band95 * math.Max(p.Figures.Back.PlusMinus, p.Figures.Front.PlusMinus)
		unsure := quantile99 / survey.Band95 * math.Max(p.Figures.LeftDepth.PlusMinus, p.Figures.RightDepth.PlusMinus)
		spare, least = spare+unsure, least+unsure
	}
	b.Length = rough(length+b.Spare+b.Unsure, u)
	b.Width, b.Least = width+spare, width+least
	return b
}
