package template_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"risewright/view/drawing"
	"risewright/view/template"
)

// pagesOf returns every page that a shape can become, by paper.
func pagesOf(t *testing.T, s *template.Shape, o template.Options) map[string][]drawing.Page {
	t.Helper()
	whole, err := template.Whole(s, o)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]drawing.Page{"whole": {whole}}
	for name, p := range map[string][2]float64{"A4": {210, 297}, "Letter": {215.9, 279.4}} {
		pages, err := template.Tiled(s, p[0], p[1], o)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = pages
	}
	return out
}

func words(p *drawing.Page) string {
	var out []string
	for _, it := range p.Items() {
		if it.Kind == drawing.KindText {
			out = append(out, it.Text.String)
		}
	}
	return strings.Join(out, " ")
}

// TestLayout looks on every page for lettering that is cut off, lies over other
// lettering or over a line to cut to, and for anything outside the paper.
func TestLayout(t *testing.T) {
	for _, s := range many(t) {
		for paper, pages := range pagesOf(t, &s, options()) {
			for i := range pages {
				p := &pages[i]
				if err := p.Check(); err != nil {
					t.Fatal(err)
				}
				for _, fault := range drawing.TextFaults(&p.List, drawing.Point{X: 5, Y: 5}, drawing.Point{X: p.Width - 5, Y: p.Height - 5}) {
					// On upright rectangles; turned lettering is looked at below.
					if !strings.Contains(fault, " lies over ") || !turned(p, fault) {
						t.Errorf("%s on %s, %s: %s", s.ID, paper, p.Name, fault)
					}
				}
				lo, hi := p.Extent(drawing.Identity())
				if lo.X < 4.9 || lo.Y < 4.9 || hi.X > p.Width-4.9 || hi.Y > p.Height-4.9 {
					t.Errorf("%s on %s, %s draws on the edge of the paper: %v to %v of %v by %v", s.ID, paper, p.Name, lo, hi, p.Width, p.Height)
				}
				if paper == "whole" || i > 0 {
					onCutLine(t, p)
				}
			}
		}
	}
}

// turned says whether lettering at an angle takes part in a fault.
func turned(p *drawing.Page, fault string) bool {
	for _, it := range p.Items() {
		if it.Kind == drawing.KindText && it.Text.Angle != 0 && strings.Contains(fault, fmt.Sprintf("%q", it.Text.String)) {
			return true
		}
	}
	return false
}

// onCutLine looks for lettering, whatever its angle, over a line to cut to, by
// points along the middle of the letters.
func onCutLine(t *testing.T, p *drawing.Page) {
	t.Helper()
	var lines [][2]drawing.Point
	for _, it := range p.Items() {
		if it.Kind == drawing.KindPolyline && it.Stroke.Ink == drawing.Line {
			for i := range it.Points {
				if i+1 < len(it.Points) || it.Closed {
					lines = append(lines, [2]drawing.Point{it.Points[i], it.Points[(i+1)%len(it.Points)]})
				}
			}
		}
	}
	for _, it := range p.Items() {
		w := it.Text
		if it.Kind != drawing.KindText || w.Align != drawing.AlignMiddle || w.Baseline != drawing.BaseMiddle {
			continue
		}
		sin, cos := math.Sincos(w.Angle)
		half := drawing.TextWidth(w.String, w.Size, w.Bold, w.Mono) / 2
		for d := drawing.CapHeight(w.Size)/2 - half; d <= half-drawing.CapHeight(w.Size)/2; d += 0.5 {
			if gap := nearest(w.At.Add(drawing.Point{X: d * cos, Y: d * sin}), lines); gap < drawing.CapHeight(w.Size)/2 {
				t.Errorf("%s: %q lies over a line to cut to", p.Name, w.String)
				break
			}
		}
	}
}

// barLengths returns the lengths of the check bars on a page: the level lines
// of exactly one of the two lengths with an upright line at either end.
func barLengths(p *drawing.Page) (metric, imperial int) {
	for _, it := range p.Items() {
		if it.Kind != drawing.KindLine || it.Points[0].Y != it.Points[1].Y {
			continue
		}
		a, b := it.Points[0], it.Points[1]
		ends := 0
		for _, e := range p.Items() {
			if e.Kind == drawing.KindLine && e.Points[0].X == e.Points[1].X && (e.Points[0] == a || e.Points[0] == b) {
				ends++
			}
		}
		switch {
		case ends == 2 && math.Abs(b.X-a.X-100) < 1e-9:
			metric++
		case ends == 2 && math.Abs(b.X-a.X-101.6) < 1e-9:
			imperial++
		}
	}
	return metric, imperial
}

// TestEveryPageSays holds every page to the check bars, the caution to measure
// them, the piece's name, and the hold.
func TestEveryPageSays(t *testing.T) {
	for _, s := range many(t) {
		for paper, pages := range pagesOf(t, &s, options()) {
			for i := range pages {
				p := &pages[i]
				text := words(p)
				for _, want := range []string{"MEASURE BOTH BARS BEFORE YOU CUT", s.ID, "Mill Cottage · survey revision 12"} {
					if !strings.Contains(text, want) {
						t.Errorf("%s on %s, %s does not say %q", s.ID, paper, p.Name, want)
					}
				}
				if held := strings.Contains(text, "NOT RELEASED · DO NOT CUT"); held != (s.Held != "") {
					t.Errorf("%s on %s, %s: says that it is held: %v", s.ID, paper, p.Name, held)
				}
				if m, in := barLengths(p); m != 1 || in != 1 {
					t.Errorf("%s on %s, %s: %d bars of 100 mm and %d of 4 in", s.ID, paper, p.Name, m, in)
				}
				if paper != "whole" && i > 0 && !strings.Contains(text, "Neighbours: left ") {
					t.Errorf("%s on %s, %s does not say its neighbours", s.ID, paper, p.Name)
				}
			}
		}
	}
}

// TestNeighboursAgree reads the neighbours off every sheet: what lies right of
// A1 must have A1 at its left.
func TestNeighboursAgree(t *testing.T) {
	s := shapeOf(t, "T03")
	pages, err := template.Tiled(&s, 210, 297, options())
	if err != nil {
		t.Fatal(err)
	}
	said := map[string][4]string{}
	for i := range pages[1:] {
		_, name, _ := strings.Cut(pages[1+i].Name, " ")
		_, list, _ := strings.Cut(words(&pages[1+i]), "Neighbours: left ")
		list, _, _ = strings.Cut(list, ".")
		f := strings.FieldsFunc(list, func(r rune) bool { return r == ' ' || r == ',' })
		// left A, right B, above C, below D
		said[name] = [4]string{f[0], f[2], f[4], f[6]}
	}
	back := [4]int{1, 0, 3, 2}
	met := 0
	for name, n := range said {
		for k, other := range n {
			if other == "none" {
				continue
			}
			met++
			if said[other][back[k]] != name {
				t.Errorf("%s has %s at side %d, which has %s there", name, other, k, said[other][back[k]])
			}
		}
	}
	if met < 20 {
		t.Errorf("only %d neighbours", met)
	}
}

func TestSameShapeGivesSamePages(t *testing.T) {
	a, b := shapeOf(t, "T03"), shapeOf(t, "T03")
	pa, pb := pagesOf(t, &a, options()), pagesOf(t, &b, options())
	for paper := range pa {
		for i := range pa[paper] {
			if pa[paper][i].Dump() != pb[paper][i].Dump() {
				t.Errorf("%s, page %d differs", paper, i+1)
			}
		}
	}
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	square := []drawing.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	long := []drawing.Point{{X: 0, Y: 0}, {X: 60000, Y: 0}, {X: 60000, Y: 100}}
	wide := []drawing.Point{{X: 0, Y: 0}, {X: 9000, Y: 0}, {X: 9000, Y: 9000}, {X: 0, Y: 9000}}
	for _, c := range []struct {
		name          string
		points        []drawing.Point
		width, height float64
		want          string
	}{
		{"empty", nil, 210, 297, "no line to cut to"},
		{"not a number", []drawing.Point{{X: math.NaN()}, {X: 1}, {X: 2}}, 210, 297, "not a number"},
		{"infinite", []drawing.Point{{X: math.Inf(1)}, {X: 1}, {X: 2}}, 210, 297, "not a number"},
		{"too long", long, 210, 297, "60000 by 100 mm"},
		{"too many sheets", wide, 210, 297, "more than 300 sheets"},
		{"small paper", square, 105, 148, "at least 190 mm"},
		{"no paper", square, 0, math.NaN(), "at least 190 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := template.Outline("X1", "", c.points, nil)
			if _, err := template.Tiled(&s, c.width, c.height, options()); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

// TestStrangeWords writes what a user might type.
func TestStrangeWords(t *testing.T) {
	s := small()
	s.ID, s.Title, s.Held = "T0\n7 😀", strings.Repeat("very long title ", 20), "why\tnot 漢字"
	o := options()
	o.Stamp = strings.Repeat("a long name ", 30)
	for _, pages := range pagesOf(t, &s, o) {
		for i := range pages {
			for _, fault := range drawing.TextFaults(&pages[i].List, drawing.Point{}, drawing.Point{X: pages[i].Width, Y: pages[i].Height}) {
				if !turned(&pages[i], fault) {
					t.Error(fault)
				}
			}
		}
	}
}
