package blanks_test

import (
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"risewright/model"
	"risewright/solver/stock"
	"risewright/view/blanks"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
)

// rects returns the boxes of an ink; hatched ones have none.
func rects(l *drawing.List, ink drawing.Ink) (out [][2]drawing.Point) {
	for _, it := range l.Items() {
		if it.Kind == drawing.KindPolygon && it.Fill.Ink == ink {
			out = append(out, [2]drawing.Point{it.Points[0], it.Points[2]})
		}
	}
	return out
}

func boards() *stock.CutPlan {
	c := &stock.CutPlan{Use: model.UseTread, Width: 286}
	c.Cutting = stock.Cutting{Kerf: 3, Trim: 10,
		Parts:  []stock.Part{{Name: "T01", Length: 900}, {Name: "T02", Length: 880}, {Name: "T03", Length: 905}, {Name: "spare", Length: 905}},
		Boards: []stock.Board{{Name: "2.0 m", Length: 2000, Price: 40}, {Name: "3.0 m", Length: 3000, Price: 58}}}
	c.Result = c.Cutting.Cut()
	return c
}

// Every part lies on its board, to scale, and clear of the others by a kerf.
func TestBoardsToScale(t *testing.T) {
	c := boards()
	var l drawing.List
	const wide = 203.0
	blanks.Boards(&l, c, blanks.Options{Width: wide})
	if err := l.Check(); err != nil {
		t.Fatal(err)
	}
	longest, parts := 0.0, 0
	for _, lay := range c.Result.Layouts {
		longest = math.Max(longest, c.Cutting.Boards[lay.Board].Length)
		parts += len(lay.Cuts)
	}
	k := (wide - 3) / longest
	got := rects(&l, drawing.Wood)
	if len(got) != parts || parts != len(c.Cutting.Parts) {
		t.Fatalf("%d parts are drawn, %d are cut of %d", len(got), parts, len(c.Cutting.Parts))
	}
	n := 0
	for _, lay := range c.Result.Layouts {
		for i, cut := range lay.Cuts {
			r := got[n]
			n++
			if d := math.Abs((r[1].X - r[0].X) - cut.Length*k); d > 1e-9 {
				t.Errorf("part %d is off its length by %g", cut.Part, d)
			}
			if i > 0 {
				gap := (r[0].X - got[n-2][1].X) / k
				if math.Abs(gap-c.Cutting.Kerf) > 1e-6 {
					t.Errorf("%g mm between two parts, the kerf is %g", gap, c.Cutting.Kerf)
				}
			}
		}
	}
	lo, hi := l.Bounds()
	if lo.X < 0 || lo.Y < 0 || hi.X > wide || hi.Y > blanks.BoardsTall(c) {
		t.Errorf("the map reaches from %v to %v", lo, hi)
	}
}

func TestSheetsToScale(t *testing.T) {
	c := &stock.SheetPlan{Use: model.UseRiser}
	c.Cutting = stock.SheetCutting{Kerf: 3, Trim: 5,
		Panels: []stock.Panel{{Name: "R01", Length: 900, Width: 180}, {Name: "R02", Length: 880, Width: 185}, {Name: "R03", Length: 905, Width: 182}},
		Sheets: []stock.Sheet{{Name: "2440 by 1220", Length: 2440, Width: 1220, Price: 50}}}
	c.Result = c.Cutting.Cut()
	var l drawing.List
	const wide = 150.0
	blanks.Sheets(&l, c, blanks.Options{Width: wide})
	k := (wide - 3) / 2440
	got := rects(&l, drawing.Wood)
	if len(got) != 3 {
		t.Fatalf("%d panels are drawn", len(got))
	}
	for i, a := range got {
		for _, b := range got[:i] {
			if math.Min(a[1].X, b[1].X)-math.Max(a[0].X, b[0].X) > 1e-9 && math.Min(a[1].Y, b[1].Y)-math.Max(a[0].Y, b[0].Y) > 1e-9 {
				t.Errorf("two panels lie over each other: %v and %v", a, b)
			}
		}
		if w := (a[1].X - a[0].X) / k; w < 879 || w > 906 {
			t.Errorf("a panel of %g mm", w)
		}
	}
	if lo, hi := l.Bounds(); lo.Y < 0 || hi.Y > blanks.SheetsTall(c, wide) {
		t.Errorf("the map reaches from %v to %v of %g", lo, hi, blanks.SheetsTall(c, wide))
	}
}

// TestLook writes a picture for eyes when RISEWRIGHT_LOOK names a folder.
func TestLook(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write pictures for eyes")
	}
	c := boards()
	var l drawing.List
	blanks.Boards(&l, c, blanks.Options{Width: 150})
	s := drawing.PaperScale(1)
	tall := blanks.BoardsTall(c)
	dst := image.NewRGBA(image.Rect(0, 0, int(150*s), int(tall*s)))
	var r screen.Renderer
	r.Draw(dst, &l, drawing.Viewport{Scale: s, Paper: s, Origin: drawing.Point{Y: tall * s}}, drawing.Light())
	f, err := os.Create(filepath.Join(dir, "blanks.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, dst); err != nil {
		t.Fatal(err)
	}
}
