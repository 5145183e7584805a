package template_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"risewright/view/drawing"
	"risewright/view/template"
)

// exact is how near, in mm, a line of a template must lie to where it belongs.
const exact = 0.01

// many are the shapes that the tests of pages go over.
func many(t *testing.T) []template.Shape {
	t.Helper()
	shapes := []template.Shape{shapeOf(t, "T02"), shapeOf(t, "T03"), shapeOf(t, "R04"), shapeOf(t, "L05")}
	held := shapeOf(t, "T04")
	held.Held = "step 4 is not ready for the saw: " + strings.Repeat("a long reason ", 9)
	shapes = append(shapes, held, small())
	boards := skirts(t, 14)
	return append(shapes, boards[0], boards[2]) // over the old steps, and over the finished ones with their noses
}

// small is no stair part: an outline with a corner that points inwards, for
// pictures of few pixels.
func small() template.Shape {
	return template.Outline("blot", "an odd shape", []drawing.Point{{X: 0, Y: 0}, {X: 180.3, Y: 7.1}, {X: 171.7, Y: 96.4}, {X: 90.9, Y: 60.2}, {X: 12.6, Y: 133.8}}, nil)
}

// laid is what a person has who lays sheets cross on cross: the lines to cut
// to, in one frame.
type laid struct {
	points   []drawing.Point
	segments [][2]drawing.Point
}

// lay puts sheets together by nothing but the numbers of their crosses.
func lay(t *testing.T, sheets []drawing.Page) laid {
	t.Helper()
	crosses := make([]map[int]drawing.Point, len(sheets))
	for i := range sheets {
		crosses[i] = crossesOf(t, &sheets[i])
	}
	offset := make([]*drawing.Point, len(sheets))
	offset[0] = &drawing.Point{}
	for changed := true; changed; {
		changed = false
		for i := range sheets {
			for j := range sheets {
				if offset[i] == nil || i == j {
					continue
				}
				for n, a := range crosses[i] {
					b, ok := crosses[j][n]
					if !ok {
						continue
					}
					d := a.Add(*offset[i]).Sub(b)
					if offset[j] == nil {
						offset[j], changed = &d, true
					} else if d.Sub(*offset[j]).Len() > exact {
						t.Fatalf("%s: cross %d lies %.4f mm beside that of %s", sheets[j].Name, n, d.Sub(*offset[j]).Len(), sheets[i].Name)
					}
				}
			}
		}
	}
	var out laid
	for i := range sheets {
		if offset[i] == nil {
			t.Fatalf("%s shares no cross with the sheets before it", sheets[i].Name)
		}
		for _, it := range sheets[i].Items() {
			if it.Stroke.Ink != drawing.Line || it.Kind != drawing.KindPolyline {
				continue
			}
			for k, p := range it.Points {
				out.points = append(out.points, p.Add(*offset[i]))
				if k > 0 {
					out.segments = append(out.segments, [2]drawing.Point{it.Points[k-1].Add(*offset[i]), p.Add(*offset[i])})
				} else if it.Closed {
					out.segments = append(out.segments, [2]drawing.Point{it.Points[len(it.Points)-1].Add(*offset[i]), p.Add(*offset[i])})
				}
			}
		}
	}
	return out
}

// crossesOf reads the numbered crosses of a sheet: circles, and the whole
// number that stands nearest to each.
func crossesOf(t *testing.T, p *drawing.Page) map[int]drawing.Point {
	t.Helper()
	out := map[int]drawing.Point{}
	for _, it := range p.Items() {
		if it.Kind != drawing.KindCircle {
			continue
		}
		c := it.Points[0]
		best, number := 20.0, 0
		for _, w := range p.Items() {
			if w.Kind != drawing.KindText {
				continue
			}
			if n, err := strconv.Atoi(w.Text.String); err == nil && w.Text.At.Sub(c).Len() < best {
				best, number = w.Text.At.Sub(c).Len(), n
			}
		}
		if number == 0 {
			t.Fatalf("%s: a cross at %v without a number", p.Name, c)
		}
		out[number] = c
	}
	if len(out) != 4 {
		t.Fatalf("%s has crosses %v, want four", p.Name, out)
	}
	return out
}

// toSegment is the distance of p from a stretch.
func toSegment(p drawing.Point, s [2]drawing.Point) float64 {
	d := s[1].Sub(s[0])
	if d.Len() == 0 {
		return p.Sub(s[0]).Len()
	}
	q := p.Sub(s[0])
	k := math.Max(0, math.Min(1, (q.X*d.X+q.Y*d.Y)/(d.X*d.X+d.Y*d.Y)))
	return q.Sub(d.Mul(k)).Len()
}

func nearest(p drawing.Point, segments [][2]drawing.Point) float64 {
	best := math.Inf(1)
	for _, s := range segments {
		best = math.Min(best, toSegment(p, s))
	}
	return best
}

// cutLines returns the cut lines of a shape.
func cutLines(s *template.Shape) (points []drawing.Point, segments [][2]drawing.Point) {
	for _, l := range s.Lines {
		if l.Use != template.Cut {
			continue
		}
		points = append(points, l.Points...)
		for i := range l.Points {
			if i+1 < len(l.Points) || l.Closed {
				segments = append(segments, [2]drawing.Point{l.Points[i], l.Points[(i+1)%len(l.Points)]})
			}
		}
	}
	return points, segments
}

func lowest(points []drawing.Point) drawing.Point {
	lo := drawing.Point{X: math.Inf(1), Y: math.Inf(1)}
	for _, p := range points {
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
	}
	return lo
}

// TestSheetsLaidByTheirCrosses puts every template together on both papers and
// compares it with the shape: every corner, every point along every line, and
// nothing besides.
func TestSheetsLaidByTheirCrosses(t *testing.T) {
	for _, paper := range [][2]float64{{210, 297}, {215.9, 279.4}, {297, 420}} {
		for _, s := range many(t) {
			t.Run(fmt.Sprintf("%s on %g", s.ID, paper[0]), func(t *testing.T) {
				pages, err := template.Tiled(&s, paper[0], paper[1], options())
				if err != nil {
					t.Fatal(err)
				}
				got := lay(t, pages[1:])
				want, lines := cutLines(&s)
				// Where the first sheet lies is free.
				move := lowest(want).Sub(lowest(got.points))
				for i := range got.segments {
					got.segments[i][0], got.segments[i][1] = got.segments[i][0].Add(move), got.segments[i][1].Add(move)
				}
				worst := 0.0
				for _, p := range want {
					best := math.Inf(1)
					for _, q := range got.points {
						best = math.Min(best, q.Add(move).Sub(p).Len())
					}
					worst = math.Max(worst, best)
				}
				if worst > exact {
					t.Errorf("a corner lies %.4f mm off", worst)
				}
				for _, l := range lines {
					n := int(l[1].Sub(l[0]).Len()/5) + 1
					for k := range n {
						p := l[0].Add(l[1].Sub(l[0]).Mul(float64(k) / float64(n)))
						if d := nearest(p, got.segments); d > exact {
							t.Fatalf("at %v there is no line within %.4f mm", p, d)
						}
					}
				}
				for _, p := range got.segments {
					if d := math.Max(nearest(p[0], lines), nearest(p[1], lines)); d > exact {
						t.Fatalf("a line at %v lies %.4f mm from any of the shape", p, d)
					}
				}
				t.Logf("%d sheets; the farthest corner %.1g mm off", len(pages)-1, worst)
			})
		}
	}
}

// TestSheetsOverlap holds neighbours to the overlap: each shows the line up to
// 5 mm beyond where they meet.
func TestSheetsOverlap(t *testing.T) {
	s := template.Outline("strip", "", []drawing.Point{{X: 0, Y: 0}, {X: 700, Y: 0}, {X: 700, Y: 50}, {X: 0, Y: 50}}, nil)
	pages, err := template.Tiled(&s, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) != 4 {
		t.Fatalf("%d pages, want the plan and three sheets", len(pages))
	}
	for i := 1; i+1 < len(pages); i++ {
		right, left := crossesOf(t, &pages[i]), crossesOf(t, &pages[i+1])
		for n, a := range right {
			b, ok := left[n]
			if !ok {
				continue
			}
			past, before := math.Inf(-1), math.Inf(1)
			for _, it := range pages[i].Items() {
				if it.Kind == drawing.KindPolyline && it.Stroke.Ink == drawing.Line {
					for _, p := range it.Points {
						past = math.Max(past, p.X-a.X)
					}
				}
			}
			for _, it := range pages[i+1].Items() {
				if it.Kind == drawing.KindPolyline && it.Stroke.Ink == drawing.Line {
					for _, p := range it.Points {
						before = math.Min(before, p.X-b.X)
					}
				}
			}
			if math.Abs(past-5) > 1e-9 || math.Abs(before+5) > 1e-9 {
				t.Errorf("%s shows %.3f mm past cross %d and %s %.3f before", pages[i].Name, past, n, pages[i+1].Name, before)
			}
		}
	}
}

// TestBlankSheetsAreLeftOut tiles a shape that runs from corner to corner.
func TestBlankSheetsAreLeftOut(t *testing.T) {
	s := template.Outline("diagonal", "", []drawing.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 1000, Y: 900}, {X: 960, Y: 900}}, nil)
	pages, err := template.Tiled(&s, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(pages) - 1; n < 5 || n > 14 {
		t.Errorf("%d sheets for a strip across 20 to 24", n)
	}
	lay(t, pages[1:])
}
