package still

import "testing"

// Each 2^k points of Sobol's first two dimensions put one point into each of the
// 2^k boxes of equal area, however the box is cut (a (0, 2)-sequence in base 2;
// Niederreiter 1992). Owen's scrambling keeps that.
func TestPointsAreANet(t *testing.T) {
	for pixel := range 20 {
		const k = 6
		for pair := range 3 {
			var at [1 << k][2]float64
			for i := range at {
				p := pointsOf(9, pixel, i)
				for range pair + 1 {
					at[i][0], at[i][1] = p.next()
				}
			}
			for across := range k + 1 {
				var boxes [1 << k]int
				for _, p := range at {
					x, y := int(p[0]*float64(int(1)<<across)), int(p[1]*float64(int(1)<<(k-across)))
					boxes[y<<across|x]++
				}
				for b, n := range boxes {
					if n != 1 {
						t.Fatalf("pixel %d, pair %d: box %d of %d across holds %d points", pixel, pair, b, 1<<across, n)
					}
				}
			}
		}
	}
}

// Neighbouring pixels do not share their points.
func TestPixelsDiffer(t *testing.T) {
	seen := map[[2]float64]int{}
	for pixel := range 1000 {
		p := pointsOf(1, pixel, 0)
		a, b := p.next()
		if other, ok := seen[[2]float64{a, b}]; ok {
			t.Fatalf("pixels %d and %d begin at the same place", other, pixel)
		}
		seen[[2]float64{a, b}] = pixel
	}
}
