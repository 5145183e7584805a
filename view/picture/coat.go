package picture

import (
	"math"

	"risewright/view/scene"
)

// coatSteps is how many steps of the cosine to the normal a coat's shares are
// tabled for.
const coatSteps = 64

// coatOf returns the share of light from a direction that a material's clear coat
// mirrors, by the cosine of that direction to the normal: entry i is at
// i/coatSteps.
func coatOf(m *scene.Material) (t [coatSteps + 1]float32) {
	for i := range t {
		t[i] = float32(m.Gloss * mirrored(m.Rough, float64(i)/coatSteps))
	}
	return t
}

// mirrored returns the share of light at a cosine to the normal that a film of
// index 1.5 and some roughness mirrors in all: what a smooth one does straight on,
// and much less at a grazing angle, where its facets hide each other. It is an
// approximation of the GGX model (B. Karis, Physically Based Shading on Mobile,
// 2014; the figures from memory).
func mirrored(rough, cosine float64) float64 {
	const straight = 0.04
	x, y := 1-rough, 0.0425-0.0275*rough
	z, w := 1.04-0.572*rough, 0.022*rough-0.04
	a := math.Min(x*x, math.Exp2(-9.28*cosine))*x + y
	return max(0, straight*(z-1.04*a)+1.04*a+w)
}

// mirrors returns the share of light that the coat mirrors at a cosine.
func (m *surface) mirrors(cosine float32) float32 {
	x := max(0, min(coatSteps-0.001, cosine*coatSteps))
	i := int(x)
	f := x - float32(i)
	return m.coat[i]*(1-f) + m.coat[i+1]*f
}
