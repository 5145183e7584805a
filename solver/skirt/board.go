package skirt

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// Treatment is what becomes of one side of the stair.
type Treatment string

// The treatments.
const (
	Kept  Treatment = "kept"  // the old skirt stays and is seen
	New   Treatment = "new"   // a new board, the old skirt taken off
	False Treatment = "false" // a thin board over the old one
)

// Lower is what the lower edge of a new board is cut to.
type Lower string

// The lower edges.
const (
	// OverFinished is laid over finished steps: plumb, level and nose are seen.
	OverFinished Lower = "over the finished steps"
	// RiserLine is cut to the new risers; treads go on afterwards and bury the
	// level cuts, which lie on the old treads.
	RiserLine Lower = "to the risers"
	// OverRough is cut to the old steps; new risers and treads butt against its
	// face and bury all of its lower edge.
	OverRough Lower = "over the old steps"
)

// CutKind says what a stretch of the lower edge is.
type CutKind string

// The kinds of cut.
const (
	Plumb CutKind = "plumb" // along a riser
	Level CutKind = "level" // along a tread or the floor
	Nose  CutKind = "nose"  // round a nosing, its underside with it
	End   CutKind = "end"   // plumb, at either end of the board
)

// Cut is one stretch of the lower edge.
type Cut struct {
	Kind CutKind
	// Step is that of the riser or tread it follows, from 1; 0 is the floor.
	Step int
	// Meets is the piece it follows, such as "T07"; empty for the floor.
	Meets string
	// Line has two points, or more for a nose, going up the flight.
	Line []mgl64.Vec2
	// Bevel leans the cut from square, rad, so that only the show edge
	// touches. A nose has that of its underside.
	Bevel float64
	// Hidden says that later pieces cover it.
	Hidden bool
}

// Board is one way of treating one side. It is read-only once returned.
type Board struct {
	Side      pieces.Side
	Treatment Treatment
	Lower     Lower // empty for a kept skirt
	Thickness float64
	Margin    float64 // of the top edge above the highest new nose; for a kept skirt see Margins

	Frame   mgl64.Mat4
	Outline []mgl64.Vec2
	Cuts    []Cut
	Top     [2]mgl64.Vec2 // the top edge's ends, at the bottom and top of the flight

	Length, Width float64 // of the smallest board that holds the outline, along x and y; mm
	// Widths says for each listed stock width whether it is wide enough.
	Widths []StockWidth
	// Joints tells how to make the length from the listed lengths.
	Joints Joints
	Marks  []Mark

	// Noses is the straight pitch line against all new noses, x along the
	// flight whichever side.
	Noses LineFit
	// Wall is the face that the board lies against, against the board, in plan
	// along the flight: gaps are mm behind it; two points for each step, its
	// front and back corner. Bow is the largest that resting leaves in any
	// stretch of 1.2 m, which a thin board can be pulled into.
	Wall WallFit

	Margins []Margin // of a kept skirt

	// Impossible, when not empty, says why there is no such board.
	Impossible string
	Notes      []string
}

// StockWidth is a listed width with its verdict.
type StockWidth struct {
	Stock  model.StockSize
	Enough bool
	Spare  float64 // mm left over; negative: missing
}

// Mark is a register mark: a plumb line on the face over the nose of a step,
// from the lower edge to the top edge, so that a tiled template can be laid true.
type Mark struct {
	Step int
	Line [2]mgl64.Vec2
}

// Margin is how far a kept skirt stands above the nose of a step, square to the
// pitch, before and after. Known says whether the old one was measured; Shrinks
// is known in any case.
type Margin struct {
	Step     int
	Known    bool
	Old, New float64
	Shrinks  float64
}

// markEvery is how many steps lie from one register mark to the next: common
// practice, no source.
const markEvery = 3

// ToStair returns where a point of the board's face lies in the stair.
func (b *Board) ToStair(p mgl64.Vec2) mgl64.Vec3 {
	return mgl64.TransformCoordinate(p.Vec3(0), b.Frame)
}

// Lower3 returns the lower edge in the stair, from the bottom of the flight up.
func (b *Board) Lower3() []mgl64.Vec3 {
	var out []mgl64.Vec3
	for _, c := range b.Cuts {
		for _, p := range c.Line {
			q := b.ToStair(p)
			if n := len(out); n == 0 || out[n-1].Sub(q).Len() > 1e-9 {
				out = append(out, q)
			}
		}
	}
	return out
}

// measure fills in length, width and the verdicts on stock.
func (b *Board) measure(widths []model.StockSize) {
	lo, hi := mgl64.Vec2{math.Inf(1), math.Inf(1)}, mgl64.Vec2{math.Inf(-1), math.Inf(-1)}
	for _, p := range b.Outline {
		for i := range 2 {
			lo[i], hi[i] = math.Min(lo[i], p[i]), math.Max(hi[i], p[i])
		}
	}
	b.Length, b.Width = hi[0]-lo[0], hi[1]-lo[1]
	for _, w := range widths {
		spare := float64(w.Size) - b.Width
		b.Widths = append(b.Widths, StockWidth{Stock: w, Enough: spare >= 0, Spare: spare})
	}
}
