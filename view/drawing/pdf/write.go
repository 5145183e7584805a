package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"risewright/assets"
	"risewright/view/drawing"
)

// Meta is what a file says about itself.
type Meta struct {
	Title   string
	Subject string
	Author  string    // may be empty
	Creator string    // the program that made the drawing; may be empty
	Date    time.Time // of making; must be given, because a writer reads no clock
	// Palette colours the inks. The zero value means drawing.Print.
	Palette drawing.Palette
}

// Write writes pages, each as large as it says, to w. Nothing is written
// unless every page can be.
func Write(w io.Writer, pages []drawing.Page, meta Meta) error {
	if len(pages) == 0 {
		return errors.New("pdf: no pages to write")
	}
	if meta.Date.IsZero() {
		return errors.New("pdf: Meta.Date is missing; pass the time of making")
	}
	if meta.Palette == (drawing.Palette{}) {
		meta.Palette = drawing.Print()
	}
	for i := range pages {
		p := &pages[i]
		if !(p.Width > 0 && p.Width <= largestPage && p.Height > 0 && p.Height <= largestPage) {
			return fmt.Errorf("pdf: page %d (%s) is %g by %g mm; each side must be above 0 and at most %d",
				i+1, p.Name, p.Width, p.Height, largestPage)
		}
		if err := p.Check(); err != nil {
			return fmt.Errorf("pdf: page %d (%s): %w", i+1, p.Name, err)
		}
	}

	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	f.SetCatalogSort(true)
	f.SetCreationDate(meta.Date.UTC())
	f.SetModificationDate(meta.Date.UTC())
	f.SetProducer("Risewright", true)
	f.SetTitle(meta.Title, true)
	f.SetSubject(meta.Subject, true)
	f.SetAuthor(meta.Author, true)
	f.SetCreator(meta.Creator, true)
	f.SetLang(fullSize)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineCapStyle("butt")
	f.SetLineJoinStyle("miter")

	s := &sheet{f: f, palette: meta.Palette}
	var lower drawing.Lowering
	for i := range pages {
		p := &pages[i]
		f.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		f.RawWriteStr(mitreLimit)
		s.height, s.alpha, s.dashed = p.Height, 255, false
		if len(pages) > 1 && p.Name != "" {
			s.font(false, false, drawing.LetterSize)
			f.Bookmark(p.Name, 0, 0)
		}
		lower.Max = drawing.Point{X: p.Width, Y: p.Height}
		lower.Run(&p.List, drawing.Identity(), s)
	}
	if err := f.Output(w); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

// largestPage is the longest side a PDF page may have, in millimetres: 14,400
// units of 1/72 inch (ISO 32000-1, Annex C, from memory).
const largestPage = 5080

// mitreLimit cuts off corners that turn more sharply than 105°, as on the
// screen: 1/sin(75°/2) = 1.643.
const mitreLimit = "1.643 M"

// fullSize carries a viewer preference into the file's catalogue by way of its
// language. The library has no call for viewer preferences, and writes the
// language as it stands between brackets, so this closes them and opens
// others. A test reads the preference back with qpdf.
const fullSize = "en) /ViewerPreferences << /PrintScaling /None >> /RisewrightNote (full size"

// sheet is a drawing.Sink that writes on the current page.
type sheet struct {
	f       *fpdf.Fpdf
	palette drawing.Palette
	height  float64 // of the page
	added   [4]bool // faces in the file so far
	alpha   uint8
	dashed  bool
}

var _ drawing.PictureSink = (*sheet)(nil)

// Path implements drawing.Sink.
func (s *sheet) Path(pts []drawing.Point, closed bool, fill drawing.Ink, stroke drawing.Stroke) {
	if len(pts) < 2 || (fill == drawing.None && stroke.Ink == drawing.None) {
		return
	}
	if !closed {
		fill = drawing.None
	}
	s.paint(fill, stroke, func() {
		s.f.MoveTo(pts[0].X, s.height-pts[0].Y)
		for _, p := range pts[1:] {
			s.f.LineTo(p.X, s.height-p.Y)
		}
		if closed {
			s.f.ClosePath()
		}
	})
}

// Picture implements drawing.PictureSink. A picture shown twice is in the file
// once.
func (s *sheet) Picture(min, max drawing.Point, p *drawing.Picture) {
	opts := fpdf.ImageOptions{ImageType: "JPG"}
	name := p.Name()
	s.f.RegisterImageOptionsReader(name, opts, bytes.NewReader(p.JPEG))
	s.f.ImageOptions(name, min.X, s.height-max.Y, max.X-min.X, max.Y-min.Y, false, opts, 0, "")
}

// Arc implements drawing.Sink. The curve is cut into cubic pieces of an eighth
// of a turn at most, which stray from the circle by 4 parts in a million of
// its radius.
func (s *sheet) Arc(c drawing.Point, r, from, to float64, fill drawing.Ink, stroke drawing.Stroke) {
	if fill == drawing.None && stroke.Ink == drawing.None {
		return
	}
	s.paint(fill, stroke, func() {
		n := max(1, int(math.Ceil(math.Abs(to-from)/(math.Pi/4))))
		step := (to - from) / float64(n)
		k := 4.0 / 3 * math.Tan(step/4) * r
		at := func(a float64) (x, y, tx, ty float64) {
			sin, cos := math.Sincos(a)
			return c.X + r*cos, c.Y + r*sin, -sin, cos
		}
		x, y, tx, ty := at(from)
		s.f.MoveTo(x, s.height-y)
		for i := range n {
			ex, ey, etx, ety := at(from + step*float64(i+1))
			s.f.CurveBezierCubicTo(x+k*tx, s.height-(y+k*ty), ex-k*etx, s.height-(ey-k*ety), ex, s.height-ey)
			x, y, tx, ty = ex, ey, etx, ety
		}
		if math.Abs(to-from) >= 2*math.Pi-1e-9 {
			s.f.ClosePath()
		}
	})
}

// paint fills and strokes the path that draw makes. When fill and stroke are
// see-through to different degrees it takes two goes.
func (s *sheet) paint(fill drawing.Ink, stroke drawing.Stroke, draw func()) {
	if fill != drawing.None && stroke.Ink != drawing.None && s.palette[fill].A != s.palette[stroke.Ink].A {
		s.paint(fill, drawing.Stroke{}, draw)
		s.paint(drawing.None, stroke, draw)
		return
	}
	style := ""
	if fill != drawing.None {
		c := s.palette[fill]
		s.f.SetFillColor(int(c.R), int(c.G), int(c.B))
		s.opacity(c.A)
		style += "F"
	}
	if stroke.Ink != drawing.None {
		c := s.palette[stroke.Ink]
		s.f.SetDrawColor(int(c.R), int(c.G), int(c.B))
		s.opacity(c.A)
		s.f.SetLineWidth(stroke.Width)
		if dash := dashable(stroke.Dash); dash || s.dashed {
			if dash {
				s.f.SetDashPattern(stroke.Dash, 0)
			} else {
				s.f.SetDashPattern(nil, 0)
			}
			s.dashed = dash
		}
		style += "D"
	}
	draw()
	s.f.DrawPath(style)
}

// dashable reports whether PDF takes the dashes: none negative, not all zero.
func dashable(dash []float64) bool {
	sum := 0.0
	for _, d := range dash {
		if d < 0 {
			return false
		}
		sum += d
	}
	return sum > 0.01
}

func (s *sheet) opacity(a uint8) {
	if a != s.alpha {
		s.alpha = a
		s.f.SetAlpha(float64(a)/255, "Normal")
	}
}

// font chooses an embedded face, adding it to the file on first use.
func (s *sheet) font(bold, mono bool, size float64) {
	family, style := "dejavusanscondensed", ""
	if mono {
		family = "dejavusansmono"
	}
	if bold {
		style = "B"
	}
	if i := drawing.FaceIndex(bold, mono); !s.added[i] {
		s.added[i] = true
		s.f.AddUTF8FontFromBytes(family, style, assets.Font(bold, mono))
	}
	s.f.SetFont(family, style, size*s.f.GetConversionRatio())
}
