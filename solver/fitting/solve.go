package fitting

import (
	"container/heap"
	"fmt"
	"math"
	"sort"
	"strings"

	"risewright/model"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/solver/survey"
)

// Problem is a stair and what is wanted of the order.
type Problem struct {
	Job    model.Job
	Survey *survey.Result
	// Buildup tells the rises of an evening; nil leaves them out.
	Buildup *buildup.Result
	Wishes  model.Wishes
	// Skirt gives the boards' thicknesses and undercut; its zero value takes
	// the usual ones.
	Skirt skirt.Spec
	// Labour gives the hours of the stages; what it does not have takes this
	// package's own minutes.
	Labour model.Labour
	// Weights replaces the usual ones; nil takes them.
	Weights *Weights
	// Plain leaves out Changes, which cost as much again for each question.
	Plain bool
	// Stop says that nobody waits for the answer any more; what Solve returns then
	// is worth nothing. Nil: never.
	Stop func() bool
}

func (p *Problem) stopped() bool { return p.Stop != nil && p.Stop() }

// Solve finds the order of fitting. It takes a few tenths of a second for a
// flight of 14, so it is no part of a drag.
func Solve(p Problem) Result {
	var r Result
	s := newSearch(&p)
	r.Weights = s.weights
	if s.broken != "" {
		r.Status, r.Why = NoShape, s.broken
		return r
	}
	s.run(&p.Wishes, &r, wantCandidates, toldRefusals)
	if r.Status != Solved {
		return r
	}
	best := r.Candidates[0]
	r.Left, r.Right, r.Back, r.Cost = best.Left, best.Right, best.Back, best.Cost
	s.lay(&r, &p.Wishes, best.choice)
	s.plan(&r, &p.Wishes)
	s.unshaped(&r)
	s.explain(&r, &p.Wishes)
	if !p.Plain {
		s.changes(&r, &p.Wishes)
	}
	if r.Back != p.Job.Overlay.Back {
		r.Findings = append(r.Findings, model.Finding{Rule: "fitting.back", Severity: model.Note, Where: model.Place{Field: "overlay.back"},
			Title:  fmt.Sprintf("the order has treads %s, the build-up %s", r.Back, p.Job.Overlay.Back),
			Remedy: "change the build-up, or wish for its way"})
	}
	return r
}

// unshaped says which boards were not brought in as solids.
func (s *search) unshaped(r *Result) {
	for i := range r.Order {
		t := &r.Order[i]
		if (t.Kind == Riser || t.Kind == Tread || t.Kind == Landing) && len(t.Shape) == 0 {
			r.Findings = append(r.Findings, model.Finding{Rule: "fitting.unshaped", Severity: model.Note, Where: model.Place{Step: t.Step, Piece: t.ID},
				Title:  t.ID + ": whether it can be brought to its place was not worked out",
				Detail: "its outline turns inwards, and only plain boards are moved about",
				Remedy: "try the way in with its template before you cut"})
		}
	}
}

// search keeps what does not hang on the wishes.
type search struct {
	p       *Problem
	kinds   [2]model.SideKind
	spec    skirt.Spec
	weights Weights
	broken  string
	model   map[bool]*gapModel // by first-timer
	sites   map[model.BackJoint][]site
	entries map[entryKey]entry
	scenes  map[sceneKey]*stage0
	parts   parts
	ends    sides // which ends of the steps are open
}

// entryKey is all that the bodies and their order hang on, but for the wished
// order, which is text.
type entryKey struct {
	sides [2]sideShape
	back  model.BackJoint
	order string
}

// sceneKey is all that the bodies hang on.
type sceneKey struct {
	sides   [2]sideShape
	isFalse [2]bool // false skirts have a name of their own
	back    model.BackJoint
}

// stage0 is the stair before any piece is in, and the bodies by id.
type stage0 struct {
	scene  scene
	bodies map[string]*body
}

// entry is what became of bringing the bodies in.
type entry struct {
	ways    map[string]Way
	trapped string
	held    []string
	must    tryout
	need    string // for a tread held by its sides: the undercut that would free it
}

var backs = [...]model.BackJoint{model.BackUnderRiser, model.BackAgainstRiser}

func newSearch(p *Problem) *search {
	s := &search{p: p, spec: p.Skirt.Filled(), weights: usualWeights(),
		model: map[bool]*gapModel{}, sites: map[model.BackJoint][]site{}, entries: map[entryKey]entry{}, scenes: map[sceneKey]*stage0{}, parts: newParts()}
	if p.Weights != nil {
		s.weights = *p.Weights
	}
	if p.Survey == nil || len(p.Survey.Steps) == 0 || len(p.Survey.Steps) != len(p.Job.Flight.Steps) {
		s.broken = "there is no survey of this flight"
		return s
	}
	for i, side := range []pieces.Side{pieces.Left, pieces.Right} {
		s.kinds[i] = skirt.KindOf(&p.Job, side)
	}
	for _, first := range []bool{false, true} {
		s.model[first] = newGapModel(&p.Job, p.Survey, first)
	}
	for _, back := range backs {
		job := p.Job
		job.Overlay.Back = back
		ps := pieces.Make(job, p.Survey)
		sites, ok := sitesOf(p.Survey, ps)
		if !ok {
			s.broken = "a board cannot be made"
			for i := range ps {
				if ps[i].Impossible != "" {
					s.broken = fmt.Sprintf("%s cannot be made: %s", ps[i].ID, ps[i].Impossible)
					break
				}
			}
			return s
		}
		s.sites[back] = sites
		s.ends = sidesOf(&p.Job, ps) // alike for both backs
		for _, g := range s.model {
			g.ps[back], g.sites[back], g.meets = ps, sites, s.ends.risers
		}
	}
	return s
}

// choices returns every combination, the plainest first.
func (s *search) choices() []choice {
	var out []choice
	for _, back := range backs {
		for _, l := range decisions(s.kinds[0]) {
			for _, r := range decisions(s.kinds[1]) {
				out = append(out, choice{[2]Decision{l, r}, back})
			}
		}
	}
	return out
}

// wantCandidates and toldRefusals are how many of either are told: as many as
// one reads.
const wantCandidates, toldRefusals = 24, 12

// run fills in status, candidates and refusals: the combinations are weighed,
// and from the least cost up they are tried until want can be built. The first
// told of those that cannot be built are explained.
//
// Most of the cost of a combination is cheap to know and the rest, the gaps at
// boards tight to both sides, is not: it is worked out for those only whose
// cheap part is least, until nothing that is left can cost less. So the
// combinations come in the same order as if all had been weighed in full.
func (s *search) run(w *model.Wishes, r *Result, want, told int) {
	clash := map[string]int{}
	g := s.model[w.FirstTimer]
	var queue byCost
	for i, c := range s.choices() {
		if s.p.stopped() {
			r.Status, r.Why = Refused, "it was stopped"
			return
		}
		r.Tried++
		if why := c.meets(w, s.kinds); why != "" {
			clash[why]++
			continue
		}
		b := buildOf(c, w, &s.ends)
		if b.bad != "" {
			r.Status, r.Why = Refused, b.bad
			return
		}
		g.fill(b, c, s.weights.rising())
		x := weighed{choice: c, place: i, whole: !s.weights.rising(), Cost: s.weights.weigh(b, c, s.kinds, w.FirstTimer)}
		queue = append(queue, x)
	}
	heap.Init(&queue)
	var no []choice
	for len(queue) > 0 && len(r.Candidates) < want {
		if s.p.stopped() {
			r.Status, r.Why = Refused, "it was stopped"
			return
		}
		x := &queue[0]
		b := buildOf(x.choice, w, &s.ends)
		if !x.whole {
			g.fill(b, x.choice, false)
			x.Cost, x.whole = s.weights.weigh(b, x.choice, s.kinds, w.FirstTimer), true
			heap.Fix(&queue, 0)
			continue
		}
		if s.buildable(b, x.choice) {
			g.fill(b, x.choice, false)
			r.Candidates = append(r.Candidates, candidate(b, x.choice, x.Cost))
		} else {
			no = append(no, x.choice)
		}
		heap.Pop(&queue)
	}
	r.Refused = len(no)
	for _, c := range no[:min(len(no), told)] {
		ref, _ := s.refuse(buildOf(c, w, &s.ends), c)
		r.Refusals = append(r.Refusals, ref)
	}
	switch {
	case len(r.Candidates) > 0:
		r.Status = Solved
	case len(r.Refusals) > 0:
		r.Status, r.Why = Refused, r.Refusals[0].Why
	default:
		r.Status = Refused
		var whys []string
		for why := range clash {
			whys = append(whys, why)
		}
		sort.Strings(whys)
		r.Why = "no way of treating the sides meets all wishes: " + strings.Join(whys, "; ")
	}
}

// weighed is a combination and what it costs: all of it, or at least.
type weighed struct {
	choice
	Cost
	place int // among all combinations
	whole bool
}

// byCost is a heap, the least cost first and of equals the first combination.
type byCost []weighed

func (q byCost) Len() int { return len(q) }
func (q byCost) Less(i, k int) bool {
	if a, b := q[i].Total(), q[k].Total(); a != b {
		return a < b
	}
	return q[i].place < q[k].place
}
func (q byCost) Swap(i, k int) { q[i], q[k] = q[k], q[i] }
func (q *byCost) Push(x any)   { *q = append(*q, x.(weighed)) }
func (q *byCost) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	*q = (*q)[:last]
	return x
}

func candidate(b *build, c choice, cost Cost) Candidate {
	out := Candidate{Left: c.side[0], Right: c.side[1], Back: c.back, Cost: cost, choice: c,
		Removable: [2]bool{c.side[0].Removable(), c.side[1].Removable()}}
	worst := -1.0
	for i := range b.joints {
		j := &b.joints[i]
		if j.Scribed != "" {
			out.Scribed++
		}
		if !j.Visible {
			continue
		}
		out.Seen++
		// beside its own limit, so that paint and clear wood compare
		if v := j.Gap.P95 / j.Reject; v > worst {
			worst, out.Worst, out.WorstAt = v, j.Gap.P95, j.A+" to "+j.B
		}
	}
	return out
}

// buildable says whether the build can be built.
func (s *search) buildable(b *build, c choice) bool {
	order, ok := b.graph().order(b.rank)
	return ok && s.enter(b, c, order).trapped == ""
}

// refuse says whether the build cannot be built, and why.
func (s *search) refuse(b *build, c choice) (Refusal, bool) {
	ref := Refusal{Left: c.side[0], Right: c.side[1], Back: c.back}
	order, ok := b.graph().order(b.rank)
	if !ok {
		s.cycle(b, c, &ref)
		return ref, true
	}
	e := s.enter(b, c, order)
	if e.trapped == "" {
		return ref, false
	}
	ref.Trapped, ref.Blocked = e.trapped, e.held
	ref.Must = Way{Words: e.must.words, Out: e.must.out}
	ref.Why = fmt.Sprintf("%s: %s cannot get in: it would have to %s, and %s in the way%s", c.words(), e.trapped, into(e.must.words), are(e.held), e.need)
	return ref, true
}

// into turns the words of a way into those after "would have to".
func into(words string) string {
	return strings.NewReplacer("drop it", "drop", "slide it", "slide", "press it", "be pressed", "bring it", "come", "tilt it in", "be tilted in", "swing it in", "be swung in", "lower it", "be lowered", "push it", "pushed").Replace(words)
}

func are(names []string) string {
	if len(names) == 1 {
		return names[0] + " is"
	}
	return model.Listed(names) + " are"
}

// cycle explains a cycle: which pieces wait for each other, and which of them
// would be trapped by those that are in place before it.
func (s *search) cycle(b *build, c choice, ref *Refusal) {
	nodes := b.graph().cycle()
	for i, n := range nodes {
		next := nodes[(i+1)%len(nodes)]
		if b.items[n].Kind == hint { // the gate of a wish between groups
			continue
		}
		ref.Cycle = append(ref.Cycle, b.items[n].ID)
		why := b.graph().why(n, next)
		ref.Reasons = append(ref.Reasons, why)
	}
	// What is in place cannot wait. Else the wish is dropped, and what it
	// wanted last is the piece that cannot come so late.
	trapped := ""
	for i, n := range nodes {
		if !b.items[n].InPlace {
			continue
		}
		trapped = b.items[nodes[(i+1)%len(nodes)]].ID
		if before := nodes[(i+len(nodes)-1)%len(nodes)]; b.graph().why(before, n) == wished {
			trapped = b.items[n].ID // it would have to come off and go back
		}
	}
	if trapped == "" {
		for i, n := range nodes {
			next := b.items[nodes[(i+1)%len(nodes)]]
			if b.graph().why(n, nodes[(i+1)%len(nodes)]) == wished && (next.Kind == Riser || next.Kind == Tread || next.Kind == Landing || next.Kind == Skirt) {
				trapped = next.ID
			}
		}
	}
	if trapped == "" { // no wish and nothing in place: a riser or tread that waits for its own skirt
		for _, n := range nodes {
			if k := b.items[n].Kind; k == Riser || k == Tread || k == Landing {
				trapped = b.items[n].ID
			}
		}
	}
	ref.Trapped = trapped
	// Bring in all the others of the cycle first, and look which way is left.
	way, held := s.late(b, c, nodes, trapped)
	ref.Must, ref.Blocked = way, held
	ring := strings.Join(append(append([]string(nil), ref.Cycle...), ref.Cycle[0]), " before ")
	reasons := make([]string, 0, len(ref.Reasons))
	for _, why := range ref.Reasons {
		if why != "" && (len(reasons) == 0 || reasons[len(reasons)-1] != why) {
			reasons = append(reasons, why)
		}
	}
	ref.Why = fmt.Sprintf("%s: %s (%s). %s is trapped", c.words(), ring, strings.Join(reasons, "; "), trapped)
	if way.Words != "" {
		there := len(held) == 0 && strings.HasPrefix(trapped, "skirt")
		ref.Why += ": it would have to " + into(way.Words)
		if there {
			ref.Why += " after it has come off, and it is to stay"
		} else if len(held) > 0 {
			ref.Why += ", and " + are(held) + " in the way"
		} else {
			ref.Why += "; by then what stands on it or butts against it is fixed"
		}
	}
}

// words names the choice.
func (c choice) words() string {
	back := "treads running under the risers"
	if c.back == model.BackAgainstRiser {
		back = "treads butting against the risers"
	}
	if c.side[0] == c.side[1] {
		return fmt.Sprintf("%s on both sides, %s", c.side[0].words(), back)
	}
	return fmt.Sprintf("%s on the left, %s on the right, %s", c.side[0].words(), c.side[1].words(), back)
}

// scene returns the stair before any piece is in, and the bodies by id.
func (s *search) scene(c choice) (*scene, map[string]*body) {
	key := sceneKey{back: c.back}
	for k := range c.side {
		key.sides[k] = shapeOf(s.kinds[k], c.side[k], s.spec, pieces.Side(k))
		key.isFalse[k] = c.side[k].Board == FalseBoard
	}
	set := s.scenes[key]
	if set == nil {
		set = s.set(c, key.sides)
		s.scenes[key] = set
	}
	sc := set.scene
	sc.byStep, sc.longAt = map[int][]int{}, map[int][]place{}
	return &sc, set.bodies
}

// set makes the stair and the bodies.
func (s *search) set(c choice, sides [2]sideShape) *stage0 {
	sites := s.sites[c.back]
	sc := scene{sites: sites, sides: sides, ends: &s.ends, old: s.oldWork(c.back)}
	for k := range sc.sides {
		sc.walls[k] = s.walls(c.back, k, &sc.sides[k])
	}
	bodies := map[string]*body{}
	for i := range sites {
		t := &sites[i]
		for _, p := range []*pieces.Piece{t.riser, t.tread} {
			b := &body{id: p.ID, kind: Riser, step: i}
			switch p.Kind {
			case pieces.Tread:
				b.kind = Tread
			case pieces.LandingNosing:
				b.kind = Landing
			}
			b.blocks = s.board(c.back, i, p, s.ends.at(s.ends.meets(b.kind, i), sides))
			bodies[p.ID] = b
		}
	}
	for k := range sc.sides {
		sh := &sc.sides[k]
		if sh.stage == noBoard {
			continue
		}
		name := "skirt " + pieces.Side(k).String()
		if c.side[k].Board == FalseBoard {
			name = "false " + name
		}
		b := &body{id: name, kind: Skirt, step: -1, side: pieces.Side(k)}
		b.blocks, b.at = s.skirt(c.back, k, sh)
		bodies[name] = b
	}
	return &stage0{sc, bodies}
}

// enter brings the bodies in, one after another.
func (s *search) enter(b *build, c choice, order []node) entry {
	key := entryKey{back: c.back}
	for k := range c.side {
		key.sides[k] = shapeOf(s.kinds[k], c.side[k], s.spec, pieces.Side(k))
	}
	var text strings.Builder
	for _, n := range order {
		if k := b.items[n].Kind; k == Skirt || k == Riser || k == Tread || k == Landing {
			text.WriteString(b.items[n].ID)
			text.WriteByte(' ')
		}
	}
	key.order = text.String()
	if e, ok := s.entries[key]; ok {
		return e
	}
	sc, bodies := s.scene(c)
	e := entry{ways: map[string]Way{}}
	for _, n := range order {
		it := &b.items[n]
		body := bodies[it.ID]
		if body == nil || len(body.blocks) == 0 {
			continue
		}
		if !it.InPlace {
			way, held, must := sc.enter(body)
			if held != nil {
				e.trapped, e.held, e.must = it.ID, held, must
				e.need = sc.needs(body)
				break
			}
			e.ways[it.ID] = way
		}
		sc.put(*body)
	}
	s.entries[key] = e
	return e
}

// needs says which undercut would let a tread tilt in between its sides, if
// that is what holds it.
func (s *scene) needs(b *body) string {
	if b.kind != Tread && b.kind != Landing || s.openAt(b) {
		return ""
	}
	e := s.endsOf(b)
	if e.closing[0] <= 0 && e.closing[1] <= 0 {
		return ""
	}
	if u, ok := undercutFor(e.width, e.thickness, e.clear, math.Min(e.closing[0], e.closing[1])); ok {
		return fmt.Sprintf("; with its ends undercut by %.1f degrees it could be tilted in", model.Angle(u).Degrees())
	}
	return fmt.Sprintf("; the sides close in going up by %.1f and %.1f degrees: cut it in two, or take a skirt off",
		model.Angle(e.closing[0]).Degrees(), model.Angle(e.closing[1]).Degrees())
}

// late looks which way is left to a piece when all the others of a cycle are in
// place, and what is in that way.
func (s *search) late(b *build, c choice, ring []node, trapped string) (Way, []string) {
	sc, bodies := s.scene(c)
	piece := bodies[trapped]
	if piece == nil || len(piece.blocks) == 0 {
		return Way{}, nil
	}
	in := map[string]bool{trapped: true}
	for _, n := range ring {
		if body := bodies[b.items[n].ID]; body != nil && !in[body.id] {
			in[body.id] = true
			sc.put(*body)
		}
	}
	for i := range b.items {
		if body := bodies[b.items[i].ID]; body != nil && b.items[i].InPlace && !in[body.id] {
			sc.put(*body)
		}
	}
	way, held, must := sc.enter(piece)
	if held == nil {
		return way, nil
	}
	return Way{Words: must.words, Out: must.out}, held
}
