package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/fitting"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// usualMargin is how far the top edge of a skirt stands above the noses, square
// to the pitch, and usualSkirt how thick an old skirt is, mm: common practice,
// no source.
const (
	usualMargin = 60.0
	usualSkirt  = 19.0
)

// behind is how far the wall lies behind the surveyed side, mm: by the skirt's
// thickness where a skirt is what was surveyed.
func (m *maker) behind(side int, kind model.SideKind) float64 {
	if kind != model.Skirt {
		return 0
	}
	w := [2]model.SideWish{m.a.Job.Wishes.Left, m.a.Job.Wishes.Right}[side]
	if w.OldThickness > 0 {
		return float64(w.OldThickness)
	}
	return usualSkirt
}

// skirts adds the boards along both sides: the old ones where they stand or
// stay, and new ones where the order of fitting has them.
func (m *maker) skirts() {
	for side := range m.sides {
		board, found := skirt.Board{}, false
		capped := false
		if m.w != nil && !m.o.Before {
			board, found = m.w.Board(pieces.Side(side))
			d := [2]fitting.Decision{m.w.Order.Left, m.w.Order.Right}[side]
			capped = d.Cap
		}
		if found && board.Impossible == "" && board.Treatment != skirt.Kept && len(board.Outline) > 2 {
			m.newSkirt(side, &board)
			if board.Treatment == skirt.New {
				if capped {
					m.wireCover(side, &board)
				}
				continue
			}
		}
		m.oldSkirt(side)
	}
}

var sideNames = [2]string{"left", "right"}

// newSkirt adds a board as package skirt has drawn it.
func (m *maker) newSkirt(side int, s *skirt.Board) {
	k := skin{part: "skirt " + sideNames[side], material: m.trim(), board: m.boardAxes(s.Frame)}
	in := s.Frame.Col(2).Vec3()
	face := make([]mgl64.Vec3, 0, len(s.Outline))
	for _, p := range s.Outline {
		q := s.ToStair(p)
		if n := len(face); n > 0 && face[n-1].Sub(q).Len() < 1e-6 {
			continue
		}
		face = append(face, q)
	}
	if newell(face).Dot(in) < 0 {
		for i, j := 0, len(face)-1; i < j; i, j = i+1, j-1 {
			face[i], face[j] = face[j], face[i]
		}
	}
	m.b.polygon(k, face, in)
	off := in.Mul(-s.Thickness)
	rear := make([]mgl64.Vec3, len(face))
	for i := range face {
		rear[len(face)-1-i] = face[i].Add(off)
	}
	m.b.polygon(k, rear, in.Mul(-1))
	for i, p := range face {
		q := face[(i+1)%len(face)]
		m.b.quad(k, [4]mgl64.Vec3{p, p.Add(off), q.Add(off), q}, nil)
	}
}

// wireCover adds the loose strip over the channel behind a skirt.
func (m *maker) wireCover(side int, s *skirt.Board) {
	a, z := s.ToStair(s.Top[0]), s.ToStair(s.Top[1])
	in := s.Frame.Col(2).Vec3()
	along := z.Sub(a)
	lift := in.Cross(along).Normalize()
	if lift[2] < 0 {
		lift = lift.Mul(-1)
	}
	k := skin{part: "wire cover " + sideNames[side], material: m.trim()}
	x, y, h := along, in.Mul(-s.Thickness-5), lift.Mul(9)
	at := a.Add(in.Mul(3))
	if x.Cross(y).Dot(h) < 0 {
		at, x = at.Add(x), x.Mul(-1)
	}
	m.b.box(k, at, x, y, h)
}

// oldSkirt adds the board that was surveyed as the side, stretch by stretch:
// its face is the side, its top edge goes above the noses.
func (m *maker) oldSkirt(side int) {
	pts := m.sides[side]
	in := m.facing(side)
	margin := usualMargin
	w := [2]model.SideWish{m.a.Job.Wishes.Left, m.a.Job.Wishes.Right}[side]
	if w.MarginFirst > 0 {
		margin = float64(w.MarginFirst+w.MarginLast) / 2
	}
	k := skin{part: "old skirt " + sideNames[side], material: m.trim()}
	for i := 0; i+1 < len(pts); i++ {
		a, z := &pts[i], &pts[i+1]
		if a.kind != model.Skirt {
			continue
		}
		run := flat(z.at.Sub(a.at)).Len()
		if run < 1 {
			continue
		}
		point := func(j int, z float64) mgl64.Vec3 { return flat(pts[j].at).Add(up.Mul(z)) }
		pa, pz := point(i, m.edgeOld(side, i)-260), point(i+1, m.edgeOld(side, i+1)-260)
		ta, tz := point(i, m.skirtTop(side, i, margin)), point(i+1, m.skirtTop(side, i+1, margin))
		thick := m.behind(side, model.Skirt)
		o, oz := in[i].Mul(-thick), in[i+1].Mul(-thick)
		face := [4]mgl64.Vec3{pa, pz, tz, ta}
		top := [4]mgl64.Vec3{ta, tz, tz.Add(oz), ta.Add(o)}
		if side == 0 { // seen from the stair, up the flight runs to the right
			m.b.quad(k, face, &[4]mgl64.Vec3{in[i], in[i+1], in[i+1], in[i]})
			m.b.quad(k, top, nil)
		} else {
			m.b.quad(k, [4]mgl64.Vec3{face[1], face[0], face[3], face[2]}, &[4]mgl64.Vec3{in[i+1], in[i], in[i], in[i+1]})
			m.b.quad(k, [4]mgl64.Vec3{top[1], top[0], top[3], top[2]}, nil)
		}
		if i == 0 || pts[i-1].kind != model.Skirt { // its foot end
			end := [4]mgl64.Vec3{pa, ta, ta.Add(o), pa.Add(o)}
			if side == 1 {
				end = [4]mgl64.Vec3{end[3], end[2], end[1], end[0]}
			}
			m.b.quad(k, end, nil)
		}
	}
}

// skirtTop is the height of the top edge of an old skirt at a point of a side:
// above the noses by the margin, square to the pitch. Along a straight flight it
// is one straight line.
func (m *maker) skirtTop(side, i int, margin float64) float64 {
	pts := m.sides[side]
	if m.place.straight {
		first, last := &pts[0], &pts[0]
		for j := range pts {
			if pts[j].front {
				last = &pts[j]
			}
		}
		v := func(p *sidePoint) float64 { return p.at.Sub(m.place.o).Dot(m.place.d) }
		if run := v(last) - v(first); run > 1 {
			slope := (last.old - first.old) / run
			return first.old + slope*(v(&pts[i])-v(first)) + margin*math.Hypot(1, slope)
		}
	}
	slope := 0.7 // of a usual flight
	if p := m.a.Buildup.Pitch.At; p > 0.2 && p < 1.2 {
		slope = math.Tan(p)
	}
	return m.edgeOld(side, i) + margin*math.Hypot(1, slope)
}

// edgeOld is the height of the old pitch line at a point of a side: of its nose,
// or on the way to the next; on a landing level.
func (m *maker) edgeOld(side, i int) float64 {
	pts := m.sides[side]
	p := &pts[i]
	if p.front || m.a.Job.Flight.Steps[p.step-1].Landing {
		return p.old
	}
	a, z := i, i
	for a > 0 && !pts[a].front {
		a--
	}
	for z+1 < len(pts) && !pts[z].front {
		z++
	}
	before, after := 0.0, 0.0
	for j := a; j < z; j++ {
		d := flat(pts[j+1].at.Sub(pts[j].at)).Len()
		if j < i {
			before += d
		} else {
			after += d
		}
	}
	if !pts[z].front || before+after == 0 {
		return p.old
	}
	return pts[a].old + (pts[z].old-pts[a].old)*before/(before+after)
}

// flat drops the height.
func flat(p mgl64.Vec3) mgl64.Vec3 { return mgl64.Vec3{p[0], p[1], 0} }

// outward returns, for each stretch of a side, the level direction away from
// the stair.
func (m *maker) outward(side int) []mgl64.Vec3 {
	pts := m.sides[side]
	out := make([]mgl64.Vec3, len(pts))
	last := mgl64.Vec3{}
	for i := range pts {
		d := mgl64.Vec3{}
		if i+1 < len(pts) {
			d = flat(pts[i+1].at.Sub(pts[i].at))
		}
		if d.Len() < 1 { // a point of a winder

			out[i] = last
			continue
		}
		n := mgl64.Vec3{-d[1], d[0], 0}.Normalize() // left of the way up
		if side == 1 {
			n = n.Mul(-1)
		}
		out[i], last = n, n
	}
	for i := len(out) - 1; i >= 0; i-- {
		if out[i].Len() == 0 && i+1 < len(out) {
			out[i] = out[i+1]
		}
	}
	return out
}

// facing returns, at each point of a side, the level direction in which a wall
// or skirt there faces. Old walls waver by what a survey errs; a wall is shown as
// smooth as it is built: along a straight flight it faces one way.
func (m *maker) facing(side int) []mgl64.Vec3 {
	out := m.outward(side)
	in := make([]mgl64.Vec3, len(out))
	if m.place.straight {
		pts := m.sides[side]
		d := flat(pts[len(pts)-1].at.Sub(pts[0].at))
		n := mgl64.Vec3{d[1], -d[0], 0}.Normalize()
		if side == 1 {
			n = n.Mul(-1)
		}
		for i := range in {
			in[i] = n
		}
		return in
	}
	for i := range out {
		n := out[i]
		if i > 0 && out[i-1].Dot(n) > 0.9 {
			n = n.Add(out[i-1]).Normalize()
		}
		in[i] = n.Mul(-1)
	}
	return in
}
