package drawing

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/jpeg"
	"math"
)

// Picture is a photograph-like picture on a drawing. It is read-only once made.
type Picture struct {
	JPEG          []byte // as it goes into files
	Width, Height int    // pixels
	Image         image.Image
}

// pictureQuality is that of the JPEG, of 100: above it files grow and no eye
// sees more; our own judgement by looking.
const pictureQuality = 90

// NewPicture packs an image for drawings. The same image gives the same bytes.
func NewPicture(m image.Image) (*Picture, error) {
	b := m.Bounds()
	if b.Empty() {
		return nil, fmt.Errorf("drawing: a picture of %d by %d pixels shows nothing", b.Dx(), b.Dy())
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, &jpeg.Options{Quality: pictureQuality}); err != nil {
		return nil, fmt.Errorf("drawing: picture: %w", err)
	}
	return &Picture{JPEG: out.Bytes(), Width: b.Dx(), Height: b.Dy(), Image: m}, nil
}

// Name tells pictures apart, for Dump and for writers that keep one copy.
func (p *Picture) Name() string { return fmt.Sprintf("%x", sha256.Sum256(p.JPEG))[:16] }

// PictureSink is a Sink that can show pictures. The others get the picture's
// frame as a path.
type PictureSink interface {
	Sink
	// Picture shows p upright in the box from min to max, in paper millimetres.
	Picture(min, max Point, p *Picture)
}

// Picture shows p as large as fits the box between two opposite corners, in its
// middle, upright and with its own proportions. A picture is never turned or
// mirrored with a drawing.
func (l *List) Picture(a, b Point, p *Picture) {
	w, h := math.Abs(b.X-a.X), math.Abs(b.Y-a.Y)
	k := math.Min(w/float64(p.Width), h/float64(p.Height))
	c := Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}
	half := Point{k * float64(p.Width) / 2, k * float64(p.Height) / 2}
	l.add(Item{Kind: KindPicture, Points: l.keep(c.Sub(half), Point{c.X + half.X, c.Y + half.Y}), Picture: p})
}

// picture hands a picture to the sink, or its frame.
func (w *Lowering) picture(it *Item, m Transform) {
	a, b := m.Apply(it.Points[0]), m.Apply(it.Points[1])
	min, max := Point{math.Min(a.X, b.X), math.Min(a.Y, b.Y)}, Point{math.Max(a.X, b.X), math.Max(a.Y, b.Y)}
	if s, ok := w.sink.(PictureSink); ok && it.Picture != nil {
		s.Picture(min, max, it.Picture)
		return
	}
	w.pts = append(w.pts[:0], min, Point{max.X, min.Y}, max, Point{min.X, max.Y})
	w.sink.Path(w.pts, true, None, Stroke{Ink: Soft, Width: Thin})
}
