package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// View is a place to look from.
type View string

// The views. Walking takes the eye along the stair; the others stand still.
const (
	FromHall    View = "from the hall"
	WalkingUp   View = "walking up"
	FromLanding View = "from the landing"
	WalkingDown View = "walking down"
	CloseUp     View = "close by"
	Whole       View = "all of it"
)

// Views lists the views.
func Views() []View { return []View{FromHall, WalkingUp, FromLanding, WalkingDown, CloseUp, Whole} }

// Height of an eye, and angles of view, upright: common practice, no source.
const (
	eyeHigh   = 1600.0
	roomAngle = 50 * math.Pi / 180
	walkAngle = 62 * math.Pi / 180
	hallAngle = 57 * math.Pi / 180
	mostAngle = 70 * math.Pi / 180
	hallNear  = 1850.0 // the eye in the hall is at least so far from the first tread
	headRoom  = 1800.0 // over a tread, for the head of the figure and a little air
)

// Stand is where one can stand and go in a scene: the walking line from the hall
// over every tread to the landing, at the height of what is walked on.
type Stand struct {
	Line []mgl64.Vec3 // Line[k] on tread k; 0 in the hall, and one on the landing behind the last
	Way  mgl64.Vec3   // up the flight at its foot, unit
	Head mgl64.Vec3   // the same at its head
	Side mgl64.Vec3   // to the right at its foot
	// Room is how far the eye may go aside from the line in the hall, to the
	// left and to the right.
	Room [2]float64
	Open [2]bool // which sides have no wall
	// Back is how far from the first tread the eye may go back into the hall, and
	// Seen what it should see from there: the flight from its foot to its head, and
	// who walks on it.
	Back float64
	Seen []mgl64.Vec3
	// Turns says that the flight does not go straight on.
	Turns bool
}

// findStand fills in where one can stand.
func (m *maker) findStand() {
	p := &m.place
	st := Stand{Way: p.d, Head: p.e, Side: p.r}
	foot := p.at(0, -900, p.floor)
	st.Line = append(st.Line, foot)
	for i := range m.a.Survey.Steps {
		s := &m.a.Survey.Steps[i]
		at := s.Corners[s.FL].Add(s.Corners[s.FR]).Mul(0.275).Add(s.Corners[s.BL].Add(s.Corners[s.BR]).Mul(0.225))
		st.Line = append(st.Line, at.Vec3(m.surface(i, at)))
	}
	st.Line = append(st.Line, flat(p.p).Add(p.e.Mul(1000)).Add(up.Mul(p.top)))
	st.Room = [2]float64{-p.walls[0] - 200, p.walls[1] - 200}
	st.Open = p.open
	st.Back, st.Turns = -p.walls[2]-350, !p.straight
	steps := m.a.Survey.Steps
	for i := range steps {
		for _, c := range [2]int{steps[i].FL, steps[i].FR} {
			at := steps[i].Corners[c]
			if i == 0 {
				st.Seen = append(st.Seen, at.Vec3(p.floor))
			}
			st.Seen = append(st.Seen, at.Vec3(m.surface(i, at)))
		}
	}
	// Somebody half way up always has room, so that the eye need not move when
	// they come; and whoever stands higher, unless the flight comes back over the
	// eye there.
	half := float64(len(steps)) / 2
	for _, w := range [2]float64{half, m.o.Walker} {
		if w > 0 && !(st.Turns && w > half) {
			st.Seen = append(st.Seen, st.on(w).Add(up.Mul(headRoom)))
		}
	}
	m.b.s.Stand = st
}

// on returns the place at step s of the walking line, parts of it between two.
func (st *Stand) on(s float64) mgl64.Vec3 {
	n := len(st.Line)
	if n == 0 {
		return mgl64.Vec3{}
	}
	s = math.Max(0, math.Min(float64(n-1), s))
	i := min(int(s), n-2)
	if i < 0 {
		return st.Line[0]
	}
	t := s - float64(i)
	return st.Line[i].Mul(1 - t).Add(st.Line[i+1].Mul(t))
}

// Walk returns the eye of somebody on step s of the walking line, looking the
// way they go.
func (s *Scene) Walk(step float64, down bool) Camera {
	st := &s.Stand
	at := st.on(step)
	ahead, behind := 3.2, -0.6
	if down {
		ahead, behind = -2.6, 0.6
	}
	n := float64(len(st.Line) - 1)
	to, from := st.on(step+ahead), st.on(step+behind)
	d := flat(to.Sub(from))
	if d.Len() < 1 {
		d = st.Way
	}
	d = d.Normalize()
	look := to
	look[2] += 350
	if step+ahead > n || step+ahead < 0 { // on into the room
		over := step + ahead - n
		if down {
			over = -(step + ahead)
		}
		look = look.Add(d.Mul(260 * over)).Add(up.Mul(500 * math.Min(1, over/3)))
	}
	eye := at.Add(up.Mul(eyeHigh))
	return Camera{Eye: eye, At: look, Up: up, Angle: walkAngle}
}

// Camera returns the eye of a view. For the walking ones step says where.
func (s *Scene) Camera(v View, step float64) Camera {
	st := &s.Stand
	n := len(st.Line)
	if n < 3 {
		return Camera{Eye: s.Top, At: s.Low, Up: up, Angle: roomAngle}
	}
	first, last := st.Line[1], st.Line[n-2]
	middle := st.on(float64(n-1) * 0.42)
	switch v {
	case WalkingUp:
		return s.Walk(step, false)
	case WalkingDown:
		return s.Walk(step, true)
	case FromLanding:
		eye := flat(last).Add(st.Head.Mul(480)).Add(up.Mul(st.Line[n-1][2] + eyeHigh - 40))
		look := st.on(float64(n-1) * 0.62)
		return Camera{Eye: eye, At: look.Add(up.Mul(100)), Up: up, Angle: walkAngle}
	case CloseUp:
		k := math.Max(3, math.Min(step, float64(n-3)))
		if step == 0 {
			k = math.Min(4, float64(n-3))
		}
		at := st.on(k)
		eye := at.Sub(st.Way.Mul(780)).Add(st.Side.Mul(math.Min(260, st.Room[1]))).Add(up.Mul(330))
		return Camera{Eye: eye, At: at.Add(up.Mul(55)), Up: up, Angle: 44 * math.Pi / 180}
	case Whole:
		c := s.Low.Add(s.Top).Mul(0.5)
		c = middle.Mul(0.7).Add(c.Mul(0.3))
		d := st.Way.Mul(-1).Add(st.Side.Mul(0.85)).Add(up.Mul(0.75)).Normalize()
		far := last.Sub(first).Len()*1.55 + 1500
		return Camera{Eye: c.Add(d.Mul(far)), At: c, Up: up, Angle: roomAngle}
	}
	return s.fromHall()
}

// fromHall returns an eye in the hall, a little aside of the middle, near enough
// that the flight fills the picture and far enough that all of it is in there,
// with the head of who walks on it.
func (s *Scene) fromHall() Camera {
	st := &s.Stand
	aside := math.Min(120, 0.3*math.Max(st.Room[1], 0))
	if st.Open[1] {
		aside = math.Min(900, 0.55*st.Room[1])
	} else if st.Open[0] {
		aside = -math.Min(900, 0.55*st.Room[0])
	}
	foot := flat(st.Line[1]).Add(st.Side.Mul(aside)).Add(up.Mul(st.Line[0][2] + eyeHigh - 60))
	for back := hallNear; ; back += 50 {
		c := st.fitted(foot.Sub(st.Way.Mul(back)))
		if c.Angle <= hallAngle || back+50 > st.Back {
			c.Angle = math.Max(hallAngle, math.Min(mostAngle, c.Angle))
			return c
		}
	}
}

// fitted returns a camera at an eye that has what is to be seen in the middle of
// a picture of eight by five, with the angle that it needs for it.
func (st *Stand) fitted(eye mgl64.Vec3) Camera {
	const wide, edge, near = 1.6, 0.96, 700.0
	look := st.on(float64(len(st.Line)-1) * 0.36).Sub(eye)
	yaw, pitch := math.Atan2(look[1], look[0]), 0.0
	var need float64
	var d mgl64.Vec3
	for range 8 {
		d = mgl64.Vec3{math.Cos(yaw) * math.Cos(pitch), math.Sin(yaw) * math.Cos(pitch), math.Sin(pitch)}
		right := d.Cross(up).Normalize()
		over := right.Cross(d)
		lo, hi := mgl64.Vec2{}, mgl64.Vec2{}
		for _, q := range st.Seen {
			v := q.Sub(eye)
			far := v.Dot(d)
			if far < near { // it comes back over one's head
				continue
			}
			for i, t := range [2]float64{v.Dot(right) / far, v.Dot(over) / far} {
				lo[i], hi[i] = math.Min(lo[i], t), math.Max(hi[i], t)
			}
		}
		need = math.Max(math.Max(-lo[1], hi[1]), math.Max(-lo[0], hi[0])/wide) / edge
		pitch += (math.Atan(lo[1]) + math.Atan(hi[1])) / 2
		if st.Turns {
			yaw -= (math.Atan(lo[0]) + math.Atan(hi[0])) / 2
		}
	}
	return Camera{Eye: eye, At: eye.Add(d.Mul(look.Len())), Up: up, Angle: 2 * math.Atan(need)}
}
