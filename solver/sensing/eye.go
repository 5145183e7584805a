package sensing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Eye is a sensor in the stair: where its lens is, which way it looks and how
// far round. Millimetres and radians.
type Eye struct {
	At    mgl64.Vec3
	Axis  mgl64.Vec3 // unit, the way it looks
	Right mgl64.Vec3 // unit, level, to its right
	Up    mgl64.Vec3
	Range float64

	Half  float64    // half angle of the round cone about the axis; π/2: none
	Sides [4]float64 // left, right, up and down of the axis, as far as it sees; π/2: not bounded by a plane
}

// square is what counts as not bounded: a right angle less rounding.
const square = math.Pi/2 - 1e-9

// EyeOf returns the sensor's eye, its lens at p, when without yaw and tilt it
// looks along ahead, a unit direction in plan.
func EyeOf(s *model.Sensor, c *model.SensorClass, p mgl64.Vec3, ahead mgl64.Vec2) Eye {
	sin, cos := math.Sincos(float64(s.Yaw))
	ahead = mgl64.Vec2{ahead[0]*cos - ahead[1]*sin, ahead[1]*cos + ahead[0]*sin}
	sin, cos = math.Sincos(float64(s.Tilt))
	e := Eye{
		At:    p,
		Axis:  mgl64.Vec3{ahead[0] * cos, ahead[1] * cos, -sin},
		Right: mgl64.Vec3{ahead[1], -ahead[0], 0},
		Up:    mgl64.Vec3{ahead[0] * sin, ahead[1] * sin, cos},
		Range: c.RangeM.Value * 1000,
		Half:  min(math.Pi/2, float64(s.Hood.Half(model.Length(c.LensMM.Value)))),
	}
	h, v := c.H.Value/2*float64(model.Degree), c.V.Value/2*float64(model.Degree)
	e.Sides = [4]float64{math.Pi / 2, math.Pi / 2, math.Pi / 2, math.Pi / 2}
	if v > 0 {
		e.Sides = [4]float64{h, h, v, v}
	} else {
		e.Half = min(e.Half, h)
	}
	for i, m := range [4]model.Angle{s.Mask.Left, s.Mask.Right, s.Mask.Up, s.Mask.Down} {
		if m != 0 {
			e.Sides[i] = min(e.Sides[i], float64(m))
		}
	}
	return e
}

// Sees says whether the direction d from the lens lies in its field.
func (e *Eye) Sees(d mgl64.Vec3) bool {
	a, r, u := d.Dot(e.Axis), d.Dot(e.Right), d.Dot(e.Up)
	if a <= 0 {
		return false
	}
	if e.Half < square && a < math.Cos(e.Half)*d.Len() {
		return false
	}
	for i, x := range [4]float64{-r, r, u, -u} {
		if e.Sides[i] < square && x > math.Tan(e.Sides[i])*a {
			return false
		}
	}
	return true
}

// field is an eye's field ready for many azimuths. A direction (cos, sin, u) is
// seen when n·(cos, sin, u) >= 0 for every plane n, and when it lies in the
// cone.
type field struct {
	planes [5]mgl64.Vec3
	n      int
	axis   mgl64.Vec3
	cone   float64 // cosine of its half angle; 0: none
}

func (e *Eye) field() field {
	f := field{axis: e.Axis}
	f.planes[0], f.n = e.Axis, 1
	for i, side := range [4]mgl64.Vec3{e.Right.Mul(-1), e.Right, e.Up, e.Up.Mul(-1)} {
		if e.Sides[i] < square {
			f.planes[f.n] = e.Axis.Mul(math.Tan(e.Sides[i])).Sub(side)
			f.n++
		}
	}
	if e.Half < square {
		f.cone = math.Cos(e.Half)
	}
	return f
}

// at returns the slopes u = rise over level distance that are seen in the unit
// direction d in plan; empty when lo >= hi.
func (f *field) at(d mgl64.Vec2) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for i := range f.n {
		n := &f.planes[i]
		c := n[0]*d[0] + n[1]*d[1]
		switch {
		case n[2] > 0:
			lo = max(lo, -c/n[2])
		case n[2] < 0:
			hi = min(hi, -c/n[2])
		case c < 0:
			return 0, 0
		}
	}
	if f.cone > 0 {
		// (A + B u)² >= k² (1 + u²) with A + B u >= 0, which the first plane says
		A, B, k := f.axis[0]*d[0]+f.axis[1]*d[1], f.axis[2], f.cone
		a, b, c := B*B-k*k, A*B, A*A-k*k
		disc := b*b - a*c
		switch {
		case math.Abs(a) < 1e-12: // one rim is plumb: 2 b u + c >= 0
			if b > 0 {
				lo = max(lo, -c/(2*b))
			} else if b < 0 {
				hi = min(hi, -c/(2*b))
			} else if c < 0 {
				return 0, 0
			}
		case disc <= 0:
			if a < 0 {
				return 0, 0
			}
		default:
			root := math.Sqrt(disc)
			u, v := (-b-root)/a, (-b+root)/a
			if u > v {
				u, v = v, u
			}
			if a < 0 { // between the two
				lo, hi = max(lo, u), min(hi, v)
			} else if B > 0 { // the axis is steeper than the cone is wide: all above
				lo = max(lo, v)
			} else {
				hi = min(hi, u)
			}
		}
	}
	return lo, hi
}

// edges appends the turns from ref at which the rim of the field passes the
// slope u, and those at which a round field begins and ends.
func (f *field) edges(dst []float64, ref mgl64.Vec2, u float64) []float64 {
	left := mgl64.Vec2{-ref[1], ref[0]}
	cross := func(a, b, c float64) { // a cos t + b sin t = c
		r := math.Hypot(a, b)
		if r < 1e-12 || math.Abs(c) > r {
			return
		}
		m, w := math.Atan2(b, a), math.Acos(c/r)
		dst = append(dst, within(m-w), within(m+w))
	}
	for i := 1; i < f.n; i++ {
		n := f.planes[i]
		cross(n[0]*ref[0]+n[1]*ref[1], n[0]*left[0]+n[1]*left[1], -n[2]*u)
	}
	if f.cone > 0 {
		a, b := f.axis[0]*ref[0]+f.axis[1]*ref[1], f.axis[0]*left[0]+f.axis[1]*left[1]
		cross(a, b, f.cone*math.Sqrt(1+u*u)-f.axis[2]*u)
		if level := f.cone*f.cone - f.axis[2]*f.axis[2]; level > 0 {
			cross(a, b, math.Sqrt(level)) // where the two slopes of the rim meet: A² = k² - B²
		}
	}
	return dst
}

// corners appends the turns from ref of the corners of a field of flat sides.
func (e *Eye) corners(dst []float64, ref mgl64.Vec2) []float64 {
	for i := range 2 {
		for k := 2; k < 4; k++ {
			if e.Sides[i] >= square || e.Sides[k] >= square {
				continue
			}
			x, y := math.Tan(e.Sides[i]), math.Tan(e.Sides[k])
			if i == 0 {
				x = -x
			}
			if k == 3 {
				y = -y
			}
			dst = append(dst, turnOf(ref, e.Axis.Add(e.Right.Mul(x)).Add(e.Up.Mul(y)).Vec2()))
		}
	}
	return dst
}

// within brings an angle into -π to π.
func within(a float64) float64 {
	for a > math.Pi {
		a -= 2 * math.Pi
	}
	for a < -math.Pi {
		a += 2 * math.Pi
	}
	return a
}
