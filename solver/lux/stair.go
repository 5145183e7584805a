package lux

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/pieces"
)

// Kind says what a surface is.
type Kind string

// The kinds of surface.
const (
	Floor   Kind = "floor" // the bottom floor in front of riser 1
	Tread   Kind = "tread"
	Landing Kind = "landing" // the landing nosing
	// LandingFloor is what lies behind the nosing of a landing between flights.
	LandingFloor Kind = "landing floor"
	Riser        Kind = "riser" // lit only to be reflected
)

// Surface is a flat area that is lit, in stair coordinates and mm.
type Surface struct {
	Step int // 0 for the floor
	Kind Kind
	// Outline is anticlockwise seen from the lit side and begins with the nose,
	// left to right, so that a grid's rows run along the nose.
	Outline []mgl64.Vec3
	// Reflectance is the part of the light that comes back, evenly to all
	// sides, from 0 to 1. It counts only with Settings.Reflect.
	Reflectance float64
}

// Name returns what the surface is called on screen and paper.
func (s Surface) Name() string {
	switch s.Kind {
	case Floor:
		return "the bottom floor"
	case Landing:
		return "the landing nosing"
	case LandingFloor:
		return "the landing of step " + number(s.Step)
	case Riser:
		return "riser " + number(s.Step)
	}
	return "tread " + number(s.Step)
}

// Screen is a flat convex opaque polygon, in stair coordinates and mm, seen
// anticlockwise from its front. Unless it has BothSides it is a face of a closed
// solid, all of whose faces are screens, with the solid behind it.
type Screen struct {
	Outline   []mgl64.Vec3
	BothSides bool // a thin sheet that stands alone
}

// Stair is what there is to be lit and what stands in the way.
type Stair struct {
	Surfaces []Surface // the floor, then the treads from the bottom
	Risers   []Surface // the faces that can reflect
	Screens  []Screen
}

// Finish says how much light the boards reflect and how much floor there is.
type Finish struct {
	FloorDepth float64 // mm in front of riser 1; 0 means 900
	// Reflectances, from 0 to 1. Of oak about 0.3, white paint about 0.8, a
	// wooden floor about 0.2 (from memory): measure your own with a grey card.
	Tread, Riser, Floor float64
}

// floorDepth is how much of the bottom floor is looked at: a first step's
// stride and a half. Common practice, no source.
const floorDepth = 900

// FromPieces returns the stair that the boards make, which come from the bottom
// up as pieces.Make gives them. Boards that cannot be made are left out.
func FromPieces(boards []pieces.Piece, f Finish) Stair {
	var st Stair
	faces := map[int]*pieces.Piece{} // risers by number
	for i := range boards {
		if p := &boards[i]; p.Kind == pieces.Riser && p.Impossible == "" {
			faces[p.Step] = p
		}
	}
	if p := faces[1]; p != nil {
		st.Surfaces = append(st.Surfaces, floorBefore(p, f))
	}
	for i := range boards {
		p := &boards[i]
		if p.Impossible != "" || len(p.Face) < 3 {
			continue
		}
		st.Screens = appendSolid(st.Screens, p)
		outline := make([]mgl64.Vec3, len(p.Face))
		if p.Kind == pieces.Riser {
			for k := range outline {
				outline[k] = mgl64.TransformCoordinate(p.Face[k].Vec3(0), p.Frame)
			}
			st.Risers = append(st.Risers, Surface{Step: p.Step, Kind: Riser, Outline: outline, Reflectance: f.Riser})
			continue
		}
		if p.Kind == pieces.ReturnNosing {
			continue // part of the tread's edge, beside where anybody walks
		}
		// Anticlockwise in the board frame is clockwise from above: take it
		// backwards, from the front left corner.
		n := len(outline)
		for k := range outline {
			c := p.Face[((p.FrontLeft-k)%n+n)%n]
			outline[k] = mgl64.TransformCoordinate(c.Vec3(0), p.Frame)
		}
		s := Surface{Step: p.Step, Kind: Tread, Outline: outline, Reflectance: f.Tread}
		switch p.Kind {
		case pieces.LandingNosing:
			s.Kind = Landing
		case pieces.LandingFloor:
			s.Kind = LandingFloor
		}
		if r := faces[p.Step+1]; r != nil {
			// The tread may run on under the riser.
			front := r.Frame.Col(2).Vec3()
			d := front.Dot(r.Frame.Col(3).Vec3())
			s.Outline = fromNose(clip(nil, outline, front, d), outline[0])
		}
		if len(s.Outline) >= 3 {
			st.Surfaces = append(st.Surfaces, s)
		}
	}
	return st
}

// fromNose turns the outline so that it begins at the corner nearest to nose.
func fromNose(v []mgl64.Vec3, nose mgl64.Vec3) []mgl64.Vec3 {
	first, least := 0, math.Inf(1)
	for i, p := range v {
		if d := p.Sub(nose).LenSqr(); d < least {
			first, least = i, d
		}
	}
	return append(v[first:len(v):len(v)], v[:first]...)
}

// floorBefore returns the strip of floor at the foot of riser 1.
func floorBefore(p *pieces.Piece, f Finish) Surface {
	depth := f.FloorDepth
	if !(depth > 0) {
		depth = floorDepth
	}
	left := mgl64.TransformCoordinate(p.Face[p.BackLeft].Vec3(0), p.Frame)
	right := mgl64.TransformCoordinate(p.Face[p.BackRight].Vec3(0), p.Frame)
	right[2] = left[2] // the floor is level
	out := mgl64.Vec3{left[1] - right[1], right[0] - left[0], 0}.Normalize().Mul(-depth)
	return Surface{Kind: Floor, Outline: []mgl64.Vec3{left.Add(out), right.Add(out), right, left}, Reflectance: f.Floor}
}

// appendSolid appends the faces of a board as screens.
func appendSolid(dst []Screen, p *pieces.Piece) []Screen {
	s := p.Placed()
	for _, f := range s.Faces {
		outline := make([]mgl64.Vec3, len(f.Loop))
		for i, v := range f.Loop {
			outline[i] = s.Verts[v]
		}
		dst = append(dst, convexParts(outline, f.Normal)...)
	}
	return dst
}

// convexParts cuts a flat outline, anticlockwise about normal, into convex
// screens: itself, or triangles cut off ear by ear.
func convexParts(v []mgl64.Vec3, normal mgl64.Vec3) []Screen {
	turn := func(i int) float64 {
		n := len(v)
		a, b, c := v[(i+n-1)%n], v[i], v[(i+1)%n]
		return b.Sub(a).Cross(c.Sub(b)).Dot(normal)
	}
	inward := false
	for i := range v {
		a, b := v[(i+len(v)-1)%len(v)], v[(i+1)%len(v)]
		inward = inward || turn(i) < -touching*b.Sub(a).Len()
	}
	if !inward {
		return []Screen{{Outline: v}}
	}
	var out []Screen
	v = append([]mgl64.Vec3(nil), v...)
	for len(v) > 3 {
		ear := -1
		for i := range v {
			if turn(i) > 0 && !holdsAnother(v, i, normal) {
				ear = i
				break
			}
		}
		if ear < 0 {
			return out // it runs over itself; what is left stops no light
		}
		n := len(v)
		out = append(out, Screen{Outline: []mgl64.Vec3{v[(ear+n-1)%n], v[ear], v[(ear+1)%n]}})
		v = append(v[:ear], v[ear+1:]...)
	}
	return append(out, Screen{Outline: v})
}

// holdsAnother says whether the triangle at corner i has another corner in it.
func holdsAnother(v []mgl64.Vec3, i int, normal mgl64.Vec3) bool {
	n := len(v)
	t := [3]int{(i + n - 1) % n, i, (i + 1) % n}
	for k := range v {
		if k == t[0] || k == t[1] || k == t[2] {
			continue
		}
		in := true
		for e := range 3 {
			a, b := v[t[e]], v[t[(e+1)%3]]
			in = in && b.Sub(a).Cross(v[k].Sub(a)).Dot(normal) >= 0
		}
		if in {
			return true
		}
	}
	return false
}
