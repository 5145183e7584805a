package template_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/drawing"
	"risewright/view/template"
)

// outline returns the cut line of a shape.
func outline(t *testing.T, s *template.Shape) *template.Line {
	t.Helper()
	for i := range s.Lines {
		if s.Lines[i].Use == template.Cut {
			return &s.Lines[i]
		}
	}
	t.Fatal("no line to cut to")
	return nil
}

// TestPieceLiesAsItIsSeen: a tread from above, its nose towards you, left at
// the left; a riser from the front, its top up. Never mirrored.
func TestPieceLiesAsItIsSeen(t *testing.T) {
	for id, labels := range map[string][2]string{"T02": {"BACK edge", "NOSE"}, "L05": {"BACK edge", "NOSE"}, "R04": {"TOP edge", "BOTTOM edge"}} {
		p := board(t, id)
		s := shapeOf(t, id)
		o := outline(t, &s)
		if len(o.Points) != 4 {
			t.Fatalf("%s has %d corners", id, len(o.Points))
		}
		for i, label := range o.Labels {
			m := o.Points[i].Add(o.Points[(i+1)%4]).Mul(0.5)
			var c drawing.Point
			for _, q := range o.Points {
				c = c.Add(q.Mul(0.25))
			}
			want := ""
			switch d := m.Sub(c); {
			case math.Abs(d.X) < math.Abs(d.Y) && d.Y > 0:
				want = labels[0]
			case math.Abs(d.X) < math.Abs(d.Y):
				want = labels[1]
			case d.X < 0:
				want = "LEFT end"
			default:
				want = "RIGHT end"
			}
			if !strings.HasPrefix(label, want) {
				t.Errorf("%s: the edge at %v is lettered %q, want %q", id, m, label, want)
			}
		}
		// Distances and the way round are those of the face: no mirror. A tread
		// is drawn with y turned over, and seen from its other side.
		area := 0.0
		for i, q := range o.Points {
			r := o.Points[(i+1)%4]
			area += q.X*r.Y - r.X*q.Y
			f, g := p.Face[i], p.Face[(i+1)%4]
			if math.Abs(r.Sub(q).Len()-g.Sub(f).Len()) > 1e-9 {
				t.Errorf("%s: edge %d is %v long, want %v", id, i, r.Sub(q).Len(), g.Sub(f).Len())
			}
		}
		if (area < 0) != (p.Into() > 0) {
			t.Errorf("%s: runs the wrong way round", id)
		}
		// In the stair: the shape's x must be to the right as walking up, and
		// its y up the flight (tread) or up (riser).
		x := p.Frame.Col(0).Vec3()
		y := p.Frame.Col(1).Vec3().Mul(-p.Into())
		if x[0] < 0.9 || p.Kind == pieces.Riser && y[2] < 0.9 || p.Kind != pieces.Riser && y[1] < 0.9 {
			t.Errorf("%s: x of the drawing is %v in the stair, y %v", id, x, y)
		}
	}
}

// TestDashedIsTheUnderside compares dashed lines with the solid's other face,
// and the angles that are lettered with those of the piece.
func TestDashedIsTheUnderside(t *testing.T) {
	for _, id := range []string{"T02", "T03", "R04", "L05"} {
		p := board(t, id)
		s := shapeOf(t, id)
		o := outline(t, &s)
		dashed := 0
		for _, l := range s.Lines {
			if l.Use != template.Under {
				continue
			}
			dashed++
			for _, q := range l.Points {
				near := math.Inf(1)
				for _, v := range p.Solid.Verts {
					if math.Abs(v[2]-p.Into()*p.Thickness) < 1e-9 {
						near = math.Min(near, math.Hypot(v[0]-q.X, -p.Into()*v[1]-q.Y))
					}
				}
				if near > 1e-9 {
					t.Errorf("%s: a dashed line ends at %v, %g mm from the underside", id, q, near)
				}
			}
		}
		bevelled := 0
		for i, label := range o.Labels {
			if !strings.Contains(label, "saw bevel ") {
				if !strings.Contains(label, "square to the face") {
					t.Errorf("%s: %q says no bevel", id, label)
				}
				continue
			}
			bevelled++
			side := p.Ends[pieces.Left]
			if strings.HasPrefix(label, "RIGHT") {
				side = p.Ends[pieces.Right]
			}
			want := model.FormatDegrees(model.Angle(side.Bevel), 1)
			// A side in two parts has a bevel of its own at each.
			if len(o.Points) == 4 && !strings.Contains(label, "saw bevel "+want+",") {
				t.Errorf("%s: edge %d says %q, want a bevel of %s", id, i, label, want)
			}
		}
		if dashed != bevelled || dashed < 2 {
			t.Errorf("%s: %d dashed lines and %d bevels", id, dashed, bevelled)
		}
		sum := 0.0
		for _, tag := range s.Tags {
			var v float64
			if _, err := fmt.Sscanf(tag.Text, "%f°", &v); err != nil {
				t.Fatal(err)
			}
			sum += v
			// The word stands inside the corner.
			if math.Abs(tag.Dir.Len()-1) > 1e-9 {
				t.Errorf("%s: direction %v", id, tag.Dir)
			}
		}
		if want := 180 * float64(len(o.Points)-2); math.Abs(sum-want) > 0.06*float64(len(o.Points)) {
			t.Errorf("%s: the angles add up to %.1f°, want %.0f°", id, sum, want)
		}
		if len(o.Points) == 4 {
			for side, tag := range map[pieces.Side]string{pieces.Left: s.Tags[0].Text, pieces.Right: s.Tags[1].Text} {
				if want := model.FormatDegrees(model.Angle(p.Ends[side].Gauge.Value), 1); tag != want {
					t.Errorf("%s: the angle at the back %s is lettered %s, want the gauge's %s", id, side, tag, want)
				}
			}
		}
	}
}

// TestAngleOfACornerThatPointsInwards: the corners of an L are five right
// angles and one of 270°, whichever way round it runs.
func TestAngleOfACornerThatPointsInwards(t *testing.T) {
	s := prism(t, [][2]float64{{0, 0}, {300, 0}, {300, 200}, {100, 200}, {100, 90}, {0, 90}}, func(int) pieces.Part { return pieces.LeftEnd })
	for i, tag := range s.Tags {
		want := "90.0°"
		if i == 4 {
			want = "270.0°"
		}
		if tag.Text != want {
			t.Errorf("corner %d: %s, want %s", i, tag.Text, want)
		}
	}
}

func TestImpossiblePiecesAreRefused(t *testing.T) {
	p := *board(t, "T02")
	p.Impossible = "the figures leave no board here"
	if _, err := template.Piece(&p, model.Format{}, ""); err == nil || !strings.Contains(err.Error(), "T02 cannot be made: the figures leave no board here") {
		t.Errorf("error %v", err)
	}
	for _, b := range []skirt.Board{
		{Treatment: skirt.New, Impossible: "no face"}, {Treatment: skirt.Kept}, {Treatment: skirt.New},
	} {
		if _, err := template.Skirt(&b, model.Format{}, ""); err == nil {
			t.Errorf("%+v was drawn", b)
		}
	}
}

// TestSkirtMarks: register marks at every third nose, each on its line, and
// every stretch of the lower edge lettered with what it meets.
func TestSkirtMarks(t *testing.T) {
	for _, s := range skirts(t, 14) {
		if len(s.Registers) < 5 || len(s.Registers) > 6 {
			t.Errorf("%s: %d register marks for 14 steps", s.ID, len(s.Registers))
		}
		seen := map[string]bool{}
		for _, label := range outline(t, &s).Labels {
			name, _, _ := strings.Cut(label, " · ")
			seen[name] = true
		}
		for k := 1; k < 14; k++ {
			for _, want := range []string{fmt.Sprintf("PLUMB, R%02d", k+1)} {
				if !seen[want] {
					t.Errorf("%s: no edge is lettered %q", s.ID, want)
				}
			}
		}
		if !seen["TOP edge"] || !seen["END, plumb"] {
			t.Errorf("%s: top or end not lettered: %v", s.ID, seen)
		}
		// x runs along the pitch, up the flight on a left skirt and down it on a
		// right one, so the words say which way is up.
		up := "UP THE STAIR →"
		if strings.HasPrefix(s.ID, "right") {
			up = "← UP THE STAIR"
		}
		if !strings.Contains(s.Across, up) {
			t.Errorf("%s says %q", s.ID, s.Across)
		}
	}
}

// TestSkirtLiesOnTheBoards takes the template of a skirt of 14 steps back to the
// stair: every line that is lettered plumb or level lies in the face of the
// finished board that it names, within 0.1 mm.
func TestSkirtLiesOnTheBoards(t *testing.T) {
	job, res, _ := straightFlight(14)
	ps := pieces.Make(job, res)
	looked := 0
	for _, b := range skirt.Make(job, res, &buildup.Result{}, ps, skirt.Spec{Profile: skirt.Profile{Shape: skirt.Bullnose}}) {
		if b.Treatment == skirt.Kept || b.Lower != skirt.OverFinished {
			continue
		}
		s, err := template.Skirt(&b, model.Format{Units: model.Metric, Step: 0.1}, "")
		if err != nil {
			t.Fatal(err)
		}
		o := outline(t, &s)
		for i, label := range o.Labels {
			for k := range ps {
				p := &ps[k]
				if !strings.HasPrefix(label, "PLUMB, "+p.ID) && !strings.HasPrefix(label, "LEVEL, "+p.ID) {
					continue
				}
				at := mgl64.TransformCoordinate(mgl64.Vec3{}, p.Frame) // the show face is z = 0
				normal := p.Frame.Col(2).Vec3()
				for _, q := range []drawing.Point{o.Points[i], o.Points[(i+1)%len(o.Points)]} {
					looked++
					if d := math.Abs(b.ToStair(mgl64.Vec2{q.X, q.Y}).Sub(at).Dot(normal)); d > 0.1 {
						t.Errorf("%s: %q ends %.3f mm off the face of %s", s.ID, label, d, p.ID)
					}
				}
			}
		}
	}
	if looked < 100 {
		t.Errorf("only %d ends were looked at", looked)
	}
}

// prism returns the template of a tread with the given face and square sides.
func prism(t *testing.T, xy [][2]float64, part func(j int) pieces.Part) template.Shape {
	t.Helper()
	q := *board(t, "T02")
	q.Face, q.Solid = nil, pieces.Solid{}
	n := len(xy)
	for k := range 2 {
		for _, c := range xy {
			if k == 0 {
				q.Face = append(q.Face, mgl64.Vec2(c))
			}
			q.Solid.Verts = append(q.Solid.Verts, mgl64.Vec3{c[0], c[1], 20 * float64(k)})
		}
	}
	for j := range n {
		k := (j + 1) % n
		d := q.Face[k].Sub(q.Face[j]).Normalize()
		q.Solid.Faces = append(q.Solid.Faces, pieces.Facet{Normal: mgl64.Vec3{d[1], -d[0], 0}, Loop: []int{j, k, n + k, n + j}, Part: part(j)})
	}
	s, err := template.Piece(&q, model.Format{Units: model.Metric, Step: 0.1}, "")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestRoundEnd: the facets of a nose that runs round a corner are no corners to
// letter, and get one register between them.
func TestRoundEnd(t *testing.T) {
	xy := [][2]float64{{0, 0}, {900, 0}}
	const facets = 16
	for k := range facets + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / facets)
		xy = append(xy, [2]float64{700 + 200*cos, 90 + 200*sin})
	}
	xy = append(xy, [2]float64{0, 290})
	s := prism(t, xy, func(j int) pieces.Part {
		switch {
		case j == 0:
			return pieces.BackEdge
		case j == len(xy)-1:
			return pieces.LeftEnd
		}
		return pieces.Nose
	})
	if len(s.Tags) != 3 || len(s.Registers) != 2 {
		t.Errorf("%d angles and %d registers, want those of three corners, nose and back", len(s.Tags), len(s.Registers))
	}
	pages, err := template.Tiled(&s, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	got := lay(t, pages[1:])
	if want, _ := cutLines(&s); len(got.points) < len(want) {
		t.Errorf("%d points on the sheets, want at least %d", len(got.points), len(want))
	}
}
