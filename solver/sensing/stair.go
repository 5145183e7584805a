package sensing

import (
	"math"
	"reflect"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// Stair is the finished stair as sensors see it: what hides, where people walk
// and where sensors can hang. It is read-only once made.
type Stair struct {
	Risers int
	// Nose[k-1] is the finished nose line of step k, left and right end.
	Nose [][2]mgl64.Vec3
	// Going is the distance from nose line to nose line at mid width: Going[0]
	// from the first to the second.
	Going []float64
	// Lines are where people walk, from the left to the right: hugging the left
	// side, in the middle, hugging the right.
	Lines []Line
	// RailHeight is the handrail's top above the noses at each step, and
	// RailStanding how far that can be trusted: "" when it was measured.
	RailHeight   []float64
	RailStanding model.Standing

	sheets []sheet
	posts  []prism
	floor  float64 // height of the finished bottom floor
	sides  [2][]model.SideKind
	railed [2]bool
	t      *model.SensorTables
	out    float64 // middle of a rail in from the side
	deep   float64 // of a rail
}

// Line is a walking line: through places in the stair, one to a step.
type Line struct {
	Name string
	side float64 // how far across the flight at width 1, from the left; with body below
	hug  int     // -1 hugging the left, 1 the right, 0 neither
	out  float64 // from the left side, mm; counted from the right when below 0
}

// From returns the stair that the boards make, which come as pieces.Make gives
// them, with its balusters. Steps whose boards cannot be made are bridged. It
// returns nil when fewer than two steps are left.
func From(job *model.Job, s *survey.Result, ps []pieces.Piece, balusters []pieces.Baluster, t *model.SensorTables) *Stair {
	n := len(job.Flight.Steps)
	st := &Stair{Risers: n, Nose: make([][2]mgl64.Vec3, n), t: t,
		out: t.Practised("rail_out").Value, deep: t.Practised("rail_deep").Value}
	if 2*n > len(ps) || n < 2 {
		return nil
	}
	made := 0
	for i := range n {
		p := &ps[2*i+1]
		if p.Impossible != "" {
			continue
		}
		made++
		st.Nose[i] = [2]mgl64.Vec3{place(p, p.FrontLeft), place(p, p.FrontRight)}
	}
	if made < 2 || ps[1].Impossible != "" || ps[2*n-1].Impossible != "" {
		return nil
	}
	for i := 1; i < n; i++ { // bridge what cannot be made
		if ps[2*i+1].Impossible == "" {
			continue
		}
		k := i
		for ps[2*k+1].Impossible != "" {
			k++
		}
		for e := range 2 {
			a, b := st.Nose[i-1][e], st.Nose[k][e]
			st.Nose[i][e] = a.Add(b.Sub(a).Mul(1 / float64(k-i+1)))
		}
	}
	for i := 0; i+1 < n; i++ {
		a := st.Nose[i][0].Add(st.Nose[i][1]).Mul(0.5)
		b := st.Nose[i+1][0].Add(st.Nose[i+1][1]).Mul(0.5)
		st.Going = append(st.Going, max(1, b.Sub(a).Vec2().Len()))
	}
	st.floor = float64(job.Overlay.FloorBottom)
	for i := range job.Flight.Steps {
		k := &job.Flight.Steps[i]
		st.sides[0] = append(st.sides[0], k.Left.Kind)
		st.sides[1] = append(st.sides[1], k.Right.Kind)
	}
	st.rails(job)
	st.walkingLines()
	for i := range ps {
		st.board(&ps[i])
	}
	st.topFloor()
	st.walls(job, s)
	for _, b := range balusters {
		half := t.Practised("baluster").Value / 2
		top := st.railUnder(b.Step - 1)
		if b.New > 0 {
			top = b.Foot[2] + b.New
		}
		st.posts = append(st.posts, prism{at: b.Foot.Vec2(), ex: mgl64.Vec2{1, 0}, a: half, b: half, z0: b.Foot[2], z1: top, straight: true})
	}
	return st
}

func place(p *pieces.Piece, corner int) mgl64.Vec3 {
	return mgl64.TransformCoordinate(p.Face[corner].Vec3(0), p.Frame)
}

// board adds the faces of a board that can hide anything: its face, and the
// front of its nose.
func (st *Stair) board(p *pieces.Piece) {
	if p.Impossible != "" || len(p.Face) < 3 || p.Kind == pieces.ReturnNosing {
		return
	}
	outline := make([]mgl64.Vec3, len(p.Face))
	for k := range outline {
		outline[k] = place(p, k)
	}
	st.sheets = append(st.sheets, sheetOf(outline...))
	if p.Kind == pieces.Riser || p.Kind == pieces.LandingFloor {
		return
	}
	a, b := outline[p.FrontLeft], outline[p.FrontRight]
	down := mgl64.Vec3{0, 0, -p.Thickness}
	st.sheets = append(st.sheets, sheetOf(a, b, b.Add(down), a.Add(down)))
}

// topFloor adds the floor behind the last nose line, as wide as the flight.
func (st *Stair) topFloor() {
	last := st.Nose[st.Risers-1]
	back := square2(last[1].Sub(last[0])).Mul(st.t.Practised("landing_deep").Value).Vec3(0)
	st.sheets = append(st.sheets, sheetOf(last[0], last[1], last[1].Add(back), last[0].Add(back)))
}

// walls adds plumb walls over the closed sides of every opening, round landings
// too. What stands beside hall and top floor is not known.
func (st *Stair) walls(job *model.Job, s *survey.Result) {
	high := st.t.Practised("wall_high").Value
	for i := range min(st.Risers-1, len(s.Steps)) {
		k := &job.Flight.Steps[i]
		corners := s.Steps[i].Corners
		for c, edge := range k.Edges {
			side, closes := k.SideOf(edge)
			if !closes || side.Kind == model.Open || len(corners) != len(k.Edges) {
				continue
			}
			a, b := corners[c], corners[(c+1)%len(corners)]
			if a.Sub(b).Len() < 1 {
				continue
			}
			low := min(st.Nose[i][0][2], st.Nose[i][1][2]) - 400 // below any riser's foot
			top := max(st.Nose[i][0][2], st.Nose[i][1][2]) + high
			st.sheets = append(st.sheets, sheetOf(a.Vec3(low), b.Vec3(low), b.Vec3(top), a.Vec3(top)))
		}
	}
}

// square2 returns the unit direction in plan square to d, to its left.
func square2(d mgl64.Vec3) mgl64.Vec2 {
	l := math.Hypot(d[0], d[1])
	return mgl64.Vec2{-d[1] / l, d[0] / l}
}

// same says whether two stairs look the same to every sensor.
func (st *Stair) same(o *Stair) bool {
	return st != nil && o != nil && st.floor == o.floor && slices.Equal(st.Nose, o.Nose) && slices.Equal(st.RailHeight, o.RailHeight) &&
		slices.Equal(st.posts, o.posts) && slices.Equal(st.Lines, o.Lines) &&
		slices.EqualFunc(st.sheets, o.sheets, func(a, b sheet) bool { return slices.Equal(a.outline, b.outline) }) &&
		reflect.DeepEqual(st.t, o.t)
}
