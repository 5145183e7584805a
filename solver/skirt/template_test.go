package skirt_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
)

// within is what a template of a leaning flight of 14 steps is held to, mm.
const within = 0.1

// section returns where the plane of a board's show face cuts a placed solid,
// as the segments in which it cuts the solid's facets: found from the solid's
// edges, not from its planes.
func section(b *skirt.Board, s pieces.Solid) map[pieces.Part][2]mgl64.Vec2 {
	into := b.Frame.Inv()
	at := func(i int) mgl64.Vec3 { return mgl64.TransformCoordinate(s.Verts[i], into) }
	out := map[pieces.Part][2]mgl64.Vec2{}
	for _, f := range s.Faces {
		var hits []mgl64.Vec2
		for i := range f.Loop {
			p, q := at(f.Loop[i]), at(f.Loop[(i+1)%len(f.Loop)])
			if (p[2] < 0) == (q[2] < 0) {
				continue
			}
			hits = append(hits, p.Add(q.Sub(p).Mul(p[2]/(p[2]-q[2]))).Vec2())
		}
		if len(hits) == 2 {
			out[f.Part] = [2]mgl64.Vec2{hits[0], hits[1]}
		}
	}
	return out
}

func toSegment(p mgl64.Vec2, s [2]mgl64.Vec2) float64 {
	d := s[1].Sub(s[0])
	t := math.Max(0, math.Min(1, p.Sub(s[0]).Dot(d)/d.Dot(d)))
	return p.Sub(s[0].Add(d.Mul(t))).Len()
}

// upTo returns the segment, its upper end drawn out by d.
func upTo(s [2]mgl64.Vec2, d float64) [2]mgl64.Vec2 {
	if s[0][1] > s[1][1] {
		s[0], s[1] = s[1], s[0]
	}
	s[1] = s[1].Add(s[1].Sub(s[0]).Normalize().Mul(d))
	return s
}

func toLine(p mgl64.Vec2, line []mgl64.Vec2) float64 {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		best = math.Min(best, toSegment(p, [2]mgl64.Vec2{line[i-1], line[i]}))
	}
	return best
}

func inside(p mgl64.Vec2, outline []mgl64.Vec2) bool {
	in := false
	for i, k := 0, len(outline)-1; i < len(outline); k, i = i, i+1 {
		a, b := outline[i], outline[k]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])+a[0] {
			in = !in
		}
	}
	return in
}

func leaningFlights() map[string]*flight {
	return map[string]*flight{
		"straight":             straight(14),
		"leaning in":           leaning(14, [2]float64{-2 * degree, -1.5 * degree}, [2]float64{}, 0),
		"leaning out, tapered": leaning(14, [2]float64{2 * degree, 1 * degree}, [2]float64{1 * degree, -0.8 * degree}, 0),
		"leaning, all crooked": leaning(14, [2]float64{-1.5 * degree, 2 * degree}, [2]float64{-0.7 * degree, 0.5 * degree}, 1*degree),
	}
}

// TestTemplateLiesOnTheFinishedSteps lays the template over the solids: where
// the plane of the show face cuts them, every plumb and level line and every
// nose lies within 0.1 mm, and the board is nowhere inside a step.
func TestTemplateLiesOnTheFinishedSteps(t *testing.T) {
	for name, f := range leaningFlights() {
		ps := f.pieces()
		for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
			t.Run(fmt.Sprint(name, " ", side), func(t *testing.T) {
				b := f.board(skirt.Spec{}, side, skirt.False, skirt.OverFinished)
				if b == nil || b.Impossible != "" {
					t.Fatalf("no board: %+v", b)
				}
				byID := map[string]map[pieces.Part][2]mgl64.Vec2{}
				for i := range ps {
					byID[ps[i].ID] = section(b, ps[i].Placed())
				}
				worst, lines := 0.0, 0
				for _, c := range b.Cuts {
					if c.Meets == "" { // the floor, at the height of its finish
						for _, p := range c.Line {
							if z := b.ToStair(p)[2]; math.Abs(z-float64(f.job.Overlay.FloorBottom)) > within {
								t.Errorf("the floor's level cut lies at z = %.3f", z)
							}
						}
						continue
					}
					s := byID[c.Meets]
					part := map[skirt.CutKind]pieces.Part{skirt.Plumb: pieces.ShowFace, skirt.Level: pieces.ShowFace, skirt.Nose: pieces.Nose}[c.Kind]
					seg, ok := s[part]
					if !ok {
						t.Fatalf("%s is not cut by the face", c.Meets)
					}
					lines++
					for i := 1; i < len(c.Line); i++ {
						for k := range 11 {
							p := c.Line[i-1].Add(c.Line[i].Sub(c.Line[i-1]).Mul(float64(k) / 10))
							d := toSegment(p, seg)
							switch c.Kind {
							case skirt.Plumb: // it runs straight on over the riser's gap, to the tread
								d = toSegment(p, upTo(seg, float64(f.job.Overlay.RiserGap)+0.5))
							case skirt.Nose: // its underside, too
								d = math.Min(d, toSegment(p, s[pieces.Underside]))
							}
							worst = math.Max(worst, d)
						}
					}
					if c.Bevel < 4*degree-1e-9 {
						t.Errorf("%s of step %d leans %.2f degrees, less than its undercut", c.Kind, c.Step, c.Bevel/degree)
					}
				}
				t.Logf("%d lines, the worst %.2g mm off", lines, worst)
				if worst > within {
					t.Errorf("a line lies %.3f mm off the finished steps", worst)
				}
				if want := 3 * 14; lines < want {
					t.Errorf("only %d lines of %d were compared", lines, want)
				}
				// The other way round: what the section shows, the template has.
				var edge []mgl64.Vec2
				for _, c := range b.Cuts {
					edge = append(edge, c.Line...)
				}
				for i := range ps {
					s := byID[ps[i].ID]
					for part, seg := range s {
						for k := 1; k < 20; k++ {
							p := seg[0].Add(seg[1].Sub(seg[0]).Mul(float64(k) / 20))
							if inside(p, b.Outline) && toLine(p, edge) > within {
								t.Errorf("%s: its %s reaches %.2f mm into the board", ps[i].ID, part, toLine(p, edge))
							}
						}
					}
				}
			})
		}
	}
}

// TestOtherLowerEdges holds a board cut to the risers and one cut to the old
// steps against the planes that they must follow.
func TestOtherLowerEdges(t *testing.T) {
	f := leaningFlights()["leaning, all crooked"]
	ps := f.pieces()
	for _, l := range []skirt.Lower{skirt.RiserLine, skirt.OverRough} {
		b := f.board(skirt.Spec{}, pieces.Right, skirt.New, l)
		if b == nil || b.Impossible != "" {
			t.Fatalf("%s: %+v", l, b)
		}
		compared := 0
		for _, c := range b.Cuts {
			for i := range ps {
				if ps[i].ID != c.Meets {
					continue
				}
				part := pieces.Underside
				if l == skirt.RiserLine && c.Kind == skirt.Plumb {
					part = pieces.ShowFace
				}
				for _, face := range ps[i].Placed().Faces {
					if face.Part != part {
						continue
					}
					compared++
					for _, p := range c.Line {
						if d := face.Normal.Dot(b.ToStair(p)) - face.Offset; math.Abs(d) > within {
							t.Errorf("%s: %s of %s lies %.3f off", l, c.Kind, c.Meets, d)
						}
					}
				}
			}
			if c.Hidden != (l == skirt.OverRough || c.Kind == skirt.Level && c.Step > 0) {
				t.Errorf("%s: %s of step %d: hidden is %v", l, c.Kind, c.Step, c.Hidden)
			}
		}
		if compared != 28 {
			t.Errorf("%s: %d cuts were compared, want 28", l, compared)
		}
	}
}

// TestLaws moves, turns and mirrors the flight: the outline must stay, or be
// mirrored.
func TestLaws(t *testing.T) {
	f := leaningFlights()["leaning, all crooked"]
	g, m := f.moved(0.7, mgl64.Vec2{4000, -2500}), f.mirrored()
	spec := skirt.Spec{Profile: skirt.Profile{Shape: skirt.Bullnose}}
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		a := f.board(spec, side, skirt.New, skirt.OverFinished)
		b := g.board(spec, side, skirt.New, skirt.OverFinished)
		c := m.board(spec, 1-side, skirt.New, skirt.OverFinished)
		if len(a.Outline) != len(b.Outline) || len(a.Outline) != len(c.Outline) {
			t.Fatal("outlines of different lengths")
		}
		if d := a.Frame.Det(); math.Abs(d-1) > 1e-9 {
			t.Errorf("the frame's determinant is %g: a mirror or no rotation", d)
		}
		area := 0.0
		for i, p := range a.Outline {
			q := a.Outline[(i+1)%len(a.Outline)]
			area += p[0]*q[1] - p[1]*q[0]
			if d := p.Sub(b.Outline[i]).Len(); d > 1e-6 {
				t.Fatalf("moved: corner %d is %g mm off", i, d)
			}
			// mirrored, it runs the other way round
			q = c.Outline[len(c.Outline)-1-i]
			if d := p.Sub(mgl64.Vec2{-q[0], q[1]}).Len(); d > 1e-6 {
				t.Fatalf("mirrored: corner %d is %g mm off", i, d)
			}
		}
		if area <= 0 {
			t.Error("the outline runs clockwise")
		}
	}
}

// TestTradeFigures checks the worked figures of the trade notes for 14 risers of
// 190 and goings of 254: triangle 152, so that with a margin of 60 and the nose
// drop of 25 sin 36.8 = 15 a skirt over finished steps needs 227: a 235 board
// barely, a 286 one safely; 13 hypotenuses are 4.12 m; and a kept skirt's margin
// shrinks by 20 cos 36.8 = 16 where the nose stays in its place.
func TestTradeFigures(t *testing.T) {
	f := straight(14)
	f.job.Overlay.FloorBottom = 20 // so that the first rise is 190, too
	spec := skirt.Spec{
		OldMargin: [2][2]float64{{50, 50}, {}},
		Widths:    []model.StockSize{{Size: 203, Name: "8 in nominal"}, {Size: 235, Name: "10 in nominal"}, {Size: 286, Name: "12 in nominal"}},
		Lengths:   []model.StockSize{{Size: 2440, Name: "2440 mm"}, {Size: 4880, Name: "16 ft"}},
	}
	b := f.board(spec, pieces.Left, skirt.New, skirt.OverFinished)
	if math.Abs(b.Width-227.3) > 0.5 {
		t.Errorf("width is %.1f, want 227.3", b.Width)
	}
	for i, want := range []bool{false, true, true} {
		if b.Widths[i].Enough != want {
			t.Errorf("%s: enough is %v", b.Widths[i].Stock.Name, b.Widths[i].Enough)
		}
	}
	hyp := math.Hypot(190, 254)
	if first, last := b.Marks[0].Line[0], b.Marks[len(b.Marks)-1].Line[0]; math.Abs(last.Sub(first).Len()-13*hyp) > 0.01 {
		t.Errorf("the noses span %.1f, want %.1f", last.Sub(first).Len(), 13*hyp)
	}
	if got := fmt.Sprint(marked(b)); got != "[1 3 6 9 12 14]" {
		t.Errorf("register marks on %s", got)
	}
	if len(b.Joints.Boards) != 1 || b.Joints.Boards[0].Name != "16 ft" {
		t.Errorf("boards %v", b.Joints.Boards)
	}
	k := f.board(spec, pieces.Left, skirt.Kept, "")
	for _, m := range k.Margins[:13] {
		// the nose line goes from the old nose (25 over) to 12 + 25 in front of
		// the old riser face: 12 forward, which costs 12 sin more
		want := (20*254 + 12*190) / hyp
		if math.Abs(m.Shrinks-want) > 0.01 || math.Abs(m.New-(50-want)) > 0.01 {
			t.Errorf("step %d: shrinks by %.2f, want %.2f; new %.2f", m.Step, m.Shrinks, want, m.New)
		}
	}
}

func marked(b *skirt.Board) []int {
	var out []int
	for _, m := range b.Marks {
		out = append(out, m.Step)
	}
	return out
}

// TestScarfs cuts the board from lengths that do not reach: every scarf lies
// whole over a tread and clear of the plumb cuts, and every board reaches.
func TestScarfs(t *testing.T) {
	f := leaningFlights()["leaning, all crooked"]
	spec := skirt.Spec{Lengths: []model.StockSize{{Size: 1220, Name: "1220 mm"}, {Size: 2440, Name: "2440 mm"}}}
	for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
		b := f.board(spec, side, skirt.New, skirt.OverFinished)
		j := b.Joints
		if len(j.Boards) != 2 || len(j.At) != 1 {
			t.Fatalf("%s: %d boards, %d scarfs, %s", side, len(j.Boards), len(j.At), j.Impossible)
		}
		for _, at := range j.At {
			in := false
			for _, w := range j.Windows {
				in = in || at-j.Scarf/2 >= w.Lo-1e-9 && at+j.Scarf/2 <= w.Hi+1e-9
			}
			if !in {
				t.Errorf("%s: the scarf at %.0f lies in no window", side, at)
			}
			for _, c := range b.Cuts {
				if c.Kind != skirt.Plumb {
					continue
				}
				lo, hi := math.Min(c.Line[0][0], c.Line[1][0]), math.Max(c.Line[0][0], c.Line[1][0])
				if at+j.Scarf/2 > lo && at-j.Scarf/2 < hi {
					// over the plumb cut's height only its foot bounds the tread
					if math.Abs(at-c.Line[0][0]) < j.Scarf/2 {
						t.Errorf("%s: a scarf over the foot of riser %d", side, c.Step)
					}
				}
			}
		}
	}
	spec.Lengths = []model.StockSize{{Size: 300, Name: "300 mm"}}
	if b := f.board(spec, pieces.Left, skirt.New, skirt.OverFinished); b.Joints.Impossible == "" || len(b.Joints.Boards) > 0 {
		t.Errorf("boards of 300 mm: %+v", b.Joints)
	}
}

func TestNoBoard(t *testing.T) {
	f := straight(3)
	for i := range f.job.Flight.Steps {
		f.job.Flight.Steps[i].Left.Kind = model.Open
		f.job.Flight.Steps[i].Right.Kind = model.Wall
	}
	for _, b := range f.boards(skirt.Spec{}) {
		if b.Side != pieces.Right || b.Treatment != skirt.New {
			t.Errorf("a %s board on the %s", b.Treatment, b.Side)
		}
	}
	f.res.Steps[1].TopLeft, f.res.Steps[1].TopRight = 100, 100 // below step 1: no riser
	for _, b := range f.boards(skirt.Spec{}) {
		if b.Impossible == "" || len(b.Outline) > 0 {
			t.Errorf("a board over a riser that is not there: %+v", b)
		}
	}
}
