package fitting

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
)

// Gap is the visible gap to be expected at a joint, mm, at its widest place.
type Gap struct {
	Mean, Spread float64
	P95          float64 // one joint in twenty is wider
	Beyond       float64 // the share of joints wider than Reject
	Over         float64 // how much, on average, a joint is wider than Limit
}

// Spreads of what is made, one standard deviation, mm unless said otherwise:
// common practice, no source.
const (
	cutSpread    = 0.25 // where one end of a cut comes out, against its card
	scribeSpread = 0.4  // a line of a skirt, scribed in place and sawn
	falseSpread  = 0.2  // the face of a false skirt against the old one
	newSpread    = 0.5  // the face of a new skirt against the old one's, before it is measured again
	mitreSpread  = 0.3 * math.Pi / 180
	caulkWidth   = 2.0 // what is left open to be filled
	// firstTimer is how much wider all of them are for someone who has not done
	// it before.
	firstTimer = 1.8
)

const (
	gapSeed    = 20250117
	gapSamples = 4096 // a standard deviation is then good to 1/√8192 = 1.1 %
	// rigidLines is the most lines of one board that are drawn at random; the
	// gap of a joint on a longer board grows by less than 0.1 mm up to twice
	// as many.
	rigidLines = 64
)

// gapModel predicts gaps. It keeps what it has worked out.
type gapModel struct {
	job   *model.Job
	res   *survey.Result
	ps    map[model.BackJoint][]pieces.Piece
	sites map[model.BackJoint][]site
	// scale widens the survey's own spread, cut that of what is made.
	scale, cut float64
	meets      []int        // the step, from 0, whose sides each riser meets
	z          [][4]float64 // the same random numbers for every joint
	sample     []float64    // room for the gaps of a joint
	ends       map[endKey]Gap
	rigid      map[rigidKey]Gap
	single     map[singleKey]Gap
}

type singleKey struct{ spread, offset, good, reject float64 }

type endKey struct {
	step  int
	riser bool
	back  model.BackJoint
	mode  endMode
	extra [2]float64
	limit float64
}

// endMode says at which ends a board butts something it is tight to.
type endMode int

const (
	bothEnds endMode = iota
	leftOnly
	rightOnly
	backWedge // not an end: a tread's back against the riser
)

type rigidKey struct {
	n     int
	limit float64
}

func newGapModel(job *model.Job, res *survey.Result, first bool) *gapModel {
	g := &gapModel{job: job, res: res, scale: 1, cut: 1,
		ends: map[endKey]Gap{}, rigid: map[rigidKey]Gap{}, single: map[singleKey]Gap{},
		ps: map[model.BackJoint][]pieces.Piece{}, sites: map[model.BackJoint][]site{}}
	if first {
		g.cut = firstTimer
	}
	rng := rand.New(rand.NewPCG(gapSeed, 1))
	g.z = make([][4]float64, gapSamples)
	for i := range g.z {
		for k := range 4 {
			g.z[i][k] = rng.NormFloat64()
		}
	}
	return g
}

// corner is a place at an end of a board: how the side moves away from it with
// the unknowns of its step.
type corner struct {
	grad []float64
	mean float64
}

// cornersOf returns the four corners of a board's show face as the sides meet
// them: left front (top), left back (bottom), right front, right back. Only the
// unknowns of one step count.
func (g *gapModel) cornersOf(i int, riser bool, back model.BackJoint) (step int, out [4]corner) {
	step = i
	sites, ps := g.sites[back], g.ps[back]
	p := &ps[2*i+1]
	if riser {
		p = &ps[2*i]
		step = g.meets[i]
	}
	s := &g.res.Steps[step]
	_, _, _, leanLeft, _, count := survey.Unknowns(len(s.Corners))
	ref := [2]int{s.FL, s.FR} // what the board lies by, up and down the flight
	if riser && step < i {
		ref = [2]int{s.BL, s.BR}
	}
	for k := range out {
		side, rear := k/2, k%2 == 1
		c := [2][2]int{{s.FL, s.BL}, {s.FR, s.BR}}[side][k%2]
		if g.job.Flight.Steps[i].Landing && !riser { // its nosing ends by its front corners
			c = [2]int{s.FL, s.FR}[side]
		}
		w := sites[step].side[side].n
		l := math.Hypot(w[0], w[1])
		c0 := corner{grad: make([]float64, count), mean: p.Ends[side].Fit}
		if riser {
			c = [2]int{s.BL, s.BR}[side]
			if step == i { // the sides at its own foot
				c = [2]int{s.FL, s.FR}[side]
			}
			// Its height above the tread at which the side was surveyed.
			h := p.Figures.LeftDepth.Value
			switch {
			case step == i:
				h = -ps[2*i+1].Thickness
				if rear {
					h -= p.Figures.LeftDepth.Value
				}
			case rear:
				h = 0
				if back == model.BackAgainstRiser {
					h = -ps[2*step+1].Thickness
				}
			}
			c0.grad[leanLeft+side] = h // a side that leans out farther up is farther away
		}
		c0.grad[2*c] -= w[0] / l
		c0.grad[2*c+1] -= w[1] / l
		// The board goes with its nose line, or its face, up and down the flight;
		// a side askew to it is met by what is left.
		back := sites[i].back
		askew := (w[0]*back[0] + w[1]*back[1]) / l / 2
		for _, e := range ref {
			c0.grad[2*e] += askew * back[0]
			c0.grad[2*e+1] += askew * back[1]
		}
		out[k] = c0
	}
	return step, out
}

// end returns the gap at the ends of a tread or riser. extra are further
// spreads that shift the whole of each side.
func (g *gapModel) end(key endKey) Gap {
	if key.mode != bothEnds {
		key.extra = [2]float64{} // a board pushed tight to a side goes with it
	}
	if v, ok := g.ends[key]; ok {
		return v
	}
	step, cs := g.cornersOf(key.step, key.riser, key.back)
	s := &g.res.Steps[step]
	if key.mode == backWedge {
		cs = g.backCorners(key.step, key.back)
	}
	n := len(cs[0].grad)
	cov := mat.NewSymDense(4, nil)
	for a := range 4 {
		for b := a; b < 4; b++ {
			v := 0.0
			if len(s.Cov) == n*n {
				for i, gi := range cs[a].grad {
					if gi == 0 {
						continue
					}
					for k, gk := range cs[b].grad {
						v += gi * s.Cov[i*n+k] * gk
					}
				}
			}
			v *= g.scale * g.scale
			if a == b {
				v += cutSpread * cutSpread * g.cut * g.cut
			}
			if a/2 == b/2 && key.mode != backWedge {
				v += key.extra[a/2] * key.extra[a/2]
			}
			cov.SetSym(a, b, v)
		}
	}
	var root mat.Cholesky
	ok := root.Factorize(cov) // cannot fail but for a covariance that is none: a cut's own spread is on the diagonal
	var low [4][4]float64
	if ok {
		var lower mat.TriDense
		root.LTo(&lower)
		for a := range 4 {
			for b := range a + 1 {
				low[a][b] = lower.At(a, b)
			}
		}
	}
	if g.sample == nil {
		g.sample = make([]float64, len(g.z))
	}
	sample := g.sample
	for k := range g.z {
		z := &g.z[k]
		q := [4]float64{
			cs[0].mean + low[0][0]*z[0],
			cs[1].mean + low[1][0]*z[0] + low[1][1]*z[1],
			cs[2].mean + low[2][0]*z[0] + low[2][1]*z[1] + low[2][2]*z[2],
			cs[3].mean + low[3][0]*z[0] + low[3][1]*z[1] + low[3][2]*z[2] + low[3][3]*z[3],
		}
		switch key.mode {
		case bothEnds:
			// Shifted until the widest places on either side are alike; what is
			// tight is crept down.
			sample[k] = max(0, (max(q[0], q[1])+max(q[2], q[3]))/2)
		case leftOnly, backWedge:
			sample[k] = math.Abs(q[0] - q[1]) // pushed tight, a wedge is left
		case rightOnly:
			sample[k] = math.Abs(q[2] - q[3])
		}
	}
	good, reject := clearGood, key.limit
	if reject == paintReject {
		good = paintGood
	}
	v := summed(sample, good, reject)
	g.ends[key] = v
	return v
}

// backCorners returns how the riser behind a tread lies back from its back left
// and back right corner; the other two are the same again.
func (g *gapModel) backCorners(i int, back model.BackJoint) [4]corner {
	s := &g.res.Steps[i]
	t := &g.sites[back][i]
	_, _, _, _, _, count := survey.Unknowns(len(s.Corners))
	var out [4]corner
	for k, c := range []int{s.BL, s.BR, s.BL, s.BR} {
		out[k] = corner{grad: make([]float64, count)}
		out[k].grad[2*c], out[k].grad[2*c+1] = t.back[0], t.back[1]
	}
	return out
}

// board returns the gap at each of n lines that one rigid board is scribed to,
// when it is pushed home until it touches the proudest.
func (g *gapModel) board(n int, good, reject float64) Gap {
	key := rigidKey{min(n, rigidLines), reject}
	if v, ok := g.rigid[key]; ok {
		return v
	}
	rng := rand.New(rand.NewPCG(gapSeed, 2))
	spread := scribeSpread * g.cut
	sample := make([]float64, 0, gapSamples*key.n/4)
	e := make([]float64, key.n)
	for range gapSamples / 4 {
		least := math.Inf(1)
		for i := range e {
			e[i] = rng.NormFloat64() * spread
			least = math.Min(least, e[i])
		}
		for _, x := range e {
			sample = append(sample, x-least)
		}
	}
	v := summed(sample, good, reject)
	g.rigid[key] = v
	return v
}

// folded returns the gap |offset + e| of a single cut e with the spread.
func (g *gapModel) folded(spread, offset, good, reject float64) Gap {
	key := singleKey{spread, offset, good, reject}
	if v, ok := g.single[key]; ok {
		return v
	}
	sample := make([]float64, len(g.z))
	for i := range g.z {
		sample[i] = math.Abs(offset + spread*g.z[i][0])
	}
	v := summed(sample, good, reject)
	g.single[key] = v
	return v
}

func summed(sample []float64, good, reject float64) Gap {
	var g Gap
	n := float64(len(sample))
	each := 1 / n // exact for gapSamples, a power of 2
	for _, x := range sample {
		g.Mean += x * each
		if x > good {
			g.Over += (x - good) * each
		}
		if x > reject {
			g.Beyond += each
		}
	}
	for _, x := range sample {
		g.Spread += (x - g.Mean) * (x - g.Mean) * each
	}
	g.Spread = math.Sqrt(g.Spread)
	g.P95 = nth(sample, int(0.95*n))
	return g
}

// nth returns the k-th least of the sample, from 0, and shuffles the sample.
func nth(x []float64, k int) float64 {
	lo, hi := 0, len(x)-1
	for lo < hi {
		pivot := x[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return x[k]
		}
	}
	return x[k]
}

// fill works out the gaps of a build's joints. Roughly, the dear ones are left
// 0: those at boards that are tight to both sides, which hang on the treatment
// of both.
func (g *gapModel) fill(b *build, c choice, roughly bool) {
	end := func(key endKey) Gap {
		if roughly && key.mode == bothEnds {
			return Gap{}
		}
		return g.end(key)
	}
	n := len(g.res.Steps)
	var extra [2]float64
	tight := func(d Decision, past bool) bool { return d.Board != OpenSide && !past && d.Ends == Tight }
	for s, d := range c.side {
		switch d.Board {
		case FalseBoard:
			extra[s] = falseSpread
		case NewSkirt:
			extra[s] = newSpread
		}
	}
	mode := func(step int, kind Kind) endMode {
		riser, at := kind == Riser, b.of.meets(kind, step)
		past := func(d Decision) bool {
			if riser {
				return d.RiserPast
			}
			return d.TreadPast
		}
		l := !b.of.open[0][at] && tight(c.side[0], past(c.side[0]))
		r := !b.of.open[1][at] && tight(c.side[1], past(c.side[1]))
		switch {
		case l && r:
			return bothEnds
		case l:
			return leftOnly
		}
		return rightOnly
	}
	// What is cut to a template carries no error of the survey, only the cut's.
	templated := func(j *Joint) bool {
		p := &g.ps[c.back][2*j.step]
		if j.kind == treadEnd {
			p = &g.ps[c.back][2*j.step+1]
		}
		return (j.kind == treadEnd || j.kind == riserEnd) && p.Template != ""
	}
	for i := range b.joints {
		j := &b.joints[i]
		if templated(j) {
			j.Gap = g.folded(cutSpread*g.cut, 0, j.Limit, j.Reject)
			continue
		}
		switch j.kind {
		case treadEnd:
			j.Gap = end(endKey{j.step, false, c.back, mode(j.step, Tread), extra, j.Reject})
		case riserEnd:
			j.Gap = end(endKey{j.step, true, c.back, mode(j.step, Riser), extra, j.Reject})
		case skirtLevel, skirtPlumb:
			j.Gap = g.board(n, j.Limit, j.Reject)
		case treadBack:
			j.Gap = g.end(endKey{step: j.step, back: c.back, mode: backWedge, limit: j.Reject})
		case riserFoot:
			j.Gap = g.folded(cutSpread*g.cut/2, 0, j.Limit, j.Reject)
		case mitreJoint:
			j.Gap = g.folded(mitreSpread*g.cut*float64(g.job.Overlay.Tread), 0, j.Limit, j.Reject)
		case beadEnds:
			j.Gap = g.folded(cutSpread*g.cut, 0, j.Limit, j.Reject)
		case caulkedEnd:
			j.Gap = g.folded(cutSpread*g.cut, caulkWidth, j.Limit, j.Reject)
		}
	}
}
