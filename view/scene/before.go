package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// carpetThick is carpet with its underlay, mm, and carpetRound the radius in
// which it goes over a nose: common practice, no source.
const (
	carpetThick = 11.0
	carpetRound = 17.0
)

// carpeted adds the stair as it stands: the rough treads under a carpet that
// goes round their noses and hangs down the old risers.
func (m *maker) carpeted() {
	s := m.a.Survey
	k := skin{part: "carpet", material: m.carpet()}
	for i := range s.Steps {
		st := &s.Steps[i]
		fl, fr := m.oldNose(i)
		back := mgl64.Vec2{-(fr[1] - fl[1]), fr[0] - fl[0]}.Normalize()
		// Forward by the carpet's thickness, too.
		out := back.Mul(-carpetThick)
		fl, fr = fl.Add(out), fr.Add(out)

		// What can be walked on, from behind the round of the nose.
		in := back.Mul(carpetRound)
		top := []mgl64.Vec3{}
		lift := func(p mgl64.Vec2) mgl64.Vec3 { return p.Vec3(m.surface(i, p)) }
		n := len(st.Corners)
		top = append(top, lift(fl.Add(in)), lift(fr.Add(in)))
		for c := (st.FR + 1) % n; c != st.FL; c = (c + 1) % n {
			p := st.Corners[c]
			if c == st.BR || c == st.BL { // under the carpet of the riser behind
				p = p.Add(back.Mul(10))
			}
			top = append(top, lift(p))
		}
		normal := newell(top)
		if !(normal.Len() > 1) || normal[2] < 0 {
			continue
		}
		k.part = "carpet " + number(i+1)
		k.board = nil
		m.b.polygon(k, top, normal.Normalize())

		// Round the nose, then back to the old riser and down it.
		foot := m.hallFloor()
		if i > 0 {
			mid := fl.Add(fr).Mul(0.5).Add(back.Mul(30))
			foot = m.surface(i-1, mid)
		}
		under := float64(m.a.Job.Existing.Tread) + carpetThick
		hang := max(4, float64(m.a.Job.Existing.Overhang))
		var profile []mgl64.Vec2 // behind the nose, below the top
		const bends = 6
		for b := range bends + 1 {
			a := math.Pi / 2 * float64(b) / bends
			profile = append(profile, mgl64.Vec2{carpetRound * (1 - math.Sin(a)), carpetRound * (1 - math.Cos(a))})
		}
		profile = append(profile, mgl64.Vec2{1, under * 0.8}, mgl64.Vec2{5, under + 4}, mgl64.Vec2{hang * 0.8, under + 22}, mgl64.Vec2{hang, under + 50})
		edge := func(e mgl64.Vec2, q mgl64.Vec2) mgl64.Vec3 {
			p := e.Add(back.Mul(q[0]))
			return p.Vec3(m.surface(i, e.Add(back.Mul(carpetRound))) - q[1])
		}
		last := mgl64.Vec2{hang, edge(fl, mgl64.Vec2{})[2] - foot + 2}
		profile = append(profile, last)
		normals := make([]mgl64.Vec3, len(profile))
		for q := range profile {
			a, z := profile[max(0, q-1)], profile[min(len(profile)-1, q+1)]
			d := z.Sub(a).Normalize() // along the profile, down
			// Outwards: forward where it goes down, up where it goes forward.
			normals[q] = back.Mul(-d[1]).Vec3(-d[0]).Normalize()
		}
		normals[0] = up
		for q := range len(profile) - 1 {
			m.b.quad(k, [4]mgl64.Vec3{edge(fl, profile[q]), edge(fl, profile[q+1]), edge(fr, profile[q+1]), edge(fr, profile[q])},
				&[4]mgl64.Vec3{normals[q], normals[q+1], normals[q+1], normals[q]})
		}
	}
}

// oldNose returns the ends of the old nose line of step i+1 in plan.
func (m *maker) oldNose(i int) (left, right mgl64.Vec2) {
	st := &m.a.Survey.Steps[i]
	fl, fr := st.Corners[st.FL], st.Corners[st.FR]
	back := mgl64.Vec2{-(fr[1] - fl[1]), fr[0] - fl[0]}.Normalize()
	forward := 0.0
	if i < len(m.a.Buildup.Steps) {
		forward = m.a.Buildup.Steps[i].Forward
	}
	return fl.Add(back.Mul(forward)), fr.Add(back.Mul(forward))
}

// hallFloor is the height of the bottom floor in this picture.
func (m *maker) hallFloor() float64 {
	if m.o.Before {
		return 0
	}
	return float64(m.a.Job.Overlay.FloorBottom)
}

// topFloor is that of the top floor.
func (m *maker) topFloor() float64 {
	s := &m.a.Survey.Steps[len(m.a.Survey.Steps)-1]
	z := (s.TopLeft + s.TopRight) / 2
	if !m.o.Before {
		z += float64(m.a.Job.Overlay.FloorTop)
	}
	return z
}

func number(i int) string {
	return string([]byte{byte('0' + i/100%10), byte('0' + i/10%10), byte('0' + i%10)})
}
