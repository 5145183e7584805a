package picture

import (
	"math"
	"testing"

	"risewright/view/scene"
)

// The share that a coat mirrors is that of the integral of the GGX model over all
// directions (B. Walter and others, Microfacet Models for Refraction, 2007, with
// its separable masking, and Fresnel's equations for an index of 1.5), to within a
// few hundredths, for the coats that boards and floors have.
func TestACoatMirrorsAsItsModel(t *testing.T) {
	for _, rough := range []float64{0.25, 0.34, 0.45, 0.6} {
		for _, cosine := range []float64{0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 1} {
			want := modelShare(rough*rough, cosine)
			if got := mirrored(rough, cosine); math.Abs(got-want) > 0.05 {
				t.Errorf("rough %g at cosine %g: %.3f, the model has %.3f", rough, cosine, got, want)
			}
		}
	}
	m := surface{coat: coatOf(&scene.Material{Gloss: 0.8, Rough: 0.34})}
	for _, c := range []float32{-0.2, 0, 0.013, 0.5, 1, 1.2} {
		want := 0.8 * mirrored(0.34, float64(max(0, min(1, c))))
		if got := float64(m.mirrors(c)); math.Abs(got-want) > 0.002 {
			t.Errorf("by the table at %g: %.4f, not %.4f", c, got, want)
		}
	}
}

// modelShare adds up the model over the hemisphere by facets: for each facet
// normal h the light goes to one direction.
func modelShare(alpha, mu float64) float64 {
	o := [3]float64{math.Sqrt(1 - mu*mu), 0, mu}
	shade := func(z float64) float64 { // Smith's masking of one direction
		tan2 := (1 - z*z) / (z * z)
		return 2 / (1 + math.Sqrt(1+alpha*alpha*tan2))
	}
	const steps = 400
	sum := 0.0
	for i := range steps {
		// tan of the facet's tilt, spread as the facets are
		u := (float64(i) + 0.5) / steps
		tan2 := alpha * alpha * u / (1 - u)
		cos := 1 / math.Sqrt(1+tan2)
		sin := math.Sqrt(max(0, 1-cos*cos))
		for k := range steps {
			phi := 2 * math.Pi * (float64(k) + 0.5) / steps
			h := [3]float64{sin * math.Cos(phi), sin * math.Sin(phi), cos}
			oh := o[0]*h[0] + o[1]*h[1] + o[2]*h[2]
			if oh <= 0 {
				continue
			}
			iz := 2*oh*h[2] - o[2]
			if iz <= 0 {
				continue
			}
			// density of facets by projected area cos·D; the term F·G·oh/(mu·cos)
			sum += smooth(oh) * shade(mu) * shade(iz) * oh / (mu * cos)
		}
	}
	return sum / (steps * steps)
}

// smooth is Fresnel's share for light of no polarisation.
func smooth(cos float64) float64 {
	t := math.Sqrt(1 - (1-cos*cos)/2.25)
	s, p := (cos-1.5*t)/(cos+1.5*t), (1.5*cos-t)/(1.5*cos+t)
	return (s*s + p*p) / 2
}
