package section_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/view/drawing"
	"risewright/view/handle"
	"risewright/view/section"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

type point = drawing.Point

// flight returns a job with nothing read: n risers, packing on the second
// tread, the third old nose kept and the fourth packed out, rail and headroom.
func flight(tb testing.TB, n int, units model.Units) model.Job {
	tb.Helper()
	base, err := tables.NewJob(units, func(name string) model.ID { return model.NamedID(model.ID{}, name) })
	if err != nil {
		tb.Fatal(err)
	}
	j := model.Sketch(model.SketchSpec{Risers: n, Width: 900, Rise: 185, Going: 260, Base: base,
		IDs: func(i int) model.ID { return model.NamedID(base.ID, fmt.Sprint("step ", i)) }})
	height := func(name string, i int, v model.Length) model.Height {
		return model.Height{ID: model.NamedID(base.ID, name), Step: j.Flight.Steps[i].ID, Value: v}
	}
	j.Flight.Rail = []model.Height{height("rail top", n-1, 905), height("rail foot", 0, 900)}
	j.Flight.Headroom = []model.Height{height("beam", n/2, 2040)}
	if n > 3 {
		j.Flight.Steps[1].PackLeft, j.Flight.Steps[1].PackRight = 6, 6
		j.Flight.Steps[2].Nosing = model.NosingKept
		j.Flight.Steps[3].Nosing = model.NosingPacked
	}
	return j
}

// tilted gives every tread another tilt and fall and sets its risers askew.
func tilted(j model.Job) model.Job {
	j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.TopLeft += model.Length(i%3) - 1
		s.TopRight -= model.Length(i % 4)
		s.Fall = model.Angle(i%5-2) * 0.004
		s.Corners = append([]model.Corner(nil), s.Corners...)
		for c := range s.Corners {
			s.Corners[c].Y += s.Corners[c].X * 0.008
		}
	}
	return j
}

// mirrored swaps left and right of a flight without readings.
func mirrored(j model.Job) model.Job {
	j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
	for i := range j.Flight.Steps {
		s := &j.Flight.Steps[i]
		s.Left, s.Right = s.Right, s.Left
		s.TopLeft, s.TopRight = s.TopRight, s.TopLeft
		c := s.Corners
		s.Corners = []model.Corner{{X: -c[1].X, Y: c[1].Y}, {X: -c[0].X, Y: c[0].Y}, {X: -c[3].X, Y: c[3].Y}, {X: -c[2].X, Y: c[2].Y}}
	}
	return j
}

func drawn(a *solver.Answer, o section.Options) *drawing.List {
	var l drawing.List
	section.Draw(&l, a, o)
	return &l
}

func TestGolden(t *testing.T) {
	metric, inches := flight(t, 5, model.Metric), tilted(flight(t, 5, model.Imperial))
	for name, c := range map[string]struct {
		job model.Job
		o   section.Options
	}{
		"flight": {metric, section.Options{Dimensions: true, Findings: true}},
		"step":   {metric, section.Options{Dimensions: true, Selected: 2, Handles: true, Ghost: true, Scale: 0.15, Piece: "R03"}},
		"inches": {inches, section.Options{Dimensions: true, Selected: 3, Exaggerate: 5, Findings: true, Cut: buildup.Left, Scale: 0.1}},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Format = c.job.Format()
			golden(t, name, drawn(answer(t, c.job), c.o).Dump())
		})
	}
}

// golden compares text with testdata/name.txt, or writes it with -update.
func golden(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run go test -update ./view/section and look at the difference", err)
	}
	if string(want) == text {
		return
	}
	g, w := strings.Split(text, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		a, b := "(nothing)", "(nothing)"
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			t.Fatalf("%s line %d:\n got %s\nwant %s\n(-update writes it anew)", path, i+1, a, b)
		}
	}
}

// same compares two drawings item by item, the second moved by by.
func same(t *testing.T, a, b *drawing.List, by point, texts bool) {
	t.Helper()
	if a.Len() != b.Len() {
		t.Fatalf("%d items against %d", a.Len(), b.Len())
	}
	for i, x := range a.Items() {
		y := b.Items()[i]
		if x.Kind != y.Kind || texts && x.Text.String != y.Text.String {
			t.Fatalf("item %d: %s %q against %s %q", i, x.Kind, x.Text.String, y.Kind, y.Text.String)
		}
		if texts && x.Kind == drawing.KindText && y.Text.At.Sub(x.Text.At).Sub(by).Len() > 1e-6 {
			t.Errorf("%q at %v against %v", x.Text.String, x.Text.At, y.Text.At)
		}
		if len(x.Points) != len(y.Points) {
			t.Fatalf("item %d (%s): %d points against %d", i, x.Kind, len(x.Points), len(y.Points))
		}
		// an outline may begin at another of its corners
		for _, p := range x.Points {
			found := false
			for _, q := range y.Points {
				found = found || q.Sub(p).Sub(by).Len() < 1e-6
			}
			if !found {
				t.Errorf("item %d (%s): %v against %v", i, x.Kind, x.Points, y.Points)
				break
			}
		}
	}
}

// Law: what is cut at the left is what the mirrored flight shows at the right.
// The boards' ends are undercut on both sides alike.
func TestMirror(t *testing.T) {
	job := tilted(flight(t, 8, model.Metric))
	for _, sel := range []int{0, 4} {
		for _, e := range []float64{1, 5} {
			o := section.Options{Selected: sel, Exaggerate: e, Cut: buildup.Left}
			a := drawn(answer(t, job), o)
			o.Cut = buildup.Right
			same(t, a, drawn(answer(t, mirrored(job)), o), point{}, false)
		}
	}
}

// Law: moved along, the section moves along; moved aside, it stays.
func TestTranslate(t *testing.T) {
	job := tilted(flight(t, 8, model.Imperial))
	far := job
	far.Flight.Steps = append([]model.Step(nil), job.Flight.Steps...)
	for i := range far.Flight.Steps {
		s := &far.Flight.Steps[i]
		s.Corners = append([]model.Corner(nil), s.Corners...)
		for c := range s.Corners {
			s.Corners[c].X += 4321
			s.Corners[c].Y -= 1234
		}
	}
	o := section.Options{Dimensions: true, Selected: 3, Handles: true, Format: job.Format()}
	same(t, drawn(answer(t, job), o), drawn(answer(t, far), o), point{X: -1234}, true)
}

// The boards on the drawing are as thick as the job has them, each nose is
// where the estimate has it, and each tread top at its new height.
func TestBoardsAreCutTrue(t *testing.T) {
	job := flight(t, 6, model.Metric)
	a := answer(t, job)
	var wood []drawing.Item
	for _, it := range drawn(a, section.Options{}).Items() {
		if it.Kind == drawing.KindPolygon && it.Fill.Ink == drawing.WoodDark {
			wood = append(wood, it)
		}
	}
	if len(wood) != 6 {
		t.Fatalf("%d boards of wood, want 6 treads", len(wood))
	}
	for i, it := range wood {
		lo, hi := it.Points[0], it.Points[0]
		for _, p := range it.Points {
			lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
			hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
		}
		if got, want := hi.Y-lo.Y, float64(job.TreadThickness(i)); math.Abs(got-want) > 0.01 {
			t.Errorf("board %d is drawn %.3f thick, want %.3f", i+1, got, want)
		}
		if want := a.Buildup.Steps[i].NewTop.Mean(); math.Abs(hi.Y-want) > 0.01 {
			t.Errorf("board %d has its top at %.3f, want %.3f", i+1, hi.Y, want)
		}
		s := &a.Survey.Steps[i]
		if want := (s.Corners[s.FL][1] + s.Corners[s.FR][1]) / 2; math.Abs(lo.X-want) > 0.01 {
			t.Errorf("board %d has its nose at %.3f, want %.3f", i+1, lo.X, want)
		}
	}
}

func TestSurvives(t *testing.T) {
	turn := flight(t, 6, model.Metric)
	for k := range 3 { // a quarter turn to the right of two winders and a landing nosing
		s := &turn.Flight.Steps[3+k]
		at := func(deg, r float64) model.Corner {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			return model.Corner{X: model.Length(950 - r*cos), Y: model.Length(780 + r*sin)}
		}
		a, b := 30*float64(k)-2, 30*float64(k+1)+2
		s.Corners = []model.Corner{at(a, 900), at(a, 60), at(b, 60), at(b, 900)}
	}
	for name, job := range map[string]model.Job{
		"two": flight(t, 2, model.Metric), "forty": flight(t, 40, model.Imperial), "turn": turn, "tilted": tilted(flight(t, 14, model.Imperial)),
	} {
		a := answer(t, job)
		for _, sel := range []int{0, 1, len(job.Flight.Steps), 99} {
			for _, scale := range []float64{1e-4, 0.02, 0.3, 20} {
				for _, cut := range []buildup.Side{buildup.Middle, buildup.Left, buildup.Right} {
					l := drawn(a, section.Options{Selected: sel, Scale: scale, Exaggerate: 5, Cut: cut, Dimensions: true, Findings: true, Ghost: true, Handles: true, Format: job.Format()})
					if err := l.Check(); err != nil {
						t.Errorf("%s: %v", name, err)
					}
					if l.Len() < 3*len(job.Flight.Steps) {
						t.Errorf("%s at %v, %v: %d items", name, scale, cut, l.Len())
					}
				}
			}
		}
	}
	job := flight(t, 5, model.Metric)
	job.Tolerance = 0
	a := answer(t, job)
	if a.Survey != nil {
		t.Fatal("this job was meant not to be solved")
	}
	if n := drawn(a, section.Options{Dimensions: true, Selected: 2, Handles: true}).Len(); n < 20 {
		t.Errorf("%d items of an unsolved job", n)
	}
	drawn(&solver.Answer{}, section.Options{Selected: 3})
}

func TestStepAt(t *testing.T) {
	a := answer(t, tilted(flight(t, 9, model.Metric)))
	o := section.Options{}
	for _, h := range section.Handles(nil, a, o) {
		if h.ID.Kind != handle.TreadHeight {
			continue
		}
		for _, dy := range []float64{-15, 30} {
			if got := section.StepAt(a, o, h.At.Add(point{Y: dy})); got != h.ID.Step {
				t.Errorf("%.0f mm over tread %d is on step %d", dy, h.ID.Step, got)
			}
		}
	}
	if got := section.StepAt(a, o, point{X: 500, Y: -5000}); got != 0 {
		t.Errorf("far away is on step %d", got)
	}
}

// A rise outside its limit has a mark of its own, not only a colour.
func TestOutsideRisesAreMarked(t *testing.T) {
	a := demo(t, "tapering")
	marked := 0
	for _, it := range drawn(a, section.Options{Findings: true, Format: a.Job.Format(), Scale: 0.1}).Items() {
		if it.Kind == drawing.KindText && strings.HasPrefix(it.Text.String, handle.MarkOutside+" ") {
			marked++
			if !it.Text.Bold || it.Text.Ink != drawing.Bad {
				t.Errorf("%q is neither bold nor in the ink for out of limits", it.Text.String)
			}
		}
	}
	if marked == 0 {
		t.Error("no figure is marked, though this stair's first rise is over its limit")
	}
	for _, it := range drawn(a, section.Options{Format: a.Job.Format(), Scale: 0.1}).Items() {
		if strings.Contains(it.Text.String, handle.MarkOutside) {
			t.Errorf("%q is marked, though marks are off", it.Text.String)
		}
	}
}

func TestFitShowsAll(t *testing.T) {
	for _, name := range demoJobs {
		a := demo(t, name)
		for _, size := range [][2]float64{{1200, 400}, {1200, 800}, {500, 900}} {
			o := section.Options{Dimensions: true, Findings: true, Format: a.Job.Format()}
			v := section.Fit(a, o, size[0], size[1], drawing.PaperScale(1))
			o.Scale = v.Scale / v.Paper
			lo, hi := drawn(a, o).Extent(v.Transform())
			lo, hi = lo.Mul(v.Paper), hi.Mul(v.Paper)
			if lo.X < 0 || hi.X > size[0] || hi.Y > 0 || lo.Y < -size[1] {
				t.Errorf("%s at %v: drawn from %.0f to %.0f", name, size, lo, hi)
			}
			if hi.X-lo.X < size[0]*0.8 && hi.Y-lo.Y < size[1]*0.8 {
				t.Errorf("%s at %v: fills only %.0f by %.0f", name, size, hi.X-lo.X, hi.Y-lo.Y)
			}
		}
	}
}
