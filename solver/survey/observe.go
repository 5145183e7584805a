package survey

import (
	"math"

	"risewright/model"
)

// maxTerms is the most unknowns one observation depends on: that a side runs on
// depends on both coordinates of three corners, two heights and a lean.
const maxTerms = 9

// row is one observation linearised at the current shape: what the shape
// predicts, and the gradient of that prediction with respect to a few
// unknowns, given by their place in the whole vector.
type row struct {
	predicted float64
	n         int
	at        [maxTerms]int32
	gradient  [maxTerms]float64
}

func (r *row) reset()                      { r.n = 0 }
func (r *row) term(at int, g float64)      { r.at[r.n] = int32(at); r.gradient[r.n] = g; r.n++ }
func (r *row) vector(at int, x, y float64) { r.term(at, x); r.term(at+1, y) }

// site is where a step's unknowns lie in the whole vector, with the named
// corners of its opening.
type site struct {
	at             int // place of x0
	corners        int
	fl, fr, br, bl int
}

func (s site) corner(c int) int   { return s.at + 2*c }
func (s site) topLeft() int       { return s.at + 2*s.corners }
func (s site) topRight() int      { return s.at + 2*s.corners + 1 }
func (s site) fall() int          { return s.at + 2*s.corners + 2 }
func (s site) lean(side int) int  { return s.at + 2*s.corners + 3 + side }
func (s site) count() int         { return 2*s.corners + 5 }
func (s site) next(c int) int     { return (c + 1) % s.corners }
func (s site) previous(c int) int { return (c + s.corners - 1) % s.corners }

// observe fills r with what kind k would read at step i of the shape x, and
// its gradient. It returns false when the kind does not exist there, as a
// going at the first step or a depth where a winder comes to a point.
func observe(r *row, sites []site, i int, k model.Kind, x []float64) bool {
	r.reset()
	if k.WholeFlight() {
		return observeFlight(r, sites, k, x)
	}
	s := sites[i]
	switch k {
	case model.FrontWidth:
		return distance(r, x, s.corner(s.fl), s.corner(s.fr))
	case model.BackWidth:
		return distance(r, x, s.corner(s.bl), s.corner(s.br))
	case model.LeftDepth:
		return distance(r, x, s.corner(s.fl), s.corner(s.bl))
	case model.RightDepth:
		return distance(r, x, s.corner(s.fr), s.corner(s.br))
	case model.DiagonalLeft:
		return distance(r, x, s.corner(s.bl), s.corner(s.fr))
	case model.DiagonalRight:
		return distance(r, x, s.corner(s.br), s.corner(s.fl))
	case model.MiddleWidth:
		return middleWidth(r, x, s)
	case model.GaugeFrontLeft:
		return interior(r, x, s, s.fl)
	case model.GaugeFrontRight:
		return interior(r, x, s, s.fr)
	case model.GaugeBackRight:
		return interior(r, x, s, s.br)
	case model.GaugeBackLeft:
		return interior(r, x, s, s.bl)
	case model.LeanLeft:
		return single(r, x, s.lean(0))
	case model.LeanRight:
		return single(r, x, s.lean(1))
	case model.RiseLeft:
		return rise(r, x, sites, i, site.topLeft)
	case model.RiseRight:
		return rise(r, x, sites, i, site.topRight)
	case model.GoingLeft:
		return i > 0 && offset(r, x, sites[i-1].corner(sites[i-1].fl), sites[i-1].corner(sites[i-1].fr), s.corner(s.fl))
	case model.GoingRight:
		return i > 0 && offset(r, x, sites[i-1].corner(sites[i-1].fl), sites[i-1].corner(sites[i-1].fr), s.corner(s.fr))
	case model.TiltAcross:
		return tiltAcross(r, x, s)
	case model.TiltFore:
		f := x[s.fall()]
		r.predicted = math.Atan(f)
		r.term(s.fall(), 1/(1+f*f))
		return true
	}
	return false
}

// observeFlight is observe for the kinds read once.
func observeFlight(r *row, sites []site, k model.Kind, x []float64) bool {
	first, last := sites[0], sites[len(sites)-1]
	switch k {
	case model.TotalRise:
		r.predicted = (x[last.topLeft()] + x[last.topRight()]) / 2
		r.term(last.topLeft(), 0.5)
		r.term(last.topRight(), 0.5)
		return true
	case model.TotalGoing:
		return totalGoing(r, x, first, last)
	case model.LongDiagonalLeft:
		return distance(r, x, first.corner(first.fl), last.corner(last.fr))
	case model.LongDiagonalRight:
		return distance(r, x, first.corner(first.fr), last.corner(last.fl))
	}
	return false
}

// totalGoing is the distance of the middle of the last nose from the first
// nose line: the mean of the distances of its two ends.
func totalGoing(r *row, x []float64, first, last site) bool {
	var left, right row
	a, b := first.corner(first.fl), first.corner(first.fr)
	if first == last || !offset(&left, x, a, b, last.corner(last.fl)) || !offset(&right, x, a, b, last.corner(last.fr)) {
		return false
	}
	r.predicted = (left.predicted + right.predicted) / 2
	for t := 0; t < 2; t++ { // each offset begins with its own point's x and y
		r.term(int(left.at[t]), left.gradient[t]/2)
		r.term(int(right.at[t]), right.gradient[t]/2)
	}
	for t := 2; t < left.n; t++ { // and goes on with the shared line's
		r.term(int(left.at[t]), (left.gradient[t]+right.gradient[t])/2)
	}
	return true
}

func single(r *row, x []float64, at int) bool {
	r.predicted = x[at]
	r.term(at, 1)
	return true
}

func difference(r *row, x []float64, plus, minus int) bool {
	r.predicted = x[plus] - x[minus]
	r.term(plus, 1)
	r.term(minus, -1)
	return true
}

func rise(r *row, x []float64, sites []site, i int, top func(site) int) bool {
	if i == 0 { // from the old bottom floor, which is z = 0
		return single(r, x, top(sites[0]))
	}
	return difference(r, x, top(sites[i]), top(sites[i-1]))
}

// shortest is the length in mm below which a direction has no meaning. Nothing
// on a stair is so short, and float64 still resolves it at 1e5 mm.
const shortest = 1e-6

// distance is the plan distance between the points whose x lie at a and b.
func distance(r *row, x []float64, a, b int) bool {
	dx, dy := x[b]-x[a], x[b+1]-x[a+1]
	d := math.Hypot(dx, dy)
	if a == b || d < shortest {
		return false
	}
	dx, dy = dx/d, dy/d
	r.predicted = d
	r.vector(a, -dx, -dy)
	r.vector(b, dx, dy)
	return true
}

// middleWidth is the distance between the middles of the two sides' chords.
func middleWidth(r *row, x []float64, s site) bool {
	fl, fr, br, bl := s.corner(s.fl), s.corner(s.fr), s.corner(s.br), s.corner(s.bl)
	dx := (x[fr] + x[br] - x[fl] - x[bl]) / 2
	dy := (x[fr+1] + x[br+1] - x[fl+1] - x[bl+1]) / 2
	d := math.Hypot(dx, dy)
	if d < shortest {
		return false
	}
	dx, dy = dx/(2*d), dy/(2*d)
	r.predicted = d
	if s.fl == s.bl { // a winder's point: one corner takes both halves
		r.vector(fl, -2*dx, -2*dy)
	} else {
		r.vector(fl, -dx, -dy)
		r.vector(bl, -dx, -dy)
	}
	if s.fr == s.br {
		r.vector(fr, 2*dx, 2*dy)
	} else {
		r.vector(fr, dx, dy)
		r.vector(br, dx, dy)
	}
	return true
}

// interior is the interior angle of the opening at corner c: turning
// anticlockwise from the edge that leaves it to the edge that enters it.
func interior(r *row, x []float64, s site, c int) bool {
	o, a, b := s.corner(c), s.corner(s.next(c)), s.corner(s.previous(c))
	ax, ay := x[a]-x[o], x[a+1]-x[o+1]
	bx, by := x[b]-x[o], x[b+1]-x[o+1]
	a2, b2 := ax*ax+ay*ay, bx*bx+by*by
	if a2 < shortest*shortest || b2 < shortest*shortest {
		return false
	}
	angle := math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
	if angle < 0 {
		angle += 2 * math.Pi
	}
	r.predicted = angle
	// d(direction of v) = (-vy, vx)/|v|² · dv
	gax, gay := ay/a2, -ax/a2
	gbx, gby := -by/b2, bx/b2
	r.vector(a, gax, gay)
	r.vector(b, gbx, gby)
	r.vector(o, -gax-gbx, -gay-gby)
	return true
}

// tiltAcross is the slope of the nose line, up to the right.
func tiltAcross(r *row, x []float64, s site) bool {
	a, b := s.corner(s.fl), s.corner(s.fr)
	dx, dy := x[b]-x[a], x[b+1]-x[a+1]
	w := math.Hypot(dx, dy)
	if w < shortest {
		return false
	}
	h := x[s.topRight()] - x[s.topLeft()]
	t := h / w
	k := 1 / (1 + t*t)
	r.predicted = math.Atan(t)
	r.term(s.topRight(), k/w)
	r.term(s.topLeft(), -k/w)
	gx, gy := -k*t/w*dx/w, -k*t/w*dy/w
	r.vector(b, gx, gy)
	r.vector(a, -gx, -gy)
	return true
}

// offset is the signed distance of point p from the line through a and b,
// positive to the left of a→b.
func offset(r *row, x []float64, a, b, p int) bool {
	r.reset()
	ux, uy := x[b]-x[a], x[b+1]-x[a+1]
	l := math.Hypot(ux, uy)
	if a == b || l < shortest {
		return false
	}
	ux, uy = ux/l, uy/l
	px, py := x[p]-x[a], x[p+1]-x[a+1]
	t := (px*ux + py*uy) / l
	r.predicted = ux*py - uy*px
	nx, ny := -uy, ux
	r.vector(p, nx, ny)
	r.vector(b, -t*nx, -t*ny)
	r.vector(a, (t-1)*nx, (t-1)*ny)
	return true
}
