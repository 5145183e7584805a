package lux

import (
	"context"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Problem is a stair and its light bars.
type Problem struct {
	Stair
	Bars []Bar
}

// Settings say how finely to look. The zero value gives 40 by 20 cells and
// direct light only.
type Settings struct {
	Across, Deep int // cells of each grid; 0 means 40 and 20, at most 400
	// Reflect adds the light that comes back once from treads, floor and
	// risers, each cut into patches of even exitance. What is reflected more
	// than once is left out, so the answer is still below the truth.
	Reflect bool
}

const (
	usualAcross, usualDeep = 40, 20
	mostCells              = 400
)

// cells returns the size of the grids with defaults put in.
func (s Settings) cells() (across, deep int) {
	across, deep = s.Across, s.Deep
	if across <= 0 {
		across = usualAcross
	}
	if deep <= 0 {
		deep = usualDeep
	}
	return min(across, mostCells), min(deep, mostCells)
}

// Result is the light on every surface. It is read-only once returned.
type Result struct {
	Surfaces  []Lit
	LitBars   int
	Reflected bool // as Settings.Reflect
	// Findings say which bars and surfaces were left out and why. See Compare
	// for the published levels.
	Findings []model.Finding
}

// Lit is the light on one surface, in lux.
type Lit struct {
	Surface
	// Min, Mean and Max are over the grid; Centre is at the middle of the
	// outline's area.
	Min, Mean, Max, Centre float64
	Middle                 []float64 // half way across, one for each row of the grid
	Grid                   Grid
}

// Uniformity returns the minimum over the mean, and 0 in the dark.
func (l *Lit) Uniformity() float64 {
	if l.Mean <= 0 {
		return 0
	}
	return l.Min / l.Mean
}

// Lumens returns the flux that arrives.
func (l *Lit) Lumens() float64 {
	sum := 0.0
	for k, a := range l.Grid.Area {
		if a > 0 {
			sum += a * l.Grid.Lux[k]
		}
	}
	return sum / squareMM
}

// Solve computes the light on every surface. Bars and surfaces that cannot be
// computed are left out and found.
func Solve(p Problem, set Settings) Result {
	r, _ := solve(context.Background(), p, set, patchesAcross, patchesDeep)
	return r
}

// SolveUntil is Solve that gives up when the context ends, within about the time
// of one surface; the error is then the context's, and the Result of no use.
func SolveUntil(ctx context.Context, p Problem, set Settings) (Result, error) {
	return solve(ctx, p, set, patchesAcross, patchesDeep)
}

// solve is Solve with the number of patches that a reflecting surface is cut
// into.
func solve(ctx context.Context, p Problem, set Settings, patchAcross, patchDeep int) (Result, error) {
	var out Result
	var sources []source
	screens := readyScreens(p.Screens)
	for i := range p.Bars {
		b := &p.Bars[i]
		if why := b.fault(); why != "" {
			out.Findings = append(out.Findings, barFinding(i, b, why))
			continue
		}
		if b.Lip > 0 {
			screens = append(screens, readyScreens([]Screen{b.lip()})...)
		}
		if b.Exitance > 0 {
			sources = append(sources, readySource(b.corners(), b.Exitance))
		}
	}
	out.LitBars, out.Reflected = len(sources), set.Reflect
	var s solver
	for i := range screens {
		s.screens = append(s.screens, &screens[i])
	}
	surfaces := sound(p.Surfaces, &out)
	if set.Reflect {
		sources = append(sources, s.patches(ctx, patchAcross, patchDeep, sources, surfaces, sound(p.Risers, &out))...)
	}
	across, deep := set.cells()
	out.Surfaces = make([]Lit, len(surfaces))
	for i := range surfaces {
		if ctx.Err() != nil {
			return out, ctx.Err()
		}
		out.Surfaces[i].Surface = surfaces[i]
		s.light(&out.Surfaces[i], sources, across, deep)
	}
	return out, ctx.Err()
}

// solver keeps its arrays from surface to surface.
type solver struct {
	work    workspace
	screens []*screen
	whole   aim // at the surface at hand
	row     aim // at one row of it
}

// aim lists the sources that may light an area, each with what may stand
// between.
type aim struct {
	pairs []pair
	list  []*screen
	last  *screen // that stopped all light of a source
}

type pair struct {
	source  *source
	screens []*screen
}

func (a *aim) clear() { a.pairs, a.list, a.last = a.pairs[:0], a.list[:0], nil }

// add lists the source if it may light the outline past the screens.
func (a *aim) add(outline []mgl64.Vec3, normal mgl64.Vec3, src *source, screens []*screen) {
	first := len(a.list)
	list, may := between(a.list, outline, normal, normal.Dot(outline[0]), src, screens, &a.last)
	a.list = list
	if may {
		a.pairs = append(a.pairs, pair{src, list[first:len(list):len(list)]})
	}
}

// aimAt aims at a whole surface and returns its normal.
func (s *solver) aimAt(outline []mgl64.Vec3, sources []source) (normal mgl64.Vec3) {
	normal = newell(outline).Normalize()
	s.whole.clear()
	for i := range sources {
		s.whole.add(outline, normal, &sources[i], s.screens)
	}
	return normal
}

// aimAtRow aims at a row of the surface at hand, so that the points of the row
// try only the few sources and screens that matter to it.
func (s *solver) aimAtRow(row []mgl64.Vec3, normal mgl64.Vec3) {
	s.row.clear()
	for _, p := range s.whole.pairs {
		s.row.add(row, normal, p.source, p.screens)
	}
}

// at returns the illuminance at p from the sources of a.
func (s *solver) at(a *aim, p, n mgl64.Vec3) float64 {
	sum := 0.0
	for i := range a.pairs {
		c := a.pairs[i].source
		if c.normal.Dot(p)-c.offset <= 0 {
			continue
		}
		w := &s.work
		w.reset()
		v := w.take(len(c.corners))
		for _, q := range c.corners {
			v = append(v, q.Sub(p))
		}
		if len(a.pairs[i].screens) == 0 {
			sum += c.exitance * w.factor(n, v)
			continue
		}
		w.seen(v, a.pairs[i].screens, p)
		for _, part := range w.live {
			sum += c.exitance * w.factor(n, part)
		}
	}
	return sum
}

// light fills in the light on one surface.
func (s *solver) light(l *Lit, sources []source, across, deep int) {
	normal := s.aimAt(l.Outline, sources)
	g := &l.Grid
	g.frame(l.Outline, normal, across, deep)
	g.cells(l.Outline, &s.work)
	l.Min, l.Max = math.Inf(1), math.Inf(-1)
	l.Middle = make([]float64, 0, deep)
	sum, area := 0.0, 0.0
	for j := range deep {
		s.aimAtRow(g.row(j), normal)
		for k := g.Index(0, j); k < g.Index(0, j+1); k++ {
			a := g.Area[k]
			if a <= 0 {
				continue
			}
			e := s.at(&s.row, g.At[k], normal)
			g.Lux[k] = e
			l.Min, l.Max = math.Min(l.Min, e), math.Max(l.Max, e)
			sum, area = sum+e*a, area+a
		}
		if p, ok := g.halfWay(l.Outline, j); ok {
			l.Middle = append(l.Middle, s.at(&s.row, p, normal))
		}
	}
	l.Mean = sum / area
	middle, _ := centroid(l.Outline, normal)
	l.Centre = s.at(&s.whole, middle, normal)
}

// halfWay returns the place half way across the outline in the middle of row j.
func (g *Grid) halfWay(outline []mgl64.Vec3, j int) (mgl64.Vec3, bool) {
	u, v := g.U.Normalize(), g.V.Normalize()
	from := g.Corner.Add(g.V.Mul(float64(j) + 0.5))
	d := v.Dot(from)
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		ha, hb := v.Dot(a)-d, v.Dot(b)-d
		if (ha < 0) == (hb < 0) {
			continue
		}
		x := u.Dot(a.Add(b.Sub(a).Mul(ha / (ha - hb))).Sub(from))
		lo, hi = math.Min(lo, x), math.Max(hi, x)
	}
	return from.Add(u.Mul((lo + hi) / 2)), hi > lo
}

// sound returns the surfaces that have an area and finds the others.
func sound(in []Surface, out *Result) []Surface {
	ok := make([]Surface, 0, len(in))
	for i := range in {
		why := in[i].fault()
		if why == "" {
			ok = append(ok, in[i])
			continue
		}
		out.Findings = append(out.Findings, model.Finding{
			Rule: "lux.surface", Severity: model.Advice, Where: model.Place{Step: max(in[i].Step, 0)},
			Title:  fmt.Sprintf("the light on %s is not computed: %s", in[i].Name(), why),
			Remedy: "check the readings of this step",
		})
	}
	return ok
}

// flatness is how far, mm, a corner of a surface may lie out of its plane: a
// hundredth of what a rule shows.
const flatness = 0.01

// fault returns why the surface cannot be computed, or "".
func (s *Surface) fault() string {
	if len(s.Outline) < 3 {
		return "it has no outline"
	}
	for _, p := range s.Outline {
		if !near(p) {
			return "a corner is not a number, or lies beyond a kilometre"
		}
	}
	n := newell(s.Outline)
	if !(n.Len() > leastEdge*leastEdge) || s.Outline[1].Sub(s.Outline[0]).Len() < leastEdge {
		return "it has no area"
	}
	n = n.Normalize()
	for _, p := range s.Outline {
		if math.Abs(n.Dot(p.Sub(s.Outline[0]))) > flatness {
			return "its corners do not lie in one plane"
		}
	}
	if !(s.Reflectance >= 0 && s.Reflectance <= 1) {
		return fmt.Sprintf("it reflects %g of the light; give 0 to 1", s.Reflectance)
	}
	return ""
}
