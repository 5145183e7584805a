package picture

import (
	"math"

	"github.com/go-gl/mathgl/mgl32"
	"github.com/go-gl/mathgl/mgl64"
)

// vec is a place, a direction or a colour. Half precision of float64 is enough
// for light, and twice as many fit in the cache.
type vec = mgl32.Vec3

func vecOf(p mgl64.Vec3) vec { return vec{float32(p[0]), float32(p[1]), float32(p[2])} }

func dot(a, b vec) float32 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func sub(a, b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func add(a, b vec) vec { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func mul(a vec, k float32) vec { return vec{a[0] * k, a[1] * k, a[2] * k} }

func times(a, b vec) vec { return vec{a[0] * b[0], a[1] * b[1], a[2] * b[2]} }

func cross(a, b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func length(a vec) float32 { return float32(math.Sqrt(float64(dot(a, a)))) }

func unitOf(a vec) vec {
	if l := length(a); l > 0 {
		return mul(a, 1/l)
	}
	return a
}

func luminance(c vec) float32 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// aside returns two directions square to a unit one and to each other.
func aside(n vec) (x, y vec) {
	if n[0] > 0.7 || n[0] < -0.7 {
		x = unitOf(cross(n, vec{0, 1, 0}))
	} else {
		x = unitOf(cross(n, vec{1, 0, 0}))
	}
	return x, cross(n, x)
}

// scatter makes a well-mixed number of two (splitmix64's finaliser: Steele, Lea
// and Flood 2014; constants from memory).
func scatter(a, b uint64) uint64 {
	x := a + 0x9e3779b97f4a7c15*(b+1)
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
