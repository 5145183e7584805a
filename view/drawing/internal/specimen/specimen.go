// Package specimen holds the drawings that the writers' tests and benchmarks
// share: a plan and section the size of a real one, and a sheet that shows
// every kind of item. The stair is invented.
package specimen

import (
	"fmt"
	"math"

	"risewright/view/drawing"
)

type point = drawing.Point

// Stair writes the plan and section of a 14-riser flight into l: about 600
// lines, 60 polygons and 150 short texts, in stair millimetres, over a box of
// about 4,500 by 4,300. lean turns the treads a little, as a drag would.
func Stair(l *drawing.List, lean float64) {
	const (
		risers = 14
		rise   = 187.0
		going  = 262.0
		width  = 914.0
		lift   = 1500.0 // the section stands above the plan
	)
	grid := drawing.Stroke{Ink: drawing.Faint, Width: drawing.Fine}
	for i := range 45 {
		x := float64(i) * 100
		l.Line(point{X: x, Y: -200}, point{X: x, Y: 4300}, grid)
		l.Line(point{X: -200, Y: x - 150}, point{X: 4500, Y: x - 150}, grid)
	}
	wall := drawing.Fill{Ink: drawing.Wall, Hatch: drawing.Hatch{Pattern: drawing.Diagonal, Spacing: 1.8}}
	outline := drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	thin := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	hidden := drawing.Hidden(drawing.Soft, drawing.Thin)
	l.Polygon([]point{{X: -150, Y: -110}, {X: risers * going, Y: -110}, {X: risers * going, Y: 0}, {X: -150, Y: 0}}, wall, outline)
	l.Polygon([]point{{X: -150, Y: width}, {X: risers * going, Y: width}, {X: risers * going, Y: width + 90}, {X: -150, Y: width + 90}}, wall, outline)
	ground := drawing.Fill{Ink: drawing.Ground, Hatch: drawing.Hatch{Pattern: drawing.BackDiagonal, Spacing: 1.8}}
	l.Polygon([]point{{X: -200, Y: lift - 120}, {X: 400, Y: lift - 120}, {X: 400, Y: lift}, {X: -200, Y: lift}}, ground, outline)
	top := lift + risers*rise
	l.Polygon([]point{{X: (risers - 1) * going, Y: top - 240}, {X: 4400, Y: top - 240}, {X: 4400, Y: top}, {X: (risers - 1) * going, Y: top}}, ground, outline)

	for i := range risers {
		x := float64(i) * going
		skew := lean * float64(i%5-2)
		wood := drawing.Fill{Ink: drawing.Wood}
		edge := outline
		if i == 6 {
			wood.Ink = drawing.SelectWash
			edge = drawing.Stroke{Ink: drawing.Select, Width: drawing.Thick}
		}
		tread := []point{{X: x - 25 + skew, Y: 2}, {X: x + going + skew, Y: 2}, {X: x + going - skew, Y: width - 2}, {X: x - 25 - skew, Y: width - 2}}
		l.Polygon(tread, wood, edge)
		l.Line(point{X: x + skew, Y: 2}, point{X: x - skew, Y: width - 2}, hidden)
		for j := range 6 {
			y := 120 + 130*float64(j)
			l.Line(point{X: x + 30, Y: y}, point{X: x + going - 40, Y: y + 3*float64(j%3)}, drawing.Stroke{Ink: drawing.WoodDark, Width: drawing.Fine})
		}
		label := func(y float64, s string, size float64, ink drawing.Ink, bold bool) {
			l.Text(drawing.Text{At: point{X: x + going/2, Y: y}, Size: size, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Ink: ink, Bold: bold, Halo: true, String: s})
		}
		label(width/2, fmt.Sprint(i+1), 4, drawing.Letter, true)
		label(width/2+150, "36\u202f5⁄16″", 2.6, drawing.LetterSoft, false)
		label(width/2-150, "±0.4", 2.6, drawing.LetterSoft, false)
		l.Text(drawing.Text{At: point{X: x + 40 + skew, Y: width / 2}, Size: 2.6, Angle: math.Pi/2 + lean/400, Align: drawing.AlignMiddle, Ink: drawing.LetterSoft, String: "914.4"})
		l.Dimension(point{X: x, Y: width + 90}, point{X: x + going, Y: width + 90}, 5, "10\u202f5⁄16", thin)

		y := lift + float64(i)*rise
		l.Polygon([]point{{X: x, Y: y}, {X: x + 18, Y: y}, {X: x + 18, Y: y + rise - 22}, {X: x, Y: y + rise - 22}}, drawing.Fill{Ink: drawing.Painted}, outline)
		l.Polygon([]point{{X: x - 25, Y: y + rise - 22}, {X: x + going + 18, Y: y + rise - 22 + lean/4}, {X: x + going + 18, Y: y + rise + lean/4}, {X: x - 25, Y: y + rise}}, drawing.Fill{Ink: drawing.WoodDark}, outline)
		l.Polyline([]point{{X: x + 18, Y: y}, {X: x + 18, Y: y + rise - 48}, {X: x + going + 18, Y: y + rise - 48}}, false, thin)
		l.Arc(point{X: x - 25, Y: y + rise - 11}, 11, math.Pi/2, 3*math.Pi/2, outline)
		l.Line(point{X: x - 25, Y: y + rise}, point{X: x - 25 + going, Y: y + rise + rise}, hidden)
		for j := range 4 {
			l.Line(point{X: x + 40*float64(j), Y: y - 300}, point{X: x + 40*float64(j) + 80, Y: y - 240}, thin)
		}
		l.Text(drawing.Text{At: point{X: x + 40, Y: y + rise/2 - 20}, Size: 2.6, Ink: drawing.LetterSoft, String: "7\u202f3⁄8"})
		for _, p := range tread {
			l.Square(p, 0.8, drawing.Fill{Ink: drawing.Paper}, thin)
		}
	}
	l.Dimension(point{X: 0, Y: 0}, point{X: 0, Y: width}, 8, "3′\u202f0″", thin)
	l.Dimension(point{X: 0, Y: lift}, point{X: 0, Y: top}, 10, "8′\u202f7\u202f1⁄16″", thin)
	l.Arrow(point{X: 200, Y: width / 3}, point{X: risers*going - 200, Y: width / 3}, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
	l.Polyline([]point{{X: -25, Y: lift + 900}, {X: (risers - 1) * going, Y: top + 900}, {X: 4400, Y: top + 900}}, false, drawing.Stroke{Ink: drawing.Hold, Width: drawing.Heavy})
}

// Sheet writes one of everything into l, in paper millimetres on a sheet of
// 210 by 297.
func Sheet(l *drawing.List) {
	thin := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Thin}
	line := drawing.Stroke{Ink: drawing.Line, Width: drawing.Medium}
	text := func(x, y, size float64, s string) {
		l.Text(drawing.Text{At: point{X: x, Y: y}, Size: size, String: s})
	}
	l.Polyline([]point{{X: 10, Y: 10}, {X: 200, Y: 10}, {X: 200, Y: 287}, {X: 10, Y: 287}}, true, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thick})
	l.Text(drawing.Text{At: point{X: 16, Y: 274}, Size: 7, Bold: true, String: "Specimen sheet"})
	text(16, 266, 3.5, "½ ⅓ ¼ ⅛ ⅜ ⅝ ⅞ 5⁄16 3′ 0 5⁄16″ 90° ± × − → ← ↑ ↓ ∠ ● ▲ ■")
	l.Text(drawing.Text{At: point{X: 16, Y: 260}, Size: 3.5, Mono: true, String: "0123456789 36 5⁄16″ Il1|O0 mono"})
	l.Text(drawing.Text{At: point{X: 16, Y: 254}, Size: 3.5, Mono: true, Bold: true, String: "0123456789 36 5⁄16″ Il1|O0 mono bold"})

	for i, w := range []float64{drawing.Fine, drawing.Thin, drawing.Medium, drawing.Thick, drawing.Heavy, 1, 1.4} {
		y := 246 - 5*float64(i)
		l.Line(point{X: 16, Y: y}, point{X: 70, Y: y}, drawing.Stroke{Ink: drawing.Line, Width: w})
		l.Line(point{X: 76, Y: y}, point{X: 130, Y: y - 3}, drawing.Hidden(drawing.Line, w))
		l.Line(point{X: 136, Y: y}, point{X: 190, Y: y + 3}, drawing.Centre(drawing.Line, w))
	}
	// Corners: gentle, square, sharp; open and closed; dashed round corners.
	thick := drawing.Stroke{Ink: drawing.Line, Width: 2}
	l.Polyline([]point{{X: 20, Y: 185}, {X: 40, Y: 205}, {X: 60, Y: 200}, {X: 60, Y: 185}, {X: 45, Y: 185}, {X: 58, Y: 196}}, false, thick)
	l.Polyline([]point{{X: 70, Y: 185}, {X: 100, Y: 185}, {X: 100, Y: 205}, {X: 70, Y: 205}}, true, thick)
	l.Polyline([]point{{X: 110, Y: 185}, {X: 140, Y: 185}, {X: 125, Y: 208}}, true, thick)
	l.Polyline([]point{{X: 150, Y: 185}, {X: 185, Y: 185}, {X: 185, Y: 205}, {X: 150, Y: 205}}, true, drawing.Stroke{Ink: drawing.Line, Width: 1, Dash: []float64{5, 2}})

	for i, p := range []drawing.Pattern{drawing.Plain, drawing.Diagonal, drawing.BackDiagonal, drawing.CrossHatch, drawing.Level} {
		x := 16 + 24*float64(i)
		inks := []drawing.Ink{drawing.Wood, drawing.Wall, drawing.Ground, drawing.None, drawing.Painted}
		l.Polygon([]point{{X: x, Y: 160}, {X: x + 20, Y: 158}, {X: x + 20, Y: 175}, {X: x + 10, Y: 168}, {X: x, Y: 175}}, drawing.Fill{Ink: inks[i], Hatch: drawing.Hatch{Pattern: p}}, line)
	}
	l.Circle(point{X: 150, Y: 167}, 8, drawing.Fill{Ink: drawing.Wood}, line)
	l.Circle(point{X: 170, Y: 167}, 8, drawing.Fill{Ink: drawing.Wall, Hatch: drawing.Hatch{Pattern: drawing.Diagonal}}, drawing.Hidden(drawing.Line, drawing.Thin))
	l.Arc(point{X: 185, Y: 160}, 12, math.Pi/6, math.Pi, line)
	l.Dot(point{X: 185, Y: 160}, 1, drawing.Fill{Ink: drawing.Line}, drawing.Stroke{})
	l.Dot(point{X: 190, Y: 164}, 1.2, drawing.Fill{Ink: drawing.Paper}, line)
	l.Square(point{X: 194, Y: 160}, 1.2, drawing.Fill{Ink: drawing.SelectWash}, drawing.Stroke{Ink: drawing.Select, Width: drawing.Thin})

	// Dimensions round a shape a little out of square, both ways, and short.
	quad := []point{{X: 30, Y: 100}, {X: 90, Y: 102}, {X: 88, Y: 140}, {X: 31, Y: 138}}
	l.Polygon(quad, drawing.Fill{Ink: drawing.Wood}, line)
	labels := []string{"36\u202f5⁄16″", "10\u202f7⁄8″", "36\u202f1⁄4″", "10\u202f13⁄16″"}
	for i, p := range quad {
		l.Dimension(p, quad[(i+1)%4], -8, labels[i], thin)
	}
	l.Dimension(quad[0], quad[1], 6, "inside", thin)
	l.Dimension(point{X: 120, Y: 100}, point{X: 124, Y: 100}, -6, "1⁄8″ short", thin)
	l.Dimension(point{X: 190, Y: 100}, point{X: 190, Y: 96}, 6, "short", thin)
	l.Line(point{X: 120, Y: 100}, point{X: 124, Y: 100}, line)
	for i := range 12 {
		a := float64(i) * math.Pi / 6
		c := point{X: 150, Y: 128}
		dir := point{X: math.Cos(a), Y: math.Sin(a)}
		l.Arrow(c.Add(dir.Mul(8)), c.Add(dir.Mul(20)), drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
	}
	for i, a := range []drawing.Align{drawing.AlignStart, drawing.AlignMiddle, drawing.AlignEnd} {
		for j, b := range []drawing.Baseline{drawing.BaseLine, drawing.BaseMiddle, drawing.BaseTop} {
			p := point{X: 40 + 25*float64(i), Y: 80 - 10*float64(j)}
			l.Line(p.Add(point{X: -8}), p.Add(point{X: 8}), thin)
			l.Line(p.Add(point{Y: -3}), p.Add(point{Y: 3}), thin)
			l.Text(drawing.Text{At: p, Size: 4, Align: a, Baseline: b, String: "H8g"})
		}
	}
	for i := range 12 {
		l.Text(drawing.Text{At: point{X: 150, Y: 70}, Size: 3.2, Angle: float64(i) * math.Pi / 6, Baseline: drawing.BaseMiddle, String: "      turned ⅝″"})
	}
	for i := range 20 {
		x := 16 + 2*float64(i)
		l.Line(point{X: x, Y: 35}, point{X: x, Y: 48}, line)
	}
	l.Text(drawing.Text{At: point{X: 18, Y: 40}, Size: 4, Bold: true, Halo: true, String: "halo 36 5⁄16″"})
	inks := []drawing.Ink{drawing.Select, drawing.Hold, drawing.Good, drawing.Caution, drawing.Bad, drawing.LetterSoft}
	washes := []drawing.Ink{drawing.SelectWash, drawing.HoldWash, drawing.GoodWash, drawing.CautionWash, drawing.BadWash, drawing.Existing}
	for i, ink := range inks {
		x := 65 + 22*float64(i)
		l.Polygon([]point{{X: x, Y: 35}, {X: x + 20, Y: 35}, {X: x + 20, Y: 45}, {X: x, Y: 45}}, drawing.Fill{Ink: washes[i]}, drawing.Stroke{Ink: ink, Width: drawing.Thin})
		l.Text(drawing.Text{At: point{X: x + 10, Y: 40}, Size: 3.2, Align: drawing.AlignMiddle, Baseline: drawing.BaseMiddle, Ink: ink, String: ink.String()})
	}
}
