package buildup

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/survey"
)

// chain is the covariance of one pair of unknowns (left, right) of every step
// along the flight, such as the heights of the noses.
//
// The survey gives the covariance of a step with itself and with the one
// below. Steps further apart are joined by the Markov rule
//
//	C(a,b) = C(a,a-1) V(a-1)⁻¹ C(a-1,b)
//
// which is exact when steps are tied to their neighbours only, each pair by
// itself. A reading of the whole flight makes it an approximation.
type chain struct {
	own   []mgl64.Mat2 // V(i)
	below []mgl64.Mat2 // C(i, i-1); the first is zero
}

// newChain reads the covariances of unknowns left(i) and right(i) of the steps
// of s, given by their places in each step's block. A step without covariances
// counts as exactly known.
func newChain(s *survey.Result, left, right func(*survey.Step) int) chain {
	n := len(s.Steps)
	both := make([]mgl64.Mat2, 2*n)
	c := chain{own: both[:n], below: both[n:]}
	for i := range s.Steps {
		t := &s.Steps[i]
		l, r := left(t), right(t)
		w := unknowns(t)
		if len(t.Cov) == w*w {
			c.own[i] = mgl64.Mat2FromRows(
				mgl64.Vec2{t.Cov[l*w+l], t.Cov[l*w+r]},
				mgl64.Vec2{t.Cov[r*w+l], t.Cov[r*w+r]})
		}
		if i == 0 {
			continue
		}
		u := &s.Steps[i-1]
		v := unknowns(u)
		if len(t.Cross) == w*v {
			bl, br := left(u), right(u)
			c.below[i] = mgl64.Mat2FromRows(
				mgl64.Vec2{t.Cross[l*v+bl], t.Cross[l*v+br]},
				mgl64.Vec2{t.Cross[r*v+bl], t.Cross[r*v+br]})
		}
	}
	return c
}

func unknowns(s *survey.Step) int {
	_, _, _, _, _, n := survey.Unknowns(len(s.Corners))
	return n
}

// between returns C(a, b) for a >= b; rows belong to a, columns to b. An index
// below 0 is the floor, which is exact.
func (c chain) between(a, b int) mgl64.Mat2 {
	if b < 0 || a < 0 {
		return mgl64.Mat2{}
	}
	if a == b {
		return c.own[a]
	}
	m := c.below[b+1]
	for i := b + 2; i <= a; i++ {
		m = c.below[i].Mul2(invert(c.own[i-1])).Mul2(m)
	}
	return m
}

// singular is the share of the product of the two variances below which their
// covariance matrix counts as singular: 1e-10 is a correlation of 1 - 5e-11,
// which no pair of readings reaches, while rounding of 1e-16 leaves the
// inverse six digits.
const singular = 1e-10

// invert returns the inverse of a 2 by 2 covariance. Of a singular one it
// returns the inverse of the better known part alone; that loses nothing,
// because the other follows from it.
func invert(m mgl64.Mat2) mgl64.Mat2 {
	a, b, d := m.At(0, 0), m.At(0, 1), m.At(1, 1)
	det := a*d - b*b
	if det > singular*a*d {
		return mgl64.Mat2FromRows(mgl64.Vec2{d / det, -b / det}, mgl64.Vec2{-b / det, a / det})
	}
	var out mgl64.Mat2
	switch {
	case a > 0 && (d <= 0 || a <= d):
		out.Set(0, 0, 1/a)
	case d > 0:
		out.Set(1, 1, 1/d)
	}
	return out
}

// term is a weight on the unknown of one step at one side.
type term struct {
	step   int // index; below 0 is exact
	side   Side
	weight float64
}

// spread returns one standard deviation of a weighted sum of unknowns.
func (c chain) spread(terms ...term) float64 {
	v := 0.0
	for i, t := range terms {
		for k := 0; k <= i; k++ {
			u := terms[k]
			hi, lo := t, u
			if hi.step < lo.step {
				hi, lo = lo, hi
			}
			if lo.step < 0 {
				continue
			}
			x := c.between(hi.step, lo.step).At(column(hi.side), column(lo.side)) * t.weight * u.weight
			if k < i {
				x *= 2
			}
			v += x
		}
	}
	if v <= 0 { // a covariance is positive; rounding may not be
		return 0
	}
	return math.Sqrt(v)
}

func column(s Side) int {
	if s == Right {
		return 1
	}
	return 0
}
