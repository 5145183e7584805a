// Package scene turns a job and its answer into surfaces that a picture can be
// made of: triangles with materials, and the lights that fall on them. Axes and
// millimetres are the job's: x to the right, y up the flight, z up.
//
// The renderers, quick (view/picture) and slow (view/still), read nothing else.
package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Scene is what can be seen. It is read-only once made and may be shared
// between goroutines.
type Scene struct {
	Materials []Material
	Triangles []Triangle
	Lamps     []Lamp
	// Sky is the light that comes from everywhere outside, linear RGB in
	// candela per square metre: daylight through windows, or next to nothing.
	Sky Colour
	Low mgl64.Vec3 // the least and greatest corner of everything
	Top mgl64.Vec3
	// LitBy says what told the light bars how bright to be.
	LitBy LitBy
	// Stand is where one can stand in it; Camera and Walk look from there.
	Stand Stand
}

// Colour is linear RGB with the primaries and white of sRGB (IEC 61966-2-1).
type Colour [3]float64

// Material is how a surface looks. Diffuse is its reflectance, 0 to 1 each.
type Material struct {
	Name    string
	Diffuse Colour
	// Grain, where not nil, gives the reflectance instead of Diffuse. At is a
	// place in the board's own axes, millimetres: along its grain, across its
	// width, through its thickness.
	Grain interface{ At(p mgl64.Vec3) Colour }
	// Gloss is the strength of a clear coat's mirror, 0 (none) to 1 (the whole
	// Fresnel reflection of a film of index 1.5), and Rough its spread, 0
	// (mirror) to 1 (matt).
	Gloss, Rough float64
	// Lets is the share of light that passes straight through, for a thing that
	// is only hinted at.
	Lets float64
	// Pane says that it is the glass of a window, seen from inside: light of lamps
	// behind it comes in, but what is seen there is the glass, which is a lamp
	// itself.
	Pane bool
}

// Triangle is one piece of a surface, corners anticlockwise seen from its front.
type Triangle struct {
	P        [3]mgl64.Vec3
	N        [3]mgl64.Vec3 // normals for shading, unit length
	Board    [3]mgl64.Vec3 // the corners in the board's own axes, for Grain
	Material int           // in Scene.Materials
	// Lamp is 1 + the place in Scene.Lamps of the lamp whose face this is, or 0.
	Lamp int
	// Part is what it belongs to, such as "T05" or "wall left".
	Part string
}

// Lamp is a flat rectangle that gives light from its front alone, evenly in
// every direction by Lambert's law.
type Lamp struct {
	Name   string     // such as "bar 5" or "hall lamp"
	Corner mgl64.Vec3 // U × V points to its front
	U, V   mgl64.Vec3 // its edges, square to each other
	// Lumens is its whole light at full brightness and Level how much of that
	// is on, 0 to 1.
	Lumens, Level float64
	// Tint is its colour with a luminance of 1.
	Tint Colour
	// Bar is the number of the light bar, 1 under the first nose, or 0.
	Bar int
}

// Radiance returns the light that leaves the lamp's face in every direction,
// linear RGB in candela per square metre.
func (l Lamp) Radiance() Colour {
	area := l.U.Len() * l.V.Len() * 1e-6 // m²
	if !(area > 0) {
		return Colour{}
	}
	// A Lambertian face of luminance L gives πL lumens a square metre.
	luminance := l.Lumens * l.Level / (math.Pi * area)
	return Colour{l.Tint[0] * luminance, l.Tint[1] * luminance, l.Tint[2] * luminance}
}

// Luminance returns the candela per square metre of a colour, by the weights
// of IEC 61966-2-1.
func (c Colour) Luminance() float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

// Camera is an eye and where it looks.
type Camera struct {
	Eye, At mgl64.Vec3
	Up      mgl64.Vec3
	// Angle is the whole vertical angle of view in radians.
	Angle float64
}
