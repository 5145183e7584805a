package lux

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// Bar is the bright face of a light bar: a rectangle of even exitance that
// shines to one side, in stair coordinates and mm. The zero Bar is dark.
type Bar struct {
	Step int // the nose it sits under, from 1

	// Corner is where the lip's edge begins; Along is that edge and Across the
	// one square to it, away from the lip. Light leaves towards Along × Across.
	Corner        mgl64.Vec3
	Along, Across mgl64.Vec3

	Exitance float64 // lm/m²

	// Lip is how far an opaque lip stands out from the face along the edge
	// Along; 0 is none. It cuts light off on that side.
	Lip float64
}

// squareMM is the number of square millimetres in a square metre.
const squareMM = 1e6

// Normal returns the unit direction that the bar faces.
func (b Bar) Normal() mgl64.Vec3 { return b.Along.Cross(b.Across).Normalize() }

// Area returns the area of the bright face in m².
func (b Bar) Area() float64 { return b.Along.Cross(b.Across).Len() / squareMM }

// Lumens returns the flux that leaves the bar.
func (b Bar) Lumens() float64 { return b.Exitance * b.Area() }

// WithLumens returns the bar giving lm lumens, evenly over its face.
func (b Bar) WithLumens(lm float64) Bar {
	b.Exitance = 0
	if a := b.Area(); a > 0 {
		b.Exitance = lm / a
	}
	return b
}

// corners returns the face, anticlockwise seen from the lit side.
func (b *Bar) corners() []mgl64.Vec3 {
	return []mgl64.Vec3{b.Corner, b.Corner.Add(b.Along), b.Corner.Add(b.Along).Add(b.Across), b.Corner.Add(b.Across)}
}

// lip returns the lip as a screen.
func (b *Bar) lip() Screen {
	out := b.Normal().Mul(b.Lip)
	return Screen{Outline: []mgl64.Vec3{b.Corner, b.Corner.Add(b.Along), b.Corner.Add(b.Along).Add(out), b.Corner.Add(out)}, BothSides: true}
}

const (
	// squareness is how far, as a cosine, the edges of a bar may be from
	// square: 1e-6 is 0.2 seconds of arc, above the rounding of any chain of
	// rotations and far below any workshop.
	squareness = 1e-6
	// reach bounds coordinates, mm: ten times the longest typed length. Squares
	// and products of four stay far inside float64.
	reach = 1e6
	// leastEdge is the shortest edge of a bar or side of an outline that has a
	// direction, mm: a thousandth of what a rule shows.
	leastEdge = 1e-3
	// mostExitance bounds the exitance, lm/m²: a sunlit white wall has about
	// 1e5, the sun's own disc about 6e9 (from memory). More is a slip.
	mostExitance = 1e10
)

// fault returns why the bar cannot be computed, or "".
func (b *Bar) fault() string {
	switch {
	case !near(b.Corner) || !near(b.Along) || !near(b.Across):
		return "its place is not a number, or lies beyond a kilometre"
	case !(b.Along.Len() >= leastEdge && b.Across.Len() >= leastEdge):
		return "its bright face has no length or no width"
	case math.Abs(b.Along.Normalize().Dot(b.Across.Normalize())) > squareness:
		return "its bright face is not a rectangle"
	case !(b.Exitance >= 0 && b.Exitance <= mostExitance):
		return fmt.Sprintf("its exitance is %g lm/m²", b.Exitance)
	case !(b.Lip >= 0 && b.Lip <= reach):
		return fmt.Sprintf("its lip stands out %g mm", b.Lip)
	}
	return ""
}

// near says whether v is a place on a stair.
func near(v mgl64.Vec3) bool {
	return math.Abs(v[0]) <= reach && math.Abs(v[1]) <= reach && math.Abs(v[2]) <= reach
}

// Mount says where a bar sits under a nose, in mm. The zero value is no bar;
// TypicalMount has figures to start from.
type Mount struct {
	Setback float64 // from the nose's lower edge back to the bright face
	Width   float64 // of the bright face
	Ends    float64 // from each end of the board to the bright face
	Drop    float64 // from the underside down to the middle of the bright face
	// Aim turns the face from straight down towards the riser, rad.
	Aim    float64
	Lip    float64
	Lumens float64 // of the whole bar
}

// TypicalMount returns a bar that fits behind a 25 mm overhang: set back 5, 15
// from each end, 10 wide, 8 below the board, with a lip of 4 mm. Common
// practice, no source.
func TypicalMount(lumens float64) Mount {
	return Mount{Setback: 5, Width: 10, Ends: 15, Drop: 8, Lip: 4, Lumens: lumens}
}

// Under returns the bar mounted under the nose of a tread or landing nosing.
// When the board has no underside, or the ends leave no length, the bar has no
// length either and Solve says so.
func Under(p *pieces.Piece, m Mount) Bar {
	b := Bar{Step: p.Step, Lip: m.Lip}
	if p.Kind == pieces.Riser || p.Impossible != "" || len(p.Solid.Verts) != 2*len(p.Face) {
		return b
	}
	n := len(p.Face)
	at := func(i int) mgl64.Vec3 { return mgl64.TransformCoordinate(p.Solid.Verts[n+i], p.Frame) }
	left, right := at(p.FrontLeft), at(p.FrontRight)
	down := p.Frame.Col(2).Vec3()
	if !(right.Sub(left).Len() > 2*m.Ends) {
		return b
	}
	along := right.Sub(left).Normalize()
	in := along.Cross(down).Mul(m.Setback + m.Width/2)
	return Hung(p.Step, left.Add(in).Add(along.Mul(m.Ends)), right.Add(in).Sub(along.Mul(m.Ends)), down, m)
}

// Hung returns the bar whose bright face reaches from left to right, given where
// the ends of its centre line meet the underside of the board; down is square
// to that underside, unit. Setback and Ends of m do not count.
func Hung(step int, left, right, down mgl64.Vec3, m Mount) Bar {
	b := Bar{Step: step, Lip: m.Lip}
	length := right.Sub(left).Len()
	if !(length > 0) {
		return b
	}
	along := right.Sub(left).Mul(1 / length)
	back := along.Cross(down)
	sin, cos := math.Sincos(m.Aim)
	across := back.Mul(cos).Sub(down.Mul(sin))
	b.Corner = right.Add(down.Mul(m.Drop)).Sub(across.Mul(m.Width / 2))
	b.Along, b.Across = along.Mul(-length), across.Mul(m.Width)
	return b.WithLumens(m.Lumens)
}

// barFinding words a bar that cannot be computed.
func barFinding(i int, b *Bar, why string) model.Finding {
	return model.Finding{
		Rule: "lux.bar", Severity: model.Advice, Where: model.Place{Step: max(b.Step, 0)},
		Title:  fmt.Sprintf("light bar %d of %d is left out: %s", b.Step, i+1, why),
		Remedy: "give the bar a length, a width and a light output",
	}
}
