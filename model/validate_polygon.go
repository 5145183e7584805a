package model

// shortestEdge is the shortest edge of an opening, 1 mm: no board is cut to
// less, and an edge of no length has no direction.
const shortestEdge Length = 1

// simplePolygon says whether cs run anticlockwise round an area without
// crossing or touching themselves, with no edge shorter than shortestEdge.
// Openings have at most six corners, so testing every pair of edges costs
// nothing.
func simplePolygon(cs []Corner) bool {
	n := len(cs)
	area := 0.0
	for i := range cs {
		a, b := cs[i], cs[(i+1)%n]
		if a.Distance(b) < shortestEdge {
			return false
		}
		// from the first corner, so that the rounding does not grow with the
		// distance from the origin
		area += turn(cs[0], a, b)
	}
	// twice the area, in mm2; 1 is below any opening, and the rounding of
	// coordinates of 5e5 mm (spacing 6e-11 mm) over 1e4 mm is 6e-7 mm2
	if area < 1 {
		return false
	}
	for i := 0; i < n; i++ {
		for k := i + 2; k < n; k++ {
			if i == 0 && k == n-1 {
				continue
			}
			if segmentsMeet(cs[i], cs[(i+1)%n], cs[k], cs[(k+1)%n]) {
				return false
			}
		}
	}
	return true
}

// segmentsMeet says whether the segments ab and cd have a point in common,
// their ends among them.
func segmentsMeet(a, b, c, d Corner) bool {
	abc, abd, cda, cdb := sign(turn(a, b, c)), sign(turn(a, b, d)), sign(turn(c, d, a)), sign(turn(c, d, b))
	if abc*abd < 0 && cda*cdb < 0 {
		return true
	}
	return abc == 0 && between(a, c, b) || abd == 0 && between(a, d, b) ||
		cda == 0 && between(c, a, d) || cdb == 0 && between(c, b, d)
}

// between says whether p, on the line through a and b, lies between them.
func between(a, p, b Corner) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// turn is twice the area of the triangle abc, positive when it runs
// anticlockwise.
func turn(a, b, c Corner) float64 {
	return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
