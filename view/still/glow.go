package still

const (
	// glowShare is how much of the light is scattered, so that a bright bar has
	// a halo: about half of what an eye scatters (a twentieth, from memory),
	// because the picture is looked at with one.
	glowShare = 0.025
	// glowDown is by how much the picture is made smaller to scatter it.
	glowDown = 8
)

// glow scatters a share of the light over its neighbourhood, about a fiftieth of
// the picture wide and ten times as wide. No light is lost but at the edges,
// where what falls off comes back in.
func glow(light [][3]float32, w, h, workers int) {
	sw, sh := (w+glowDown-1)/glowDown, (h+glowDown-1)/glowDown
	small := make([][3]float32, sw*sh)
	inRows(sh, workers, func(y int) {
		for x := range sw {
			var sum [3]float32
			n := float32(0)
			for v := y * glowDown; v < min((y+1)*glowDown, h); v++ {
				for u := x * glowDown; u < min((x+1)*glowDown, w); u++ {
					for c := range 3 {
						sum[c] += light[v*w+u][c]
					}
					n++
				}
			}
			for c := range 3 {
				small[y*sw+x][c] = sum[c] / n
			}
		}
	})
	near := blurred(small, sw, sh, max(1, sw/100), workers)
	wide := blurred(near, sw, sh, max(1, sw/16), workers)
	inRows(h, workers, func(y int) {
		for x := range w {
			// Between the middles of four small pixels.
			fx, fy := (float32(x)+0.5)/glowDown-0.5, (float32(y)+0.5)/glowDown-0.5
			x0, y0 := min(max(int(fx), 0), sw-1), min(max(int(fy), 0), sh-1)
			x1, y1 := min(x0+1, sw-1), min(y0+1, sh-1)
			kx, ky := min(max(fx-float32(x0), 0), 1), min(max(fy-float32(y0), 0), 1)
			p := &light[y*w+x]
			for c := range 3 {
				mid := func(b [][3]float32) float32 {
					top := b[y0*sw+x0][c]*(1-kx) + b[y0*sw+x1][c]*kx
					low := b[y1*sw+x0][c]*(1-kx) + b[y1*sw+x1][c]*kx
					return top*(1-ky) + low*ky
				}
				p[c] = p[c]*(1-glowShare) + glowShare*(mid(near)+mid(wide))/2
			}
		}
	})
}

// glow scatters a share of the light on each side of the film's split.
func (f *Film) glow(light [][3]float32, workers int) {
	for _, side := range [2][2]int{{0, f.split}, {f.split, f.W}} {
		from, w := side[0], side[1]-side[0]
		if w <= 0 {
			continue
		}
		part := light
		if w < f.W {
			part = make([][3]float32, w*f.H)
			for y := range f.H {
				copy(part[y*w:(y+1)*w], light[y*f.W+from:])
			}
		}
		glow(part, w, f.H, workers)
		if w < f.W {
			for y := range f.H {
				copy(light[y*f.W+from:y*f.W+from+w], part[y*w:])
			}
		}
	}
}

// blurred returns three means over 2 reach + 1 pixels in both directions, which
// is near to a bell.
func blurred(in [][3]float32, w, h, reach, workers int) [][3]float32 {
	a := append([][3]float32(nil), in...)
	b := make([][3]float32, len(in))
	for range 3 {
		inRows(h, workers, func(y int) { slide(a[y*w:(y+1)*w], b[y*w:(y+1)*w], w, 1, reach) })
		inRows(w, workers, func(x int) { slide(b[x:], a[x:], h, w, reach) })
	}
	return a
}

// slide writes the means of n values, stride apart; beyond the ends the last
// value goes on.
func slide(from, to [][3]float32, n, stride, reach int) {
	at := func(i int) *[3]float32 { return &from[min(max(i, 0), n-1)*stride] }
	k := 1 / float32(2*reach+1)
	for c := range 3 {
		// In float64, so that a bright spot leaves nothing behind when it goes.
		sum := 0.0
		for i := -reach; i <= reach; i++ {
			sum += float64(at(i)[c])
		}
		for i := range n {
			to[i*stride][c] = float32(sum) * k
			sum += float64(at(i + reach + 1)[c]) - float64(at(i - reach)[c])
		}
	}
}
