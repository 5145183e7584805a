package picture

import (
	"context"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// sheet is the grain of one chart, drawn once, and again at half the size and
// half of that and so on, so that what is far away does not glitter.
type sheet struct {
	key    sheetKey
	levels []level
	size   float32 // of a texel of the first level, mm
}

type level struct {
	nx, ny int32
	texel  [][3]uint8 // square roots of reflectances, of 255
}

// sheetKey says what a sheet shows, so that one can be used again.
type sheetKey struct {
	material   string
	grain      any
	b0, bx, by vec
	nx, ny     int32
	size       float32 // of a texel, mm
	taps       int32   // places a side of which a texel is the mean
}

// grainSize is how fine the grain is drawn, mm, and mostTexels how many places a
// floor has at the most; hiddenSize is for what looks down.
const (
	grainSize  = 1.3
	mostTexels = 2.2e5
	hiddenSize = 9
)

// bakeGrain draws the grain of all charts that have one.
func (w *World) bakeGrain(ctx context.Context, before *World) error {
	old := map[sheetKey]*sheet{}
	if before != nil {
		for i := range before.sheets {
			old[before.sheets[i].key] = &before.sheets[i]
		}
	}
	var todo []int32
	for i := range w.chart {
		c := &w.chart[i]
		if !w.mats[c.material].grain {
			continue
		}
		c.sheet = int32(len(w.sheets))
		// The finest there is will do for a draft, too.
		if s := old[w.sheetKey(c, 1, false)]; s != nil {
			w.sheets = append(w.sheets, *s)
			continue
		}
		key := w.sheetKey(c, w.coarse, w.hasty)
		if s := old[key]; s != nil {
			w.sheets = append(w.sheets, *s)
			continue
		}
		w.sheets = append(w.sheets, sheet{key: key, size: key.size})
		todo = append(todo, int32(i))
	}
	return scene.Share(ctx, len(todo), 0, func(k int) { w.drawSheet(&w.chart[todo[k]]) })
}

// sheetKey returns what a chart's sheet shows when it is drawn so coarsely.
func (w *World) sheetKey(c *chart, coarse float64, hasty bool) sheetKey {
	wide, high := float64(c.wide), float64(c.high)
	size := grainSize * coarse
	if c.normal[2] < -0.5 {
		size = hiddenSize
	}
	size = math.Max(size, math.Sqrt(wide*high/mostTexels)*coarse)
	nx, ny := int32(max(1, math.Ceil(wide/size))), int32(max(1, math.Ceil(high/size)))
	// Where texels are larger than pores, one is the mean of several places.
	taps := int32(1)
	if size > 1.8 && !hasty {
		taps = 2
	}
	m := &w.scene.Materials[c.material]
	return sheetKey{m.Name, grainOf(m.Grain), c.b0, c.bx, c.by, nx, ny, float32(size), taps}
}

// grainOf is what tells one grain from another.
func grainOf(g any) any {
	if k, ok := g.(interface{ Key() any }); ok {
		return k.Key()
	}
	return g
}

func (w *World) drawSheet(c *chart) {
	s := &w.sheets[c.sheet]
	g := w.scene.Materials[c.material].Grain
	nx, ny := s.key.nx, s.key.ny
	l := level{nx, ny, make([][3]uint8, nx*ny)}
	taps := int(s.key.taps)
	for j := range ny {
		for i := range nx {
			var at [3]float64
			for t := range taps * taps {
				u := float32(i) + (float32(t%taps)+0.5)/float32(taps)
				v := float32(j) + (float32(t/taps)+0.5)/float32(taps)
				p := add(c.b0, add(mul(c.bx, u*s.size), mul(c.by, v*s.size)))
				for k, x := range g.At(mgl64.Vec3{float64(p[0]), float64(p[1]), float64(p[2])}) {
					at[k] += x / float64(taps*taps)
				}
			}
			for k, v := range at {
				l.texel[j*nx+i][k] = uint8(255*math.Sqrt(v) + 0.5)
			}
		}
	}
	s.levels = []level{l}
	for l.nx > 1 || l.ny > 1 {
		h := level{(l.nx + 1) / 2, (l.ny + 1) / 2, nil}
		h.texel = make([][3]uint8, h.nx*h.ny)
		for j := range h.ny {
			for i := range h.nx {
				for k := range 3 {
					sum := float64(0)
					for _, d := range [4][2]int32{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
						v := float64(l.texel[min(l.ny-1, 2*j+d[1])*l.nx+min(l.nx-1, 2*i+d[0])][k])
						sum += v * v
					}
					h.texel[j*h.nx+i][k] = uint8(math.Sqrt(sum/4) + 0.5)
				}
			}
		}
		s.levels = append(s.levels, h)
		l = h
	}
}
