package still_test

import (
	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// builder makes small scenes by hand.
type builder struct{ scene.Scene }

func v3(x, y, z float64) mgl64.Vec3 { return mgl64.Vec3{x, y, z} }

// material adds a material and returns its place.
func (b *builder) material(m scene.Material) int {
	b.Materials = append(b.Materials, m)
	return len(b.Materials) - 1
}

func (b *builder) grey(r float64) int {
	return b.material(scene.Material{Diffuse: scene.Colour{r, r, r}})
}

// quad adds a parallelogram whose front is on the side of u × v.
func (b *builder) quad(corner, u, v mgl64.Vec3, material, lamp int) {
	n := u.Cross(v).Normalize()
	add := func(p ...mgl64.Vec3) {
		b.Triangles = append(b.Triangles, scene.Triangle{
			P: [3]mgl64.Vec3(p), Board: [3]mgl64.Vec3(p), N: [3]mgl64.Vec3{n, n, n}, Material: material, Lamp: lamp,
		})
	}
	add(corner, corner.Add(u), corner.Add(u).Add(v))
	add(corner, corner.Add(u).Add(v), corner.Add(v))
}

// lamp adds a lamp, and its face when it is to be seen.
func (b *builder) lamp(corner, u, v mgl64.Vec3, lumens float64, faced bool) {
	b.Lamps = append(b.Lamps, scene.Lamp{Corner: corner, U: u, V: v, Lumens: lumens, Level: 1, Tint: scene.Colour{1, 1, 1}})
	if faced {
		b.quad(corner, u, v, b.grey(0), len(b.Lamps))
	}
}

// box adds the six sides of a box, seen from inside.
func (b *builder) box(size mgl64.Vec3, material int) {
	x, y, z := v3(size[0], 0, 0), v3(0, size[1], 0), v3(0, 0, size[2])
	o := mgl64.Vec3{}
	b.quad(o, x, y, material, 0)        // floor
	b.quad(o.Add(z), y, x, material, 0) // ceiling
	b.quad(o, y, z, material, 0)        // x = 0
	b.quad(o.Add(x), z, y, material, 0)
	b.quad(o, z, x, material, 0) // y = 0
	b.quad(o.Add(y), x, z, material, 0)
}

// ball adds a sphere of flat triangles.
func (b *builder) ball(middle mgl64.Vec3, radius float64, rows int, material int) {
	at := func(i, j int) mgl64.Vec3 {
		return mgl64.SphericalToCartesian(radius, float64(i)*3.141592653589793/float64(rows), float64(j)*3.141592653589793/float64(rows)).Add(middle)
	}
	for i := range rows {
		for j := range 2 * rows {
			for _, p := range [][3]mgl64.Vec3{{at(i, j), at(i+1, j), at(i+1, j+1)}, {at(i, j), at(i+1, j+1), at(i, j+1)}} {
				n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
				if n.Len() < 1e-9 {
					continue
				}
				n = n.Normalize()
				b.Triangles = append(b.Triangles, scene.Triangle{P: p, Board: p, N: [3]mgl64.Vec3{n, n, n}, Material: material})
			}
		}
	}
}

// stair makes a stair of 14 steps in a closed hall, with a bar of 80 lm under
// every nose and a lamp of 900 lm in the ceiling at the given level.
func stair(hall float64) (*scene.Scene, scene.Camera) {
	const (
		steps, rise, going, wide = 14, 190.0, 250.0, 900.0
		over, thick              = 25.0, 25.0
	)
	var b builder
	wall, wood := b.grey(0.75), b.material(scene.Material{Diffuse: scene.Colour{0.42, 0.25, 0.13}, Gloss: 1, Rough: 0.4})
	white, floor := b.grey(0.8), b.material(scene.Material{Diffuse: scene.Colour{0.3, 0.2, 0.12}, Gloss: 1, Rough: 0.5})
	room := v3(wide, 5500, steps*rise+2400)
	front := 2000.0
	low := v3(0, -front, 0)
	// The hall's six sides, the eye inside.
	first := len(b.Triangles)
	b.box(v3(room[0], room[1]+front, room[2]), wall)
	for i := first; i < len(b.Triangles); i++ {
		for k := range 3 {
			b.Triangles[i].P[k] = b.Triangles[i].P[k].Add(low)
		}
	}
	b.quad(v3(0, -front, 1), v3(wide, 0, 0), v3(0, front+10, 0), floor, 0)
	for k := range steps {
		y, z := float64(k)*going, float64(k)*rise
		b.quad(v3(0, y, z), v3(wide, 0, 0), v3(0, 0, rise-thick), white, 0)
		depth := going
		if k == steps-1 {
			depth = room[1] - y
		}
		b.quad(v3(0, y-over, z+rise), v3(wide, 0, 0), v3(0, depth+over, 0), wood, 0)
		b.quad(v3(0, y-over, z+rise-thick), v3(wide, 0, 0), v3(0, 0, thick), wood, 0)
		b.quad(v3(0, y-over, z+rise-thick), v3(0, over, 0), v3(wide, 0, 0), wood, 0)
		b.lamp(v3(15, y-over+5, z+rise-thick-4), v3(0, 10, 0), v3(wide-30, 0, 0), 80, true)
	}
	if hall > 0 {
		b.lamp(v3(300, -1200, 2380), v3(0, 300, 0), v3(300, 0, 0), 900*hall, true)
		b.quad(v3(300, -1200, 2381), v3(300, 0, 0), v3(0, 300, 0), white, 0)
	}
	return &b.Scene, scene.Camera{Eye: v3(640, -1750, 1600), At: v3(420, 900, 950), Up: v3(0, 0, 1), Angle: 1.05}
}

// cell makes a small room with a shining ball, a step that lets light through,
// and two lamps.
func cell() (*scene.Scene, scene.Camera) {
	var b builder
	b.box(v3(900, 900, 700), b.grey(0.7))
	b.ball(v3(450, 600, 200), 150, 8, b.material(scene.Material{Diffuse: scene.Colour{0.5, 0.3, 0.1}, Gloss: 1, Rough: 0.3}))
	b.quad(v3(100, 300, 1), v3(200, 0, 0), v3(0, 0, 300), b.material(scene.Material{Diffuse: scene.Colour{0.2, 0.3, 0.4}, Lets: 0.6}), 0)
	b.lamp(v3(300, 300, 690), v3(0, 300, 0), v3(300, 0, 0), 300, true)
	b.lamp(v3(100, 880, 100), v3(600, 0, 0), v3(0, 0, 10), 50, true)
	return &b.Scene, scene.Camera{Eye: v3(450, 30, 350), At: v3(450, 600, 250), Up: v3(0, 0, 1), Angle: 1.2}
}
