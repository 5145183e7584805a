package lux_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
)

// halfSpaces is a convex solid for rays: the points with n·x <= d for all.
type halfSpaces []struct {
	n vec
	d float64
}

// hit says whether the segment from p to q runs through the solid's inside. It
// knows nothing of shadows or polygons, only of how far along each plane is
// passed.
func (h halfSpaces) hit(p, q vec) bool {
	in, out := 0.0, 1.0
	for _, f := range h {
		a, b := f.n.Dot(p)-f.d, f.n.Dot(q)-f.d
		switch {
		case a >= -1e-9 && b >= -1e-9:
			return false
		case a > b: // entering
			in = math.Max(in, a/(a-b))
		case b > a:
			out = math.Min(out, a/(a-b))
		}
	}
	return out-in > 1e-9
}

// through says whether the segment passes a flat polygon.
func through(v []vec, p, q vec) bool {
	n := v[1].Sub(v[0]).Cross(v[2].Sub(v[0]))
	a, b := n.Dot(p.Sub(v[0])), n.Dot(q.Sub(v[0]))
	if (a > 0) == (b > 0) {
		return false
	}
	x := p.Add(q.Sub(p).Mul(a / (a - b)))
	for i := range v {
		if v[(i+1)%len(v)].Sub(v[i]).Cross(x.Sub(v[i])).Dot(n) < 0 {
			return false
		}
	}
	return true
}

// leak is what may shine, in lx, through the joint of two boards that touch: each
// stops light only a millionth of a millimetre from its faces.
const leak = 1e-4

// A ray count with its own error bar on 20 random treads (and the floor) of
// rough flights, with boards, lips and a loose plank in the way: rays leave the
// point by the cosine law, and the part that meets a bright face is F, a
// binomial count. Rays at the bright face itself (its area sampled evenly) give
// a second, tighter count.
func TestRayCount(t *testing.T) {
	rays := 4000
	if testing.Short() {
		rays = 1000
	}
	const seed = 20260417
	rng := rand.New(rand.NewPCG(seed, 1))
	shaded, lights := 0, 0
	for trial := range 20 {
		n := 3 + rng.IntN(4)
		ps := boards(t, n, 15, rng)
		m := lux.TypicalMount(100)
		m.Lip, m.Aim, m.Drop, m.Width = 6*rng.Float64(), 1.2*(rng.Float64()-0.3), 8+8*rng.Float64(), 6+8*rng.Float64()
		var steps []int
		for k := 1; k <= n; k++ {
			steps = append(steps, k)
		}
		p := lit(ps, m, steps...)
		at := rng.IntN(n) // 0 is the floor
		var solids []halfSpaces
		for i := range ps {
			s := ps[i].Placed()
			var h halfSpaces
			for _, f := range s.Faces {
				h = append(h, struct {
					n vec
					d float64
				}{f.Normal, f.Offset})
			}
			solids = append(solids, h)
		}
		var sheets [][]vec
		if trial%2 == 0 { // a plank somewhere over the tread
			c := vec{900 * rng.Float64(), 254*float64(at-1) + 250*rng.Float64(), 185*float64(at) + 40 + 60*rng.Float64()}
			plank := rect(c, vec{60 + 200*rng.Float64(), 30 * rng.Float64(), 20 * rng.Float64()}, vec{10 * rng.Float64(), 80, 60 * (rng.Float64() - 0.5)})
			sheets = append(sheets, plank)
			p.Screens = append(p.Screens, lux.Screen{Outline: plank, BothSides: true})
		}
		for _, b := range p.Bars {
			if b.Lip > 0 {
				up := b.Normal().Mul(b.Lip)
				sheets = append(sheets, rect(b.Corner, b.Along, up))
			}
		}
		blocked := func(a, b vec) bool {
			for _, h := range solids {
				if h.hit(a, b) {
					return true
				}
			}
			for _, s := range sheets {
				if through(s, a, b) {
					return true
				}
			}
			return false
		}
		r := lux.Solve(p, lux.Settings{Across: 9, Deep: 7})
		s := surface(t, &r, at)
		cell := rng.IntN(63)
		for s.Grid.Area[cell] == 0 {
			cell = rng.IntN(63)
		}
		from, normal, got := s.Grid.At[cell], normalOf(s), s.Grid.Lux[cell]

		// Area sampling.
		sum, squares := 0.0, 0.0
		for _, b := range p.Bars {
			bn, area := b.Normal(), b.Along.Len()*b.Across.Len()
			part, parts := 0.0, 0.0
			for range rays {
				q := b.Corner.Add(b.Along.Mul(rng.Float64())).Add(b.Across.Mul(rng.Float64()))
				d := q.Sub(from)
				d2 := d.LenSqr()
				cosines := normal.Dot(d) * -bn.Dot(d) / d2
				if normal.Dot(d) <= 0 || bn.Dot(d) >= 0 || blocked(from, q) {
					if normal.Dot(d) > 0 && bn.Dot(d) < 0 {
						shaded++
					}
					continue
				}
				e := b.Exitance * area * cosines / (math.Pi * d2)
				part, parts = part+e, parts+e*e
			}
			k := float64(rays)
			sum += part / k
			squares += (parts/k - part/k*part/k) / (k - 1)
		}
		if sum > 0.1 {
			lights++
		}
		sigma := math.Sqrt(squares)
		if math.Abs(got-sum) > 4*sigma+leak {
			t.Errorf("trial %d (seed %d): %s cell %d: %.5g lx, rays at the bars %.5g ± %.2g", trial, seed, s.Name(), cell, got, sum, sigma)
		}

		// The count of rays that leave the point.
		hits, weight := 0.0, p.Bars[0].Exitance
		for i := range p.Bars { // the bars differ a little in length
			weight = math.Max(weight, p.Bars[i].Exitance)
		}
		x := s.Outline[1].Sub(s.Outline[0]).Normalize()
		y := normal.Cross(x)
		total, total2 := 0.0, 0.0
		for range 4 * rays {
			rad, turn := math.Sqrt(rng.Float64()), 2*math.Pi*rng.Float64()
			dir := x.Mul(rad * math.Cos(turn)).Add(y.Mul(rad * math.Sin(turn))).Add(normal.Mul(math.Sqrt(1 - rad*rad)))
			for _, b := range p.Bars {
				bn := b.Normal()
				down := bn.Dot(dir)
				if down >= 0 {
					continue
				}
				far := bn.Dot(b.Corner.Sub(from)) / down
				q := from.Add(dir.Mul(far))
				u, v := q.Sub(b.Corner).Dot(b.Along)/b.Along.LenSqr(), q.Sub(b.Corner).Dot(b.Across)/b.Across.LenSqr()
				if far <= 0 || u < 0 || u > 1 || v < 0 || v > 1 || blocked(from, q) {
					continue
				}
				hits++
				total, total2 = total+b.Exitance, total2+b.Exitance*b.Exitance
			}
		}
		k := float64(4 * rays)
		sigma = math.Sqrt(math.Max(total2/k-total/k*total/k, 0) / (k - 1))
		// Four hits either way where the count is too small for a normal bar.
		if math.Abs(got-total/k) > 4*sigma+4*weight/k {
			t.Errorf("trial %d (seed %d): %s cell %d: %.5g lx, %g of %g rays give %.5g ± %.2g", trial, seed, s.Name(), cell, got, hits, k, total/k, sigma)
		}
	}
	// A check that met no shadow or no light would pass anything.
	if shaded < 20*rays/10 || lights < 15 {
		t.Errorf("only %d rays were stopped and %d of 20 points are lit", shaded, lights)
	}
}

// inside returns the six walls of a closed box, lit from within.
func inside(lo, hi vec) (out []lux.Surface) {
	d := hi.Sub(lo)
	x, y, z := vec{d[0]}, vec{0, d[1]}, vec{0, 0, d[2]}
	for i, o := range [][]vec{
		rect(lo, x, y), rect(lo.Add(z), y, x), rect(lo, y, z), rect(lo.Add(x), z, y), rect(lo, z, x), rect(lo.Add(y), x, z),
	} {
		out = append(out, lux.Surface{Step: i + 1, Kind: lux.Tread, Outline: o, Reflectance: 0.5})
	}
	return out
}

// Energy: what leaves the bars in a closed box arrives on its walls and on the
// block that stands in it, within 0.1 %. And of light reflected once by half,
// half as much again, within what patches leave (1 %).
func TestClosedBox(t *testing.T) {
	turn := mgl64.HomogRotate3DZ(0.4).Mul4(mgl64.HomogRotate3DX(0.3))
	direction := func(v vec) vec { return mgl64.TransformNormal(v, turn) }
	bar := lux.Bar{Step: 1, Corner: vec{400, 420, 700}, Along: direction(vec{-200, 0, 0}), Across: direction(vec{0, 40, 0})}.WithLumens(100)
	second := lux.Bar{Step: 2, Corner: vec{500, 300, 400}, Along: direction(vec{0, 0, 150}), Across: direction(vec{0, 60, 0})}.WithLumens(60)
	walls := inside(vec{0, 0, 0}, vec{1000, 800, 900})
	var outside []lux.Surface
	var screens []lux.Screen
	for _, s := range inside(vec{560, 500, 150}, vec{760, 640, 420}) {
		// the faces of the block look outwards
		o := s.Outline
		s.Outline = []vec{o[0], o[3], o[2], o[1]}
		s.Reflectance = 0
		outside = append(outside, s)
		screens = append(screens, lux.Screen{Outline: s.Outline})
	}
	p := lux.Problem{Stair: lux.Stair{Surfaces: append(walls, outside...), Screens: screens}, Bars: []lux.Bar{bar, second}}
	set := lux.Settings{Across: 60, Deep: 60}
	flux := func(r *lux.Result) (all, onBlock float64) {
		for i := range r.Surfaces {
			all += r.Surfaces[i].Lumens()
			if i >= 6 {
				onBlock += r.Surfaces[i].Lumens()
			}
		}
		return all, onBlock
	}
	r := lux.Solve(p, set)
	all, onBlock := flux(&r)
	if math.Abs(all-160) > 0.16 {
		t.Errorf("%.4f lm arrive of 160 that leave", all)
	}
	if onBlock < 2 {
		t.Errorf("the block gets %.3f lm, so it stands in no way", onBlock)
	}
	// A block that does not shade lets its light arrive twice.
	p.Screens = nil
	r = lux.Solve(p, set)
	if open, _ := flux(&r); open < all+onBlock/2 {
		t.Errorf("without its shadow %.4f lm arrive, with it %.4f", open, all)
	}

	empty := lux.Problem{Stair: lux.Stair{Surfaces: inside(vec{0, 0, 0}, vec{1000, 800, 900})}, Bars: []lux.Bar{bar, second}}
	set.Across, set.Deep = 24, 24
	set.Reflect = true
	r = lux.Solve(empty, set)
	if all, _ := flux(&r); math.Abs(all-160*1.5) > 0.01*160 {
		t.Errorf("%.3f lm arrive with one reflection by half, want 240", all)
	}
}
