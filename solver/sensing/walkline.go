package sensing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// walkingLines sets out where people walk. A stair as wide as two walking lines
// and a shoulder has two of them.
func (st *Stair) walkingLines() {
	out := st.t.Practised("walk_out").Value
	width := math.Inf(1)
	for _, v := range st.Nose {
		width = min(width, v[1].Sub(v[0]).Vec2().Len())
	}
	st.Lines = []Line{{Name: "hugging the left", hug: -1}}
	if width > 2*out+100 {
		st.Lines = append(st.Lines, Line{Name: "in the left half", out: out}, Line{Name: "in the right half", out: -out})
	} else {
		st.Lines = append(st.Lines, Line{Name: "in the middle", side: 0.5})
	}
	st.Lines = append(st.Lines, Line{Name: "hugging the right", hug: 1})
}

// onNose returns where a body on a line crosses the nose line at index i.
func (st *Stair) onNose(l *Line, b *model.BodySize, i int) mgl64.Vec3 {
	a, z := st.Nose[i][0], st.Nose[i][1]
	w := z.Sub(a).Vec2().Len()
	s := l.side * w
	if l.hug != 0 || l.out != 0 {
		s = l.out
		away := l.hug > 0 || l.out < 0
		if l.hug != 0 {
			clear, side := b.WallSpace.Value, 0
			if away {
				side = 1
			}
			if st.railed[side] {
				clear = max(clear, st.out+st.deep/2+10) // a shoulder beside the rail
			}
			s = clear + b.Breadth.Value/2
		} else {
			s = math.Abs(s)
		}
		if s = min(s, w/2); away { // on a narrow stair the middle is all there is
			s = w - s
		}
	}
	return a.Add(z.Sub(a).Mul(s / w))
}

// Foot returns where a body on a line stands when it has come along the flight
// by so many steps, and the way it faces going up. Heights run evenly from the
// middle of one tread to that of the next, plans along the line.
func (st *Stair) Foot(l *Line, b *model.BodySize, along float64) (foot mgl64.Vec3, face mgl64.Vec2) {
	n := st.Risers
	var z float64
	height := func(k int) float64 { // of position k
		if k <= 0 {
			return st.floor
		}
		v := st.Nose[min(k, n)-1]
		return (v[0][2] + v[1][2]) / 2
	}
	k := math.Floor(along + 0.5) // the position below
	t := along + 0.5 - k
	if k < 0 {
		k, t = 0, 0
	}
	if k >= float64(n) {
		k, t = float64(n), 0
	}
	z = height(int(k)) + t*(height(int(k)+1)-height(int(k)))
	if t == 0 {
		z = height(int(k))
	}
	switch {
	case along <= 0: // square out of the first nose line
		face = st.square(0)
		p := st.onNose(l, b, 0).Vec2().Add(face.Mul(along * st.Going[0]))
		return p.Vec3(z), face
	case along >= float64(n-1):
		face = st.square(n - 1)
		p := st.onNose(l, b, n-1).Vec2().Add(face.Mul((along - float64(n-1)) * st.Going[n-2]))
		return p.Vec3(z), face
	}
	i := int(along)
	p, q := st.onNose(l, b, i).Vec2(), st.onNose(l, b, i+1).Vec2()
	at, face := st.between(i, p, q, along-float64(i))
	return at.Vec3(z), face
}

// between returns the place the share t of the way from p on the nose line at
// index i to q on the next: straight where the lines are as good as parallel;
// else off the one squarely and on to the other squarely, as round a landing.
func (st *Stair) between(i int, p, q mgl64.Vec2, t float64) (at, face mgl64.Vec2) {
	d0, d1 := st.square(i), st.square(i+1)
	way := q.Sub(p)
	if way.Len() < 1 {
		return p, d0
	}
	v := []mgl64.Vec2{p, q}
	cross := d0[0]*d1[1] - d0[1]*d1[0]
	if cos := d0.Dot(d1); cos < -0.9 { // it turns back: round three sides
		h := st.Nose[i][1].Sub(st.Nose[i][0]).Vec2().Len() / 2
		v = []mgl64.Vec2{p, p.Add(d0.Mul(h)), q.Sub(d1.Mul(h)), q}
	} else if cos < 0.999 {
		// where the two meet, if that lies ahead of both
		u := (way[0]*d1[1] - way[1]*d1[0]) / cross
		w := (d0[0]*way[1] - d0[1]*way[0]) / cross
		if u > 0 && w > 0 {
			v = []mgl64.Vec2{p, p.Add(d0.Mul(u)), q}
		}
	}
	sum := 0.0
	for k := range len(v) - 1 {
		sum += v[k+1].Sub(v[k]).Len()
	}
	rest := t * sum
	for k := range len(v) - 1 {
		l := v[k+1].Sub(v[k]).Len()
		if l > 0 && (rest <= l || k == len(v)-2) {
			dir := v[k+1].Sub(v[k]).Mul(1 / l)
			return v[k].Add(dir.Mul(min(rest, l))), dir
		}
		rest -= l
	}
	return q, d1
}

// square returns the direction square to the nose line at index i, up the
// flight.
func (st *Stair) square(i int) mgl64.Vec2 { return square2(st.Nose[i][1].Sub(st.Nose[i][0])) }

// way returns the direction of the walk at a place along the flight: that square
// to the nose lines, turning evenly from one to the next.
func (st *Stair) way(along float64) mgl64.Vec2 {
	n := st.Risers
	along = min(float64(n-1), max(0, along))
	i := min(int(along), n-2)
	t := along - float64(i)
	d := st.square(i).Mul(1 - t).Add(st.square(i + 1).Mul(t))
	if l := d.Len(); l > 0.1 {
		return d.Mul(1 / l)
	}
	_, d = st.Foot(&Line{side: 0.5}, nil, along) // it turns back
	return d
}

// Position returns the position that a place along the flight belongs to: 0 for
// the bottom floor up to N for the top floor.
func (st *Stair) Position(along float64) int {
	return int(min(float64(st.Risers), max(0, math.Floor(along+1))))
}

// Along returns the middle of a position along the flight.
func Along(position int) float64 { return float64(position) - 0.5 }

// Middle returns the foot of somebody who walks in the middle of the stair.
func (st *Stair) Middle(along float64) mgl64.Vec3 {
	foot, _ := st.Foot(&Line{side: 0.5}, nil, along)
	return foot
}

// StepAt returns the step, from 1, that a place along the flight belongs to.
func (st *Stair) StepAt(along float64) int {
	return max(1, min(st.Risers, int(math.Floor(along))+1))
}

// NearestStep returns the step, from 1, whose nose line lies nearest to a point
// in plan.
func (st *Stair) NearestStep(p mgl64.Vec3) int {
	best, step := math.Inf(1), 1
	for i, v := range st.Nose {
		if d := v[0].Add(v[1]).Mul(0.5).Sub(p).Vec2().Len(); d < best {
			best, step = d, i+1
		}
	}
	return step
}
