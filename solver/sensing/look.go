package sensing

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
)

// sheet is a flat polygon that hides what is behind it, from both sides.
type sheet struct {
	outline []mgl64.Vec3
	low     mgl64.Vec3 // least and most coordinates
	high    mgl64.Vec3
}

func sheetOf(outline ...mgl64.Vec3) sheet {
	s := sheet{outline: outline, low: outline[0], high: outline[0]}
	for _, p := range outline[1:] {
		for e := range 3 {
			s.low[e], s.high[e] = min(s.low[e], p[e]), max(s.high[e], p[e])
		}
	}
	return s
}

const (
	// mostPiece is the widest piece of azimuths summed by one rule of three
	// points, narrowPiece what two points do for, and leastPiece what is too
	// narrow to be a piece of its own: they keep a seen share within a hundredth
	// of a ray count.
	mostPiece   = 0.25
	narrowPiece = 0.06
	leastPiece  = 2e-4
	// underfoot is how far below a body's feet a floor still hides its soles:
	// the floor it stands on is level with them but for rounding.
	underfoot = 0.5
	// nearest is the least slope distance at which slopes are formed, mm; the
	// lens of a sensor is far larger.
	nearest = 1e-3
)

// span is a stretch of slopes, rise over level distance.
type span struct{ lo, hi float64 }

// looker has the arrays of one look, kept from look to look.
type looker struct {
	st      *Stair // of all
	at      mgl64.Vec3
	all     []rel    // every sheet, with the lens at as origin
	sheets  []before // those that may hide something
	posts   []post
	cuts    []float64
	hidden  []span
	seen    []span
	whole   []span
	offsets []mgl64.Vec2 // crossings of a sheet: level distance and height
	runs    [][2]mgl64.Vec2
	stands  []stand
	store   []mgl64.Vec3
	plumb   []float64 // turns of plumb edges
}

// rel is a sheet with the lens as origin.
type rel struct {
	sheet
	slopes span // that it lies within
	// In plan it lies within a half angle of a turn from the x axis; a half of π is
	// all round. Plumb are the turns of its upright edges.
	mid, half float64
	plumb     []float64
}

// before is a sheet before a solid, with the turns from ref between which it
// stands.
type before struct {
	*rel
	from, to float64
}

// post is a prism before a solid, in the same way.
type post struct {
	prism
	from, to float64
}

// aim takes the stair's sheets to a lens, unless it was the last one's too.
func (l *looker) aim(st *Stair, at mgl64.Vec3) {
	if l.st == st && l.at == at {
		return
	}
	l.st, l.at = st, at
	l.all, l.store, l.plumb = l.all[:0], l.store[:0], l.plumb[:0]
	for i := range st.sheets {
		h := &st.sheets[i]
		n := len(l.store)
		for _, p := range h.outline {
			l.store = append(l.store, p.Sub(at))
		}
		r := rel{sheet: sheet{outline: l.store[n:len(l.store):len(l.store)], low: h.low.Sub(at), high: h.high.Sub(at)}}
		var near, far float64 // level distances to the sheet's box
		for k := range 2 {
			a, b := r.low[k], r.high[k]
			far += max(a*a, b*b)
			if a > 0 {
				near += a * a
			} else if b < 0 {
				near += b * b
			}
		}
		near, far = max(nearest, math.Sqrt(near)), math.Sqrt(far)
		r.slopes = span{min(r.low[2]/near, r.low[2]/far), max(r.high[2]/near, r.high[2]/far)}
		r.mid, r.half = round(r.outline)
		k := len(l.plumb)
		for i, p := range r.outline { // only plumb edges end a sheet all at once
			q := r.outline[(i+1)%len(r.outline)]
			if math.Abs(p[0]-q[0])+math.Abs(p[1]-q[1]) < 1e-3*math.Abs(p[2]-q[2]) {
				l.plumb = append(l.plumb, math.Atan2(p[1], p[0]))
			}
		}
		r.plumb = l.plumb[k:len(l.plumb):len(l.plumb)]
		l.all = append(l.all, r)
	}
}

// round returns the turn from the x axis about which an outline lies in plan,
// seen from the origin, and how far to either side it reaches at most.
func round(v []mgl64.Vec3) (mid, half float64) {
	const nearly = 1e-3 // edges that pass so near under the lens may go round either side
	start := math.Atan2(v[0][1], v[0][0])
	was, at, lo, hi := start, 0.0, 0.0, 0.0
	for i := range v {
		p := v[(i+1)%len(v)]
		if math.Abs(p[0])+math.Abs(p[1]) < 1 {
			return 0, math.Pi
		}
		a := math.Atan2(p[1], p[0])
		step := within(a - was)
		if math.Abs(step) > math.Pi-nearly {
			return 0, math.Pi
		}
		was, at = a, at+step
		lo, hi = min(lo, at), max(hi, at)
	}
	if math.Abs(at) > 1 || hi-lo >= 2*math.Pi-nearly { // it goes all round
		return 0, math.Pi
	}
	return within(start + (lo+hi)/2), (hi-lo)/2 + 1e-9
}

// about returns the turns from ref, itself a turn from the x axis, between which
// a sheet stands, moved by whole turns so that they meet those from a to b; ok
// is false where they do not.
func (r *rel) about(ref, a, b float64) (from, to float64, ok bool) {
	if r.half >= math.Pi {
		return math.Inf(-1), math.Inf(1), true
	}
	mid := within(r.mid - ref)
	met := 0
	for _, m := range [3]float64{mid, mid - 2*math.Pi, mid + 2*math.Pi} {
		if m-r.half <= b && m+r.half >= a {
			from, to = m-r.half, m+r.half
			met++
		}
	}
	if met > 1 {
		return math.Inf(-1), math.Inf(1), true
	}
	return from, to, met == 1
}

// Seen returns the share of a solid that an eye sees in the stair: of the solid
// angle it takes up at the lens, that part that lies in the field and is not
// hidden. It is 1 when the lens is inside the solid, and 0 when the nearest of
// its axes is beyond the eye's range.
func (st *Stair) Seen(e *Eye, s *Solid) float64 {
	var l looker
	return l.look(st, e, s)
}

func (l *looker) look(st *Stair, e *Eye, s *Solid) float64 {
	seen, whole := l.measure(st, e, s)
	if whole <= 0 {
		return 0
	}
	return seen / whole
}

// measure returns the solid angle seen and that of the whole solid, in
// steradians.
func (l *looker) measure(st *Stair, e *Eye, solid *Solid) (seen, whole float64) {
	s := solid.from(e.At)
	if s.distance() > e.Range {
		return 0, 0
	}
	mid := s.parts[0].at
	ref := mgl64.Vec2{e.Axis[0], e.Axis[1]}
	if d := mid.Len(); d > nearest {
		ref = mid.Mul(1 / d)
	} else if d := ref.Len(); d > nearest {
		ref = ref.Mul(1 / d)
	} else {
		ref = mgl64.Vec2{1, 0}
	}
	from, to := math.Inf(1), math.Inf(-1)
	l.cuts = l.cuts[:0]
	lo, hi := math.Inf(1), math.Inf(-1) // slopes of the solid
	for i := range s.n {
		q := &s.parts[i]
		if q.holds(mgl64.Vec2{}) {
			if q.z0 < 0 && q.z1 > 0 {
				return 1, 1
			}
			from, to = -math.Pi, math.Pi
			lo, hi = math.Inf(-1), math.Inf(1)
			continue
		}
		a, b := q.turns(ref)
		l.cuts = append(l.cuts, a, b)
		if q.straight {
			for _, c := range q.corners() {
				l.cuts = append(l.cuts, turnOf(ref, c))
			}
		}
		from, to = min(from, a), max(to, b)
		d := q.at.Len()
		near, far := max(nearest, d-math.Hypot(q.a, q.b)), d+math.Hypot(q.a, q.b)
		lo = min(lo, q.z0/near, q.z0/far)
		hi = max(hi, q.z1/near, q.z1/far)
	}
	f := e.field()
	if !f.meets(&s, ref, from, to, lo, hi) {
		return 0, 1
	}
	l.gather(st, e, &s, ref, [2]float64{from, to}, lo, hi)
	l.cuts = e.corners(l.cuts, ref)
	for _, u := range [2]float64{lo, hi} {
		if !math.IsInf(u, 0) {
			l.cuts = f.edges(l.cuts, ref, u)
		}
	}
	turn := math.Atan2(ref[1], ref[0])
	for i := range l.sheets {
		for _, a := range l.sheets[i].plumb {
			l.cuts = append(l.cuts, within(a-turn))
		}
	}
	for i := range l.posts {
		l.cuts = append(l.cuts, l.posts[i].from, l.posts[i].to)
	}
	l.cuts = append(l.cuts, to)
	slices.Sort(l.cuts)
	left := mgl64.Vec2{-ref[1], ref[0]}
	at := from
	for _, c := range l.cuts {
		if c <= at+leastPiece {
			continue
		}
		c = min(c, to)
		n := math.Ceil((c - at) / mostPiece)
		w := (c - at) / n
		for k := 0.0; k < n; k++ {
			m := at + (k+0.5)*w
			rule := three[:]
			if w < narrowPiece {
				rule = two[:]
			}
			for _, g := range rule {
				turn := m + g[0]*w/2
				sin, cos := math.Sincos(turn)
				a, b := l.slice(&s, &f, turn, ref.Mul(cos).Add(left.Mul(sin)))
				seen += a * g[1] * w
				whole += b * g[1] * w
			}
		}
		if at = c; at >= to {
			break
		}
	}
	return seen, whole
}

// two and three are Gauss's rules: places from -1 to 1, and weights that add up
// to 1.
var (
	two   = [...][2]float64{{-math.Sqrt(1. / 3), 0.5}, {math.Sqrt(1. / 3), 0.5}}
	three = [...][2]float64{{-math.Sqrt(0.6), 5. / 18}, {0, 8. / 18}, {math.Sqrt(0.6), 5. / 18}}
)

// meets says whether the field may see any of a solid whose azimuths and slopes
// are given; it errs only towards yes.
func (f *field) meets(s *Solid, ref mgl64.Vec2, from, to, lo, hi float64) bool {
	if f.cone > 0 {
		low, high := s.box()
		c, r := low.Add(high).Mul(0.5), high.Sub(low).Len()/2
		if d := c.Len(); d > r && math.Acos(min(1, max(-1, c.Dot(f.axis)/d)))-math.Asin(r/d) > math.Acos(f.cone) {
			return false
		}
	}
	if to-from > 1 || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return true
	}
	// A unit direction between two others is a sum of parts of them that add up
	// to 1 and at most to bow. So every direction of the stretch is a sum of
	// parts of these corners, and a plane that sees none of them sees nothing.
	bow := 1 / math.Cos((to-from)/2)
	left := mgl64.Vec2{-ref[1], ref[0]}
	slopes := [4]float64{lo, hi, lo / bow, hi / bow}
	for i := range f.n {
		n := &f.planes[i]
		any := false
		for _, t := range [2]float64{from, to} {
			sin, cos := math.Sincos(t)
			v := ref.Mul(cos).Add(left.Mul(sin))
			for _, u := range slopes {
				any = any || n[0]*v[0]+n[1]*v[1]+n[2]*u >= 0
			}
		}
		if !any {
			return false
		}
	}
	return true
}

// gather collects what may hide some of the solid, whose slopes run from lo to
// hi and whose azimuths between two turns from ref: what reaches into the hull
// of it and the lens.
func (l *looker) gather(st *Stair, e *Eye, s *Solid, ref mgl64.Vec2, turns [2]float64, lo, hi float64) {
	narrow := turns[1]-turns[0] < math.Pi-1e-6
	turn := math.Atan2(ref[1], ref[0])
	reach := 0.0 // the solid ends here in direction ref
	for i := range s.n {
		q := &s.parts[i]
		reach = max(reach, q.at.Dot(ref)+math.Hypot(q.a, q.b))
	}
	low, high := s.box()
	for k := range 3 {
		low[k], high[k] = min(low[k], 0), max(high[k], 0)
	}
	l.aim(st, e.At)
	l.sheets, l.posts = l.sheets[:0], l.posts[:0]
	for i := range l.all {
		h := &l.all[i]
		if h.slopes.hi < lo || h.slopes.lo > hi || h.low[0] > high[0] || h.high[0] < low[0] ||
			h.low[1] > high[1] || h.high[1] < low[1] || h.low[2] > high[2] || h.high[2] < low[2] {
			continue
		}
		from, to, ok := h.about(turn, turns[0], turns[1])
		if !ok {
			continue
		}
		behind := narrow
		for _, p := range h.outline {
			behind = behind && ref[0]*p[0]+ref[1]*p[1] > reach
		}
		if !behind {
			l.sheets = append(l.sheets, before{h, from, to})
		}
	}
	for i := range st.posts {
		p := st.posts[i].from(e.At)
		if p.at[0]+p.a < low[0] || p.at[0]-p.a > high[0] || p.at[1]+p.a < low[1] || p.at[1]-p.a > high[1] || p.z0 > high[2] || p.z1 < low[2] {
			continue
		}
		if p.holds(mgl64.Vec2{}) {
			continue // the lens is fixed to it
		}
		a, b := p.turns(ref)
		l.posts = append(l.posts, post{p, a, b})
	}
}

// slopes returns the slopes from the origin that meet the upright rectangle of
// level distances near to far and heights z0 to z1.
func slopes(near, far, z0, z1 float64) span {
	near, far = max(near, nearest), max(far, nearest)
	return span{min(z0/near, z0/far), max(z1/near, z1/far)}
}

// slice returns what is seen and the whole in the unit direction d, so much to
// the left of ref, both as differences of the sine of elevation.
func (l *looker) slice(s *Solid, f *field, turn float64, d mgl64.Vec2) (seen, whole float64) {
	lo, hi := f.at(d)
	l.seen, l.whole = l.seen[:0], l.whole[:0]
	crossed := false
	for i := range s.n {
		q := &s.parts[i]
		near, far, ok := q.chord(d)
		if !ok {
			continue
		}
		all := slopes(near, far, q.z0, q.z1)
		l.whole = append(l.whole, all)
		in := span{max(all.lo, lo), min(all.hi, hi)}
		if in.lo >= in.hi {
			continue
		}
		if !crossed {
			crossed = true
			l.cross(turn, d)
		}
		l.hide(q, near, far)
		l.less(in)
	}
	return measured(l.seen), measured(l.whole)
}

// cross collects what stands in the direction d, so much to the left of ref.
func (l *looker) cross(turn float64, d mgl64.Vec2) {
	l.stands, l.runs = l.stands[:0], l.runs[:0]
	for i := range l.posts {
		p := &l.posts[i]
		if turn < p.from || turn > p.to {
			continue
		}
		if a, b, ok := p.chord(d); ok {
			l.stands = append(l.stands, stand{a, b, p.z0, p.z1})
		}
	}
	for i := range l.sheets {
		if h := &l.sheets[i]; turn < h.from || turn > h.to {
			continue
		}
		l.across(l.sheets[i].outline, d)
		for k := 0; k+1 < len(l.offsets); k += 2 {
			a, b := l.offsets[k], l.offsets[k+1]
			if a[0] > b[0] {
				a, b = b, a
			}
			if b[0] > nearest {
				l.runs = append(l.runs, [2]mgl64.Vec2{a, b})
			}
		}
	}
}

// stand is an upright rectangle in one direction: level distances, heights.
type stand struct{ near, far, z0, z1 float64 }

// hide collects in l.hidden the slopes at which something stands in front of
// the part of a solid between near and far.
func (l *looker) hide(q *prism, near, far float64) {
	l.hidden = l.hidden[:0]
	for _, p := range l.stands {
		if p.near < near {
			l.hidden = append(l.hidden, slopes(p.near, min(p.far, near), p.z0, p.z1))
		}
	}
	for i := range l.runs {
		l.front(l.runs[i][0], l.runs[i][1], q, near, far)
	}
}

// across collects in l.offsets where the half plane upwards of direction d
// crosses the edges of a flat outline: pairs, each the ends of a stretch of
// level distance and height.
func (l *looker) across(v []mgl64.Vec3, d mgl64.Vec2) {
	l.offsets = l.offsets[:0]
	p := v[len(v)-1]
	sp := d[0]*p[1] - d[1]*p[0]
	for _, r := range v {
		sr := d[0]*r[1] - d[1]*r[0]
		if (sp > 0) != (sr > 0) {
			t := sp / (sp - sr)
			l.offsets = append(l.offsets, mgl64.Vec2{
				d[0]*(p[0]+t*(r[0]-p[0])) + d[1]*(p[1]+t*(r[1]-p[1])),
				p[2] + t*(r[2]-p[2]),
			})
		}
		p, sp = r, sr
	}
	if len(l.offsets) < 2 {
		l.offsets = l.offsets[:0]
		return
	}
	// in order along the line in which the plane meets the polygon
	o := l.offsets
	if len(o) > 2 {
		slices.SortFunc(o, func(a, b mgl64.Vec2) int {
			switch {
			case a[0] < b[0] || a[0] == b[0] && a[1] < b[1]:
				return -1
			case a == b:
				return 0
			}
			return 1
		})
	}
}

// front adds to l.hidden the slopes at which the stretch from a to b stands
// before the part q, which reaches from near to far.
func (l *looker) front(a, b mgl64.Vec2, q *prism, near, far float64) {
	if a[0] >= far {
		return
	}
	at := func(x float64) float64 { // height of the stretch
		if b[0]-a[0] < 1e-9 {
			return a[1]
		}
		return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
	}
	if a[0] < near {
		x0, x1 := max(a[0], nearest), min(b[0], near)
		u, v := at(x0)/x0, at(x1)/x1
		if b[0]-a[0] < 1e-9 { // it stands plumb
			u, v = a[1]/x0, b[1]/x0
		}
		l.hidden = append(l.hidden, span{min(u, v), max(u, v)})
	}
	if b[0] <= near {
		return
	}
	// Between near and far it hides what is looked down on when it lies higher,
	// and what is looked up at when it lies lower.
	x0, x1 := max(a[0], near, nearest), min(b[0], far)
	y0, y1 := at(x0), at(x1)
	if b[0]-a[0] < 1e-9 {
		y0, y1 = a[1], b[1]
		x1 = x0
	}
	clip := func(edge, sign float64) { // what lies beyond edge, upwards for sign 1
		h0, h1 := sign*(y0-edge), sign*(y1-edge)
		if h0 <= 0 && h1 <= 0 {
			return
		}
		xa, ya, xb, yb := x0, y0, x1, y1
		if h0 < 0 {
			t := h0 / (h0 - h1)
			xa, ya = x0+t*(x1-x0), edge
		} else if h1 < 0 {
			t := h0 / (h0 - h1)
			xb, yb = x0+t*(x1-x0), edge
		}
		u, v := ya/xa, yb/xb
		l.hidden = append(l.hidden, span{min(u, v), max(u, v)})
	}
	if q.z1 < 0 {
		clip(q.z1, 1)
	}
	if q.z0 > 0 {
		clip(q.z0+underfoot, -1)
	}
}

// less adds to l.seen what is left of in when l.hidden is taken away.
func (l *looker) less(in span) {
	slices.SortFunc(l.hidden, bySlope)
	at := in.lo
	for _, h := range l.hidden {
		if h.hi <= at {
			continue
		}
		if h.lo >= in.hi {
			break
		}
		if h.lo > at {
			l.seen = append(l.seen, span{at, h.lo})
		}
		if at = h.hi; at >= in.hi {
			return
		}
	}
	l.seen = append(l.seen, span{at, in.hi})
}

func bySlope(a, b span) int {
	switch {
	case a.lo < b.lo:
		return -1
	case a.lo > b.lo:
		return 1
	}
	return 0
}

// measured returns the length of the union of spans in the sine of elevation.
func measured(v []span) float64 {
	if len(v) > 1 {
		slices.SortFunc(v, bySlope)
	}
	sum, end := 0.0, math.Inf(-1)
	for _, s := range v {
		if s.hi <= end {
			continue
		}
		sum += sine(s.hi) - sine(max(s.lo, end))
		end = s.hi
	}
	return sum
}

// sine returns the sine of the elevation of a slope.
func sine(u float64) float64 {
	if math.IsInf(u, 0) {
		return math.Copysign(1, u)
	}
	return u / math.Sqrt(1+u*u)
}
