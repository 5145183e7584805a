package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/survey"
)

// row is a gradient with respect to the unknowns of a step and of the step
// below it.
type row struct{ own, below [maxUnknowns]float64 }

func unknowns(t *site) (topLeft, topRight, fall, leanLeft, leanRight, count int) {
	return survey.Unknowns(len(t.step.Corners))
}

func count(t *site) int {
	_, _, _, _, _, n := unknowns(t)
	return n
}

// weights are how far a figure changes when each of the four named corners of
// the face moves.
type weights [4]mgl64.Vec2

// figures fills in the figures and gauges with their bands.
func (b *builder) figures(p *Piece) {
	o := &b.outline
	names := o.named()
	var v [4]mgl64.Vec2
	for k, j := range names {
		v[k] = o.vertices[j]
	}
	length := func(i, k int) Value {
		d := v[k].Sub(v[i])
		l := d.Len()
		if l == 0 {
			return Value{} // two names for the point of a winder
		}
		var w weights
		w[k], w[i] = d.Mul(1/l), d.Mul(-1/l)
		return Value{l, b.band(&w)}
	}
	const bl, br, fr, fl = 0, 1, 2, 3
	p.Figures = Figures{
		Back: length(bl, br), Front: length(fl, fr),
		LeftDepth: length(bl, fl), RightDepth: length(br, fr),
		DiagonalLeft: length(bl, fr), DiagonalRight: length(br, fl),
	}
	p.Ends[Left].Gauge = b.gauge(names, v, bl, br, fl)
	p.Ends[Right].Gauge = b.gauge(names, v, br, fr, bl)
}

// gauge returns the angle of the face at named corner at, turning anticlockwise
// from the direction of corner first to that of corner last.
func (b *builder) gauge(names [4]int, v [4]mgl64.Vec2, at, first, last int) Value {
	if o := &b.outline; o.n != 4 {
		return b.gaugeOfLines(names[at])
	}
	d, e := v[first].Sub(v[at]), v[last].Sub(v[at])
	cross, dot := d[0]*e[1]-d[1]*e[0], d.Dot(e)
	var w weights
	// The direction of a line of length l turns by the square movement of its
	// far end over l.
	dd, ee := d.Dot(d), e.Dot(e)
	if dd == 0 || ee == 0 {
		return Value{}
	}
	turnD, turnE := mgl64.Vec2{-d[1] / dd, d[0] / dd}, mgl64.Vec2{-e[1] / ee, e[0] / ee}
	w[last] = w[last].Add(turnE)
	w[first] = w[first].Sub(turnD)
	w[at] = w[at].Sub(turnE).Add(turnD)
	return Value{math.Atan2(cross, dot), b.band(&w)}
}

// gaugeOfLines is gauge for an outline whose neighbouring corner may have no
// name. Its band is not worked out: such a board is made from a template.
func (b *builder) gaugeOfLines(j int) Value {
	o := &b.outline
	v := o.vertices[j]
	d, e := o.vertices[(j+1)%o.n].Sub(v), o.vertices[(j+o.n-1)%o.n].Sub(v)
	a := math.Atan2(d[0]*e[1]-d[1]*e[0], d.Dot(e))
	if a < 0 {
		a += 2 * math.Pi
	}
	return Value{Value: a}
}

// band returns the half width of the 95 % band of a figure.
func (b *builder) band(w *weights) float64 {
	o, t := &b.outline, &b.steps[b.i]
	if !t.kept {
		return 0
	}
	var g row
	n := count(t)
	for k, j := range o.named() {
		if w[k] == (mgl64.Vec2{}) {
			continue
		}
		// Corner j lies on lines with normals a and c; when these move outward
		// by da and dc, it moves by (da (c1, -c0) + dc (-a1, a0)) / a×c.
		a, c := o.lines[(j+o.n-1)%o.n].normal, o.lines[j].normal
		cross := a[0]*c[1] - a[1]*c[0]
		if math.Abs(cross) < parallel {
			continue
		}
		ka := (w[k][0]*c[1] - w[k][1]*c[0]) / cross
		kc := (w[k][1]*a[0] - w[k][0]*a[1]) / cross
		ra, rc := &b.grads[k][0], &b.grads[k][1]
		for i := range n {
			g.own[i] += ka*ra.own[i] + kc*rc.own[i]
		}
		if b.twoSteps {
			for i := range g.below {
				g.below[i] += ka*ra.below[i] + kc*rc.below[i]
			}
		}
	}
	if !b.twoSteps {
		return survey.Band95 * b.res.SpreadOf(b.i, g.own[:n], nil)
	}
	below := g.below[:count(&b.steps[b.i-1])]
	if len(b.res.Steps[b.i].Cross) != n*len(below) { // an estimate that does not say how the two go together
		return survey.Band95 * math.Hypot(b.res.SpreadOf(b.i, g.own[:n], nil), b.res.SpreadOf(b.i-1, below, nil))
	}
	return survey.Band95 * b.res.SpreadOf(b.i, g.own[:n], below)
}
