package still

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// vec is a vector in mm, or a direction. A struct stays in registers where an
// array of mathgl does not, which makes the inner loops twice as fast.
type vec struct{ x, y, z float64 }

func vecOf(v mgl64.Vec3) vec { return vec{v[0], v[1], v[2]} }

func (a vec) add(b vec) vec              { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec              { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(k float64) vec          { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64          { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) len2() float64              { return a.dot(a) }
func (a vec) len() float64               { return math.Sqrt(a.dot(a)) }
func (a vec) along(d vec, t float64) vec { return vec{a.x + d.x*t, a.y + d.y*t, a.z + d.z*t} }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// unit returns the direction of a, or a itself when it has none.
func (a vec) unit() vec {
	l := a.len()
	if !(l > 0) {
		return a
	}
	return a.mul(1 / l)
}

// frame is three directions square to each other, n last.
type frame struct{ s, t, n vec }

// frameOf returns a frame about n (Duff et al. 2017: no branch, no weak spot).
func frameOf(n vec) frame {
	sign := math.Copysign(1, n.z)
	a := -1 / (sign + n.z)
	b := n.x * n.y * a
	return frame{
		s: vec{1 + sign*n.x*n.x*a, sign * b, -sign * n.x},
		t: vec{b, sign + n.y*n.y*a, -n.y},
		n: n,
	}
}

// in returns a vector of the world in the frame, and out the way back.
func (f *frame) in(v vec) vec { return vec{v.dot(f.s), v.dot(f.t), v.dot(f.n)} }
func (f *frame) out(v vec) vec {
	return vec{
		f.s.x*v.x + f.t.x*v.y + f.n.x*v.z,
		f.s.y*v.x + f.t.y*v.y + f.n.y*v.z,
		f.s.z*v.x + f.t.z*v.y + f.n.z*v.z,
	}
}

// rgb is light or reflectance.
type rgb struct{ r, g, b float64 }

func rgbOf(c scene.Colour) rgb { return rgb{c[0], c[1], c[2]} }

func (a rgb) add(b rgb) rgb        { return rgb{a.r + b.r, a.g + b.g, a.b + b.b} }
func (a rgb) times(b rgb) rgb      { return rgb{a.r * b.r, a.g * b.g, a.b * b.b} }
func (a rgb) mul(k float64) rgb    { return rgb{a.r * k, a.g * k, a.b * k} }
func (a rgb) plus(k float64) rgb   { return rgb{a.r + k, a.g + k, a.b + k} }
func (a rgb) greatest() float64    { return max(a.r, max(a.g, a.b)) }
func (a rgb) luminance() float64   { return 0.2126*a.r + 0.7152*a.g + 0.0722*a.b }
func (a rgb) dark() bool           { return !(a.r > 0 || a.g > 0 || a.b > 0) }
func (a rgb) colour() scene.Colour { return scene.Colour{a.r, a.g, a.b} }
