package demo

import (
	"math"
	"math/rand/v2"

	"risewright/model"
)

// plan is a stair of our own invention before anybody measures it. Lengths are
// millimetres, angles radians.
type plan struct {
	risers int
	rise   float64 // existing, mean
	going  float64 // between existing riser faces, mean
	// width is between the sides at mid depth of the middle tread, at the
	// height of its new top.
	width float64
	taper [2]float64 // how far each side runs inwards going up the plan
	lean  [2]float64 // how far each side leans outwards going up
	bow   [2]float64 // bulge of each side into the stair at mid flight
	rough rough
	seed  uint64
}

// rough is how far a site-built stair strays from its plan: one standard
// deviation each.
type rough struct {
	rise, going  float64 // of one step
	skew         float64 // of a riser face, seen from above
	tilt, fall   float64 // of a tread, in rise over run
	lean         float64 // of a side at one step
	exactFaces   int     // a step whose two riser faces stand square and to plan; 0: none
	exactOpening float64 // the depth of that opening
}

// opening is the truth about one step: what perfect readings would give.
type opening struct {
	corner      []model.Corner // as in model.Step
	edges       []model.Edge
	left, right float64 // height of the existing tread top at the front corners
	fall        float64 // rise over run
	lean        [2]float64
}

// truth returns the openings that overlay j.Overlay would find on p.
//
// The sides are planes, a little bowed: the left one stands at
//
//	x = y·tan(taper) − z·tan(lean) + bow·sin(π·y/L)
//
// and the right one mirrors it. Opening k lies at the height of its new tread
// top. Its front edge is the new nose line, set forward from existing riser
// face k by the new riser and the overhang, square to the face; its back edge
// is existing face k+1, or the rear edge of the landing nosing.
func (p plan) truth(j model.Job) []opening {
	rng := rand.New(rand.NewPCG(p.seed, 1))
	wander := func(spread float64) float64 { return spread * clipped(rng) }
	n := p.risers
	forward := float64(model.NoseSetForward(j))
	// faces and heights
	at := make([]float64, n)   // y of face k at mid width
	skew := make([]float64, n) // its slope dy/dx
	top := make([]float64, n)
	y, z := forward, 0.0
	for k := range n {
		at[k], skew[k] = y, math.Tan(wander(p.rough.skew))
		z += p.rise + wander(p.rough.rise)
		top[k] = z
		y += p.going + wander(p.rough.going)
		if k == p.rough.exactFaces-1 && k >= 0 {
			y = at[k] + p.rough.exactOpening - forward
		}
	}
	if k := p.rough.exactFaces; k > 0 {
		skew[k-1], skew[k] = 0, 0
	}
	laid := func(k int) float64 {
		if k == n-1 {
			return top[k] + float64(j.Overlay.FloorTop)
		}
		return top[k] + float64(j.Overlay.Tread)
	}
	run := p.going * float64(n)
	inset := func(side int, y, z float64) float64 {
		return y*math.Tan(p.taper[side]) - z*math.Tan(p.lean[side]) + p.bow[side]*math.Sin(math.Pi*y/run)
	}
	middle := n/2 - 1
	if p.rough.exactFaces > 0 {
		middle = p.rough.exactFaces - 1
	}
	my := (at[middle] - forward + at[middle+1]) / 2
	wall := p.width + inset(0, my, laid(middle)) + inset(1, my, laid(middle)) // x of the right side at y = z = 0
	// corner is where the line y = y0 + s·(x − mid) meets a side at height z.
	// Both are nearly square to each other, so substitution converges by a
	// factor of skew times taper, 1e-4, each time.
	corner := func(side int, y0, s, z float64) model.Corner {
		x, y := 0.0, y0
		for range 12 {
			x = inset(side, y, z)
			if side == 1 {
				x = wall - x
			}
			y = y0 + s*(x-wall/2)
		}
		return model.Corner{X: model.Length(x), Y: model.Length(y)}
	}
	out := make([]opening, n)
	for k := range out {
		s, h := skew[k], laid(k)
		front := at[k] - forward*math.Hypot(1, s)
		back, slope := front+float64(j.Overlay.LandingDepth)*math.Hypot(1, s), s
		if k < n-1 {
			back, slope = at[k+1], skew[k+1]
		}
		o := &out[k]
		o.edges = model.StraightEdges()
		o.corner = []model.Corner{corner(0, front, s, h), corner(1, front, s, h), corner(1, back, slope, h), corner(0, back, slope, h)}
		half := wander(p.rough.tilt) * float64(o.corner[0].Distance(o.corner[1])) / 2
		o.left, o.right = top[k]-half, top[k]+half
		o.fall = wander(p.rough.fall)
		for side := range o.lean {
			o.lean[side] = p.lean[side] + wander(p.rough.lean)
		}
	}
	return out
}

// worst is the most spreads by which the invented stair and its readings
// stray. Beyond two, a reading would look like a blunder that was not planted,
// and the demo would teach distrust of a good tool.
const worst = 2.0

// clipped returns a standard normal number, drawn again beyond worst.
func clipped(rng *rand.Rand) float64 {
	for {
		if v := rng.NormFloat64(); math.Abs(v) <= worst {
			return v
		}
	}
}

// named returns the indices of the corners of an opening where its front and its
// back edge end.
func (o *opening) named() (fl, fr, br, bl int) {
	s := model.Step{Edges: o.edges}
	return s.FrontLeft(), s.FrontRight(), s.BackRight(), s.BackLeft()
}

// front and back return the ends of the nose line and of the riser face behind,
// left before right.
func (o *opening) front() (left, right model.Corner) {
	fl, fr, _, _ := o.named()
	return o.corner[fl], o.corner[fr]
}

func (o *opening) back() (left, right model.Corner) {
	_, _, br, bl := o.named()
	return o.corner[bl], o.corner[br]
}

// ahead returns how far p lies up the flight from the nose line, square to it.
func (o *opening) ahead(p model.Corner) float64 {
	a, b := o.front()
	w := float64(a.Distance(b))
	return (float64(b.X-a.X)*float64(p.Y-a.Y) - float64(b.Y-a.Y)*float64(p.X-a.X)) / w
}

// measure returns what a perfect reading of kind k at step i (from 0; ignored
// for the whole flight) gives, in mm or rad, and false where there is none.
func measure(os []opening, i int, k model.Kind) (float64, bool) {
	lowest := &os[0]
	firstLeft, firstRight := lowest.front()
	lastLeft, lastRight := os[len(os)-1].front()
	switch k {
	case model.TotalRise:
		o := os[len(os)-1]
		return (o.left + o.right) / 2, true
	case model.TotalGoing:
		return (lowest.ahead(lastLeft) + lowest.ahead(lastRight)) / 2, true
	case model.LongDiagonalLeft:
		return float64(firstLeft.Distance(lastRight)), true
	case model.LongDiagonalRight:
		return float64(firstRight.Distance(lastLeft)), true
	}
	o := &os[i]
	n := len(o.corner)
	f, r, b, l := o.named()
	fl, fr, br, bl := o.corner[f], o.corner[r], o.corner[b], o.corner[l]
	middle := func(a, b model.Corner) model.Corner { return model.Corner{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2} }
	gauge := func(c int) (float64, bool) {
		v := interior(o.corner[(c+n-1)%n], o.corner[c], o.corner[(c+1)%n])
		return v, v < flattest
	}
	switch k {
	case model.FrontWidth:
		return float64(fl.Distance(fr)), true
	case model.BackWidth:
		return float64(bl.Distance(br)), true
	case model.MiddleWidth:
		return float64(middle(fl, bl).Distance(middle(fr, br))), true
	case model.LeftDepth:
		return float64(fl.Distance(bl)), true
	case model.RightDepth:
		return float64(fr.Distance(br)), true
	case model.DiagonalLeft:
		return float64(bl.Distance(fr)), true
	case model.DiagonalRight:
		return float64(br.Distance(fl)), true
	case model.GaugeFrontLeft:
		return gauge(f)
	case model.GaugeFrontRight:
		return gauge(r)
	case model.GaugeBackRight:
		return gauge(b)
	case model.GaugeBackLeft:
		return gauge(l)
	case model.LeanLeft:
		return o.lean[0], true
	case model.LeanRight:
		return o.lean[1], true
	case model.TiltAcross:
		return math.Atan2(o.right-o.left, float64(fl.Distance(fr))), true
	case model.TiltFore:
		return math.Atan(o.fall), true
	case model.RiseLeft, model.RiseRight:
		l, r := o.left, o.right
		if i > 0 {
			l, r = l-os[i-1].left, r-os[i-1].right
		}
		if k == model.RiseLeft {
			return l, true
		}
		return r, true
	case model.GoingLeft:
		if i > 0 {
			return os[i-1].ahead(fl), true
		}
	case model.GoingRight:
		if i > 0 {
			return os[i-1].ahead(fr), true
		}
	}
	return 0, false
}

// flattest is the flattest corner that a gauge is held into: beyond, two edges
// run on in one line.
const flattest = 170 * degree

// interior is the angle at b of the polygon a, b, c, of a convex corner.
func interior(a, b, c model.Corner) float64 {
	ax, ay := float64(a.X-b.X), float64(a.Y-b.Y)
	cx, cy := float64(c.X-b.X), float64(c.Y-b.Y)
	return math.Acos((ax*cx + ay*cy) / (math.Hypot(ax, ay) * math.Hypot(cx, cy)))
}
