package skirt

import (
	"math"
	"sort"

	"github.com/go-gl/mathgl/mgl64"
)

// Line is y = At + Slope·x in the plane in which it was fitted.
type Line struct{ At, Slope float64 }

// Y returns the line's y at x.
func (l Line) Y(x float64) float64 { return l.At + l.Slope*x }

// LineFit is one straight board offered to many points, such as a skirt's edge
// to the noses, in three ways. The gaps are those of the points below the line
// (Line.Y(x) - y), in the order of the points; a negative one stands proud of
// it. The zero LineFit is that of no points.
type LineFit struct {
	Least   Line // least squares
	Minimax Line // the largest gap, to either side, is the least possible
	// Resting is the line on which a rigid board comes to rest when it is
	// pushed down on the points at the middle of their spread: no gap is
	// negative, and it touches at least two points.
	Resting Line

	LeastGaps, MinimaxGaps, RestingGaps []float64

	// Worst is the largest gap of Resting: what a rigid board leaves open. A
	// board planed to the points in between, as Minimax has it, would leave
	// half the depth of the strip, Strip/2, on both sides.
	Worst   float64
	WorstAt int // index of the point; -1 when there is none
	Strip   float64
}

// FitLine fits a line in each of the three ways. Points are taken at their x; a
// single point is met by a level line.
func FitLine(points []mgl64.Vec2) LineFit {
	f := LineFit{WorstAt: -1}
	switch len(points) {
	case 0:
		return f
	case 1:
		l := Line{At: points[0][1]}
		f.Least, f.Minimax, f.Resting = l, l, l
	default:
		f.Least = leastLine(points)
		top := hull(points, 1)
		f.Resting = restingLine(top, points)
		f.Minimax = minimaxLine(top, hull(points, -1))
	}
	f.LeastGaps, f.MinimaxGaps, f.RestingGaps = gaps(f.Least, points), gaps(f.Minimax, points), gaps(f.Resting, points)
	for i, g := range f.RestingGaps {
		if f.WorstAt < 0 || g > f.Worst {
			f.Worst, f.WorstAt = g, i
		}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, g := range f.MinimaxGaps {
		lo, hi = math.Min(lo, g), math.Max(hi, g)
	}
	f.Strip = hi - lo
	return f
}

func gaps(l Line, points []mgl64.Vec2) []float64 {
	out := make([]float64, len(points))
	for i, p := range points {
		out[i] = l.Y(p[0]) - p[1]
	}
	return out
}

// leastLine is the least-squares line of y on x, about the mean so that
// coordinates far from the origin cost nothing.
func leastLine(points []mgl64.Vec2) Line {
	var mean mgl64.Vec2
	for _, p := range points {
		mean = mean.Add(p)
	}
	mean = mean.Mul(1 / float64(len(points)))
	xx, xy := 0.0, 0.0
	for _, p := range points {
		d := p.Sub(mean)
		xx += d[0] * d[0]
		xy += d[0] * d[1]
	}
	l := Line{At: mean[1]}
	if xx > 0 {
		l.Slope = xy / xx
		l.At -= l.Slope * mean[0]
	}
	return l
}

// hull returns the upper (sign 1) or lower (sign -1) convex hull, from left to
// right. Of points with equal x the outermost stays.
func hull(points []mgl64.Vec2, sign float64) []mgl64.Vec2 {
	ps := append([]mgl64.Vec2(nil), points...)
	sort.Slice(ps, func(i, k int) bool {
		if ps[i][0] != ps[k][0] {
			return ps[i][0] < ps[k][0]
		}
		return sign*ps[i][1] < sign*ps[k][1]
	})
	var out []mgl64.Vec2
	for _, p := range ps {
		for n := len(out); n > 0; n = len(out) {
			if out[n-1][0] == p[0] {
				out = out[:n-1]
				continue
			}
			if n < 2 {
				break
			}
			a, b := out[n-2], out[n-1]
			if sign*((b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0])) < 0 {
				break
			}
			out = out[:n-1]
		}
		out = append(out, p)
	}
	return out
}

// restingLine is the edge of the upper hull over the middle of the points,
// where the weight of a board laid along them is.
func restingLine(top, points []mgl64.Vec2) Line {
	lo, hi := top[0][0], top[len(top)-1][0]
	middle := (lo + hi) / 2
	for i := 1; i < len(top); i++ {
		if top[i][0] >= middle {
			return through(top[i-1], top[i])
		}
	}
	return Line{At: top[0][1]} // all points have one x
}

func through(a, b mgl64.Vec2) Line {
	s := (b[1] - a[1]) / (b[0] - a[0])
	return Line{At: a[1] - s*a[0], Slope: s}
}

// minimaxLine is half way between two parallel lines, an edge of one hull and
// the vertex of the other farthest from it, that enclose the points within the
// least height. By Chebyshev's theorem the best line touches two points on one
// side and one, between them, on the other.
func minimaxLine(top, bottom []mgl64.Vec2) Line {
	if len(top) == 1 {
		return Line{At: (top[0][1] + bottom[0][1]) / 2}
	}
	best, out := math.Inf(1), Line{}
	try := func(edges, other []mgl64.Vec2, sign float64) {
		v := 0
		for i := len(edges) - 1; i > 0; i-- {
			l := through(edges[i-1], edges[i])
			height := func(k int) float64 { return sign * (l.Y(other[k][0]) - other[k][1]) }
			// Going back along the edges of the upper hull their slope rises,
			// as it does going on along the lower one, so the farthest vertex
			// only moves on. For the edges of the lower hull both fall.
			for v+1 < len(other) && height(v+1) >= height(v) {
				v++
			}
			if h := height(v); h < best {
				best = h
				out = Line{At: l.At - sign*h/2, Slope: l.Slope}
			}
		}
	}
	try(top, bottom, 1)
	try(bottom, top, -1)
	return out
}
