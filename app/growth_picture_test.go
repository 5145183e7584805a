package main_test

import (
	"bufio"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"risewright/view/drawing"
	"risewright/view/drawing/screen"
)

// curve is how long a stage takes by the number of steps.
type curve struct {
	says string
	at   []int
	ms   []float64
}

var growthLine = regexp.MustCompile(`^BenchmarkGrowth/([a-z]+)/(\d+)(?:-\d+)?\s+\d+\s+([\d.]+) ns/op`)

// growthOf reads the curves off what go test -bench said.
func growthOf(text string) []curve {
	var out []curve
	for _, s := range stages() {
		c := curve{says: s.says}
		lines := bufio.NewScanner(strings.NewReader(text))
		for lines.Scan() {
			m := growthLine.FindStringSubmatch(lines.Text())
			if m == nil || m[1] != s.name {
				continue
			}
			n, _ := strconv.Atoi(m[2]) // digits both
			ns, _ := strconv.ParseFloat(m[3], 64)
			c.at, c.ms = append(c.at, n), append(c.ms, ns/1e6)
		}
		if len(c.at) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// power returns the exponent of the growth from the first to the last flight: 1
// is in proportion to the steps.
func (c *curve) power() float64 {
	last := len(c.at) - 1
	return math.Log(c.ms[last]/c.ms[0]) / math.Log(float64(c.at[last])/float64(c.at[0]))
}

// growthTable writes the curves as a table in Markdown.
func growthTable(cs []curve) string {
	var steps []int
	for _, c := range cs {
		for _, n := range c.at {
			if !slices.Contains(steps, n) {
				steps = append(steps, n)
			}
		}
	}
	slices.Sort(steps)
	var b strings.Builder
	b.WriteString("| ms, by steps |")
	for _, n := range steps {
		fmt.Fprintf(&b, " %d |", n)
	}
	b.WriteString(" grows as |\n|---|" + strings.Repeat("---|", len(steps)+1) + "\n")
	for i := range cs {
		c := &cs[i]
		fmt.Fprintf(&b, "| %s |", c.says)
		for _, n := range steps {
			if k := slices.Index(c.at, n); k >= 0 {
				fmt.Fprintf(&b, " %s |", threeDigits(c.ms[k]))
			} else {
				b.WriteString(" – |")
			}
		}
		if len(c.at) > 1 {
			fmt.Fprintf(&b, " steps^%.2f |\n", c.power())
		} else {
			b.WriteString(" |\n")
		}
	}
	return b.String()
}

// threeDigits writes a figure with as many digits as it deserves.
func threeDigits(v float64) string {
	switch {
	case v < 10:
		return fmt.Sprintf("%.2f", v)
	case v < 100:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

// Of the picture, in paper mm.
const (
	chartWide, chartHigh = 240.0, 160.0
	chartLeft, chartLow  = 26.0, 18.0
	chartPlot, chartTall = 150.0, 134.0
)

// drawGrowth draws the curves: time against steps, both by tenfolds, each curve
// named at its end and told apart by dashes and marks as well as by place.
func drawGrowth(l *drawing.List, cs []curve) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range cs {
		lo, hi = min(lo, slices.Min(c.ms)), max(hi, slices.Max(c.ms))
	}
	lo, hi = math.Floor(math.Log10(lo)), math.Ceil(math.Log10(hi))
	const first, last = 10.0, 1000.0
	x := func(n float64) float64 {
		return chartLeft + chartPlot*math.Log10(n/first)/math.Log10(last/first)
	}
	y := func(ms float64) float64 { return chartLow + chartTall*(math.Log10(ms)-lo)/(hi-lo) }
	pt := func(n, ms float64) drawing.Point { return drawing.Point{X: x(n), Y: y(ms)} }
	thin := drawing.Stroke{Ink: drawing.Soft, Width: drawing.Fine}
	for p := lo; p <= hi; p++ {
		at := math.Pow(10, p)
		l.Line(pt(first, at), pt(last, at), thin)
		name := fmt.Sprintf("%g ms", at)
		if at >= 1000 {
			name = fmt.Sprintf("%g s", at/1000)
		}
		l.Text(drawing.Text{At: drawing.Point{X: chartLeft - 2, Y: y(at)}, Align: drawing.AlignEnd, Baseline: drawing.BaseMiddle, String: name})
	}
	for _, n := range []float64{14, 50, 100, 300, 1000} {
		l.Line(pt(n, math.Pow(10, lo)), pt(n, math.Pow(10, hi)), thin)
		l.Text(drawing.Text{At: drawing.Point{X: x(n), Y: chartLow - 5}, Align: drawing.AlignMiddle, String: fmt.Sprint(n)})
	}
	l.Text(drawing.Text{At: drawing.Point{X: chartLeft + chartPlot/2, Y: 6}, Align: drawing.AlignMiddle, String: "steps of the flight"})
	// What grows in proportion runs along this.
	guide := drawing.Stroke{Ink: drawing.Letter, Width: drawing.Thin, Dash: []float64{0.6, 1.6}}
	from := math.Pow(10, lo) * 1.5
	l.Line(pt(14, from), pt(1000, from*1000/14), guide)
	turn := math.Atan2(y(from*10)-y(from), x(100)-x(10))
	l.Text(drawing.Text{At: drawing.Point{X: x(30), Y: y(from*30/14) - 5}, Angle: turn, Halo: true, String: "in proportion to steps"})
	dashes := [][]float64{nil, {4, 1.5}, {1.5, 1.2}, {6, 1.5, 1, 1.5}}
	type label struct {
		at, to drawing.Point
		text   string
	}
	var labels []label
	for i, c := range cs {
		s := drawing.Stroke{Ink: drawing.Line, Width: drawing.Heavy, Dash: dashes[i%len(dashes)]}
		var pts []drawing.Point
		for k := range c.at {
			pts = append(pts, pt(float64(c.at[k]), c.ms[k]))
		}
		l.Polyline(pts, false, s)
		for _, p := range pts {
			fill := drawing.Fill{Ink: drawing.Line}
			if i/len(dashes)%2 == 1 {
				fill = drawing.Fill{Ink: drawing.Paper}
			}
			if i%2 == 0 {
				l.Dot(p, 1.3, fill, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
			} else {
				l.Square(p, 1.2, fill, drawing.Stroke{Ink: drawing.Line, Width: drawing.Thin})
			}
		}
		end := pts[len(pts)-1]
		labels = append(labels, label{at: end, to: drawing.Point{X: chartLeft + chartPlot + 6, Y: end.Y}, text: c.says})
	}
	// Names stand at the right, as near to their curves' ends as others let them.
	slices.SortStableFunc(labels, func(a, b label) int { return int(math.Copysign(1, b.at.Y-a.at.Y)) })
	const room = 5.2
	for range 200 {
		for i := 1; i < len(labels); i++ {
			if d := room - (labels[i-1].to.Y - labels[i].to.Y); d > 0 {
				labels[i-1].to.Y += d / 2
				labels[i].to.Y -= d / 2
			}
		}
	}
	for _, b := range labels {
		l.Line(b.at.Add(drawing.Point{X: 1.6}), b.to.Add(drawing.Point{X: -1}), thin)
		l.Text(drawing.Text{At: b.to, Baseline: drawing.BaseMiddle, String: b.text})
	}
}

// TestGrowthPicture draws what BenchmarkGrowth said, from the file that
// RISEWRIGHT_GROWTH names, into assets/growth.png, and prints its table:
// .dev/bench growth does both. Without, it draws invented figures and looks at
// what it drew.
func TestGrowthPicture(t *testing.T) {
	named := os.Getenv("RISEWRIGHT_GROWTH")
	var text string
	if named != "" {
		data, err := os.ReadFile(named)
		must(t, err)
		text = string(data)
	} else {
		for i, s := range stages() {
			for _, n := range []int{14, 100, 1000} {
				text += fmt.Sprintf("BenchmarkGrowth/%s/%d-2 \t 5\t %d ns/op\n", s.name, n, n*100_000*(i+1))
			}
		}
	}
	cs := growthOf(text)
	if len(cs) == 0 || named == "" && len(cs) != len(stages()) {
		t.Fatalf("%d curves in %q", len(cs), named)
	}
	if named == "" {
		if p := cs[1].power(); math.Abs(p-1) > 1e-9 {
			t.Errorf("what grows in proportion is said to grow as steps^%g", p)
		}
		if got := growthTable(cs); !strings.Contains(got, "| solve after a drag | 2.80 | 20.0 | 200 | steps^1.00 |") {
			t.Error(got)
		}
	}
	var l drawing.List
	drawGrowth(&l, cs)
	must(t, l.Check())
	const paper = 6.0 // pixels per mm
	img := image.NewRGBA(image.Rect(0, 0, chartWide*paper, chartHigh*paper))
	var r screen.Renderer
	r.Draw(img, &l, drawing.Viewport{Scale: paper, Paper: paper, Origin: drawing.Point{Y: chartHigh * paper}}, drawing.Light())
	if named == "" {
		dark := 0
		for i := 0; i < len(img.Pix); i += 4 {
			if img.Pix[i] < 100 {
				dark++
			}
		}
		if share := float64(dark) / float64(len(img.Pix)/4); share < 0.005 || share > 0.2 {
			t.Errorf("%.1f %% of the picture is ink", 100*share)
		}
		return
	}
	f, err := os.Create("../assets/growth.png")
	must(t, err)
	must(t, png.Encode(f, img))
	must(t, f.Close())
	fmt.Print(growthTable(cs))
}
