package lux

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// Outlines with a corner that points inwards are cut into convex screens that
// have the same area, lie inside and face the same way.
func TestConvexParts(t *testing.T) {
	up := mgl64.Vec3{0, 0, 1}
	for name, c := range map[string]struct {
		outline []mgl64.Vec3
		parts   int
	}{
		"square":    {[]mgl64.Vec3{{0, 0}, {9, 0}, {9, 9}, {0, 9}}, 1},
		"in line":   {[]mgl64.Vec3{{0, 0}, {5, 0}, {9, 0}, {9, 9}, {0, 9}}, 1},
		"arrowhead": {[]mgl64.Vec3{{0, 0}, {9, 0}, {4, 3}, {0, 9}}, 2},
		"L":         {[]mgl64.Vec3{{0, 0}, {9, 0}, {9, 4}, {4, 4}, {4, 9}, {0, 9}}, 4},
		"two bays":  {[]mgl64.Vec3{{0, 0}, {9, 0}, {9, 9}, {6, 2}, {4.5, 9}, {3, 2}, {0, 9}}, 5},
	} {
		for turn := range c.outline {
			v := append(append([]mgl64.Vec3(nil), c.outline[turn:]...), c.outline[:turn]...)
			parts := convexParts(v, up)
			if len(parts) != c.parts {
				t.Errorf("%s from corner %d: %d parts, want %d", name, turn, len(parts), c.parts)
			}
			area := 0.0
			for _, p := range parts {
				n := newell(p.Outline)
				if n[2] < 0 {
					t.Errorf("%s: a part faces the other way", name)
				}
				area += n[2]
				for i := range p.Outline {
					a, b, c := p.Outline[i], p.Outline[(i+1)%len(p.Outline)], p.Outline[(i+2)%len(p.Outline)]
					if b.Sub(a).Cross(c.Sub(b)).Dot(up) < 0 {
						t.Errorf("%s: a part is not convex", name)
					}
				}
			}
			if want := newell(v)[2]; math.Abs(area-want) > 1e-9 {
				t.Errorf("%s from corner %d: twice the area is %g, want %g", name, turn, area, want)
			}
		}
	}
	// Turned over, the same.
	l := []mgl64.Vec3{{0, 9}, {4, 9}, {4, 4}, {9, 4}, {9, 0}, {0, 0}}
	if parts := convexParts(l, up.Mul(-1)); len(parts) != 4 {
		t.Errorf("from below: %d parts", len(parts))
	}
}

// The cells of an L-shaped surface have its area, and no value outside it.
func TestCellsOfAnL(t *testing.T) {
	s := Surface{Step: 1, Kind: Tread, Outline: []mgl64.Vec3{{0, 0}, {900, 0}, {900, 400}, {410, 400}, {410, 730}, {0, 730}}}
	r := Solve(Problem{Stair: Stair{Surfaces: []Surface{s}}}, Settings{Across: 13, Deep: 11})
	l := &r.Surfaces[0]
	area := 0.0
	for j := range l.Grid.Deep {
		for i := range l.Grid.Across {
			k := l.Grid.Index(i, j)
			area += l.Grid.Area[k]
			if math.IsNaN(l.Grid.Lux[k]) != (l.Grid.Area[k] == 0) {
				t.Errorf("cell %d, %d has area %g and light %g", i, j, l.Grid.Area[k], l.Grid.Lux[k])
			}
			if p := l.Grid.At[k]; l.Grid.Area[k] > 0 && p[0] > 410+1e-9 && p[1] > 400+1e-9 {
				t.Errorf("a value at %v, outside", p)
			}
		}
	}
	want := 900.0*400 + 410*330
	if math.Abs(area-want) > 1e-5*want {
		t.Errorf("cells have %g mm², the L %g", area, want)
	}
}
