package fitting

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// Way is how a piece is brought to its place. The zero Way says that it was not
// worked out, as for pieces that have no solid.
type Way struct {
	// Words is the movement, such as "drop it straight down".
	Words string
	// Out is the unit direction in which the piece leaves its place; it comes
	// in the opposite way.
	Out mgl64.Vec3
	// Tilted says that it goes in one end first. Pivot is then that end's side,
	// Needs how much wider than the board the opening must be for it, mm, and
	// Has how much wider it is.
	Tilted     bool
	Pivot      pieces.Side
	Needs, Has float64
}

// body is a piece that is a solid, in its place.
type body struct {
	id     string
	kind   Kind
	step   int // from 0; -1 for a board along the flight
	side   pieces.Side
	blocks []block
	at     []int // the step of each block, for a board along the flight
}

// scene is the stair with some pieces in place.
type scene struct {
	sites  []site
	sides  [2]sideShape
	ends   *sides
	old    [][]block    // of each step
	walls  [2][][]block // of each side and step
	placed []body
	byStep map[int][]int   // indices in placed
	long   []int           // and of boards along the flight
	longAt map[int][]place // their blocks at each step
}

const (
	// eased and easedOld are how deep, in mm, neighbouring boards may seem to
	// overlap at rest because each goes by its own readings: what is scribed or
	// planed away at fitting. Old work is packed or planed anyway.
	eased    = 3.0
	easedOld = 8.0
	// sideStep is how far, mm, the side of one step may stand in from that of
	// its neighbour because each was surveyed for itself; the real side runs
	// through without a step. A wall's bow is felt in the step's own side.
	sideStep = 2.0
	// reachOut is how far, mm, beyond its own thickness a tread or riser is
	// followed up or out of its place, and reachOff how far a skirt off its
	// wall. Farther on a board is out of its nest and can be turned and carried
	// away, and a skirt is in the open: the rest of the way is not looked at.
	// reachAcross takes a board out past the other side.
	reachOut    = 10.0
	reachOff    = 40.0
	reachAcross = 1500.0
	// reachNose is how far a skirt over finished steps is drawn out from under
	// the noses: more than any overhang, 32 mm at the most by the codes.
	reachNose = 45.0
	// spring is what a skirt gives over its length besides, mm: it touches only
	// at its show edge, and is sprung past one proud tread at a time. Common
	// practice, no source.
	spring = 0.5
)

func (s *scene) put(b body) {
	i := len(s.placed)
	s.placed = append(s.placed, b)
	if b.step >= 0 {
		s.byStep[b.step] = append(s.byStep[b.step], i)
	} else {
		s.long = append(s.long, i)
		for n, k := range b.at {
			s.longAt[k] = append(s.longAt[k], place{i, n})
		}
	}
}

// place is a block of a body that is in place.
type place struct{ body, block int }

// obstacle is a block that is in place, with whose it is.
type obstacle struct {
	b     *block
	owner string
	slack float64
}

// around returns what stands near a block of step i.
func (s *scene) around(b *block, i int, own *body) []obstacle {
	var out []obstacle
	side := func(k int) float64 {
		if k == s.ends.meets(own.kind, i) || own.step < 0 {
			return 0
		}
		return sideStep
	}
	add := func(o *block, owner string, limit, more float64) {
		if owner == own.id {
			return
		}
		slack := rub + more
		if !b.near(mgl64.Vec3{}, 0, 0, o) {
			out = append(out, obstacle{o, owner, slack})
			return
		}
		slack += b.overlapWithin(o, limit)
		out = append(out, obstacle{o, owner, slack})
	}
	for k := max(0, i-2); k <= min(len(s.sites)-1, i+2); k++ {
		for n := range s.old[k] {
			add(&s.old[k][n], fmt.Sprintf("the old step %d", k+1), easedOld, 0)
		}
		for hand := range s.walls {
			for n := range s.walls[hand][k] {
				add(&s.walls[hand][k][n], "the wall on the "+pieces.Side(hand).String(), 1, side(k))
			}
		}
		for _, p := range s.byStep[k] {
			for n := range s.placed[p].blocks {
				add(&s.placed[p].blocks[n], s.placed[p].id, eased, 0)
			}
		}
		for _, p := range s.longAt[k] {
			add(&s.placed[p.body].blocks[p.block], s.placed[p.body].id, 1, side(k))
		}
	}
	return out
}

// tryout is a direction out of a piece's place with its words for going in.
type tryout struct {
	out   mgl64.Vec3
	reach float64
	words string
}

// tryouts returns the directions in which a piece of step i may leave, the
// plainest first: along the stair's own directions, and along the lines in which
// two of its own facets meet, which are where contacts leave it free.
func (s *scene) tryouts(b *body, i int) []tryout {
	t := &s.sites[i]
	reach := reachOut + t.tread.Thickness
	if b.kind == Riser {
		reach = reachOut + t.riser.Thickness
	}
	up, out := mgl64.Vec3{0, 0, 1}, t.back.Mul(-1)
	if b.step < 0 {
		w := t.side[b.side].n
		flat := mgl64.Vec3{w[0], w[1], 0}.Normalize()
		along := mgl64.Vec3{-flat[1], flat[0], 0} // level, along the wall, down the flight
		if along.Dot(t.back) > 0 {
			along = along.Mul(-1)
		}
		in := []tryout{
			{w, reachOff, "press it against the wall"},
			{flat, reachOff, "press it against the wall, level"},
			{flat.Add(up.Mul(0.3)).Normalize(), reachOff, "press it against the wall from a little above"},
			{flat.Add(up).Normalize(), reachOff, "bring it down against the wall at a slant"},
			{up, reachOff, "drop it straight down along the wall"},
		}
		if s.sides[b.side].stage != boardLast {
			return in
		}
		// Its cuts reach under the noses: it goes back against the risers, and
		// over the noses before that nothing holds it.
		return []tryout{
			{along, reachNose, "lower it in front of the noses and push it back against the risers"},
			{along.Add(flat.Mul(0.05)).Normalize(), reachNose, "lower it in front of the noses and push it back against the risers and the wall"},
			{along.Add(flat.Mul(0.3)).Normalize(), reachNose, "lower it in front of the noses, off the wall, and push it back into its corner"},
			{up, reachOff, "drop it straight down along the wall"},
		}
	}
	n := t.top.n
	if b.kind == Riser {
		n = up
	}
	level := out.Sub(n.Mul(out.Dot(n))).Normalize()
	slant := func(k float64) mgl64.Vec3 { return level.Add(n.Mul(k)).Normalize() }
	list := []tryout{
		{up, reach, "drop it straight down"},
		{n, reach, "drop it square to its face"},
		{level, reach, "slide it in from the front"},
		{out, reach, "slide it in from the front, level"},
		{slant(0.03), reach, "slide it in from the front, a hair from above"},
		{slant(0.1), reach, "slide it in from the front, a little from above"},
		{slant(0.3), reach, "slide it in from the front and above"},
		{slant(1), reach, "bring it down from the front at a slant"},
		{slant(3), reach, "drop it down, coming a little from the front"},
		{slant(-0.1), reach, "slide it in from the front, a little from below"},
		{t.along, reachAcross, "slide it in from the right"},
		{t.along.Mul(-1), reachAcross, "slide it in from the left"},
	}
	for _, blk := range b.blocks {
		for _, e := range blk.edges {
			for _, d := range []mgl64.Vec3{e, e.Mul(-1)} {
				if d[2] > -0.2 && d.Dot(t.back) < 0.2 {
					list = append(list, tryout{d, reach, "slide it in along its edges"})
				}
			}
		}
	}
	return list
}

// enter returns how the body gets to its place past what is there, or who holds
// it and the direction it would have to take.
func (s *scene) enter(b *body) (Way, []string, tryout) {
	i := max(b.step, 0)
	list := s.tryouts(b, i)
	if b.step < 0 { // directions from the middle of the flight
		list = s.tryouts(b, len(s.sites)/2)
	}
	near := make([][]obstacle, len(b.blocks))
	for n := range b.blocks {
		at := i
		if b.at != nil {
			at = b.at[n]
		}
		near[n] = s.around(&b.blocks[n], at, b)
		if b.step < 0 {
			// A board is straight where it is drawn along each step's own wall;
			// its back is scribed or filled, so its wall does not hold it.
			near[n] = slices.DeleteFunc(near[n], func(o obstacle) bool { return o.owner == "the wall on the "+b.side.String() })
		}
	}
	give := 0.0
	if b.step < 0 {
		give = spring
	}
	var held []string
	var best tryout
	for _, t := range list {
		by := map[string]bool{}
		var names []string
		for n := range b.blocks {
			for _, o := range near[n] {
				if !by[o.owner] && !b.blocks[n].clear(t.out, t.reach, o.slack+give, o.b) {
					by[o.owner] = true
					names = append(names, o.owner)
				}
			}
			// with two in the way a direction is out of the running
			if len(names) > 0 && held != nil && len(names) >= len(held) {
				break
			}
		}
		if len(names) == 0 {
			return Way{Words: t.words, Out: t.out}, nil, tryout{}
		}
		if held == nil || len(names) < len(held) {
			held, best = names, t
		}
	}
	if w, ok := s.tilt(b, near); ok {
		return w, nil, tryout{}
	}
	return Way{}, held, best
}

// tilt tries to bring a board in between its two sides one end first, which it
// may need when they close in: a tread tilted, coming down between sides that
// close in going up; a riser swung, coming in from the front between sides that
// close in to the front. Everything but the sides must let it straight out.
func (s *scene) tilt(b *body, near [][]obstacle) (Way, bool) {
	if b.step < 0 || s.openAt(b) {
		return Way{}, false
	}
	t := &s.sites[b.step]
	out, words := mgl64.Vec3{0, 0, 1}, "tilt it in, the %s end first, then the %s end down"
	if b.kind == Riser {
		out, words = t.back.Mul(-1), "swing it in, the %s end first, then the %s end back"
	} else if s.sides[0].grooved || s.sides[1].grooved {
		return Way{}, false
	}
	e := s.endsOf(b)
	for n := range b.blocks {
		for _, o := range near[n] {
			if !s.isSide(o.owner) && !b.blocks[n].clear(out, reachOut+e.thickness, o.slack, o.b) {
				return Way{}, false
			}
		}
	}
	best, found := Way{}, false
	for _, pivot := range []pieces.Side{pieces.Left, pieces.Right} {
		other := 1 - pivot
		w := Way{Words: fmt.Sprintf(words, pivot, other), Out: out, Tilted: true, Pivot: pivot,
			Needs: TiltNeed(e.width, e.thickness, e.bevel[other], e.closing[other]), Has: e.clear}
		if !found || w.Needs < best.Needs {
			best, found = w, true
		}
	}
	return best, best.Needs <= best.Has
}

// openAt says whether a board of a step meets an open side.
func (s *scene) openAt(b *body) bool {
	at := s.ends.at(s.ends.meets(b.kind, b.step), s.sides)
	return at[0].open || at[1].open
}

// isSide says whether a piece or wall bounds a side as a plane.
func (s *scene) isSide(owner string) bool {
	for _, k := range s.long {
		if p := &s.placed[k]; p.id == owner {
			return s.sides[p.side].stage == boardFirst // no sawtooth lies over anything
		}
	}
	return owner == "the wall on the left" || owner == "the wall on the right"
}

// ends is what tilting depends on: the width and thickness of a board, how much
// wider its opening is, the bevels of its ends, and by which angle each side
// closes in on the way out.
type ends struct {
	width, thickness, clear float64
	bevel, closing          [2]float64
}

func (s *scene) endsOf(b *body) ends {
	t := &s.sites[b.step]
	p, at, out := t.tread, t, mgl64.Vec3{0, 0, 1}
	if b.kind == Riser {
		p, out = t.riser, t.back.Mul(-1)
		at = &s.sites[s.ends.meets(Riser, b.step)]
	}
	e := ends{thickness: p.Thickness, clear: p.Ends[0].Fit + p.Ends[1].Fit + 2*rub}
	e.width = max(p.Figures.Front.Value, p.Figures.Back.Value)
	for k := range e.bevel {
		e.bevel[k] = p.Ends[k].Bevel
		// W points into the stair, so going out against it is coming closer
		e.closing[k] = math.Asin(-at.side[k].n.Dot(out))
	}
	return e
}

// TiltNeed returns by how much, in mm, an opening must be wider than a board so
// that it can be turned down into it about the upper corner of its other end.
// The board's face is width wide; it is thick, with the entering end's bevel
// (rad) taken off below; the side that it is pressed down against closes in by
// the angle lean (rad) from plumb going up, 0 when plumb.
//
// With the pivot at the origin and the board turned up by a, the face's corner
// lies at w(cos a, sin a), and the underside's at (b cos a + t sin a,
// b sin a - t cos a) where b = w - t tan(bevel). The side is met where
// x + z tan(lean) = opening; the left of that is largest, over all a, at
//
//	w √(1 + tan² lean)  and  √((b - t tan lean)² + (t + b tan lean)²).
func TiltNeed(width, thickness, bevel, lean float64) float64 {
	k := math.Tan(math.Max(0, lean))
	b := width - thickness*math.Tan(bevel)
	face := width * math.Sqrt(1+k*k)
	under := math.Hypot(b-thickness*k, thickness+b*k)
	return math.Max(face, under) - width
}

// undercutFor returns the bevel at which a board can be tilted into an opening
// that is wider by clear, or false when no bevel will do.
func undercutFor(width, thickness, clear, lean float64) (float64, bool) {
	lo, hi := 0.0, float64(20*model.Degree)
	if TiltNeed(width, thickness, hi, lean) > clear {
		return 0, false
	}
	for range 40 {
		m := (lo + hi) / 2
		if TiltNeed(width, thickness, m, lean) > clear {
			lo = m
		} else {
			hi = m
		}
	}
	return hi, true
}
