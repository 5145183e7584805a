package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// landingNosing makes the nosing of a landing between flights: a board along
// its nose line, as deep as the landing nosing of the top floor, that meets the
// landing's sides.
func (b *builder) landingNosing(p *Piece) {
	t, o, over := &b.steps[b.i], &b.outline, &b.job.Overlay
	s := t.step
	p.Kind, p.Step, p.Thickness = LandingNosing, b.i+1, t.thickness
	p.ID = Label(p.Kind, p.Step)
	up := b.flat(t, t.top(s.FL), t.top(s.FR).Sub(t.top(s.FL)))
	o.into = up.Mul(-1)
	o.n, o.backRight, o.front, o.frontAt = 4, 1, 2, 3
	place := func(c int) mgl64.Vec2 {
		d := t.top(c).Sub(o.origin)
		return mgl64.Vec2{d.Dot(o.ex), d.Dot(o.ey)}
	}
	n := len(s.Corners)
	left, right := place(s.FL), place(s.FR)
	after, before := (s.FR+1)%n, (s.FL+n-1)%n
	// The rear edge goes with the nose line, so its corners stand for it.
	o.lines[0] = line{normal: mgl64.Vec2{0, -1}, d: float64(over.LandingDepth), part: BackEdge, a: s.FL, b: s.FR}
	o.ends[0] = [2]mgl64.Vec2{left, right}
	o.lines[1] = b.landingEnd(t, Right, s.FR, after, place(after), right)
	o.ends[1] = [2]mgl64.Vec2{place(after), right}
	o.lines[2] = line{normal: mgl64.Vec2{0, 1}, part: Nose, a: s.FR, b: s.FL}
	o.ends[2] = [2]mgl64.Vec2{right, left}
	o.lines[3] = b.landingEnd(t, Left, before, s.FL, left, place(before))
	o.ends[3] = [2]mgl64.Vec2{left, place(before)}
	for j := range o.n {
		o.corners[j] = o.corner(j, 0)
	}
	p.Impossible = o.trace(p.Kind)
	o.finish(p)
	b.endsOf(p, [2]model.SideKind{t.job.Left.Kind, t.job.Right.Kind})
	b.treadGrads(t)
	b.figures(p)
	b.release(p, b.i)
	p.Notes = append(p.Notes, "landing between flights: rebate its rear to the landing's floor; screw from above and plug")
	if t.job.Left.Kind == model.Open || t.job.Right.Kind == model.Open {
		p.Notes = append(p.Notes, openNote)
	}
}

// flat sets the outline's flat frame into the plane of the new tread: origin,
// and ex along the given direction. It returns the plane's normal, upwards.
func (b *builder) flat(t *site, origin, along mgl64.Vec3) mgl64.Vec3 {
	o := &b.outline
	up := mgl64.Vec3{-t.bed.slope[0], -t.bed.slope[1], 1}.Normalize()
	o.origin, o.ex = origin, along.Normalize()
	o.ey = o.ex.Cross(up)
	return up
}

// landingEnd returns the line of a landing nosing's end along the edge of the
// landing from corner a to corner z, which lie at qa and qz.
func (b *builder) landingEnd(t *site, side Side, a, z int, qz, qa mgl64.Vec2) line {
	s := t.step
	along := qz.Sub(qa)
	if side == Left && a == s.BR || side == Right && z == s.BL || math.Abs(along[0]) > math.Abs(along[1]) ||
		along.Len() < float64(b.job.Overlay.LandingDepth) {
		// The next flight begins at this very corner or before the nosing ends, or
		// the edge runs across the well between two flights: no side was measured
		// that would guide the end, and it is plumb and square to the nose.
		l := line{normal: mgl64.Vec2{1, 0}, side: Right, part: RightEnd, a: s.FR, b: s.FR}
		at := qa
		if side == Left {
			l = line{normal: mgl64.Vec2{-1, 0}, side: Left, part: LeftEnd, a: s.FL, b: s.FL}
			at = qz
		}
		l.inset = float64(b.job.Overlay.Fit)
		l.d = l.normal.Dot(at) - l.inset
		return l
	}
	return b.treadLine(t, a, z, qz, qa)
}

// floor makes what is laid on a landing behind its nosing.
func (b *builder) floor(p *Piece) {
	t, o := &b.steps[b.i], &b.outline
	s := t.step
	p.Kind, p.Step, p.Thickness = LandingFloor, b.i+1, t.thickness
	p.ID = Label(p.Kind, p.Step)
	b.flat(t, t.top(s.FL), t.top(s.FR).Sub(t.top(s.FL)))
	n := len(s.Corners)
	at := func(c int) mgl64.Vec2 {
		d := t.top(c).Sub(o.origin)
		return mgl64.Vec2{d.Dot(o.ex), d.Dot(o.ey)}
	}
	p.Ends[Left].Side, p.Ends[Right].Side = t.job.Left.Kind, t.job.Right.Kind
	// The rear corners of the nosing stand for the front ones of the landing.
	rear := [2]mgl64.Vec2{b.behindNosing(at, s.FL, (s.FL+n-1)%n), b.behindNosing(at, s.FR, (s.FR+1)%n)}
	var face []mgl64.Vec2
	var parts []Part
	var named [4]int
	put := func(q mgl64.Vec2, part Part, name int) {
		if name >= 0 {
			named[name] = len(face)
		}
		face, parts = append(face, q), append(parts, part)
	}
	// Going round the face runs against the opening's order. Where the next
	// flight begins beside the nosing, the side between them is shorter than the
	// nosing is deep and folds back on itself: it is left out.
	const bl, br, fr, fl = 0, 1, 2, 3
	foldLeft := folds(at(s.BR), at(s.BL), rear[Left]) && (s.BL+1)%n == s.FL
	foldRight := folds(at(s.BL), at(s.BR), rear[Right]) && (s.FR+1)%n == s.BR
	if !foldLeft {
		put(at(s.BL), BackEdge, bl)
	}
	if !foldRight {
		if foldLeft { // the face begins with its back edge
			put(rear[Left], BackEdge, bl)
			named[fl] = 0
		}
		put(at(s.BR), RightEnd, br)
	}
	for c := s.BR - 1; c > s.FR; c-- {
		put(at(c), RightEnd, -1)
	}
	if put(rear[Right], Nose, fr); foldRight {
		parts[len(parts)-2], named[br] = BackEdge, named[fr]
	}
	if !foldLeft {
		put(rear[Left], LeftEnd, fl)
	}
	for c := n - 1; c > s.BL; c-- {
		put(at(c), LeftEnd, -1)
	}
	const none = "the landing leaves no floor behind its nosing that can be drawn; check its corners"
	if foldLeft && foldRight || len(face) < 3 || !simple(face) {
		p.Impossible = none
		b.release(p, b.i)
		return
	}
	p.BackLeft, p.BackRight, p.FrontRight, p.FrontLeft = named[bl], named[br], named[fr], named[fl]
	p.Impossible = p.prism(o.origin, o.ex, o.ey, face, parts)
	p.BackLeft, p.BackRight, p.FrontRight, p.FrontLeft = named[bl], named[br], named[fr], named[fl]
	names := named
	f := p.Face
	length := func(a, z int) Value { return Value{Value: f[z].Sub(f[a]).Len(), PlusMinus: b.floorBand()} }
	p.Figures = Figures{Back: length(names[0], names[1]), Front: length(names[3], names[2]), LeftDepth: length(names[0], names[3]),
		RightDepth: length(names[1], names[2]), DiagonalLeft: length(names[0], names[2]), DiagonalRight: length(names[1], names[3])}
	p.Template = "a floor of several boards, laid to the landing behind its nosing: scribe the boards at the edge to what they meet"
	p.Notes = append(p.Notes, "one build-up serves both flights: the floor lies flush with the landing nosing")
	b.release(p, b.i)
}

// floorBand returns the band of a landing's floor: that of the least sure edge
// or diagonal of its opening, within itself.
func (b *builder) floorBand() float64 {
	t := &b.steps[b.i]
	if !t.kept {
		return 0
	}
	n := len(t.step.Corners)
	g := make([]float64, count(t))
	worst := 0.0
	for c := range n {
		for e := range c {
			d := t.step.Corners[c].Sub(t.step.Corners[e])
			l := d.Len()
			if l == 0 {
				continue
			}
			clear(g)
			g[2*c], g[2*c+1], g[2*e], g[2*e+1] = d[0]/l, d[1]/l, -d[0]/l, -d[1]/l
			worst = math.Max(worst, b.res.SpreadOf(b.i, g, nil))
		}
	}
	return survey.Band95 * worst
}

// behindNosing returns the rear corner of a landing's nosing on the side that
// runs from corner c of the opening to next.
func (b *builder) behindNosing(at func(int) mgl64.Vec2, c, next int) mgl64.Vec2 {
	depth := float64(b.job.Overlay.LandingDepth)
	q := at(c)
	if r, ok := crossing(q, at(next).Sub(q), mgl64.Vec2{0, -depth}, mgl64.Vec2{1, 0}); ok && r.Sub(q).Len() < 2*depth {
		return r
	}
	return q.Add(mgl64.Vec2{0, -depth})
}

// folds says whether the way from a over b to c turns back on itself.
func folds(a, b, c mgl64.Vec2) bool {
	u, v := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(u[0]*v[1]-u[1]*v[0], u.Dot(v))) > 150*math.Pi/180
}

// simple says whether an outline runs anticlockwise and no edge crosses
// another.
func simple(face []mgl64.Vec2) bool {
	turn := func(a, b, c mgl64.Vec2) float64 {
		return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
	}
	area, m := 0.0, len(face)
	for i, a := range face {
		b := face[(i+1)%m]
		area += turn(face[0], a, b)
		for k := i + 2; k < m; k++ {
			if i == 0 && k == m-1 {
				continue
			}
			c, d := face[k], face[(k+1)%m]
			if turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0 {
				return false
			}
		}
	}
	return area > 0
}
