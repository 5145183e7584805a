package lightmap

import "slices"

// edge is a line between two nodes, the lower number first. A contour passes an
// edge at most once, so edges name the points of contours.
type edge [2]int

func edgeOf(a, b int) edge {
	if a > b {
		a, b = b, a
	}
	return edge{a, b}
}

// contours returns the lines of equal light, cut to the outline.
func (f *field) contours(level float64) [][]point {
	var order []edge
	next := map[edge][]edge{}
	for j := 0; j+1 < f.high; j++ {
		for i := 0; i+1 < f.wide; i++ {
			for _, t := range triangles(f.quad(i, j)) {
				var ends []edge
				for e, a := range t {
					if b := t[(e+1)%3]; (f.value[a] >= level) != (f.value[b] >= level) {
						ends = append(ends, edgeOf(a, b))
					}
				}
				if len(ends) == 2 {
					for k, e := range ends {
						if next[e] == nil {
							order = append(order, e)
						}
						next[e] = append(next[e], ends[1-k])
					}
				}
			}
		}
	}
	// Open lines first, from their ends; then the rings.
	done := map[edge]bool{}
	var out [][]point
	walk := func(e edge) {
		var line []point
		start := e
		for ok := true; ok; {
			done[e] = true
			line = append(line, f.crossing(e[0], e[1], level))
			ok = false
			for _, n := range next[e] {
				if !done[n] {
					e, ok = n, true
					break
				}
			}
			if !ok && len(line) > 2 && slices.Contains(next[e], start) {
				line = append(line, line[0])
			}
		}
		out = append(out, f.within(line)...)
	}
	for _, e := range order {
		if !done[e] && len(next[e]) == 1 {
			walk(e)
		}
	}
	for _, e := range order {
		if !done[e] {
			walk(e)
		}
	}
	return out
}

// within returns the parts of a line that lie inside the outline.
func (f *field) within(line []point) [][]point {
	var out [][]point
	var part []point
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		cuts := []float64{0, 1}
		for k, p := range f.outline {
			q := f.outline[(k+1)%len(f.outline)]
			ha, hb := cross(q.Sub(p), a.Sub(p)), cross(q.Sub(p), b.Sub(p))
			if (ha < 0) != (hb < 0) {
				cuts = append(cuts, ha/(ha-hb))
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k++ {
			if cuts[k+1] <= cuts[k] {
				continue
			}
			from, to := a.Add(b.Sub(a).Mul(cuts[k])), a.Add(b.Sub(a).Mul(cuts[k+1]))
			if !holds(f.outline, from.Add(to).Mul(0.5)) {
				if len(part) > 1 {
					out = append(out, part)
				}
				part = nil
				continue
			}
			if part == nil {
				part = []point{from}
			}
			part = append(part, to)
		}
	}
	if len(part) > 1 {
		out = append(out, part)
	}
	return out
}

// holds says whether at lies within the outline.
func holds(outline []point, at point) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(b.X-a.X)*(at.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
