package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Usual sizes, mm: common practice, no source.
const (
	usualRail    = 900.0 // above the old nose, where none was measured
	railRadius   = 22.0
	railFromWall = 62.0 // its middle
	balusterSide = 32.0
	postSide     = 88.0
)

// railHeight is the height of the rail's top above the old nose of a step, from
// the readings: between two evenly, before the first and after the last the
// same. The rail stays where it is when the steps rise.
func (m *maker) railHeight(step float64) float64 {
	type at struct{ step, value float64 }
	var rs []at
	for _, r := range m.a.Job.Flight.Rail {
		if i := m.a.Job.StepIndex(r.Step); i >= 0 && r.Value > 300 && r.Value < 2000 {
			rs = append(rs, at{float64(i + 1), float64(r.Value)})
		}
	}
	if len(rs) == 0 {
		return usualRail
	}
	for i := range rs { // few
		for j := i; j > 0 && rs[j].step < rs[j-1].step; j-- {
			rs[j], rs[j-1] = rs[j-1], rs[j]
		}
	}
	if step <= rs[0].step {
		return rs[0].value
	}
	for i := range len(rs) - 1 {
		if a, z := rs[i], rs[i+1]; step <= z.step && z.step > a.step {
			return a.value + (z.value-a.value)*(step-a.step)/(z.step-a.step)
		}
	}
	return rs[len(rs)-1].value
}

// rail adds the handrail: over the balusters of an open side, and on the wall
// where the job's sensors hang under it or, on the side of an open one that
// closes, where a height was read. A job that says nothing has one at the right.
func (m *maker) rail() {
	var open, hung [2]bool
	for side := range m.sides {
		for _, p := range m.sides[side] {
			open[side] = open[side] || p.kind == model.Open
		}
	}
	for i := range m.a.Job.Sensing.Sensors {
		if s := &m.a.Job.Sensing.Sensors[i]; s.Mount.AtRail() && !s.Removed {
			hung[sideOf(s.Mount.Side())] = true
		}
	}
	if hung == [2]bool{} && open == [2]bool{} {
		hung[1] = true
	}
	for side := range m.sides {
		last := 0 // step that is open
		for _, p := range m.sides[side] {
			if p.kind == model.Open {
				last = p.step
			}
		}
		if open[side] {
			m.openRail(side)
			for _, r := range m.a.Job.Flight.Rail {
				hung[side] = hung[side] || m.a.Job.StepIndex(r.Step) >= last
			}
		}
		if hung[side] {
			m.wallRail(side, last)
		}
	}
}

// sideOf is the place of a side among those of a maker.
func sideOf(s model.Edge) int {
	if s == model.Right {
		return 1
	}
	return 0
}

func (m *maker) railWood() int {
	if m.o.Before {
		return m.trim()
	}
	return m.wood("rail")
}

// railLine returns the middle of a rail's top over the noses of a side, drawn in
// by so many mm.
func (m *maker) railLine(side int, in float64, take func(*sidePoint) bool) []mgl64.Vec3 {
	out := m.outward(side)
	var line []mgl64.Vec3
	for i := range m.sides[side] {
		p := &m.sides[side][i]
		if !p.front || !take(p) {
			continue
		}
		q := flat(p.at).Sub(out[i].Mul(in))
		q[2] = p.old + m.railHeight(float64(p.step))
		line = append(line, q)
	}
	if m.place.straight && len(line) > 2 {
		// A rail is straight, whatever the noses are.
		a, z := line[0], line[len(line)-1]
		line = []mgl64.Vec3{a, z}
	}
	return line
}

// wallRail adds a round rail on brackets along the wall over the steps after one.
func (m *maker) wallRail(side, after int) {
	line, outs := m.wallLine(side, after)
	if len(line) < 2 {
		return
	}
	n := len(line) - 1
	first, d := line[1].Sub(line[0]).Normalize(), line[n].Sub(line[n-1]).Normalize()
	low, high := 120.0, 60.0
	// It reaches as far as the sensors that hang under it.
	for i := range m.a.Job.Sensing.Sensors {
		s := &m.a.Job.Sensing.Sensors[i]
		if !s.Mount.AtRail() || s.Removed || sideOf(s.Mount.Side()) != side {
			continue
		}
		if at, _, ok := m.sensorAt(s); ok {
			const beyond = 70
			low = math.Max(low, beyond-flat(at.Sub(line[0])).Dot(flat(first).Normalize()))
			high = math.Max(high, beyond+flat(at.Sub(line[n])).Dot(flat(d).Normalize()))
		}
	}
	if after > 0 {
		low = 0 // it goes on from the open part
	}
	line[0] = line[0].Sub(first.Mul(math.Min(low, 600)))
	line[n] = line[n].Add(d.Mul(math.Min(high, 600)))
	for i := range line {
		line[i][2] -= railRadius
	}
	frame := railFrame(line)
	k := skin{part: "rail " + sideNames[side], material: m.railWood(), board: m.boardAxes(frame)}
	m.roundRail(k, line, railRadius)
	// A bracket at each end and every metre or so.
	long := 0.0
	for i := range len(line) - 1 {
		long += line[i+1].Sub(line[i]).Len()
	}
	brackets := max(2, int(math.Round(long/1100))+1)
	metal := m.b.material("bracket", bracketMetal)
	for b := range brackets {
		p, _ := along(line, 160+(long-320)*float64(b)/float64(brackets-1))
		low := p.Sub(up.Mul(railRadius + 26))
		// To the wall that is nearest.
		out, best := outs[0], math.Inf(1)
		for i := range line {
			if f := line[i].Sub(p).Len(); f < best {
				best, out = f, outs[i]
			}
		}
		kb := skin{part: "bracket " + sideNames[side] + number(b), material: metal}
		m.b.rod(kb, p.Sub(up.Mul(railRadius-3)), low, 6, 8)
		m.b.rod(kb, low, low.Add(out.Mul(railFromWall)), 6, 8)
	}
}

// wallLine returns the middle of the top of a rail along a wall, over the steps
// after one, and the way to the wall from there. Where the wall turns, so does
// the rail, as high as the way from nose to nose.
func (m *maker) wallLine(side, after int) (line, outs []mgl64.Vec3) {
	out := m.outward(side)
	pts := m.sides[side]
	begin := 0
	for begin < len(pts) && pts[begin].step <= after {
		begin++
	}
	far := 0.0 // in plan from the nose before
	var since []int
	for i := begin; i < len(pts); i++ {
		p := &pts[i]
		if len(line) == 0 && !p.front {
			continue
		}
		q := flat(p.at).Sub(out[i].Mul(railFromWall))
		if len(line) > 0 {
			step := flat(q.Sub(line[len(line)-1])).Len()
			if step < 20 {
				continue
			}
			far += step
		}
		line, outs = append(line, q), append(outs, out[i])
		q[2] = far // for now
		if !p.front {
			line[len(line)-1] = q
			since = append(since, len(line)-1)
			continue
		}
		q[2] = p.old + m.railHeight(float64(p.step))
		line[len(line)-1] = q
		if at := len(line) - 1 - len(since) - 1; at >= 0 && far > 0 {
			for _, k := range since {
				line[k][2] = line[at][2] + (q[2]-line[at][2])*line[k][2]/far
			}
		}
		since, far = since[:0], 0
	}
	// Behind the last nose there is nothing to go to.
	line, outs = line[:len(line)-len(since)], outs[:len(outs)-len(since)]
	if m.place.straight && len(line) > 2 {
		// A rail is straight, whatever the noses are.
		n := len(line) - 1
		line, outs = []mgl64.Vec3{line[0], line[n]}, []mgl64.Vec3{outs[0], outs[n]}
	}
	return line, outs
}

// railFrame is a frame along a rail, for its grain.
func railFrame(line []mgl64.Vec3) mgl64.Mat4 {
	x := line[len(line)-1].Sub(line[0]).Normalize()
	y := up.Cross(x)
	if y.Len() < 1e-9 {
		y = mgl64.Vec3{0, 1, 0}
	}
	y = y.Normalize()
	// In the middle of a stave, so that it is of one piece.
	at := line[0].Sub(y.Mul(stave / 2))
	return mgl64.Mat4FromCols(x.Vec4(0), y.Vec4(0), x.Cross(y).Vec4(0), at.Vec4(1))
}

// along returns the place so many mm along a line, and its direction.
func along(line []mgl64.Vec3, d float64) (mgl64.Vec3, mgl64.Vec3) {
	for i := range len(line) - 1 {
		s := line[i+1].Sub(line[i])
		l := s.Len()
		if d <= l || i == len(line)-2 {
			if l == 0 {
				return line[i], mgl64.Vec3{1, 0, 0}
			}
			return line[i].Add(s.Mul(d / l)), s.Mul(1 / l)
		}
		d -= l
	}
	return line[0], mgl64.Vec3{1, 0, 0}
}

// roundRail adds a round rail along a line.
func (m *maker) roundRail(k skin, line []mgl64.Vec3, r float64) {
	var sections [][]mgl64.Vec3
	for i := range line {
		d := line[min(i+1, len(line)-1)].Sub(line[max(0, i-1)]).Normalize()
		x := d.Cross(up).Normalize()
		sections = append(sections, ring(line[i], x.Mul(r), x.Cross(d).Mul(r), 16))
	}
	m.b.tube(k, sections, true)
}

// rod adds a round rod from a to z.
func (b *builder) rod(k skin, a, z mgl64.Vec3, r float64, n int) {
	d := z.Sub(a).Normalize()
	x := d.Cross(up)
	if x.Len() < 1e-6 {
		x = mgl64.Vec3{1, 0, 0}
	}
	x = x.Normalize()
	y := x.Cross(d)
	b.tube(k, [][]mgl64.Vec3{ring(a, x.Mul(r), y.Mul(r), n), ring(z, x.Mul(r), y.Mul(r), n)}, true)
}

// post adds an upright square post, chamfered at its head.
func (m *maker) post(k skin, foot mgl64.Vec3, side, high float64, x mgl64.Vec3) {
	x = flat(x)
	if x.Len() == 0 {
		x = mgl64.Vec3{1, 0, 0}
	}
	x = x.Normalize()
	y := up.Cross(x)
	square := func(z, s float64) []mgl64.Vec3 {
		at := foot.Add(up.Mul(z))
		a, b := x.Mul(s/2), y.Mul(s/2)
		return []mgl64.Vec3{at.Sub(a).Sub(b), at.Add(a).Sub(b), at.Add(a).Add(b), at.Sub(a).Add(b)}
	}
	m.b.tube(k, [][]mgl64.Vec3{square(0, side), square(high-side*0.12, side), square(high, side*0.72)}, false)
}

// openRail adds posts, balusters and the rail over them.
func (m *maker) openRail(side int) {
	const in = 24.0
	line := m.railLine(side, in, func(p *sidePoint) bool { return p.kind == model.Open })
	if len(line) < 2 {
		return
	}
	out := m.outward(side)
	first := line[1].Sub(line[0]).Normalize()
	trim := m.trim()
	var firstStep, lastStep int
	for _, p := range m.sides[side] {
		if p.kind == model.Open {
			if firstStep == 0 {
				firstStep = p.step
			}
			lastStep = p.step
		}
	}
	// The rail runs on into the wall above where the side closes again.
	for _, p := range m.sides[side] {
		if p.step == lastStep+1 && p.front {
			q := flat(p.at)
			q[2] = p.old + m.railHeight(float64(p.step))
			line = append(line, q)
			break
		}
	}
	heightAt := func(p mgl64.Vec3) float64 { // of the rail's underside over a place
		best, z := math.Inf(1), line[0][2]
		for i := range len(line) - 1 {
			a, e := line[i], line[i+1]
			d := flat(e.Sub(a))
			if d.Len() == 0 {
				continue
			}
			t := math.Max(0, math.Min(1, flat(p.Sub(a)).Dot(d)/d.LenSqr()))
			q := a.Add(e.Sub(a).Mul(t))
			if f := flat(p.Sub(q)).Len(); f < best {
				best, z = f, q[2]
			}
		}
		return z - 2*railRadius
	}
	// A post at the foot, standing on the floor or on the step below.
	post := line[0].Sub(flat(first).Normalize().Mul(70))
	foot := m.hallFloor()
	if firstStep > 1 {
		foot = m.surface(firstStep-2, post.Vec2())
	}
	newel := m.trim()
	if !m.o.Before {
		newel = m.wood("newel")
	}
	m.post(skin{part: "newel", material: newel, board: func(p mgl64.Vec3) mgl64.Vec3 {
		d := p.Sub(post)
		return mgl64.Vec3{d[2], d[0] + stave/2, d[1]}
	}}, flat(post).Add(up.Mul(foot)), postSide, line[0][2]+90-foot, first)
	line[0] = line[0].Sub(first.Mul(30))
	low := make([]mgl64.Vec3, len(line))
	for i := range line {
		low[i] = line[i].Sub(up.Mul(railRadius))
	}
	m.roundRail(skin{part: "rail", material: m.railWood(), board: m.boardAxes(railFrame(line))}, low, railRadius+2)
	n := 0
	bar := func(at mgl64.Vec3) {
		n++
		top := heightAt(at)
		if top-at[2] < 200 {
			return
		}
		m.post(skin{part: "baluster " + number(n), material: trim}, at, balusterSide, top-at[2]+10, first)
	}
	listed := map[int]bool{}
	for i := range m.a.Balusters {
		b := &m.a.Balusters[i]
		if (b.Side == model.Right) != (side == 1) {
			continue
		}
		listed[b.Step] = true
		at := b.Foot.Sub(out[m.pointOf(side, b.Step)].Mul(in))
		at[2] = m.surface(b.Step-1, at.Vec2())
		bar(at)
	}
	// Where none are listed, two on a tread.
	for i := range m.sides[side] {
		p := &m.sides[side][i]
		if p.kind != model.Open || !p.front || listed[p.step] || i+1 >= len(m.sides[side]) || p.step == len(m.a.Survey.Steps) {
			continue
		}
		d := flat(m.sides[side][i+1].at.Sub(p.at))
		count := max(2, int(math.Round(d.Len()/125)))
		for j := range count {
			at := flat(p.at).Add(d.Mul((float64(j) + 0.3) / float64(count))).Sub(out[i].Mul(in))
			at[2] = m.surface(p.step-1, at.Vec2())
			bar(at)
		}
	}
}

// pointOf is the place among a side's points of a step's nose.
func (m *maker) pointOf(side, step int) int {
	for i := range m.sides[side] {
		if m.sides[side][i].step == step {
			return i
		}
	}
	return 0
}

// bracketMetal is dark metal, as of brackets and knobs.
func bracketMetal() Material {
	return Material{Diffuse: Colour{0.12, 0.11, 0.10}, Gloss: 0.9, Rough: 0.35}
}
