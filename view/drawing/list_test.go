package drawing_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/internal/specimen"
)

var update = flag.Bool("update", false, "rewrite testdata")

type point = drawing.Point

func golden(t *testing.T, name, got string) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s(-update rewrites it)", name, got, want)
	}
}

func TestDumpOfEveryKind(t *testing.T) {
	var l drawing.List
	specimen.Sheet(&l)
	golden(t, "sheet.txt", l.Dump())
	seen := map[drawing.Kind]bool{}
	for _, it := range l.Items() {
		seen[it.Kind] = true
	}
	for k := drawing.KindLine; k <= drawing.KindArrow; k++ {
		if !seen[k] {
			t.Errorf("the specimen sheet shows no %s", k)
		}
	}
}

func TestResetAndRefillIsTheSameAndFree(t *testing.T) {
	var l drawing.List
	specimen.Stair(&l, 3)
	first := l.Dump()
	l.Reset()
	if l.Len() != 0 || l.Dump() != "" {
		t.Error("Reset left items behind")
	}
	specimen.Stair(&l, 3)
	if l.Dump() != first {
		t.Error("refilled list differs")
	}
	var pts [4]point
	dash := []float64{2, 1}
	fill := func() {
		l.Reset()
		for i := range 500 {
			p := point{X: float64(i)}
			l.Line(p, pts[1], drawing.Stroke{Ink: drawing.Line, Dash: dash})
			l.Polygon(pts[:], drawing.Fill{Ink: drawing.Wood}, drawing.Hidden(drawing.Line, 0.2))
			l.Dimension(p, pts[0], 5, "36", drawing.Stroke{Ink: drawing.Soft})
			l.Text(drawing.Text{At: p, String: "7"})
		}
	}
	fill()
	if n := testing.AllocsPerRun(10, fill); n != 0 {
		t.Errorf("refilling allocates %v times", n)
	}
}

// TestItemsKeepTheirPoints guards the shared storage: growing it must not
// disturb what was added before, and callers may reuse their slices.
func TestItemsKeepTheirPoints(t *testing.T) {
	var l drawing.List
	pts := []point{{}, {}, {}}
	dash := []float64{0}
	for i := range 1000 {
		v := float64(i)
		pts[0], pts[1], pts[2], dash[0] = point{X: v}, point{X: v, Y: 1}, point{Y: v}, v
		l.Polyline(pts, false, drawing.Stroke{Ink: drawing.Line, Dash: dash})
	}
	for i, it := range l.Items() {
		v := float64(i)
		if it.Points[0] != (point{X: v}) || it.Points[1] != (point{X: v, Y: 1}) || it.Points[2] != (point{Y: v}) || it.Stroke.Dash[0] != v {
			t.Fatalf("item %d holds %v, dash %v", i, it.Points, it.Stroke.Dash)
		}
	}
}

func TestBounds(t *testing.T) {
	for _, c := range []struct {
		name     string
		draw     func(l *drawing.List)
		min, max point
	}{
		{"empty", func(l *drawing.List) {}, point{}, point{}},
		{"line", func(l *drawing.List) { l.Line(point{X: 3, Y: 9}, point{X: 1, Y: 10}, drawing.Stroke{}) }, point{X: 1, Y: 9}, point{X: 3, Y: 10}},
		{"circle", func(l *drawing.List) { l.Circle(point{X: 3, Y: 9}, 2, drawing.Fill{}, drawing.Stroke{}) }, point{X: 1, Y: 7}, point{X: 5, Y: 11}},
		{"dot is paper", func(l *drawing.List) { l.Dot(point{X: 3, Y: 9}, 2, drawing.Fill{}, drawing.Stroke{}) }, point{X: 3, Y: 9}, point{X: 3, Y: 9}},
		{"quarter arc", func(l *drawing.List) { l.Arc(point{}, 2, 0, math.Pi/2, drawing.Stroke{}) }, point{}, point{X: 2, Y: 2}},
		{"arc over the top", func(l *drawing.List) { l.Arc(point{}, 2, math.Pi/6, 5*math.Pi/6, drawing.Stroke{}) }, point{X: -math.Sqrt(3), Y: 1}, point{X: math.Sqrt(3), Y: 2}},
		{"same arc backwards", func(l *drawing.List) { l.Arc(point{}, 2, 5*math.Pi/6, math.Pi/6, drawing.Stroke{}) }, point{X: -math.Sqrt(3), Y: 1}, point{X: math.Sqrt(3), Y: 2}},
		{"text anchor", func(l *drawing.List) { l.Text(drawing.Text{At: point{X: 4, Y: 5}, String: "wide text"}) }, point{X: 4, Y: 5}, point{X: 4, Y: 5}},
	} {
		var l drawing.List
		c.draw(&l)
		lo, hi := l.Bounds()
		if lo.Sub(c.min).Len() > 1e-12 || hi.Sub(c.max).Len() > 1e-12 {
			t.Errorf("%s: bounds %v %v, want %v %v", c.name, lo, hi, c.min, c.max)
		}
	}
}

func TestExtentCountsPaperSizes(t *testing.T) {
	var l drawing.List
	l.Line(point{}, point{X: 1000}, drawing.Stroke{Ink: drawing.Line, Width: 1})
	l.Text(drawing.Text{At: point{X: 1000}, Size: 10, String: "■■"})
	lo, hi := l.Extent(drawing.Scale(0.1, 0.1))
	want := 100 + drawing.TextWidth("■■", 10, false, false)
	if math.Abs(lo.X+0.5) > 1e-9 || math.Abs(hi.X-want) > 1e-9 || math.Abs(hi.Y-drawing.CapHeight(10)) > 1e-9 {
		t.Errorf("extent %v %v, want x from -0.5 to %v and y up to %v", lo, hi, want, drawing.CapHeight(10))
	}
	var none drawing.List
	none.Line(point{}, point{X: 5}, drawing.Stroke{})
	if lo, hi := none.Extent(drawing.Identity()); lo != hi {
		t.Errorf("a line without ink has extent %v %v", lo, hi)
	}
}

// TestAppendThenLowerEqualsLowerThrough holds the law that appending through m
// and showing plainly is the same as showing through m.
func TestAppendThenLowerEqualsLowerThrough(t *testing.T) {
	var sheet drawing.List
	specimen.Sheet(&sheet)
	seed := uint64(20260117)
	rng := rand.New(rand.NewPCG(seed, 1))
	for n := range 50 {
		m := drawing.Turn(rng.Float64() * 7).Then(drawing.Scale(0.5+rng.Float64(), 0.5+rng.Float64())).Then(drawing.Shift(rng.Float64()*100, 5))
		switch n % 3 {
		case 0: // shapes kept
			k := 0.5 + rng.Float64()
			m = drawing.Turn(rng.Float64() * 7).Then(drawing.Scale(k, k)).Then(drawing.Shift(3, 4))
		case 1: // mirrored
			k := 0.5 + rng.Float64()
			m = drawing.Scale(-k, k).Then(drawing.Turn(rng.Float64()))
		}
		var through drawing.List
		through.Append(&sheet, m)
		var a, b recorder
		var w drawing.Lowering
		w.Max = point{X: 400, Y: 400}
		w.Run(&sheet, m, &a)
		w.Run(&through, drawing.Identity(), &b)
		// Hatches count their lines from the scene's origin, which Append
		// moves; text is kept upright by Append when mirrored.
		if d := a.differs(&b, n%3 == 1); d != "" {
			t.Fatalf("seed %d, map %d %+v: %s", seed, n, m, d)
		}
	}
}

// recorder is a sink that keeps what it is sent.
type recorder struct {
	paths [][]point
	arcs  [][5]float64
	texts []drawing.Text
	hatch int
}

func (r *recorder) Path(pts []drawing.Point, closed bool, fill drawing.Ink, s drawing.Stroke) {
	if s.Width == drawing.Fine && s.Ink == drawing.Soft && len(pts) == 2 {
		r.hatch++
		return
	}
	r.paths = append(r.paths, append([]point(nil), pts...))
}

func (r *recorder) Arc(c drawing.Point, radius, from, to float64, fill drawing.Ink, s drawing.Stroke) {
	r.arcs = append(r.arcs, [5]float64{c.X, c.Y, radius, math.Remainder(from, 2*math.Pi), to - from})
}

func (r *recorder) Text(t drawing.Text) { r.texts = append(r.texts, t) }

func (r *recorder) differs(o *recorder, turnedText bool) string {
	if len(r.paths) != len(o.paths) || len(r.arcs) != len(o.arcs) || len(r.texts) != len(o.texts) {
		return fmt.Sprintf("counts %d %d %d against %d %d %d", len(r.paths), len(r.arcs), len(r.texts), len(o.paths), len(o.arcs), len(o.texts))
	}
	const close = 1e-9 // coordinates reach 1e3, so roundings stay below 1e-12
	for i, p := range r.paths {
		q := o.paths[i]
		if len(p) != len(q) {
			return fmt.Sprintf("path %d: %d points against %d", i, len(p), len(q))
		}
		if len(p) == 96 {
			// A hatched circle as a polygon may begin anywhere: hold its middle
			// and one radius.
			p, q = []point{middle(p), {X: p[0].Sub(middle(p)).Len()}}, []point{middle(q), {X: q[0].Sub(middle(q)).Len()}}
		}
		for j := range p {
			if p[j].Sub(q[j]).Len() > close {
				return fmt.Sprintf("path %d point %d: %v against %v", i, j, p[j], q[j])
			}
		}
	}
	for i, a := range r.arcs {
		for j := range a {
			d := a[j] - o.arcs[i][j]
			if j == 3 {
				d = math.Remainder(d, 2*math.Pi)
			}
			if a[4] > 6.28 && j == 3 {
				continue // a whole circle may begin anywhere
			}
			if math.Abs(d) > close {
				return fmt.Sprintf("arc %d: %v against %v", i, a, o.arcs[i])
			}
		}
	}
	for i, a := range r.texts {
		if turnedText {
			break
		}
		b := o.texts[i]
		if a.At.Sub(b.At).Len() > close || math.Abs(math.Remainder(a.Angle-b.Angle, 2*math.Pi)) > close || a.String != b.String {
			return fmt.Sprintf("text %d: %+v against %+v", i, a, b)
		}
	}
	return ""
}

func middle(pts []point) point {
	var sum point
	for _, p := range pts {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(pts)))
}

func TestCheckNamesWhatIsNotANumber(t *testing.T) {
	zero := 0.0
	var l drawing.List
	l.Line(point{}, point{}, drawing.Stroke{})
	if err := l.Check(); err != nil {
		t.Errorf("sound list: %v", err)
	}
	l.Text(drawing.Text{At: point{X: 1 / zero}, String: "tread 4"})
	if err := l.Check(); err == nil || err.Error() != `drawing: item 1 (text "tread 4") holds a coordinate or size that is not a number` {
		t.Errorf("error %v", err)
	}
	var r recorder
	var w drawing.Lowering
	w.Run(&l, drawing.Identity(), &r)
	if len(r.paths) != 1 || len(r.texts) != 0 {
		t.Error("lowering should skip what is not a number and nothing else")
	}
}
