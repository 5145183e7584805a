package screen

import (
	"image"
	"math"

	"golang.org/x/image/vector"
	"image/draw"

	"risewright/view/drawing"
)

// lettering keeps glyphs as they were painted, so that each is worked out once.
type lettering struct {
	raster   vector.Rasterizer
	outlines map[glyphShape][]drawing.Segment
	glyphs   map[glyphKey]glyph
	slab     []uint8 // the alpha of every glyph, end to end
	plain    []uint8 // scratch of the halo maker
	limit    int     // bytes the slab may take; zero means largestSlab
}

// largestSlab bounds what glyphs may keep, in bytes; when it is full all are
// forgotten and begun again. A drawing's own letters take a few hundred
// kilobytes; only lettering that turns at every frame ever fills it.
const largestSlab = 4 << 20

// largestText is the largest font painted, in pixels.
const largestText = 512

// haloWidth is how far a halo reaches, in paper millimetres.
const haloWidth = 0.45

// Steps in which glyph places, sizes and turns are told apart. A quarter pixel
// and an eleventh of a degree are below what can be seen in a letter.
const (
	placeSteps = 4
	sizeSteps  = 16
	turnSteps  = 4096
)

type glyphShape struct {
	face  uint8
	glyph drawing.Glyph
}

type glyphKey struct {
	glyphShape
	size   uint16 // sixteenths of a pixel
	turn   uint16 // of turnSteps
	sx, sy uint8  // of placeSteps
	halo   uint8  // width in sixteenths of a pixel; 0 for the glyph itself
}

// glyph is where a painted glyph lies in the slab, and how its box lies about
// the pen's whole pixel.
type glyph struct {
	at, w, h int32
	left     int32
	top      int32
}

// text paints one line of lettering.
func (r *Renderer) text(t drawing.Text) {
	pen := r.pixel(t.At)
	size := math.Min(t.Size*r.paper, largestText)
	face := drawing.FaceFor(t.Bold, t.Mono)
	t.Size = size
	width := t.Width()
	s, c := math.Sincos(t.Angle)
	if reach := width + 2*size; pen.X+reach < float64(r.clip.Min.X) || pen.X-reach > float64(r.clip.Max.X) ||
		pen.Y+reach < float64(r.clip.Min.Y) || pen.Y-reach > float64(r.clip.Max.Y) {
		return
	}
	key := glyphKey{
		glyphShape: glyphShape{face: uint8(drawing.FaceIndex(t.Bold, t.Mono))},
		turn:       uint16(int(math.Round(t.Angle/(2*math.Pi)*turnSteps)) & (turnSteps - 1)),
	}
	// Level lettering sits on whole rows and upright lettering on whole
	// columns, where its stems and bars are sharpest.
	switch key.turn {
	case 0, turnSteps / 2:
		pen.Y = math.Round(pen.Y)
	case turnSteps / 4, 3 * turnSteps / 4:
		pen.X = math.Round(pen.X)
	}
	if t.Halo {
		halo := key
		halo.halo = uint8(math.Min(255, math.Max(sizeSteps, math.Round(haloWidth*r.paper*sizeSteps))))
		r.run(t.String, face, halo, pen, size, c, s, r.ink(drawing.Paper))
	}
	r.run(t.String, face, key, pen, size, c, s, r.ink(t.Ink))
}

func (r *Renderer) run(text string, face *drawing.Face, key glyphKey, pen drawing.Point, size, c, s float64, colour ink) {
	face.Set(text, func(p drawing.Placed) {
		if p.Rune == ' ' {
			return
		}
		px, sx := place(pen.X + size*(p.X*c-p.Y*s))
		py, sy := place(pen.Y - size*(p.X*s+p.Y*c))
		key.glyph, key.sx, key.sy = p.Glyph, sx, sy
		key.size = uint16(math.Round(size * p.Scale * sizeSteps))
		r.blit(r.letters.get(key), px, py, colour)
	})
}

// place splits a coordinate into its whole pixel and its step within it.
func place(v float64) (whole int, step uint8) {
	f := math.Floor(v*placeSteps + 0.5)
	w := math.Floor(f / placeSteps)
	return int(w), uint8(f - w*placeSteps)
}

// blit blends a glyph with its pen at pixel (x, y).
func (r *Renderer) blit(g glyph, x, y int, colour ink) {
	box := image.Rect(0, 0, int(g.w), int(g.h)).Add(image.Pt(x+int(g.left), y+int(g.top)))
	seen := box.Intersect(r.clip)
	if seen.Empty() {
		return
	}
	alpha := r.letters.slab[g.at : g.at+g.w*g.h]
	for py := seen.Min.Y; py < seen.Max.Y; py++ {
		from := (py-box.Min.Y)*int(g.w) + seen.Min.X - box.Min.X
		row := alpha[from : from+seen.Dx()]
		at := r.dst.PixOffset(seen.Min.X, py)
		pix := r.dst.Pix[at : at+4*len(row)]
		for i, a := range row {
			if a != 0 {
				colour.blend(pix[4*i:4*i+4:4*i+4], uint32(a))
			}
		}
	}
}

func (l *lettering) get(key glyphKey) glyph {
	if g, ok := l.glyphs[key]; ok {
		return g
	}
	if l.glyphs == nil {
		l.glyphs = map[glyphKey]glyph{}
		l.outlines = map[glyphShape][]drawing.Segment{}
	}
	limit := l.limit
	if limit == 0 {
		limit = largestSlab
	}
	if len(l.slab) > limit {
		l.slab = l.slab[:0]
		clear(l.glyphs)
	}
	g := l.make(key)
	l.glyphs[key] = g
	return g
}

// make paints the glyph of key into the slab.
func (l *lettering) make(key glyphKey) glyph {
	outline, ok := l.outlines[key.glyphShape]
	if !ok {
		face := drawing.FaceFor(key.face&1 != 0, key.face&2 != 0)
		outline = face.Outline(key.glyph, nil)
		l.outlines[key.glyphShape] = outline
	}
	if len(outline) == 0 {
		return glyph{}
	}
	size := float64(key.size) / sizeSteps
	s, c := math.Sincos(float64(key.turn) / turnSteps * 2 * math.Pi)
	ox, oy := float64(key.sx)/placeSteps, float64(key.sy)/placeSteps
	at := func(p drawing.Point) drawing.Point {
		x, y := p.X*size, p.Y*size
		return drawing.Point{X: ox + x*c - y*s, Y: oy - x*s - y*c}
	}
	lo := drawing.Point{X: math.Inf(1), Y: math.Inf(1)}
	hi := drawing.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, seg := range outline {
		// Control points enclose the curve, so they bound it.
		n := 1
		if seg.Op == drawing.QuadTo {
			n = 2
		}
		for _, p := range seg.P[:n] {
			p = at(p)
			lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
			hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
		}
	}
	left, top := math.Floor(lo.X), math.Floor(lo.Y)
	w, h := int(math.Ceil(hi.X)-left), int(math.Ceil(hi.Y)-top)
	if w <= 0 || h <= 0 {
		return glyph{}
	}
	l.raster.Reset(w, h)
	l.raster.DrawOp = draw.Src
	point := func(p drawing.Point) (float32, float32) {
		p = at(p)
		return float32(p.X - left), float32(p.Y - top)
	}
	for i, seg := range outline {
		x, y := point(seg.P[0])
		switch seg.Op {
		case drawing.MoveTo:
			if i > 0 {
				l.raster.ClosePath()
			}
			l.raster.MoveTo(x, y)
		case drawing.LineTo:
			l.raster.LineTo(x, y)
		case drawing.QuadTo:
			ex, ey := point(seg.P[1])
			l.raster.QuadTo(x, y, ex, ey)
		}
	}
	l.raster.ClosePath()
	if key.halo == 0 {
		g := glyph{at: int32(len(l.slab)), w: int32(w), h: int32(h), left: int32(left), top: int32(top)}
		l.slab = append(l.slab, make([]uint8, w*h)...)
		l.rasterise(l.slab[g.at:], w, h)
		return g
	}
	if len(l.plain) < w*h {
		l.plain = make([]uint8, w*h)
	}
	l.rasterise(l.plain, w, h)
	return l.halo(w, h, int32(left), int32(top), float64(key.halo)/sizeSteps)
}

func (l *lettering) rasterise(pix []uint8, w, h int) {
	dst := image.Alpha{Pix: pix[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	l.raster.Draw(&dst, dst.Rect, image.Opaque, image.Point{})
}

// halo spreads the glyph in plain by radius pixels on every side.
func (l *lettering) halo(w, h int, left, top int32, radius float64) glyph {
	grow := int(math.Ceil(radius + 0.5))
	gw, gh := w+2*grow, h+2*grow
	g := glyph{at: int32(len(l.slab)), w: int32(gw), h: int32(gh), left: left - int32(grow), top: top - int32(grow)}
	l.slab = append(l.slab, make([]uint8, gw*gh)...)
	out := l.slab[g.at : int(g.at)+gw*gh]
	for dy := -grow; dy <= grow; dy++ {
		for dx := -grow; dx <= grow; dx++ {
			weight := math.Min(1, radius+0.5-math.Hypot(float64(dx), float64(dy)))
			if weight <= 0 {
				continue
			}
			k := uint32(weight * 256)
			for y := range h {
				src := l.plain[y*w : y*w+w]
				to := out[(y+dy+grow)*gw+dx+grow:]
				for x, a := range src {
					if v := uint8(uint32(a) * k >> 8); v > to[x] {
						to[x] = v
					}
				}
			}
		}
	}
	return g
}
