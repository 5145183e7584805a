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
	// Near enough that the whole flight fills the picture, from its foot to its
	// head, and a little aside of the middle.
	aside := math.Min(120, 0.3*math.Max(st.Room[1], 0))
	if st.Open[1] {
		aside = math.Min(900, 0.55*st.Room[1])
	} else if st.Open[0] {
		aside = -math.Min(900, 0.55*st.Room[0])
	}
	eye := flat(first).Sub(st.Way.Mul(1850)).Add(st.Side.Mul(aside)).Add(up.Mul(st.Line[0][2] + eyeHigh - 60))
	look := st.on(float64(n-1) * 0.36)
	return Camera{Eye: eye, At: look.Add(up.Mul(170)), Up: up, Angle: 57 * math.Pi / 180}
}
