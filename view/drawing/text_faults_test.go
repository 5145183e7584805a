package drawing_test

import (
	"image"
	"strings"
	"testing"

	"risewright/view/drawing"
)

// TestTextFaults plants each fault and looks for its words.
func TestTextFaults(t *testing.T) {
	text := func(x, y float64, s string, align drawing.Align, angle float64) drawing.Text {
		return drawing.Text{At: drawing.Point{X: x, Y: y}, Size: 4, String: s, Align: align, Angle: angle}
	}
	for _, row := range []struct {
		name  string
		texts []drawing.Text
		want  string // in the only fault; empty: none
	}{
		{"apart", []drawing.Text{text(10, 10, "rise", 0, 0), text(10, 16, "going", 0, 0)}, ""},
		{"over each other", []drawing.Text{text(10, 10, "rise", 0, 0), text(12, 11, "going", 0, 0)}, `"going" lies over "rise"`},
		{"past the right", []drawing.Text{text(95, 10, "rise", 0, 0)}, "reaches outside"},
		{"past the left", []drawing.Text{text(2, 10, "rise", drawing.AlignEnd, 0)}, "reaches outside"},
		{"past the top", []drawing.Text{text(10, 98, "rise", 0, 0)}, "reaches outside"},
		{"turned up over its neighbour", []drawing.Text{text(10, 10, "rise and going", 0, 1.5707963), text(5, 20, "nosing", 0, 0)}, "lies over"},
		{"no such letter", []drawing.Text{text(10, 10, "r\U0001F600", 0, 0)}, "cannot draw"},
	} {
		var l drawing.List
		for _, x := range row.texts {
			l.Text(x)
		}
		got := drawing.TextFaults(&l, drawing.Point{}, drawing.Point{X: 100, Y: 100})
		switch {
		case row.want == "" && got != nil:
			t.Errorf("%s: %q", row.name, got)
		case row.want != "" && (len(got) != 1 || !strings.Contains(got[0], row.want)):
			t.Errorf("%s: %q, want one fault with %q", row.name, got, row.want)
		}
	}
}

// TestFaultsOfWhatIsDrawn plants what can come in the way of lettering, and
// what looks alike and does not.
func TestFaultsOfWhatIsDrawn(t *testing.T) {
	at := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: y} }
	word := drawing.Text{At: at(20, 50), Size: 4, String: "going"} // about 12 mm long
	halo := word
	halo.Halo = true
	box := func(x0, y0, x1, y1 float64) []drawing.Point {
		return []drawing.Point{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)}
	}
	line := drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin}
	white := drawing.Fill{Ink: drawing.Paper}
	picture, err := drawing.NewPicture(image.NewGray(image.Rect(0, 0, 4, 4)))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name string
		draw func(l *drawing.List)
		want string // in the only fault; empty: none
	}{
		{"a fill later", func(l *drawing.List) { l.Text(word); l.Polygon(box(25, 40, 80, 60), white, drawing.Stroke{}) }, "painted over by a fill of Paper"},
		{"a fill earlier", func(l *drawing.List) { l.Polygon(box(0, 40, 80, 60), white, drawing.Stroke{}); l.Text(word) }, ""},
		{"a fill beside", func(l *drawing.List) { l.Text(word); l.Polygon(box(40, 40, 80, 60), white, drawing.Stroke{}) }, ""},
		{"a small mark on it", func(l *drawing.List) { l.Text(word); l.Dot(at(24, 51), 0.3, white, drawing.Stroke{}) }, "painted over"},
		{"a hatch later", func(l *drawing.List) {
			l.Text(word)
			l.Polygon(box(0, 40, 80, 60), drawing.Fill{Hatch: drawing.Hatch{Pattern: drawing.Diagonal}}, drawing.Stroke{})
		}, ""},
		{"a picture later", func(l *drawing.List) { l.Text(word); l.Picture(at(15, 40), at(35, 60), picture) }, "painted over"},
		{"out of its box", func(l *drawing.List) { l.Polygon(box(15, 45, 27, 60), drawing.Fill{}, line); l.Text(halo) }, ""},
		{"out of its box, and struck by its side", func(l *drawing.List) { l.Polygon(box(15, 45, 27, 60), drawing.Fill{}, line); l.Text(word) }, "struck by a line"},
		{"in its box", func(l *drawing.List) { l.Polygon(box(15, 45, 50, 60), drawing.Fill{}, line); l.Text(word) }, ""},
		{"on a line", func(l *drawing.List) { l.Line(at(10, 49.9), at(40, 49.9), line); l.Text(word) }, "struck"},
		{"its tail in a line", func(l *drawing.List) { l.Line(at(10, 49.4), at(40, 49.4), line); l.Text(word) }, "struck"},
		{"above a line", func(l *drawing.List) { l.Line(at(10, 48.8), at(40, 48.8), line); l.Text(word) }, ""},
		{"a white ground over the line", func(l *drawing.List) {
			l.Line(at(10, 51), at(40, 51), line)
			l.Polygon(box(15, 45, 50, 60), white, drawing.Stroke{})
			l.Text(word)
		}, ""},
	} {
		var l drawing.List
		row.draw(&l)
		got := drawing.TextFaults(&l, at(0, 0), at(100, 100))
		switch {
		case row.want == "" && got != nil:
			t.Errorf("%s: %q", row.name, got)
		case row.want != "" && (len(got) != 1 || !strings.Contains(got[0], row.want)):
			t.Errorf("%s: %q, want one fault with %q", row.name, got, row.want)
		}
	}
	for _, row := range []struct {
		name string
		draw func(l *drawing.List)
		bad  bool
	}{
		{"too long for its box", func(l *drawing.List) { l.Polygon(box(15, 45, 27, 60), drawing.Fill{}, line); l.Text(word) }, true},
		{"too long for its black bar", func(l *drawing.List) {
			l.Polygon(box(15, 45, 27, 60), drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
			l.Text(word)
		}, true},
		{"too long for its disc", func(l *drawing.List) { l.Circle(at(24, 51), 4, white, line); l.Text(word) }, true},
		{"fits the smaller of two", func(l *drawing.List) {
			l.Polygon(box(25, 45, 90, 60), drawing.Fill{}, line)
			l.Circle(at(26, 51), 8, white, line)
			l.Text(word)
		}, false},
		{"its box is long enough", func(l *drawing.List) { l.Polygon(box(15, 45, 50, 60), drawing.Fill{}, line); l.Text(word) }, false},
		{"crosses a drawing, with a halo", func(l *drawing.List) { l.Polygon(box(15, 45, 27, 60), drawing.Fill{}, line); l.Text(halo) }, false},
	} {
		var l drawing.List
		row.draw(&l)
		if got := drawing.CellFaults(&l); (got != nil) != row.bad {
			t.Errorf("%s: %q", row.name, got)
		}
	}
}

// TestShorten keeps what fits and marks what is lost.
func TestShorten(t *testing.T) {
	for _, s := range []string{"", "rise", "a long name of a place that nobody knows"} {
		full := drawing.TextWidth(s, 3, false, false)
		for _, room := range []float64{full, full * 0.7, full * 0.3, 0.1} {
			got := drawing.Shorten(s, room, 3, false, false)
			switch {
			case room == full && got != s:
				t.Errorf("%q in its own width is %q", s, got)
			case room < full && got != "" && !strings.HasSuffix(got, "…"), drawing.TextWidth(got, 3, false, false) > room+1e-5:
				t.Errorf("%q in %.2f mm is %q", s, room, got)
			}
			// what is made to fit is not cut
			if size := drawing.FitSize(s, room, 3, 0.001, false, false); drawing.TextWidth(s, size, false, false) > room {
				t.Errorf("%q at %v is wider than %v", s, size, room)
			}
		}
	}
}
