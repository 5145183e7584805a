package still

import (
	"risewright/view/scene"
)

// This file follows one path of light from the eye.

// world is a scene made ready. It is read-only and shared by all goroutines.
type world struct {
	scene  *scene.Scene
	tree   *tree
	paints []paint
	lamps  []lamp
	sky    rgb
	sights *sights
	lights *lightMap // nil: every path is followed to its end
	normal []vec     // of each triangle, from its corners
	// bounces is how many times light may come back from surfaces before it
	// reaches the place looked at; negative is without end.
	bounces int
	sharp   bool // coats are never softened
}

func newWorld(s *scene.Scene, bounces int, sharp bool) *world {
	w := &world{scene: s, tree: newTree(s), paints: paintsOf(s), lamps: lampsOf(s), sky: rgbOf(s.Sky), sights: newSights(s), bounces: bounces, sharp: sharp}
	w.normal = make([]vec, len(s.Triangles))
	for i := range s.Triangles {
		t := &s.Triangles[i]
		a := vecOf(t.P[0])
		w.normal[i] = vecOf(t.P[1]).sub(a).cross(vecOf(t.P[2]).sub(a)).unit()
	}
	return w
}

// tracer follows paths for one goroutine.
type tracer struct {
	*world
	points points
	hopes  []float64 // of each lamp, running total
	rays   int64
	depth  int  // above 0 while a patch of the map is measured
	behind bool // the first surface met was seen from behind
}

func newTracer(w *world) *tracer { return &tracer{world: w, hopes: make([]float64, len(w.lamps))} }

// spot is a place on a surface, with the frame in which o, the direction back to
// where it is seen from, is taken.
type spot struct {
	p       vec
	facing  vec // the triangle's normal on the side that is seen
	frame   frame
	o       vec
	finish  finish
	choice  float64
	hope    float64 // of all lamps together
	sights  []float32
	lobe    float64 // in [0, 1), chooses between body and coat
	surface *scene.Triangle
}

// look is what one path brought, taken apart for the filter: light by way of
// the body of the first surface, straight from lamps and by way of others, and
// the rest; and what that surface is.
type look struct {
	straight, around, rest rgb
	body                   rgb
	normal                 vec
	far                    float64 // mm; 0 when nothing is met
}

// longest is how far light goes, mm: farther than any scene.
const longest = 1e9

// clear finds what a ray meets, by chance passing through what lets light
// through.
func (t *tracer) clear(r ray) (ray, hit, float64, bool) {
	gone := 0.0
	for {
		t.rays++
		h, ok := t.tree.nearest(&r, longest)
		if !ok {
			return r, h, gone, false
		}
		lets := t.scene.Materials[t.scene.Triangles[h.id].Material].Lets
		if lets <= 0 || t.points.luck() >= lets {
			return r, h, gone + h.t, true
		}
		gone += h.t
		r.o = r.o.along(r.d, h.t)
	}
}

// spotAt readies the place that a ray met.
func (t *tracer) spotAt(r *ray, h *hit, soft bool) (s spot) {
	tri := &t.scene.Triangles[h.id]
	s.surface = tri
	s.p = r.o.along(r.d, h.t)
	s.facing = t.normal[h.id]
	n := vecOf(tri.N[0]).mul(1 - h.u - h.v).add(vecOf(tri.N[1]).mul(h.u)).add(vecOf(tri.N[2]).mul(h.v)).unit()
	if n.dot(s.facing) < 0 || n.len2() == 0 {
		n = s.facing
	}
	if s.facing.dot(r.d) > 0 { // seen from behind
		s.facing, n = s.facing.mul(-1), n.mul(-1)
	}
	// A rounded edge seen so flat that its normal looks away is taken as it is.
	if n.dot(r.d) > -1e-4 {
		n = s.facing
	}
	s.frame = frameOf(n)
	s.o = s.frame.in(r.d.mul(-1))
	s.o.z = max(s.o.z, 1e-6)
	s.finish = t.paints[tri.Material].at(tri, h.u, h.v, soft && !t.sharp)
	s.choice = s.finish.choice(s.o)
	return s
}

// lampAt returns the place of the lamp whose bright side a ray met, or -1.
func (t *tracer) lampAt(r *ray, h *hit) int {
	k := t.scene.Triangles[h.id].Lamp - 1
	if k < 0 || !t.lamps[k].faced || r.d.dot(t.lamps[k].z) >= 0 {
		return -1
	}
	return k
}

// ask asks one lamp for its light at s: by way of the body and of the coat.
func (t *tracer) ask(s *spot) (body, mirror rgb) {
	var pick float64
	pick, s.lobe = t.points.next()
	total := 0.0
	s.sights = t.sightsFrom(s.p)
	for i := range t.lamps {
		total += t.lamps[i].hope(s.p, s.frame.n) * float64(s.sights[i])
		t.hopes[i] = total
	}
	s.hope = total
	if !(total > 0) {
		return rgb{}, rgb{}
	}
	a, b := t.points.next()
	k := 0
	for k < len(t.hopes)-1 && t.hopes[k] <= pick*total {
		k++
	}
	chance := t.hopes[k]
	if k > 0 {
		chance -= t.hopes[k-1]
	}
	chance /= total
	if !(chance > 0) {
		return rgb{}, rgb{}
	}
	l := &t.lamps[k]
	q := l.from(s.p)
	at, density := q.point(a, b)
	d := at.sub(s.p)
	far := d.len()
	if !(far > 2*leastHit) || !(density > 0) {
		return rgb{}, rgb{}
	}
	d = d.mul(1 / far)
	w := s.frame.in(d)
	if w.z <= 0 || d.dot(s.facing) <= 0 || d.dot(l.z) >= 0 {
		return rgb{}, rgb{}
	}
	fb, fm := s.finish.sends(s.o, w)
	t.rays++
	through := t.tree.lets(&ray{s.p, d}, far-leastHit)
	if through == 0 {
		return rgb{}, rgb{}
	}
	density *= chance
	weight := 1.0
	if l.faced {
		weight = density / (density + s.finish.density(s.o, w, s.choice))
	}
	light := l.radiance.mul(through * w.z * weight / density)
	return light.times(fb), light.mul(fm)
}

// weightOf returns how much the light counts of lamp k that was met by following
// a direction of the given density from s.
func (t *tracer) weightOf(s *spot, k int, at vec, density float64) float64 {
	l := &t.lamps[k]
	if !(s.hope > 0) || !l.front(s.p) {
		return 1
	}
	chance := l.hope(s.p, s.frame.n) * float64(s.sights[k]) / s.hope
	if !(chance > 0) {
		return 1
	}
	q := l.from(s.p)
	return density / (density + chance*q.densityAt(at))
}

const (
	// surely is how many surfaces a path from the eye meets before chance may end
	// it; one that measures a patch may end at the first.
	surely = 2
	// mostChance keeps a path among perfectly white surfaces from going on for
	// ever.
	mostChance = 0.98
)

// follow takes a path from the eye along r.
func (t *tracer) follow(r ray) (out look) {
	r, h, far, ok := t.clear(r)
	if !ok {
		out.rest = t.sky
		return out
	}
	out.far = far
	s := t.spotAt(&r, &h, false)
	if k := t.lampAt(&r, &h); k >= 0 {
		out.rest = t.lamps[k].radiance
	}
	out.body, out.normal = s.finish.body, s.frame.n
	t.from(&s, &out)
	return out
}

// from adds to out what leaves s towards where it is seen from.
func (t *tracer) from(s *spot, out *look) {
	body, mirror := t.ask(s)
	out.straight, out.rest = out.straight.add(body), out.rest.add(mirror)
	r, fb, fm, density, ok := t.onward(s)
	if !ok {
		return
	}
	// What the direction brings counts by way of the body and of the coat; the
	// path beyond is followed once for both.
	both := fb.plus(fm)
	straight, around := t.beyond(r, s, both, density)
	out.straight = out.straight.add(straight.times(fb))
	out.around = out.around.add(around.times(fb))
	out.rest = out.rest.add(straight.add(around).mul(fm))
}

// onward takes the next direction from s: the ray, and what light along it is to be
// multiplied with, by way of the body and of the coat.
func (t *tracer) onward(s *spot) (r ray, fb rgb, fm, density float64, ok bool) {
	a, b := t.points.next()
	w := s.finish.direction(s.o, s.choice, s.lobe, a, b)
	if w.z <= 0 {
		return r, fb, 0, 0, false
	}
	d := s.frame.out(w)
	if d.dot(s.facing) <= 0 {
		return r, fb, 0, 0, false
	}
	density = s.finish.density(s.o, w, s.choice)
	if !(density > 0) {
		return r, fb, 0, 0, false
	}
	fb, fm = s.finish.sends(s.o, w)
	k := w.z / density
	return ray{s.p, d}, fb.mul(k), fm * k, density, true
}

// beyond returns the light that comes back along r, which left s with the given
// density: straight from lamps and the sky, and by way of surfaces. before is
// how much of it reaches the eye.
func (t *tracer) beyond(r ray, s *spot, before rgb, density float64) (straight, around rgb) {
	through := rgb{1, 1, 1}
	last := *s
	for depth := 1; ; depth++ {
		r2, h, _, ok := t.clear(r)
		var light rgb
		if !ok {
			light = t.sky
		} else if k := t.lampAt(&r2, &h); k >= 0 {
			light = t.lamps[k].radiance.mul(t.weightOf(&last, k, r2.o.along(r2.d, h.t), density))
		}
		if depth == 1 {
			straight = light
		} else {
			around = around.add(light.times(through))
		}
		if !ok || t.bounces >= 0 && depth > t.bounces {
			return straight, around
		}
		back := t.normal[h.id].dot(r2.d) > 0
		if depth == 1 {
			t.behind = back
		}
		last = t.spotAt(&r2, &h, true)
		if t.lights != nil && t.depth == 0 && h.t > closeBy {
			return straight, around.add(last.sent(t.falls(&h, back)).times(through))
		}
		body, mirror := t.ask(&last)
		around = around.add(body.add(mirror).times(through))
		var fb rgb
		var fm float64
		if r, fb, fm, density, ok = t.onward(&last); !ok {
			return straight, around
		}
		through = through.times(fb.plus(fm))
		if depth >= surely || t.depth > 0 {
			chance := min(through.times(before).greatest(), mostChance)
			if !(t.points.luck() < chance) {
				return straight, around
			}
			through = through.mul(1 / chance)
		}
	}
}
