package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// walker adds somebody on the stair: a plain figure of rounded solids, 1,720
// high, at the walking line of the step.
func (m *maker) walker() {
	w := m.o.Walker
	steps := m.a.Survey.Steps
	if !(w > 0) || len(steps) < 2 {
		return
	}
	w = math.Min(w, float64(len(steps)))
	tread := func(k int) mgl64.Vec3 { // where a foot stands on tread k; 0 is the hall
		if k <= 0 {
			p := m.place.at(0, -260, 0)
			p[2] = m.hallFloor()
			return p
		}
		i := min(k, len(steps)) - 1
		st := &steps[i]
		nose := st.Corners[st.FL].Add(st.Corners[st.FR]).Mul(0.5)
		rear := st.Corners[st.BL].Add(st.Corners[st.BR]).Mul(0.5)
		at := nose.Mul(0.55).Add(rear.Mul(0.45))
		if k > len(steps) {
			at = at.Add(m.place.e.Vec2().Mul(250 * float64(k-len(steps))))
		}
		return at.Vec3(m.surface(i, at))
	}
	k := int(math.Floor(w))
	frac := w - float64(k)
	a, b := tread(k), tread(k+1)
	d := flat(b.Sub(a))
	if d.Len() < 1 {
		d = m.place.d
	}
	d = d.Normalize()
	if m.o.Down {
		a, b = b, a
		d = d.Mul(-1)
		frac = 1 - frac
	}
	r := mgl64.Vec3{d[1], -d[0], 0}
	// One foot stands while the other swings over to the next step but one.
	at := a.Mul(1 - frac).Add(b.Mul(frac))
	stand, swing := a, at.Mul(0.25).Add(b.Mul(0.75)).Add(up.Mul(110*math.Sin(math.Pi*(0.3+0.4*frac))))
	if frac > 0.6 {
		swing = b
	}
	const hip, high = 905.0, 1720.0
	base := math.Max(stand[2], b[2]-60)
	if m.o.Down {
		base = stand[2] - 30
	}
	pelvis := flat(at).Add(up.Mul(base + hip - 25)).Add(d.Mul(45))
	lean := d.Mul(0.085)
	spine := up.Add(lean).Normalize()
	chest := pelvis.Add(spine.Mul(430))
	neck := pelvis.Add(spine.Mul(high - hip - 255))
	head := pelvis.Add(spine.Mul(high - hip - 105)).Add(d.Mul(18))

	cloth := m.b.material("walker coat", func() Material { return Material{Diffuse: Colour{0.10, 0.19, 0.225}, Rough: 1} })
	legs := m.b.material("walker legs", func() Material { return Material{Diffuse: Colour{0.085, 0.09, 0.115}, Rough: 1} })
	skinned := m.b.material("walker", func() Material { return Material{Diffuse: Colour{0.40, 0.33, 0.28}, Rough: 0.9} })
	hair := skin{part: "walker hair", material: m.b.material("walker hair", func() Material { return Material{Diffuse: Colour{0.075, 0.05, 0.035}, Gloss: 0.3, Rough: 0.7} })}
	shoe := skin{part: "walker shoe", material: m.b.material("walker shoes", func() Material { return Material{Diffuse: Colour{0.24, 0.15, 0.09}, Rough: 0.8} })}
	kc, kl, ks := skin{part: "walker coat", material: cloth}, skin{part: "walker legs", material: legs}, skin{part: "walker", material: skinned}
	limb := func(k skin, path []mgl64.Vec3, radii []float64) {
		var s [][]mgl64.Vec3
		var ps []mgl64.Vec3
		var rs []float64
		// Rounded ends, and a smooth way between the joints.
		for i := range len(path) - 1 {
			const parts = 6
			for j := range parts {
				t := float64(j) / parts
				ps = append(ps, spline(path, i, t))
				rs = append(rs, radii[i]*(1-ease(t))+radii[i+1]*ease(t))
			}
		}
		ps, rs = append(ps, path[len(path)-1]), append(rs, radii[len(radii)-1])
		cap_ := func(p, out mgl64.Vec3, r float64, before bool) (qs []mgl64.Vec3, ss []float64) {
			for j := range 4 {
				a := math.Pi / 2 * (float64(j) + 0.15) / 4
				x, y := math.Cos(a), math.Sin(a)
				qs, ss = append(qs, p.Add(out.Mul(r*x))), append(ss, r*y)
			}
			if !before {
				for i, j := 0, len(qs)-1; i < j; i, j = i+1, j-1 {
					qs[i], qs[j], ss[i], ss[j] = qs[j], qs[i], ss[j], ss[i]
				}
			}
			return qs, ss
		}
		n := len(ps)
		q0, s0 := cap_(ps[0], ps[0].Sub(ps[1]).Normalize(), rs[0], true)
		q1, s1 := cap_(ps[n-1], ps[n-1].Sub(ps[n-2]).Normalize(), rs[n-1], false)
		ps = append(append(q0, ps...), q1...)
		rs = append(append(s0, rs...), s1...)
		for i := range ps {
			t := ps[min(i+1, len(ps)-1)].Sub(ps[max(0, i-1)])
			if t.Len() < 1e-6 {
				t = up
			}
			t = t.Normalize()
			x := r.Sub(t.Mul(r.Dot(t))).Normalize()
			y := x.Cross(t)
			s = append(s, ring(ps[i], x.Mul(rs[i]), y.Mul(rs[i]), 14))
		}
		m.b.tube(k, s, true)
	}
	knee := func(h, f mgl64.Vec3, by float64) mgl64.Vec3 { return h.Add(f).Mul(0.5).Add(d.Mul(by)).Add(up.Mul(20)) }
	for side, foot := range [2]mgl64.Vec3{stand, swing} {
		s := r.Mul(95 * (1 - 2*float64(side)))
		h := pelvis.Add(s.Mul(0.95)).Sub(up.Mul(15))
		ankle := foot.Add(s).Add(up.Mul(85))
		bend := 35 + 150*math.Max(0, 1-ankle.Sub(h).Len()/870)*2.2
		limb(kl, []mgl64.Vec3{h, knee(h, ankle, bend), ankle}, []float64{80, 70, 62})
		limb(shoe, []mgl64.Vec3{foot.Add(s).Add(up.Mul(44)).Sub(d.Mul(48)), foot.Add(s).Add(up.Mul(42)).Add(d.Mul(50)), foot.Add(s).Add(up.Mul(32)).Add(d.Mul(150))}, []float64{45, 44, 32})
	}
	// The trunk is wider than deep: rings along the spine.
	trunk := [][]mgl64.Vec3{}
	for _, c := range [][3]float64{{-135, 30, 20}, {-128, 95, 70}, {-105, 152, 108}, {-60, 168, 118}, {0, 167, 118}, {110, 148, 106}, {230, 156, 110}, {340, 176, 116}, {410, 186, 110}, {460, 176, 98}, {500, 124, 78}, {526, 72, 60}, {536, 24, 22}} {
		at := pelvis.Add(spine.Mul(c[0])).Add(d.Mul(10 * math.Sin(c[0]/170)))
		trunk = append(trunk, ring(at, r.Mul(c[1]), d.Mul(c[2]), 20))
	}
	m.b.tube(kc, trunk, true)
	limb(ks, []mgl64.Vec3{neck.Sub(spine.Mul(60)), neck.Add(spine.Mul(45))}, []float64{54, 51})
	var skull [][]mgl64.Vec3
	const bands = 12
	for i := range bands + 1 {
		a := math.Pi * (0.02 + 0.96*float64(i)/bands)
		z, w := -math.Cos(a), math.Sin(a)
		skull = append(skull, ring(head.Add(up.Mul(118*z)).Add(d.Mul(8*z)), r.Mul(77*w), d.Mul(94*w), 18))
	}
	m.b.tube(ks, skull, true)
	// Hair: a little wider than the head, over its top and back.
	var hairs [][]mgl64.Vec3
	for i := range bands + 1 {
		a := math.Pi * (0.26 + 0.72*float64(i)/bands)
		z, w := -math.Cos(a), math.Sin(a)
		back := 26 * (1 - ramp(z, -0.6, 0.9)) // so that the face is free
		hairs = append(hairs, ring(head.Add(up.Mul(126*z+4)).Sub(d.Mul(10+back)), r.Mul(84*w), d.Mul((100-0.7*back)*w), 18))
	}
	m.b.tube(hair, hairs, true)
	// Arms swing against the legs; the outer hand is near the rail.
	for side := range 2 {
		sign := 1 - 2*float64(side)
		shoulder := chest.Add(r.Mul(172 * sign)).Add(spine.Mul(22))
		fore := 120 * -sign
		elbow := shoulder.Sub(up.Mul(285)).Add(r.Mul(42 * sign)).Add(d.Mul(fore*0.3 - 20))
		hand := elbow.Sub(up.Mul(195)).Add(d.Mul(fore*0.6 + 110)).Add(r.Mul(6 * sign))
		limb(kc, []mgl64.Vec3{shoulder, elbow, hand}, []float64{62, 46, 35})
		limb(ks, []mgl64.Vec3{hand, hand.Sub(up.Mul(30)).Add(d.Mul(55))}, []float64{33, 26})
	}
}

// spline returns a place between points i and i+1 of a path, on the curve of
// Catmull and Rom through them all (1974; the formula is from memory).
func spline(p []mgl64.Vec3, i int, t float64) mgl64.Vec3 {
	a, b, c, d := p[max(0, i-1)], p[i], p[i+1], p[min(len(p)-1, i+2)]
	m0, m1 := c.Sub(a).Mul(0.5), d.Sub(b).Mul(0.5)
	t2, t3 := t*t, t*t*t
	return b.Mul(2*t3 - 3*t2 + 1).Add(m0.Mul(t3 - 2*t2 + t)).Add(c.Mul(-2*t3 + 3*t2)).Add(m1.Mul(t3 - t2))
}

// sensors adds a small box for every motion sensor.
func (m *maker) sensors() {
	if m.o.Before {
		return
	}
	box := m.b.material("sensor", func() Material { return Material{Diffuse: Colour{0.62, 0.61, 0.59}, Gloss: 0.4, Rough: 0.4} })
	for i := range m.a.Job.Sensing.Sensors {
		s := &m.a.Job.Sensing.Sensors[i]
		if s.Removed {
			continue
		}
		at, in, ok := m.sensorAt(s)
		if !ok {
			continue
		}
		x := up.Cross(in).Normalize()
		low := 12.0 // below the lens
		if s.Mount.AtRail() {
			low = 18 // so that it hangs under the rail and not in it
		}
		m.b.box(skin{part: "sensor " + number(i+1), material: box}, at.Sub(x.Mul(16)).Sub(up.Mul(low)).Sub(in.Mul(14)), x.Mul(32), in.Mul(18), up.Mul(24))
	}
}

// sensorAt returns where a sensor's lens is, and a level direction into the
// stair.
func (m *maker) sensorAt(s *model.Sensor) (at, in mgl64.Vec3, ok bool) {
	if !s.Mount.Beside() {
		at = mgl64.Vec3{float64(s.At.X), float64(s.At.Y), float64(s.At.Z)}
		return at, m.place.d, finite(at)
	}
	side := sideOf(s.Mount.Side())
	var noses []int
	for i := range m.sides[side] {
		if m.sides[side][i].front {
			noses = append(noses, i)
		}
	}
	if len(noses) < 2 {
		return at, in, false
	}
	k := int(math.Max(0, math.Min(float64(len(noses)-2), math.Floor(s.Along))))
	a, b := m.sides[side][noses[k]], m.sides[side][noses[k+1]]
	t := s.Along - float64(k)
	at = flat(a.at).Add(flat(b.at.Sub(a.at)).Mul(t))
	in = m.outward(side)[noses[k]].Mul(-1)
	old := a.old + (b.old-a.old)*t
	if s.Mount.AtRail() {
		at = at.Add(in.Mul(railFromWall))
		at[2] = old + m.railHeight(float64(k+1)+t) - 2*railRadius - float64(s.Below)
	} else {
		at = at.Add(in.Mul(14))
		at[2] = old + float64(s.Below)
	}
	return at, in, finite(at)
}
