package drawing

import "math"

// box is the smallest upright rectangle round what was added to it.
type box struct{ min, max Point }

func emptyBox() box {
	inf := math.Inf(1)
	return box{Point{inf, inf}, Point{-inf, -inf}}
}

func (b *box) add(p Point) {
	b.min.X, b.min.Y = math.Min(b.min.X, p.X), math.Min(b.min.Y, p.Y)
	b.max.X, b.max.Y = math.Max(b.max.X, p.X), math.Max(b.max.Y, p.Y)
}

func (b *box) addDisc(c Point, r float64) {
	r = math.Abs(r)
	b.add(Point{c.X - r, c.Y - r})
	b.add(Point{c.X + r, c.Y + r})
}

// addArc adds the ends of the arc and each quarter point it passes.
func (b *box) addArc(c Point, r, from, to float64) {
	lo, hi := math.Min(from, to), math.Max(from, to)
	if !finite(lo) || !finite(hi) || hi-lo >= 2*math.Pi {
		b.addDisc(c, r)
		return
	}
	at := func(a float64) {
		s, k := math.Sincos(a)
		b.add(Point{c.X + r*k, c.Y + r*s})
	}
	at(lo)
	at(hi)
	for q := math.Ceil(lo / (math.Pi / 2)); q*math.Pi/2 < hi; q++ {
		at(q * math.Pi / 2)
	}
}

func (b *box) corners() (min, max Point) {
	if b.min.X > b.max.X {
		return Point{}, Point{}
	}
	return b.min, b.max
}
