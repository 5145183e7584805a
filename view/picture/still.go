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
	var a Average
	a.Reset(img.Rect.Size())
	if s.Exposure.Gain == 0 {
		s.Exposure = w.Meter(s.Camera)
	}
	for range max(1, frames) {
		if err := a.Add(p, w, s); err != nil {
			return err
		}
	}
	a.Show(img)
	return nil
}

// Average is the mean of frames of one shot. Reset begins it.
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

// Count is how many frames have been added.
func (a *Average) Count() int { return a.n }

// Add draws one more frame of the shot, moved by its own part of a pixel.
func (a *Average) Add(p *Painter, w *World, s Shot) error {
	// The sequence R2, as for rays.
	_, x := math.Modf(0.5 + 0.7548776662466927*float64(a.n))
	_, y := math.Modf(0.5 + 0.5698402909980532*float64(a.n))
	s.Shift = [2]float64{x - 0.5, y - 0.5}
	if err := p.Paint(w, s, a.frame); err != nil {
		return err
	}
	for i, v := range a.frame.Pix {
		a.sum[i] += uint32(v)
	}
	a.n++
	return nil
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
