package bars

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// glare finds the bars that an eye in the hall sees from below. The eye stands
// in front of the middle of the first nose, square to it. A bar is hidden by a
// lower tread when the line of sight passes below that tread's top at its nose
// (taken by distance in plan, which is exact in a straight flight), else by a
// lip at its front that is deep enough for the bar's back edge:
//
//	lip = bar width × (height of the bar above the eye) / (distance in plan)
func (m *maker) glare(bs []Bar, ps []pieces.Piece) {
	if len(bs) == 0 || bs[0].Back.Len() == 0 || !(m.l.EyeHeight > 0) {
		return
	}
	first := bs[0].Left.Add(bs[0].Right).Mul(0.5).Vec2()
	spot := first.Sub(bs[0].Back.Mul(max(0, float64(m.l.EyeDistance)) + atLeast0(m.l.Setback) + atLeast0(m.l.BarWidth)/2))
	eye := float64(m.job.Overlay.FloorBottom + m.l.EyeHeight)
	type nose struct{ far, top float64 }
	var noses []nose
	var seen []*Bar
	for i := range bs {
		b := &bs[i]
		t := &ps[2*i+1]
		if b.Length <= 0 || t.Impossible != "" {
			continue
		}
		mid := corner(t, t.FrontLeft).Add(corner(t, t.FrontRight)).Mul(0.5)
		at := b.Left.Add(b.Right).Mul(0.5)
		far := at.Vec2().Sub(spot).Len()
		rise := at[2] - b.Hang - eye
		hidden := rise <= 0 || b.Back.Dot(at.Vec2().Sub(spot)) <= 0 || far <= 0
		for _, n := range noses {
			hidden = hidden || n.far < far && eye+rise*n.far/far < n.top
		}
		noses = append(noses, nose{mid.Vec2().Sub(spot).Len(), mid[2]})
		if hidden {
			continue
		}
		b.Glare.Above = true
		b.Glare.Lip = atLeast0(m.l.BarWidth) * rise / far
		have := atLeast0(m.l.Lip) + math.Max(0, -b.Hang)
		if b.Glare.Seen = b.Glare.Lip > have+cutSlack; b.Glare.Seen {
			seen = append(seen, b)
		}
	}
	// The one that needs most is told of.
	slices.SortStableFunc(seen, func(a, b *Bar) int { return cmp.Compare(b.Glare.Lip, a.Glare.Lip) })
	for _, b := range seen {
		m.notes.add(model.Memory, "light.glare", model.Advice, "lip", b.Step, "dazzles from the hall",
			fmt.Sprintf("an eye %s above the floor, %s before the first nose, looks up into it; a lip of %s would hide it", m.f.Length(m.l.EyeHeight), m.f.Length(m.l.EyeDistance), m.mm(b.Glare.Lip)),
			"a lip in front of the bar, or set the bar further back; judge it by eye with one bar lit")
	}
}

// Centre returns the middle of the bar's centre line.
func (b *Bar) Centre() mgl64.Vec3 { return b.Left.Add(b.Right).Mul(0.5) }
