package still

import (
	"math"
	"testing"
)

// A film of index 1.5 reflects 4 % head on: ((n-1)/(n+1))², Hecht, Optics, 4.6.
func TestFresnelHeadOn(t *testing.T) {
	if got := fresnel(1); math.Abs(got-0.04) > 1e-12 {
		t.Errorf("head on %g, want 0.04", got)
	}
	if got := fresnel(0); got != 1 {
		t.Errorf("grazing %g, want 1", got)
	}
	// Light along Brewster's angle, tan θ = n, loses all of one polarisation; of
	// the other ((n²-1)/(n²+1))² comes back, so half of that in all.
	if got, want := fresnel(1/math.Sqrt(1+coatIndex*coatIndex)), math.Pow(1.25/3.25, 2)/2; math.Abs(got-want) > 1e-12 {
		t.Errorf("at Brewster's angle %g, want %g", got, want)
	}
}

// What goes from a to b goes from b to a: Helmholtz's reciprocity.
func TestCoatIsReciprocal(t *testing.T) {
	for _, f := range finishes() {
		for i := range 200 {
			p := pointsOf(7, i, 0)
			o, w := cosine(p.next()), cosine(p.next())
			b1, m1 := f.sends(o, w)
			b2, m2 := f.sends(w, o)
			if d := math.Abs(m1 - m2); d > 1e-12*(m1+1) || math.Abs(b1.r-b2.r) > 1e-12 {
				t.Fatalf("rough %.2f from %v to %v: %g and %g; back %g and %g", f.coat.alpha, o, w, b1.r, m1, b2.r, m2)
			}
		}
	}
}

func finishes() (out []finish) {
	for _, alpha := range []float64{sharpest, 0.04, 0.25, 1} {
		for _, gloss := range []float64{0.4, 1} {
			out = append(out, finish{body: rgb{1, 1, 1}, gloss: gloss, coat: newCoat(alpha)})
		}
	}
	return out
}

// A white body under a coat gives back all light, whatever its direction: within
// half a percent. The directions are taken as a path takes them, so this also
// holds the density to the directions.
func TestCoatKeepsEnergy(t *testing.T) {
	for _, f := range finishes() {
		for _, mu := range []float64{0.05, 0.2, 0.5, 0.8, 1} {
			o := vec{math.Sqrt(1 - mu*mu), 0, mu}
			p := f.choice(o)
			sum := 0.0
			const n = 1 << 13
			for i := range n {
				q := pointsOf(3, 0, i)
				_, lobe := q.next()
				a, b := q.next()
				w := f.direction(o, p, lobe, a, b)
				if d := f.density(o, w, p); d > 0 {
					body, mirror := f.sends(o, w)
					sum += (body.g + mirror) * w.z / d
				}
			}
			if got := sum / n; math.Abs(got-1) > 5e-3 {
				t.Errorf("spread %.3f, gloss %.1f, cosine %.2f: %.4f of the light comes back", f.coat.alpha, f.gloss, mu, got)
			}
		}
	}
}

// Densities are those of the directions: over a grid of the hemisphere they add
// up to the share of directions that lie in it.
func TestDensityAddsUp(t *testing.T) {
	f := finish{body: rgb{0.5, 0.5, 0.5}, gloss: 1, coat: newCoat(0.3)}
	for _, mu := range []float64{0.2, 0.7, 1} {
		o := vec{math.Sqrt(1 - mu*mu), 0, mu}
		p := f.choice(o)
		up := 0.0
		const n = 1 << 13
		for i := range n {
			q := pointsOf(5, 1, i)
			_, lobe := q.next()
			a, b := q.next()
			if f.direction(o, p, lobe, a, b).z > 0 {
				up++
			}
		}
		sum := 0.0
		const side = 400
		for i := range side {
			for j := range side {
				z, turn := (float64(i)+0.5)/side, 2*math.Pi*(float64(j)+0.5)/side
				r := math.Sqrt(1 - z*z)
				sum += f.density(o, vec{r * math.Cos(turn), r * math.Sin(turn), z}, p) * 2 * math.Pi / side / side
			}
		}
		if math.Abs(sum-up/n) > 3e-3 {
			t.Errorf("cosine %.1f: the densities add up to %.4f, %.4f of the directions go up", mu, sum, up/n)
		}
	}
}
