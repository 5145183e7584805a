package buildup

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/survey"
)

// Winder is a tapered tread between its own nose line and the one above, as it
// will be laid.
type Winder struct {
	Inner Side // the side at which it is narrow, Left or Right
	// Nose is its own nose line and Next the one above it, each from its inner
	// to its outer end, plan, mm.
	Nose, Next [2]mgl64.Vec2
	// Cov is the covariance of x and y of Nose[0], Nose[1], Next[0], Next[1],
	// row by row.
	Cov [64]float64
}

// Walkline says where the going of a winder is measured: at a distance along
// each nose line, in mm, from its inner end, or from its outer end; or in its
// middle. The zero Walkline is the inner side itself.
//
// Codes speak of a line at that distance from the side; where the nose lines
// point at one spot the two are the same. Common practice, no source.
type Walkline struct {
	Offset float64
	From   WalklineFrom
}

// WalklineFrom says from where a Walkline is measured.
type WalklineFrom int

// The places.
const (
	FromInner WalklineFrom = iota
	FromOuter
	AtMiddle // Offset does not count
)

// Width returns the length of the shorter of the two nose lines.
func (w *Winder) Width() float64 {
	return math.Min(w.Nose[1].Sub(w.Nose[0]).Len(), w.Next[1].Sub(w.Next[0]).Len())
}

// Going returns the distance between the two nose lines along the walkline,
// straight from one to the other.
func (w *Winder) Going(l Walkline) Value {
	// A place on a line is inner + s·(outer - inner)/length, and it moves with
	// the two ends; g is the gradient with respect to the eight coordinates.
	var g [2][8]float64 // of x and y of the difference
	var d mgl64.Vec2
	for n, line := range [2][2]mgl64.Vec2{w.Nose, w.Next} {
		sign := float64(2*n - 1)
		along := line[1].Sub(line[0])
		length := along.Len()
		if length == 0 {
			return Value{}
		}
		u := along.Mul(1 / length)
		from, way, fixed := line[0], 1.0, l.Offset
		switch l.From {
		case FromOuter:
			from, way = line[1], -1
		case AtMiddle:
			fixed = 0
			from = line[0].Add(line[1]).Mul(0.5)
		}
		d = d.Add(from.Add(u.Mul(way * fixed)).Mul(sign))
		// du = (I - u uᵀ) d(along) / length
		for axis := range 2 {
			for end := range 2 {
				e := float64(2*end - 1) // the outer end stretches, the inner shortens
				for k := range 2 {
					v := -u[axis] * u[k]
					if axis == k {
						v++
					}
					g[axis][4*n+2*end+k] += sign * way * fixed * e * v / length
				}
				share := 0.0
				switch {
				case l.From == AtMiddle:
					share = 0.5
				case (l.From == FromOuter) == (end == 1):
					share = 1
				}
				g[axis][4*n+2*end+axis] += sign * share
			}
		}
	}
	going := d.Len()
	if going == 0 {
		return Value{}
	}
	var along [8]float64
	for k := range along {
		along[k] = (g[0][k]*d[0] + g[1][k]*d[1]) / going
	}
	v := 0.0
	for i, a := range along {
		for k, b := range along {
			v += a * b * w.Cov[8*i+k]
		}
	}
	return Value{going, math.Sqrt(math.Max(0, v))}
}

// Narrow returns the going at the narrow end.
func (w *Winder) Narrow() Value { return w.Going(Walkline{}) }

// winders fills in the tapered treads.
func (c *computation) winders() {
	for i := 1; i < c.n; i++ {
		if o := &c.out.Steps[i]; o.HasGoing && o.Tapered {
			c.out.Steps[i-1].Winder = c.winder(i)
		}
	}
}

// winder returns the tread below nose line i.
func (c *computation) winder(i int) *Winder {
	t, u := &c.s.Steps[i], &c.s.Steps[i-1]
	w := &Winder{Inner: Left}
	low, high := [2]int{u.FL, u.FR}, [2]int{t.FL, t.FR}
	if t.Corners[t.FL].Sub(u.Corners[u.FL]).Len() > t.Corners[t.FR].Sub(u.Corners[u.FR]).Len() {
		w.Inner = Right
		low, high = [2]int{u.FR, u.FL}, [2]int{t.FR, t.FL}
	}
	w.Nose = [2]mgl64.Vec2{u.Corners[low[0]], u.Corners[low[1]]}
	w.Next = [2]mgl64.Vec2{t.Corners[high[0]], t.Corners[high[1]]}
	nt, nu := unknowns(t), unknowns(u)
	if len(t.Cov) != nt*nt || len(u.Cov) != nu*nu || len(t.Cross) != nt*nu {
		return w
	}
	at := func(k int) (step, place int) {
		if k < 4 {
			return 0, 2*low[k/2] + k%2
		}
		return 1, 2*high[(k-4)/2] + k%2
	}
	for a := range 8 {
		for b := range 8 {
			sa, pa := at(a)
			sb, pb := at(b)
			switch {
			case sa == 0 && sb == 0:
				w.Cov[8*a+b] = u.Cov[pa*nu+pb]
			case sa == 1 && sb == 1:
				w.Cov[8*a+b] = t.Cov[pa*nt+pb]
			case sa == 1:
				w.Cov[8*a+b] = t.Cross[pa*nu+pb]
			default:
				w.Cov[8*a+b] = t.Cross[pb*nu+pa]
			}
		}
	}
	return w
}

// Landing is the room on a landing between two flights, mm.
type Landing struct {
	// Depth is from the nose line of the landing to its far side, or from the
	// next nose line back to the side behind one who goes on up: the smaller.
	Depth Value
	// Width is across the way of the flight it falls short of most, or suits
	// least well, and Served is that flight's width.
	Width, Served float64
}

// landings fills in the landings between flights.
func (c *computation) landings() {
	for i := 0; i+1 < c.n; i++ {
		if c.job.Flight.Steps[i].Landing {
			c.out.Steps[i].Landing = c.landing(i)
		}
	}
}

func (c *computation) landing(i int) *Landing {
	t, next := &c.s.Steps[i], &c.s.Steps[i+1]
	depth, corner := 0.0, 0
	for k, p := range t.Corners {
		if d, _ := offset(t.Corners[t.FL], t.Corners[t.FR], p); d > depth {
			depth, corner = d, k
		}
	}
	out := &Landing{Depth: Value{depth, c.spreadOfOffset(i, i, t.FL, t.FR, corner)}}
	back, behind := 0.0, 0
	for k, p := range t.Corners {
		if d, _ := offset(next.Corners[next.FL], next.Corners[next.FR], p); -d > back {
			back, behind = -d, k
		}
	}
	if back < depth {
		out.Depth = Value{back, c.spreadOfOffset(i+1, i, next.FL, next.FR, behind)}
	}
	short := math.Inf(1)
	for _, f := range [2]*survey.Step{t, next} {
		a, b := f.Corners[f.FL], f.Corners[f.FR]
		served := b.Sub(a).Len()
		if served == 0 {
			continue
		}
		e := b.Sub(a).Mul(1 / served)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range t.Corners {
			d := p.Sub(a).Dot(e)
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
		if wide := hi - lo; wide-served < short {
			short, out.Width, out.Served = wide-served, wide, served
		}
	}
	return out
}

// offset returns how far p lies to the left of the line from a to b, and how far
// along it as a share of its length. A line of no length gives nothing.
func offset(a, b, p mgl64.Vec2) (off, share float64) {
	e := b.Sub(a)
	w := e.Len()
	if w == 0 {
		return 0, 0
	}
	d := p.Sub(a)
	return (e[0]*d[1] - e[1]*d[0]) / w, d.Dot(e) / (w * w)
}

// spreadOfOffset returns one standard deviation of the offset of corner p of
// step q from the line through corners a and b of step l. The two steps are the
// same or neighbours.
func (c *computation) spreadOfOffset(l, q, a, b, p int) float64 {
	t, u := &c.s.Steps[l], &c.s.Steps[q]
	nt, nu := unknowns(t), unknowns(u)
	pa, pb := t.Corners[a], t.Corners[b]
	_, share := offset(pa, pb, u.Corners[p])
	w := pb.Sub(pa).Len()
	if w == 0 || len(t.Cov) != nt*nt || len(u.Cov) != nu*nu {
		return 0
	}
	n := mgl64.Vec2{-(pb[1] - pa[1]) / w, (pb[0] - pa[0]) / w}
	line, point := make([]float64, nt), make([]float64, nu)
	if l == q {
		point = line
	}
	for k := range 2 {
		line[2*a+k] -= (1 - share) * n[k]
		line[2*b+k] -= share * n[k]
		point[2*p+k] += n[k]
	}
	switch {
	case l == q:
		return c.s.SpreadOf(l, line, nil)
	case l == q+1 && len(t.Cross) == nt*nu:
		return c.s.SpreadOf(l, line, point)
	case q == l+1 && len(u.Cross) == nu*nt:
		return c.s.SpreadOf(q, point, line)
	}
	return math.Hypot(c.s.SpreadOf(l, line, nil), c.s.SpreadOf(q, point, nil))
}
