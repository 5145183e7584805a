package plan

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/survey"
)

// square is an opening of 900 by 280 with a covariance to fill in.
func square() (*survey.Step, int) {
	s := &survey.Step{Corners: []mgl64.Vec2{{0, 0}, {900, 0}, {900, 280}, {0, 280}}, FR: 1, BR: 2, BL: 3}
	_, _, _, _, _, n := survey.Unknowns(4)
	s.Cov = make([]float64, n*n)
	return s, n
}

// An opening that is only unsure of where it lies and which way it is turned is
// sure of its shape.
func TestMovingTheWholeOpeningIsNoDoubtOfItsShape(t *testing.T) {
	s, n := square()
	modes := [][8]float64{{1, 0, 1, 0, 1, 0, 1, 0}, {0, 1, 0, 1, 0, 1, 0, 1}, {}}
	for c, p := range s.Corners { // turning about the front left corner
		modes[2][2*c], modes[2][2*c+1] = -p[1]/100, p[0]/100
	}
	for i := range 8 {
		for k := range 8 {
			for m, v := range modes {
				s.Cov[i*n+k] += float64(m+3) * v[i] * v[k]
			}
		}
	}
	var cov [144]float64
	if !cornerCov(&cov, s) {
		t.Fatal("no covariance")
	}
	for i := range 64 {
		if math.Abs(cov[i]) > 1e-9 {
			t.Fatalf("element %d is %v, want 0", i, cov[i])
		}
	}
}

// A doubt of 2 mm in the width alone, shared by four corners: each is unsure by
// 1 mm, to the left and right only.
func TestDoubtOfTheWidth(t *testing.T) {
	s, n := square()
	v := [8]float64{-1, 0, 1, 0, 1, 0, -1, 0} // half a change of 2 mm at each end
	for i := range 8 {
		for k := range 8 {
			s.Cov[i*n+k] = v[i] * v[k]
		}
	}
	var cov [144]float64
	cornerCov(&cov, s)
	for c := range 4 {
		a, b, angle := axesOf(cov[2*c*8+2*c], cov[2*c*8+2*c+1], cov[(2*c+1)*8+2*c+1])
		if math.Abs(a-1) > 1e-9 || math.Abs(b) > 1e-6 || math.Abs(math.Sin(angle)) > 1e-6 {
			t.Errorf("corner %d: half axes %v and %v at %v, want 1 and 0 at 0", c, a, b, angle)
		}
	}
}
