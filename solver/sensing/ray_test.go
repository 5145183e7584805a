package sensing_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/sensing"
)

type vec = mgl64.Vec3

// The ray count below shares nothing with the package but the numbers of a body
// and the boards: it meets solids and flat polygons one ray at a time.

// column is an upright elliptic cylinder.
type column struct {
	at     vec // middle of its foot
	face   mgl64.Vec2
	a, b   float64 // half, along face and across it
	height float64
}

// hit returns how far along the unit ray d from p the column is met first, or
// +Inf.
func (c column) hit(p, d vec) float64 {
	rot := func(v vec) (x, y float64) {
		return (v[0]*c.face[0] + v[1]*c.face[1]) / c.a, (v[1]*c.face[0] - v[0]*c.face[1]) / c.b
	}
	q := p.Sub(c.at)
	x, y := rot(q)
	u, v := rot(d)
	best := math.Inf(1)
	A, B, C := u*u+v*v, x*u+y*v, x*x+y*y-1
	if disc := B*B - A*C; disc > 0 {
		for _, t := range []float64{(-B - math.Sqrt(disc)) / A, (-B + math.Sqrt(disc)) / A} {
			if z := q[2] + t*d[2]; t > 0 && z >= 0 && z <= c.height {
				best = min(best, t)
			}
		}
	}
	for _, h := range []float64{0, c.height} {
		if t := (h - q[2]) / d[2]; t > 0 {
			if i, k := x+t*u, y+t*v; i*i+k*k <= 1 {
				best = min(best, t)
			}
		}
	}
	return best
}

// polygon is a flat polygon, with Newell's normal and its two largest axes.
type polygon struct {
	v    []vec
	n    vec
	off  float64
	x, y int
}

func polygonOf(v ...vec) polygon {
	q := polygon{v: v, y: 1}
	for i := range v {
		a, b := v[i], v[(i+1)%len(v)]
		q.n = q.n.Add(vec{(a[1] - b[1]) * (a[2] + b[2]), (a[2] - b[2]) * (a[0] + b[0]), (a[0] - b[0]) * (a[1] + b[1])})
	}
	q.off = q.n.Dot(v[0])
	if ax, ay, az := math.Abs(q.n[0]), math.Abs(q.n[1]), math.Abs(q.n[2]); ax >= ay && ax >= az {
		q.x, q.y = 1, 2
	} else if ay >= az {
		q.x, q.y = 0, 2
	}
	return q
}

// hit returns how far along the ray the polygon is met, or +Inf. A point is in a
// polygon of any shape when a line from it crosses the outline an odd number of
// times.
func (q *polygon) hit(p, d vec) float64 {
	t := (q.off - q.n.Dot(p)) / q.n.Dot(d)
	if !(t > 0) {
		return math.Inf(1)
	}
	hx, hy := p[q.x]+t*d[q.x], p[q.y]+t*d[q.y]
	in := false
	a := &q.v[len(q.v)-1]
	for i := range q.v {
		b := &q.v[i]
		if (a[q.y] > hy) != (b[q.y] > hy) && hx < a[q.x]+(hy-a[q.y])/(b[q.y]-a[q.y])*(b[q.x]-a[q.x]) {
			in = !in
		}
		a = b
	}
	if !in {
		return math.Inf(1)
	}
	return t
}

// scene is what a ray may meet.
type scene struct {
	body    []column
	hides   []polygon
	class   model.SensorClass
	sensor  model.Sensor
	forward vec
}

// sees says whether the ray direction lies in the sensor's field, from the
// sensor's own numbers.
func (s *scene) sees(d vec) bool {
	yaw, tilt := float64(s.sensor.Yaw), float64(s.sensor.Tilt)
	ahead := math.Atan2(s.forward[1], s.forward[0]) + yaw
	// into the sensor's own frame: turn back about z, then about the level axis
	x := d[0]*math.Cos(ahead) + d[1]*math.Sin(ahead)
	y := -d[0]*math.Sin(ahead) + d[1]*math.Cos(ahead) // to its left
	z := d[2]
	x, z = x*math.Cos(tilt)-z*math.Sin(tilt), z*math.Cos(tilt)+x*math.Sin(tilt)
	if x <= 0 {
		return false
	}
	side, up := math.Atan2(y, x), math.Atan2(z, x) // to the left, and up
	off := math.Acos(x / d.Len())
	deg := math.Pi / 180
	if h, v := s.class.H.Value/2*deg, s.class.V.Value/2*deg; v > 0 {
		if math.Abs(side) > h || math.Abs(up) > v {
			return false
		}
	} else if off > h {
		return false
	}
	if h := s.sensor.Hood; h.Depth > 0 && off > math.Atan((float64(h.Bore)/2+s.class.LensMM.Value/2)/float64(h.Depth)) {
		return false
	}
	m := s.sensor.Mask
	for _, c := range []struct{ angle, limit float64 }{{side, float64(m.Left)}, {-side, float64(m.Right)}, {up, float64(m.Up)}, {-up, float64(m.Down)}} {
		if c.limit != 0 && c.angle > c.limit {
			return false
		}
	}
	return true
}

// count sends rays evenly over the solid angle about the body and returns the
// share seen of those that would meet it, with its standard error. lens is where
// they begin.
func (s *scene) count(lens vec, rays int, rng *rand.Rand) (share, sigma float64, met int) {
	// a cone about the body: towards the middle of its box, wide enough for its
	// farthest corner
	var low, high vec
	for i, c := range s.body {
		r := max(c.a, c.b)
		a, b := c.at.Sub(vec{r, r, 0}), c.at.Add(vec{r, r, c.height})
		for k := range 3 {
			if i == 0 {
				low[k], high[k] = a[k], b[k]
			}
			low[k], high[k] = min(low[k], a[k]), max(high[k], b[k])
		}
	}
	mid := low.Add(high).Mul(0.5).Sub(lens)
	cos := -1.0 // all round
	if r := high.Sub(low).Len() / 2; mid.Len() > r {
		cos = math.Sqrt(1 - r*r/mid.LenSqr())
	}
	w := mid.Normalize()
	u := w.Cross(vec{0.3, 0.5, 0.8}).Normalize()
	v := w.Cross(u)
	seen := 0
	for met < rays {
		c := 1 - rng.Float64()*(1-cos)
		t := 2 * math.Pi * rng.Float64()
		r := math.Sqrt(1 - c*c)
		d := w.Mul(c).Add(u.Mul(r * math.Cos(t))).Add(v.Mul(r * math.Sin(t)))
		first := math.Inf(1)
		for _, b := range s.body {
			first = min(first, b.hit(lens, d))
		}
		if math.IsInf(first, 1) {
			continue
		}
		met++
		if !s.sees(d) {
			continue
		}
		free := true
		for i := range s.hides {
			if s.hides[i].hit(lens, d) < first-1 { // a millimetre: what a foot stands on does not hide it
				free = false
				break
			}
		}
		if free {
			seen++
		}
	}
	share = float64(seen) / float64(met)
	return share, math.Sqrt(max(share*(1-share), 1/float64(met)) / float64(met)), met
}

// hides returns the polygons of a job's stair: the finished boards as whole
// solids, walls at closed sides, balusters as boxes, rails and the top floor.
func hides(j *model.Job, a *solver.Answer, st *sensing.Stair, t *model.SensorTables) []polygon {
	var out []polygon
	for i := range a.Pieces {
		p := &a.Pieces[i]
		if p.Kind == pieces.ReturnNosing {
			continue
		}
		s := p.Placed()
		for _, f := range s.Faces {
			if f.Part != pieces.ShowFace && (f.Part != pieces.Nose || p.Kind == pieces.Riser) {
				continue // what lies inside the stair hides nothing more
			}
			var v []vec
			for _, k := range f.Loop {
				v = append(v, s.Verts[k])
			}
			out = append(out, polygonOf(v...))
		}
	}
	for i, k := range j.Flight.Steps[:len(j.Flight.Steps)-1] {
		for c, e := range k.Edges {
			if e == model.Left && k.Left.Kind == model.Open || e == model.Right && k.Right.Kind == model.Open || e == model.Front || e == model.Back {
				continue
			}
			v := a.Survey.Steps[i].Corners
			x, y := v[c], v[(c+1)%len(v)]
			low, high := min(st.Nose[i][0][2], st.Nose[i][1][2])-400, max(st.Nose[i][0][2], st.Nose[i][1][2])+t.Practised("wall_high").Value
			out = append(out, polygonOf(x.Vec3(low), y.Vec3(low), y.Vec3(high), x.Vec3(high)))
		}
	}
	top := st.Nose[st.Risers-1]
	back := vec{top[0][1] - top[1][1], top[1][0] - top[0][0], 0}.Normalize().Mul(t.Practised("landing_deep").Value)
	out = append(out, polygonOf(top[0], top[1], top[1].Add(back), top[0].Add(back)))
	// a rail over each side that is open somewhere: an upright and a flat board
	// through its middle, from nose to nose
	in, deep := t.Practised("rail_out").Value, t.Practised("rail_deep").Value
	for side := range 2 {
		open := false
		for _, s := range j.Flight.Steps {
			open = open || [2]model.Side{s.Left, s.Right}[side].Kind == model.Open
		}
		if !open {
			continue
		}
		over := func(i int) vec {
			a, b := st.Nose[i][side], st.Nose[i][1-side]
			return a.Add(b.Sub(a).Normalize().Mul(in)).Add(vec{0, 0, st.RailHeight[i]})
		}
		for i := 0; i+1 < st.Risers; i++ {
			a, b := over(i), over(i+1)
			down := vec{0, 0, deep}
			w := vec{a[1] - b[1], b[0] - a[0], 0}.Normalize().Mul(deep / 2)
			out = append(out, polygonOf(a, b, b.Sub(down), a.Sub(down)))
			a, b = a.Sub(down.Mul(0.5)), b.Sub(down.Mul(0.5))
			out = append(out, polygonOf(a.Add(w), b.Add(w), b.Sub(w), a.Sub(w)))
		}
	}
	for _, b := range a.Balusters {
		h := t.Practised("baluster").Value / 2
		height := b.New
		if height == 0 {
			height = (st.Nose[b.Step-1][0][2]+st.Nose[b.Step-1][1][2])/2 + st.RailHeight[b.Step-1] - t.Practised("rail_deep").Value - b.Foot[2]
		}
		c := []vec{b.Foot.Add(vec{-h, -h, 0}), b.Foot.Add(vec{h, -h, 0}), b.Foot.Add(vec{h, h, 0}), b.Foot.Add(vec{-h, h, 0})}
		for i := range c {
			k := (i + 1) % 4
			out = append(out, polygonOf(c[i], c[k], c[k].Add(vec{0, 0, height}), c[i].Add(vec{0, 0, height})))
		}
	}
	return out
}

// body returns the columns of a body.
func columns(b *model.BodySize, foot vec, face mgl64.Vec2) []column {
	part := func(deep, wide, low, high float64) column {
		return column{at: foot.Add(vec{0, 0, low}), face: face, a: deep / 2, b: wide / 2, height: high - low}
	}
	return []column{
		part(b.LegDeep.Value, b.Hip.Value, 0, b.Crotch.Value),
		part(b.Chest.Value, b.Breadth.Value, b.Crotch.Value, b.Shoulder.Value),
		part(b.HeadDeep.Value, b.HeadWide.Value, b.Shoulder.Value, b.Stature.Value),
	}
}

// TestRayCount holds the seen share against a count of random rays on 200 random
// placements: straight flights closed and open with balusters, flights with a
// landing and with winders; sensors anywhere about them, aimed anywhere, with
// hoods and masks; bodies of every size at every place.
func TestRayCount(t *testing.T) {
	const seed = 20261129
	rng := rand.New(rand.NewPCG(seed, 5))
	cases, rays := 16, 5_000
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		cases, rays = 200, 20_000
	}
	tb := published(t)
	jobs := flights(t)
	type made struct {
		j  *model.Job
		st *sensing.Stair
		h  []polygon
	}
	var stairs []made
	for i := range jobs {
		a := solver.Solve(jobs[i], tb)
		st := sensing.From(&jobs[i], a.Survey, a.Pieces, a.Balusters, &tb.Senses)
		if st == nil {
			t.Fatalf("job %d has no stair: %v", i, a.Findings)
		}
		stairs = append(stairs, made{&jobs[i], st, hides(&jobs[i], a, st, &tb.Senses)})
	}
	worst, partly, hidden, kinds := 0.0, 0, 0, map[string]bool{}
	for done := 0; done < cases; {
		m := stairs[rng.IntN(len(stairs))]
		st := m.st
		c := tb.Senses.Classes[rng.IntN(len(tb.Senses.Classes))]
		c.RangeM.Value = 100 // a range ends sight all at once; it has its own test
		n := st.Risers
		at := rng.Float64()*float64(n+3) - 2
		b := &tb.Senses.Bodies[rng.IntN(len(tb.Senses.Bodies))]
		line := &st.Lines[rng.IntN(len(st.Lines))]
		foot, face := st.Foot(line, b, at)
		// a lens within 3 m, above the stair, aimed somewhere near the body
		lens := foot.Add(vec{3000 * (rng.Float64() - 0.5), 5000 * (rng.Float64() - 0.5), 1900*rng.Float64() + 100})
		s := model.Sensor{Mount: model.OnPost, At: model.Point{X: model.Length(lens[0]), Y: model.Length(lens[1]), Z: model.Length(lens[2])}}
		to := foot.Add(vec{0, 0, 900}).Sub(lens)
		s.Yaw = model.Angle(math.Atan2(to[1], to[0]) - math.Pi/2 + rng.NormFloat64()*0.5)
		s.Tilt = model.Angle(min(1.5, max(-1.5, -math.Atan2(to[2], to.Vec2().Len())+rng.NormFloat64()*0.4)))
		if rng.IntN(3) == 0 {
			s.Hood = model.Hood{Bore: model.Length(8 + 10*rng.Float64()), Depth: model.Length(5 + 30*rng.Float64())}
		}
		if rng.IntN(3) == 0 {
			s.Mask = model.Mask{Left: model.Angle(rng.Float64() - 0.3), Down: model.Angle(0.1 + rng.Float64())}
		}
		sc := scene{body: columns(b, foot, face), hides: m.h, class: c, sensor: s, forward: vec{0, 1, 0}}
		inside := false
		for _, q := range sc.body {
			d := lens.Sub(q.at)
			inside = inside || math.Hypot(d[0], d[1]) < max(q.a, q.b)+5 && d[2] > -5 && d[2] < q.height+5
		}
		if inside {
			continue
		}
		eye := sensing.EyeOf(&s, &c, lens, mgl64.Vec2{0, 1})
		solid := sensing.Standing(b, foot, face)
		got := st.Seen(&eye, &solid)
		want, sigma, _ := sc.count(lens, rays, rng)
		if got == 0 && want == 0 && rng.IntN(8) != 0 {
			continue // nothing to see is no proof; a few are kept
		}
		done++
		if want > 0.02 && want < 0.98 {
			partly++
		}
		free := sc
		free.hides = nil
		if open, _, _ := free.count(lens, 1000, rng); open > want+0.05 {
			hidden++
		}
		kinds[c.ID] = true
		off := math.Abs(got - want)
		worst = max(worst, max(0, off-4*sigma))
		if off > 0.01+4*sigma {
			t.Errorf("case %d: seen %.4f, counted %.4f ± %.4f: %s at %.2f %s, lens %.0f, class %s, yaw %.2f tilt %.2f hood %v mask %v (seed %d)",
				done, got, want, sigma, b.ID, at, line.Name, lens, c.ID, s.Yaw, s.Tilt, s.Hood, s.Mask, seed)
		}
	}
	t.Logf("%d placements, %d partly seen, %d partly hidden, %d classes; worst beyond the count's own error %.4f", cases, partly, hidden, len(kinds), worst)
	if partly < cases/3 || hidden < cases/10 || len(kinds) < 5 {
		t.Errorf("too easy: %d of %d partly seen, %d hidden, %d classes", partly, cases, hidden, len(kinds))
	}
}
