package drawing

import "math"

// Viewport maps scene millimetres to pixels of an image, whose y runs down.
type Viewport struct {
	Scale  float64 // pixels per scene millimetre, above zero
	Origin Point   // the pixel position of the scene's origin
	Paper  float64 // pixels per paper millimetre, above zero; see PaperScale
}

// PaperScale returns the pixels of one paper millimetre: 96 to the inch
// (the CSS reference pixel) times the interface scale.
func PaperScale(uiScale float64) float64 { return 96 / 25.4 * uiScale }

// Pixel returns where scene point p falls, in pixels.
func (v Viewport) Pixel(p Point) Point {
	return Point{v.Origin.X + v.Scale*p.X, v.Origin.Y - v.Scale*p.Y}
}

// Scene returns the scene point under pixel position p. It undoes Pixel.
func (v Viewport) Scene(p Point) Point {
	return Point{(p.X - v.Origin.X) / v.Scale, (v.Origin.Y - p.Y) / v.Scale}
}

// Transform returns the map from scene to paper millimetres measured from
// pixel (0, 0), y up: what Lower needs.
func (v Viewport) Transform() Transform {
	k := v.Scale / v.Paper
	return Transform{A: k, D: k, E: v.Origin.X / v.Paper, F: -v.Origin.Y / v.Paper}
}

// Pan returns v with the picture moved by (dx, dy) pixels.
func (v Viewport) Pan(dx, dy float64) Viewport {
	v.Origin = v.Origin.Add(Point{dx, dy})
	return v
}

// Zoom returns v enlarged by factor, with the scene point under pixel position
// at staying where it is.
func (v Viewport) Zoom(at Point, factor float64) Viewport {
	v.Origin = at.Add(v.Origin.Sub(at).Mul(factor))
	v.Scale *= factor
	return v
}

// Fit returns the viewport that shows the box min..max centred in width by
// height pixels, leaving margin pixels free on every side. A box without size
// is shown at one pixel a millimetre.
func Fit(min, max Point, width, height, margin, paper float64) Viewport {
	w, h := math.Max(width-2*margin, 1), math.Max(height-2*margin, 1)
	dx, dy := max.X-min.X, max.Y-min.Y
	scale := 1.0
	if dx > 0 || dy > 0 {
		scale = math.Min(w/math.Max(dx, math.SmallestNonzeroFloat64), h/math.Max(dy, math.SmallestNonzeroFloat64))
	}
	cx, cy := (min.X+max.X)/2, (min.Y+max.Y)/2
	return Viewport{
		Scale:  scale,
		Origin: Point{width/2 - scale*cx, height/2 + scale*cy},
		Paper:  paper,
	}
}
