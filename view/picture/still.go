package picture

import (
	"fmt"
	"image"
	"math"
)

// String counts what a world is made of.
func (w *World) String() string {
	used := 0
	for i := range w.point {
		if w.point[i].used {
			used++
		}
	}
	return fmt.Sprintf("%d charts, %d points (%d used), %d ways, %d lamp rays, %d sheets, %d probes", len(w.chart), len(w.point), used, len(w.ways), len(w.direct), len(w.sheets), len(w.probes))
}

// Still draws a world with smooth edges: the mean of so many frames, each moved
// by parts of a pixel.
func (p *Painter) Still(w *World, s Shot, img *image.RGBA, frames int) error {
	if s.Exposure.Gain == 0 {
		s.Exposure = w.Meter(s.Camera)
	}
	var a Average
	a.Reset(img.Rect.Size())
	for range max(1, frames) {
		s.Shift = a.Shift()
		if err := p.Paint(w, s, a.Frame()); err != nil {
			return err
		}
		a.Take()
	}
	a.Show(img)
	return nil
}

// Average is the mean of frames of one shot. Reset begins it; then draw Frame
// with Shift and Take it, again and again.
type Average struct {
	size  image.Point
	n     int
	sum   []uint32
	frame *image.RGBA
}

// Reset forgets all frames; the next ones have this size.
func (a *Average) Reset(size image.Point) {
	if a.size != size || a.frame == nil {
		a.size = size
		a.sum = make([]uint32, 4*size.X*size.Y)
		a.frame = image.NewRGBA(image.Rectangle{Max: size})
	}
	clear(a.sum)
	a.n = 0
}

// Count is how many frames have been taken.
func (a *Average) Count() int { return a.n }

// Size is that of the frames.
func (a *Average) Size() image.Point { return a.size }

// Shift is by how much of a pixel the next frame is to be moved: the sequence R2,
// as for rays.
func (a *Average) Shift() [2]float64 {
	_, x := math.Modf(0.5 + 0.7548776662466927*float64(a.n))
	_, y := math.Modf(0.5 + 0.5698402909980532*float64(a.n))
	return [2]float64{x - 0.5, y - 0.5}
}

// Frame is where the next frame is to be drawn.
func (a *Average) Frame() *image.RGBA { return a.frame }

// Take adds what was drawn on Frame.
func (a *Average) Take() {
	for i, v := range a.frame.Pix {
		a.sum[i] += uint32(v)
	}
	a.n++
}

// Show writes the mean into img, which must have the size of Reset.
func (a *Average) Show(img *image.RGBA) {
	if a.n == 0 || img.Rect.Size() != a.size {
		return
	}
	n := uint32(a.n)
	for i := range img.Pix {
		img.Pix[i] = uint8((a.sum[i] + n/2) / n)
	}
}

// Enlarge draws src over all of dst, between its pixels evenly.
func Enlarge(dst, src *image.RGBA) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	sw, sh := src.Rect.Dx(), src.Rect.Dy()
	if w < 1 || h < 1 || sw < 1 || sh < 1 {
		return
	}
	type at struct{ i, j, f int }
	place := func(n, sn int) []at {
		out := make([]at, n)
		for k := range out {
			p := ((2*k+1)*sn*128/n - 128) // in 1/256 of a pixel
			p = max(0, min((sn-1)*256, p))
			out[k] = at{p >> 8, min(sn-1, p>>8+1), p & 255}
		}
		return out
	}
	xs, ys := place(w, sw), place(h, sh)
	for y := range h {
		a, b, f := src.Pix[ys[y].i*src.Stride:], src.Pix[ys[y].j*src.Stride:], ys[y].f
		out := dst.Pix[y*dst.Stride : y*dst.Stride+4*w]
		for x := range w {
			i, j, g := 4*xs[x].i, 4*xs[x].j, xs[x].f
			for c := range 4 {
				p := int(a[i+c])*(256-g) + int(a[j+c])*g
				q := int(b[i+c])*(256-g) + int(b[j+c])*g
				out[4*x+c] = uint8((p*(256-f) + q*f) >> 16)
			}
		}
	}
}
