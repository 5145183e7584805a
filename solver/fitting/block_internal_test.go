package fitting

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

func randomBlock(rng *rand.Rand, at mgl64.Vec3) block {
	for {
		var hs []half
		for range 6 + rng.IntN(4) {
			n := mgl64.Vec3{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize()
			hs = append(hs, half{n: n, d: n.Dot(at) + 10 + 20*rng.Float64()})
		}
		b, ok := blockOf(at, hs)
		if ok && b.hi.Sub(b.lo).Len() < 300 {
			return b
		}
	}
}

// TestBlocks holds blocks against Euler's formula and their own half-spaces.
func TestBlocks(t *testing.T) {
	const seed = 3
	rng := rand.New(rand.NewPCG(seed, 1))
	for trial := range 200 {
		b := randomBlock(rng, mgl64.Vec3{500, -200, 100})
		edges := 0
		for i, l := range b.facets {
			edges += len(l)
			for _, v := range b.verts {
				if d := b.normals[i].Dot(v) - b.normals[i].Dot(b.verts[l[0]]); d > 1e-5 {
					t.Fatalf("seed %d, trial %d: a corner %g outside a facet", seed, trial, d)
				}
			}
			a, c := b.verts[l[1]].Sub(b.verts[l[0]]), b.verts[l[2]].Sub(b.verts[l[1]])
			if a.Cross(c).Dot(b.normals[i]) < 0 {
				t.Fatalf("seed %d, trial %d: a facet runs clockwise", seed, trial)
			}
		}
		if len(b.verts)-edges/2+len(b.facets) != 2 {
			t.Fatalf("seed %d, trial %d: %d corners, %d edges, %d facets", seed, trial, len(b.verts), edges/2, len(b.facets))
		}
	}
	if _, ok := blockOf(mgl64.Vec3{}, []half{{n: mgl64.Vec3{1, 0, 0}, d: -1}, {n: mgl64.Vec3{-1, 0, 0}, d: -1}}); ok {
		t.Error("a block of nothing")
	}
}

// depthIn returns how deep the deepest point common to two blocks lies in both,
// by climbing: the slow twin of overlap.
func depthIn(a, b *block, shift mgl64.Vec3) float64 {
	depth := func(p mgl64.Vec3) float64 {
		least := math.Inf(1)
		for i, n := range a.normals {
			least = math.Min(least, n.Dot(a.verts[a.facets[i][0]].Add(shift))-n.Dot(p))
		}
		for i, n := range b.normals {
			least = math.Min(least, n.Dot(b.verts[b.facets[i][0]])-n.Dot(p))
		}
		return least
	}
	var p mgl64.Vec3
	for _, v := range b.verts {
		p = p.Add(v.Mul(1 / float64(len(b.verts))))
	}
	best := depth(p)
	// a concave function: a pattern search with shrinking steps over many
	// directions finds its top
	rng := rand.New(rand.NewPCG(11, 2))
	for step := 40.0; step > 0.01; step *= 0.8 {
		for range 60 {
			d := mgl64.Vec3{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize().Mul(step)
			if v := depth(p.Add(d)); v > best {
				p, best = p.Add(d), v
			}
		}
	}
	return best
}

// TestClearAgainstSteps compares the exact answer with moving the block step by
// step and looking for a common point.
func TestClearAgainstSteps(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 1))
	hits, frees := 0, 0
	trials := 40
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		trials = 400
	}
	for trial := range trials {
		a := randomBlock(rng, mgl64.Vec3{})
		o := randomBlock(rng, mgl64.Vec3{rng.NormFloat64() * 120, rng.NormFloat64() * 120, rng.NormFloat64() * 120})
		if a.overlap(&o) > -1 {
			continue // they must begin apart
		}
		centre := func(b *block) (c mgl64.Vec3) {
			for _, v := range b.verts {
				c = c.Add(v.Mul(1 / float64(len(b.verts))))
			}
			return c
		}
		dir := centre(&o).Sub(centre(&a)).Normalize().Add(mgl64.Vec3{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Mul(0.5)).Normalize()
		reach := 300.0
		got := a.clear(dir, reach, rub, &o)
		deepest := math.Inf(-1)
		for k := range 31 {
			deepest = math.Max(deepest, depthIn(&a, &o, dir.Mul(reach*float64(k)/30)))
		}
		switch {
		case deepest > 1 && got:
			t.Errorf("seed %d, trial %d: they meet, %g deep, and clear says no", seed, trial, deepest)
		case deepest < -5.1 && !got: // half a step of 10 mm, and a little
			t.Errorf("seed %d, trial %d: they stay %g apart, and clear says they meet", seed, trial, -deepest)
		}
		if got {
			frees++
		} else {
			hits++
		}
	}
	if hits < 8 || frees < 8 {
		t.Errorf("%d hits and %d free: too few of either to compare", hits, frees)
	}
}

// TestTiltNeed checks the worked figure of the trade notes, a board of 914 by 25
// needing 0.34 mm to be tilted in, and turns boards by small steps.
func TestTiltNeed(t *testing.T) {
	if got := TiltNeed(914, 25, 0, 0); math.Abs(got-0.34) > 0.005 {
		t.Errorf("914 by 25 needs %.3f, want 0.34", got)
	}
	// an undercut of 1.5 degrees supplies it: 25 tan 1.5 = 0.65
	if got := TiltNeed(914, 25, 1.5*math.Pi/180, 0); got != 0 {
		t.Errorf("undercut it needs %.3f", got)
	}
	const seed = 9
	rng := rand.New(rand.NewPCG(seed, 1))
	for range 200 {
		w, th := 600+500*rng.Float64(), 10+20*rng.Float64()
		bevel, lean := 0.05*rng.Float64(), 0.05*rng.Float64()
		widest := 0.0
		for k := range 20000 {
			a := 0.2 * float64(k) / 20000
			for _, c := range []mgl64.Vec2{{w, 0}, {w - th*math.Tan(bevel), -th}} {
				x := c[0]*math.Cos(a) - c[1]*math.Sin(a)
				z := c[0]*math.Sin(a) + c[1]*math.Cos(a)
				widest = math.Max(widest, x+z*math.Tan(lean))
			}
		}
		if got := TiltNeed(w, th, bevel, lean); math.Abs(got-(widest-w)) > 1e-4 {
			t.Fatalf("seed %d: %g by %g, bevel %g, lean %g: needs %g, turned by steps %g", seed, w, th, bevel, lean, got, widest-w)
		}
	}
}

// TestCycle compares the shortest cycle with every walk tried.
func TestCycle(t *testing.T) {
	const seed = 13
	rng := rand.New(rand.NewPCG(seed, 1))
	for trial := range 300 {
		n := 2 + rng.IntN(6)
		g := newGraph(n)
		for range rng.IntN(2 * n) {
			if a, b := rng.IntN(n), rng.IntN(n); a != b {
				g.before(a, b, "")
			}
		}
		shortest := 0
		var walk func(start, at, steps int)
		walk = func(start, at, steps int) {
			for _, x := range g.out[at] {
				if x.to == start && (shortest == 0 || steps < shortest) {
					shortest = steps
				}
				if steps < n && x.to != start {
					walk(start, x.to, steps+1)
				}
			}
		}
		for s := range n {
			walk(s, s, 1)
		}
		order, ok := g.order(make([]float64, n))
		c := g.cycle()
		if ok != (shortest == 0) || len(c) != shortest {
			t.Fatalf("seed %d, trial %d: cycle %v, order %v %v; the shortest has %d", seed, trial, c, order, ok, shortest)
		}
		at := make([]int, n)
		for i, x := range order {
			at[x] = i
		}
		if ok {
			for a := range g.out {
				for _, x := range g.out[a] {
					if at[a] > at[x.to] {
						t.Fatalf("seed %d, trial %d: %d before %d is not kept", seed, trial, a, x.to)
					}
				}
			}
		}
		for i, x := range c {
			found := false
			for _, y := range g.out[x] {
				found = found || y.to == c[(i+1)%len(c)]
			}
			if !found {
				t.Fatalf("seed %d, trial %d: %v is no cycle", seed, trial, c)
			}
		}
	}
}
