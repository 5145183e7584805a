package picture

import (
	"context"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/scene"
)

// World is a scene made ready to be looked at: its surfaces, and the light that
// goes from point to point on them. Ways of light are found once, by rays; when
// lamps go up or down the light is only summed anew. It is made by Prepare and
// then belongs to one goroutine at a time; Frame may be called from another one
// as long as nothing relights it.
type World struct {
	scene   *scene.Scene
	coarse  float64
	hasty   bool
	tree    *tree
	chart   []chart
	chartOf []int32 // of each triangle
	point   []point

	rays   int
	ways   []int32 // rays to each point: the point whose light comes along, or one of the marks below
	direct []ray   // of the lamps, point by point
	from   []int32 // where each point's begin in direct

	light  []vec // illuminance at each point, lx, as a colour
	sheets []sheet
	probes []probe
	mats   []surface
	soup   []corner3

	lampGlow []vec // luminance of each lamp's face
}

// ray is how much light comes from a lamp: lx for each lumen.
type ray struct {
	lamp  int32
	share float32
}

// Marks among the ways of light.
const (
	fromSky  = -1
	fromDark = -2 // from behind a surface: none
)

// surface is a material as the shading reads it.
type surface struct {
	albedo      vec
	gloss, grit float32
	grain       bool
	coat        [coatSteps + 1]float32 // see mirrors
}

// Quality says how carefully light is followed.
type Quality struct {
	Coarse float64 // points so many times farther apart; 0 means 1
	Rays   int     // to each point; 0 means 48
	Hasty  bool    // coarse grain is drawn quickly, and glitters a little
}

// Draft is for the first look, Fine for one that stays.
var (
	Draft = Quality{Coarse: 2.2, Rays: 12, Hasty: true}
	Fine  = Quality{Coarse: 1, Rays: 64}
)

// Prepare finds the ways of light in a scene. It uses all cores, and returns nil
// and the context's error when that ends first. before, where not nil, lends
// the grain of boards that are the same.
func Prepare(ctx context.Context, s *scene.Scene, q Quality, before *World) (*World, error) {
	if q.Coarse <= 0 {
		q.Coarse = 1
	}
	if q.Rays <= 0 {
		q.Rays = 48
	}
	w := &World{scene: s, coarse: q.Coarse, hasty: q.Hasty, rays: q.Rays}
	tris := make([]flatTri, len(s.Triangles))
	for i := range s.Triangles {
		t := &s.Triangles[i]
		p := vecOf(t.P[0])
		tris[i] = flatTri{p: p, e1: sub(vecOf(t.P[1]), p), e2: sub(vecOf(t.P[2]), p), id: int32(i), pane: s.Materials[t.Material].Pane}
	}
	w.tree = newTree(tris)
	for i := range s.Materials {
		m := &s.Materials[i]
		w.mats = append(w.mats, surface{albedo: vec{float32(m.Diffuse[0]), float32(m.Diffuse[1]), float32(m.Diffuse[2])}, gloss: float32(m.Gloss), grit: float32(m.Rough), grain: m.Grain != nil, coat: coatOf(m)})
	}
	w.charts()
	w.corners()
	if err := w.follow(ctx); err != nil {
		return nil, err
	}
	if err := w.bakeGrain(ctx, before); err != nil {
		return nil, err
	}
	w.placeProbes()
	w.Relight(nil)
	return w, ctx.Err()
}

// Scene returns the scene that the world was made of.
func (w *World) Scene() *scene.Scene { return w.scene }

// each calls f for parts of 0 to n on all cores, until the context ends.
func each(ctx context.Context, n int, f func(from, to int)) error {
	const grain = 256
	return scene.Share(ctx, (n+grain-1)/grain, 0, func(k int) { f(k*grain, min(n, (k+1)*grain)) })
}

// follow casts the rays of all points.
func (w *World) follow(ctx context.Context) error {
	n := len(w.point)
	w.ways = make([]int32, n*w.rays)
	lists := make([][]ray, n)
	lamps := w.lampPatches()
	err := each(ctx, n, func(from, to int) {
		for i := from; i < to; i++ {
			if w.point[i].used {
				w.gather(i)
				if w.point[i].used {
					lists[i] = w.aim(i, lamps)
				}
			}
		}
	})
	if err != nil {
		return err
	}
	w.from = make([]int32, n+1)
	total := 0
	for i := range lists {
		w.from[i] = int32(total)
		total += len(lists[i])
	}
	w.from[n] = int32(total)
	w.direct = make([]ray, 0, total)
	for _, l := range lists {
		w.direct = append(w.direct, l...)
	}
	return nil
}

// gather casts rays from a point into all directions it sees, more towards its
// normal by the cosine, and notes whose light comes along each. A point that
// sees mostly the backs of things lies inside one and is not used.
func (w *World) gather(i int) {
	p := &w.point[i]
	x, y := aside(p.normal)
	o := add(p.at, mul(p.normal, 0.35))
	// Turned by a number of the place's own, so that neighbours err differently
	// and corners that several charts share err alike.
	h := scatter(uint64(int64(math.Round(float64(p.at[0])*8))), uint64(int64(math.Round(float64(p.at[1])*8))))
	h = scatter(h, uint64(int64(math.Round(float64(p.at[2])*8)))^uint64(int64(math.Round(float64(p.normal[0])*50)+math.Round(float64(p.normal[1])*50)*128+math.Round(float64(p.normal[2])*50)*16384)))
	t0, t1 := float64(h>>40)/(1<<24), float64(h&0xffffff)/(1<<24)
	if w.chart[p.chart].round { // so small that it is not evened out: its neighbours err alike
		t0, t1 = 0.5, 0.5
	}
	backs := 0
	for k := range w.rays {
		// The sequence R2 (Roberts 2018; its constants from memory) covers the
		// square evenly with any number of points.
		_, u := math.Modf(t0 + 0.7548776662466927*float64(k))
		_, v := math.Modf(t1 + 0.5698402909980532*float64(k))
		r := math.Sqrt(u)
		sn, cs := math.Sincos(2 * math.Pi * v)
		a, b, c := float32(r*cs), float32(r*sn), float32(math.Sqrt(1-u))
		d := add(add(mul(x, a), mul(y, b)), mul(p.normal, c))
		way := int32(fromSky)
		if m, ok := w.tree.cast(o, d, math.MaxFloat32); ok {
			if m.back {
				way = fromDark
				if m.far < 400 {
					backs++
				}
			} else {
				way = w.pointAt(m)
			}
		}
		w.ways[i*w.rays+k] = way
	}
	if backs*5 > w.rays*2 {
		p.used = false
	}
}

// pointAt returns the point nearest to where a ray met a surface.
func (w *World) pointAt(m met) int32 {
	t := &w.scene.Triangles[m.id]
	c := &w.chart[w.chartOf[m.id]]
	p := add(mul(vecOf(t.P[0]), 1-m.u-m.v), add(mul(vecOf(t.P[1]), m.u), mul(vecOf(t.P[2]), m.v)))
	d := sub(p, c.origin)
	i := int32(dot(d, c.ex)/max(c.dx, 1e-6) + 0.5)
	j := int32(dot(d, c.ey)/max(c.dy, 1e-6) + 0.5)
	i, j = max(0, min(c.nx-1, i)), max(0, min(c.ny-1, j))
	return c.first + j*c.nx + i
}

// Relight sums the light anew: the shares of full light of the lamps, by their
// places in the scene, or the scene's own where nil.
func (w *World) Relight(levels []float64) {
	s := w.scene
	power := make([]vec, len(s.Lamps))
	for i := range s.Lamps {
		l := &s.Lamps[i]
		k := l.Level
		if levels != nil && i < len(levels) {
			k = levels[i]
		}
		k *= l.Lumens
		power[i] = vec{float32(l.Tint[0] * k), float32(l.Tint[1] * k), float32(l.Tint[2] * k)}
	}
	n := len(w.point)
	first := make([]vec, n)
	sky := vec{float32(math.Pi * s.Sky[0]), float32(math.Pi * s.Sky[1]), float32(math.Pi * s.Sky[2])}
	ctx := context.Background()
	_ = each(ctx, n, func(from, to int) { // it cannot end early
		for i := from; i < to; i++ {
			var e vec
			for _, r := range w.direct[w.from[i]:w.from[i+1]] {
				e = add(e, mul(power[r.lamp], r.share))
			}
			first[i] = e
		}
	})
	w.spread(first)
	// What comes back from all that is lit, again and again: each round adds
	// what one more reflection brings.
	total, sent, next := append([]vec(nil), first...), make([]vec, n), make([]vec, n)
	indirect := make([]vec, n)
	const rounds = 4
	for round := range rounds {
		for i := range sent {
			sent[i] = times(total[i], w.point[i].albedo)
		}
		_ = each(ctx, n, func(from, to int) {
			for i := from; i < to; i++ {
				var e vec
				if w.point[i].used {
					for _, way := range w.ways[i*w.rays : (i+1)*w.rays] {
						switch {
						case way >= 0:
							e = add(e, sent[way])
						case way == fromSky:
							e = add(e, sky)
						}
					}
					e = mul(e, 1/float32(w.rays))
				}
				next[i] = e
			}
		})
		w.spread(next)
		copy(indirect, next)
		if round == rounds-1 {
			for range 9 {
				w.even(indirect)
			}
		}
		for i := range total {
			total[i] = add(first[i], indirect[i])
		}
	}
	w.light = total
	w.lampGlow = make([]vec, len(s.Lamps))
	for i := range s.Lamps {
		w.lampGlow[i] = w.glow(i, power)
	}
	for i := range w.probes {
		w.fillProbe(&w.probes[i], power)
	}
}

// spread gives points that are not used the light of their neighbours, so that
// what is interpolated at an edge is not dark.
func (w *World) spread(e []vec) {
	for c := range w.chart {
		ch := &w.chart[c]
		missing := false
		for k := ch.first; k < ch.first+ch.nx*ch.ny; k++ {
			missing = missing || !w.point[k].used
		}
		if !missing {
			continue
		}
		known := make([]bool, ch.nx*ch.ny)
		for k := range known {
			known[k] = w.point[ch.first+int32(k)].used
		}
		for range 6 {
			grown := append([]bool(nil), known...)
			for j := range ch.ny {
				for i := range ch.nx {
					k := j*ch.nx + i
					if known[k] {
						continue
					}
					var sum vec
					count := float32(0)
					for dj := max(0, j-1); dj <= min(ch.ny-1, j+1); dj++ {
						for di := max(0, i-1); di <= min(ch.nx-1, i+1); di++ {
							if q := dj*ch.nx + di; known[q] {
								sum = add(sum, e[ch.first+q])
								count++
							}
						}
					}
					if count > 0 {
						e[ch.first+k] = mul(sum, 1/count)
						grown[k] = true
					}
				}
			}
			known = grown
		}
	}
}

// even takes the roughness of few rays out of light that comes from all sides.
func (w *World) even(e []vec) {
	for c := range w.chart {
		ch := &w.chart[c]
		if ch.nx < 3 && ch.ny < 3 {
			continue
		}
		line := make([]vec, max(ch.nx, ch.ny))
		pass := func(at func(i int32) int32, n int32) {
			for i := range n {
				line[i] = e[at(i)]
			}
			for i := range n {
				a, b := line[max(0, i-1)], line[min(n-1, i+1)]
				e[at(i)] = add(mul(line[i], 0.5), mul(add(a, b), 0.25))
			}
		}
		if ch.nx >= 3 {
			for j := range ch.ny {
				pass(func(i int32) int32 { return ch.first + j*ch.nx + i }, ch.nx)
			}
		}
		if ch.ny >= 3 {
			for i := range ch.nx {
				pass(func(j int32) int32 { return ch.first + j*ch.nx + i }, ch.ny)
			}
		}
	}
}

// Illuminance returns the light, lx, where a ray from o along d meets a surface,
// and 0 where it meets none.
func (w *World) Illuminance(o, d mgl64.Vec3) float64 {
	h, ok := w.tree.cast(vecOf(o), unitOf(vecOf(d)), math.MaxFloat32)
	if !ok || h.back {
		return 0
	}
	t := &w.scene.Triangles[h.id]
	c := &w.chart[w.chartOf[h.id]]
	p := add(mul(vecOf(t.P[0]), 1-h.u-h.v), add(mul(vecOf(t.P[1]), h.u), mul(vecOf(t.P[2]), h.v)))
	q := sub(p, c.origin)
	return float64(luminance(w.lit(c, dot(q, c.ex)/max(c.dx, 1e-6), dot(q, c.ey)/max(c.dy, 1e-6))))
}
