package drawing_test

import (
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
