package pieces_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
)

// checkSolid holds a solid against what makes it one: loops that run
// anticlockwise round outward normals in their planes, every edge shared by
// two faces in opposite directions, Euler's formula, and (convex) every corner
// behind every face.
func checkSolid(t testing.TB, name string, s pieces.Solid) {
	t.Helper()
	edges := map[[2]int]int{}
	for i, f := range s.Faces {
		if math.Abs(f.Normal.Len()-1) > 1e-12 {
			t.Errorf("%s: face %d has a normal of length %g", name, i, f.Normal.Len())
		}
		var area mgl64.Vec3
		for k, v := range f.Loop {
			next := f.Loop[(k+1)%len(f.Loop)]
			edges[[2]int{v, next}]++
			area = area.Add(s.Verts[v].Cross(s.Verts[next]))
			if d := f.Normal.Dot(s.Verts[v]) - f.Offset; math.Abs(d) > 1e-6 {
				t.Errorf("%s: corner %d lies %g off face %d (%s)", name, v, d, i, f.Part)
			}
		}
		if !(area.Normalize().Dot(f.Normal) > 1-1e-6) {
			t.Errorf("%s: face %d (%s) does not run anticlockwise round its normal", name, i, f.Part)
		}
		if s.Convex {
			for v, p := range s.Verts {
				if d := f.Normal.Dot(p) - f.Offset; d > 1e-6 {
					t.Errorf("%s: corner %d lies %g outside face %d (%s)", name, v, d, i, f.Part)
				}
			}
		}
	}
	for e, n := range edges {
		if n != 1 || edges[[2]int{e[1], e[0]}] != 1 {
			t.Errorf("%s: edge %v is not shared by two faces", name, e)
		}
	}
	if euler := len(s.Verts) - len(edges)/2 + len(s.Faces); euler != 2 {
		t.Errorf("%s: corners - edges + faces is %d, not 2", name, euler)
	}
}

// volume by the divergence theorem, from the loops.
func volume(s pieces.Solid) float64 {
	v := 0.0
	for _, f := range s.Faces {
		a := s.Verts[f.Loop[0]]
		for k := 1; k+1 < len(f.Loop); k++ {
			v += a.Dot(s.Verts[f.Loop[k]].Cross(s.Verts[f.Loop[k+1]])) / 6
		}
	}
	return v
}

func TestSolidsAreSolid(t *testing.T) {
	for _, back := range []model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser} {
		f := crooked(14)
		f.job.Overlay.Back = back
		f.job.Flight.Steps[3].Right.Kind = model.Open
		for _, p := range f.make() {
			checkSolid(t, p.ID, p.Solid)
			checkSolid(t, p.ID+" placed", p.Placed())
			near(t, p.ID+" volume in the stair", volume(p.Placed()), volume(p.Solid), 1e-3)
			if d := p.Frame.Mat3().Det(); math.Abs(d-1) > 1e-12 {
				t.Errorf("%s: its frame has determinant %g", p.ID, d)
			}
			if p.Template != "" || p.Impossible != "" || !p.Solid.Convex {
				t.Errorf("%s: no straight cuts: %s%s", p.ID, p.Template, p.Impossible)
			}
			// The face outline is the face of the solid, from the back left on,
			// and the back edge is the x axis.
			for j, q := range p.Face {
				if p.Solid.Verts[j] != q.Vec3(0) {
					t.Errorf("%s: corner %d of its face is not that of its solid", p.ID, j)
				}
			}
			if l := p.Face[p.BackLeft]; l != (mgl64.Vec2{}) {
				t.Errorf("%s: its back left corner is at %v", p.ID, l)
			}
			near(t, p.ID+" back edge", p.Face[p.BackRight][1], 0, 1e-9)
			if p.Face[p.FrontLeft][1] <= 0 || p.Face[p.BackRight][0] <= 0 {
				t.Errorf("%s: its face %v is turned", p.ID, p.Face)
			}
		}
	}
}

func TestVolumeOfABox(t *testing.T) {
	f := straight(3)
	p := f.named(t, "T02")
	near(t, "volume", volume(p.Solid), 914*291*20, 1e-3)
}

// sidePlane is the plane of a side worked out the slow way: through three
// points, two at the corners and one a metre up the lean.
func sidePlane(f *flight, k, a, b int, lean float64) (n mgl64.Vec3, d float64) {
	s := &f.res.Steps[k]
	p := s.Corners[a].Vec3(s.HeightAt(s.Corners[a]) + f.lift(k, s.Corners[a]))
	q := s.Corners[b].Vec3(s.HeightAt(s.Corners[b]) + f.lift(k, s.Corners[b]))
	run := s.Corners[b].Sub(s.Corners[a]).Normalize()
	out := mgl64.Vec3{run[1], -run[0], 0} // corners run anticlockwise: outside is on the right
	r := p.Add(out.Mul(1000 * math.Tan(lean))).Add(mgl64.Vec3{0, 0, 1000})
	n = q.Sub(p).Cross(r.Sub(p)).Normalize()
	if n.Dot(out) < 0 {
		n = n.Mul(-1)
	}
	return n, n.Dot(p)
}

// No board enters the side it meets (guarantee 1): not at its underside, with
// leans of either sign, and only the edge of its face comes within the fit.
func TestBoardsClearTheSides(t *testing.T) {
	for _, undercut := range []model.Angle{0, 1.5 * model.Degree} {
		f := crooked(14)
		f.job.Overlay.Undercut = undercut
		fit := float64(f.job.Overlay.Fit)
		deepest, leaned := 0.0, 0
		for _, p := range f.make() {
			k := p.Step - 1
			corners := [2][2]int{{3, 0}, {1, 2}}
			if p.Kind == pieces.Riser && k > 0 {
				k--
			}
			for side := range 2 {
				n, d := sidePlane(f, k, corners[side][0], corners[side][1], f.res.Steps[k].Lean[side])
				solid := p.Placed()
				for v, q := range solid.Verts {
					beyond := n.Dot(q) - d
					deepest = math.Max(deepest, beyond)
					if beyond > -fit*math.Cos(7*degree)+1e-9 {
						t.Errorf("%s %v: corner %d lies %g beyond its fit", p.ID, pieces.Side(side), v, beyond+fit)
					}
				}
				// The face's edge keeps the fit exactly, square to the end.
				e := p.Ends[side]
				if e.Lean > 0.01 {
					leaned++
					near(t, p.ID+" bevel", e.Bevel, e.Lean+float64(undercut), 1e-12)
				} else if e.Lean < 0 {
					near(t, p.ID+" bevel", e.Bevel, float64(undercut), 1e-12)
				}
				for _, j := range [2]int{[2]int{p.BackLeft, p.BackRight}[side], [2]int{p.FrontLeft, p.FrontRight}[side]} {
					near(t, p.ID+" fit", -(n.Dot(solid.Verts[j])-d)/math.Cos(e.Lean), fit, 1e-9)
				}
			}
		}
		if leaned < 10 {
			t.Errorf("only %d ends met a side that comes closer; the test shows little", leaned)
		}
	}
}

// lift is how far the new tread's top lies above the old one at p, by the rule
// of the build-up: packing is even from the left end of the nose line to the
// right.
func (f *flight) lift(k int, p mgl64.Vec2) float64 {
	if k == len(f.job.Flight.Steps)-1 {
		return float64(f.job.Overlay.FloorTop)
	}
	return f.pack(k, p) + float64(f.job.TreadThickness(k))
}

// pack is the packing at p.
func (f *flight) pack(k int, p mgl64.Vec2) float64 {
	s, j := &f.res.Steps[k], &f.job.Flight.Steps[k]
	nose := s.Corners[s.FR].Sub(s.Corners[s.FL])
	u := p.Sub(s.Corners[s.FL]).Dot(nose) / nose.Dot(nose)
	return float64(j.PackLeft)*(1-u) + float64(j.PackRight)*u
}

// Boards do not enter each other, and what is seen fits: a riser's face stands
// on the new tread, its top is low by the gap, its face is plumb and stands
// behind the nose by the overhang.
func TestBoardsMeet(t *testing.T) {
	for _, back := range []model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser} {
		f := crooked(14)
		f.job.Overlay.Back = back
		over := f.job.Overlay
		ps := f.make()
		for k := range f.res.Steps {
			riser, tread := ps[2*k], ps[2*k+1]
			s := &f.res.Steps[k]
			solid := riser.Placed()

			// Against the underside of the tread above.
			low := math.Inf(1)
			for _, face := range tread.Placed().Faces {
				if face.Part != pieces.Underside {
					continue
				}
				for _, v := range solid.Verts {
					low = math.Min(low, face.Normal.Dot(v)-face.Offset) // outward is down
				}
				cos := -face.Normal[2]
				near(t, riser.ID+" gap", low, float64(over.RiserGap)*cos, 1e-9)
			}

			nose := s.Corners[1].Sub(s.Corners[0]).Normalize()
			up := mgl64.Vec2{-nose[1], nose[0]}
			for j := range 4 {
				v := solid.Verts[j]
				near(t, riser.ID+" overhang", up.Dot(v.Vec2().Sub(s.Corners[0])), float64(over.Overhang), 1e-9)
				w := solid.Verts[4+j]
				near(t, riser.ID+" thickness", up.Dot(w.Vec2().Sub(s.Corners[0])), float64(over.Overhang+over.Riser), 1e-9)
			}
			for j := range 2 { // bottom corners of the face
				v := solid.Verts[j]
				switch {
				case k == 0:
					near(t, "R01 on the floor", v[2], float64(over.FloorBottom), 1e-9)
				case back == model.BackUnderRiser:
					below := &f.res.Steps[k-1]
					near(t, riser.ID+" on the tread", v[2], below.HeightAt(v.Vec2())+f.lift(k-1, v.Vec2()), 1e-9)
				}
			}
			if k > 0 && back == model.BackAgainstRiser {
				below, high := &f.res.Steps[k-1], math.Inf(1)
				for _, v := range solid.Verts {
					s, planed := &f.job.Flight.Steps[k-1], 0.0
					if s.PackLeft <= 0 && s.PackRight <= 0 { // planed at both ends
						planed = f.pack(k-1, v.Vec2())
					}
					high = math.Min(high, v[2]-below.HeightAt(v.Vec2())-planed)
				}
				// Inset ends may keep the lowest corner off the tread by their
				// share of its slope, never into it.
				if high < -1e-9 || high > 0.5 {
					t.Errorf("%s stands %g above the old tread", riser.ID, high)
				}
			}

			// The tread's face lies in the new plane and reaches to the nose.
			placed := tread.Placed()
			for j := range 4 {
				v := placed.Verts[j]
				near(t, tread.ID+" height", v[2], s.HeightAt(v.Vec2())+f.lift(k, v.Vec2()), 1e-9)
			}
			for _, j := range [2]int{tread.FrontLeft, tread.FrontRight} {
				near(t, tread.ID+" nose", up.Dot(placed.Verts[j].Vec2().Sub(s.Corners[0])), 0, 1e-9)
			}
		}
	}
}

// The build-up is worked out in two places, for two ends: heights at the noses
// there, boards here. They agree.
func TestTopsAgreeWithBuildup(t *testing.T) {
	f := crooked(14)
	ps, heights := f.make(), buildup.Compute(f.job, &f.res)
	for k := range f.res.Steps {
		p := ps[2*k+1]
		var face pieces.Facet
		for _, g := range p.Placed().Faces {
			if g.Part == pieces.ShowFace {
				face = g
			}
		}
		top := heights.Steps[k].NewTop
		for c, want := range [2]float64{top.Left.At, top.Right.At} {
			q := f.res.Steps[k].Corners[c]
			// The face's plane above the nose corner.
			z := (face.Offset - face.Normal[0]*q[0] - face.Normal[1]*q[1]) / face.Normal[2]
			near(t, p.ID+" new top", z, want, 1e-9)
		}
	}
}

func TestOpenSide(t *testing.T) {
	f := straight(5)
	f.job.Overlay.Fit, f.job.Overlay.Undercut = 0.25, 2*model.Degree
	f.job.Flight.Steps[2].Right.Kind = model.Open
	f.res.Steps[2].Lean[1] = 2 * degree
	p := f.named(t, "T03")
	near(t, "width", p.Figures.Back.Value, 914-0.25+25, 1e-9)
	near(t, "fit at the open end", p.Ends[pieces.Right].Fit, -25, 0)
	near(t, "bevel at the open end", p.Ends[pieces.Right].Bevel, 0, 0)
	near(t, "bevel at the other", p.Ends[pieces.Left].Bevel, 2*degree, 1e-12)
	if len(p.Notes) == 0 {
		t.Error("no note on the return")
	}
	r := f.named(t, "R04")
	near(t, "riser above, bottom", r.Figures.Back.Value, 914-0.25, 1e-9)
	near(t, "its bevel", r.Ends[pieces.Right].Bevel, 0, 0)
	if len(r.Notes) == 0 {
		t.Error("no note on the riser's mitre")
	}
	if q := f.named(t, "T02"); len(q.Notes) != 0 {
		t.Errorf("T02 has notes %q", q.Notes)
	}
}

// Openings that are no quadrilateral make a template, with the right corners
// named and a sound solid all the same.
func TestTemplates(t *testing.T) {
	rows := []struct {
		name           string
		corners        []mgl64.Vec2
		edges          []model.Edge
		fl, fr, br, bl int
		convex         bool
		area           float64
	}{
		{"kite", []mgl64.Vec2{{0, 508}, {914, 508}, {914, 700}, {600, 900}, {0, 800}},
			[]model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}, 0, 1, 3, 4, true, 0},
		{"point at the left", []mgl64.Vec2{{0, 508}, {914, 508}, {914, 800}},
			[]model.Edge{model.Front, model.Right, model.Back}, 0, 1, 2, 0, true, 914 * 292 / 2},
		{"point at the right", []mgl64.Vec2{{0, 508}, {914, 508}, {0, 800}},
			[]model.Edge{model.Front, model.Back, model.Left}, 0, 1, 1, 2, true, 914 * 292 / 2},
		{"round a newel", []mgl64.Vec2{{0, 508}, {914, 508}, {914, 700}, {850, 700}, {850, 800}, {0, 800}},
			[]model.Edge{model.Front, model.Right, model.Right, model.Right, model.Back, model.Left}, 0, 1, 4, 5, false, 914*292 - 64*100},
		{"side in two straight parts", []mgl64.Vec2{{0, 508}, {914, 508}, {914, 650}, {914, 800}, {0, 800}},
			[]model.Edge{model.Front, model.Right, model.Right, model.Back, model.Left}, 0, 1, 3, 4, true, 914 * 292},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			f := straight(5)
			s := &f.res.Steps[2]
			s.Corners, s.FL, s.FR, s.BR, s.BL = r.corners, r.fl, r.fr, r.br, r.bl
			f.job.Flight.Steps[2].Edges = r.edges
			f.known(0.1)
			p := f.named(t, "T03")
			if p.Template == "" || p.Released || p.Why != p.Template {
				t.Errorf("template %q, released %v, why %q", p.Template, p.Released, p.Why)
			}
			checkSolid(t, "T03", p.Solid)
			if p.Solid.Convex != r.convex {
				t.Errorf("convex: %v", p.Solid.Convex)
			}
			if r.area > 0 {
				near(t, "volume", volume(p.Solid), r.area*20, 1)
			}
			back := r.corners[r.br].Sub(r.corners[r.bl]).Len()
			near(t, "back width", p.Figures.Back.Value, back, 1e-9)
			near(t, "front width", p.Figures.Front.Value, 914, 1e-9)
			for _, id := range []string{"R03", "R04"} {
				if q := f.named(t, id); q.Template != "" || q.Impossible != "" {
					t.Errorf("%s: %s%s", id, q.Template, q.Impossible)
				} else {
					checkSolid(t, id, q.Solid)
				}
			}
		})
	}

	f := straight(5)
	f.res.Steps[2].Corners[2] = mgl64.Vec2{300, 540} // an arrowhead
	if p := f.named(t, "T03"); p.Template == "" {
		t.Error("an arrowhead made by straight cuts")
	}
	f = straight(5)
	f.res.Steps[2].TopLeft -= 200 // no room for riser 3
	if p := f.named(t, "R03"); p.Impossible == "" || p.Released || p.Why != p.Impossible || p.Solid.Convex {
		t.Errorf("a riser of no height was made: %q, released %v", p.Impossible, p.Released)
	}
}

func TestLabelsAndOrder(t *testing.T) {
	var ids []string
	for _, p := range straight(3).make() {
		ids = append(ids, p.ID+" "+string(p.Kind)+fmt.Sprintf(" %d", p.Step))
	}
	want := "[R01 riser 1 T01 tread 1 R02 riser 2 T02 tread 2 R03 riser 3 L03 landing nosing 3]"
	if got := fmt.Sprint(ids); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	for k, want := range map[int]string{9: "T09", 10: "T10", 100: "T100", 1000: "T1000"} {
		if got := pieces.Label(pieces.Tread, k); got != want {
			t.Errorf("label of %d: %s", k, got)
		}
	}
}
