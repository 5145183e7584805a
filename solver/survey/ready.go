package survey

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"risewright/model"
)

const (
	// hiddenFactor: a depth ends under the riser, and a board a little out of
	// square can be turned to fit, so these may be looser than the two widths,
	// which show at both ends. Common practice, no source.
	hiddenFactor = 2.0
	// buyBand is the half width, in mm, of the 95 % band of the widths within
	// which a stock length with the usual 25 mm to spare is safe.
	buyBand = 12.0
	// heightBand is the half width, in mm, of the 95 % band that the height of
	// the riser standing on a tread may have: its top edge is hidden, and gaps
	// that are hidden may be 3 mm. Common practice, no source.
	heightBand = 3.0
	// worthwhile is the smallest gain for which a further reading is proposed.
	worthwhile = 0.03
	// proposals is how many further readings are proposed.
	proposals = 3
)

// cutFigures are the figures on which a tread's cut depends, with the factor
// by which each may exceed the tolerance.
var cutFigures = [...]struct {
	kind   model.Kind
	factor float64
}{
	{model.FrontWidth, 1}, {model.BackWidth, 1},
	{model.LeftDepth, hiddenFactor}, {model.RightDepth, hiddenFactor},
	{model.DiagonalLeft, hiddenFactor}, {model.DiagonalRight, hiddenFactor},
}

// needs are the readings without which no cut is released, each with what
// serves for it, the best first.
var needs = [...]struct {
	any []model.Kind
	why string
}{
	{[]model.Kind{model.BackWidth}, "the back width has not been read on bare wood"},
	{[]model.Kind{model.FrontWidth}, "the front width has not been read on bare wood"},
	{[]model.Kind{model.DiagonalLeft, model.GaugeBackLeft, model.GaugeFrontLeft, model.DiagonalRight}, "nothing read on bare wood says how far it is out of square"},
	{[]model.Kind{model.DiagonalRight, model.GaugeBackRight, model.GaugeFrontRight, model.DiagonalLeft}, "nothing read on bare wood says how far it is out of square"},
}

// judge fills in the readiness, the reasons and the next readings of every step.
func (p *problem) judge(res *Result, sol *solution) {
	blamed := map[int]string{}
	for _, c := range res.Conflicts {
		for _, s := range c.Suspects {
			if s.Step >= 0 && blamed[s.Step] == "" {
				blamed[s.Step] = s.Kind.Words()
			}
		}
	}
	byStep := make([][]*taken, len(p.sites))
	for i := range p.readings {
		if t := &p.readings[i]; t.used && t.step >= 0 {
			byStep[t.step] = append(byStep[t.step], t)
		}
	}
	tolerance := float64(p.job.Tolerance)
	for i := range res.Steps {
		s := &res.Steps[i]
		s.Readiness, s.Why = readiness(s, byStep[i], tolerance, blamed[i], p.job.Format())
		p.propose(s, i, byStep[i], sol)
	}
}

// readiness judges one step.
func readiness(s *Step, read []*taken, tolerance float64, blamed string, f model.Format) (Readiness, string) {
	wide := 0.0
	for _, k := range []model.Kind{model.FrontWidth, model.BackWidth} {
		if fig, ok := s.Figure(k); ok {
			wide = math.Max(wide, Band95*fig.Spread)
		}
	}
	if wide > buyBand {
		return ReadySketch, fmt.Sprintf("its widths are known only to %s; read them", f.PlusMinus(model.Length(wide)))
	}
	if blamed != "" {
		return ReadyBuy, fmt.Sprintf("its readings conflict; retake the %s", blamed)
	}
	bare := func(kinds ...model.Kind) bool {
		for _, t := range read {
			for _, k := range kinds {
				if t.reading.Kind == k && t.reading.State.OnBareWood() {
					return true
				}
			}
		}
		return false
	}
	for _, n := range needs {
		if !bare(n.any...) {
			return ReadyBuy, n.why
		}
	}
	for _, c := range cutFigures {
		fig, ok := s.Figure(c.kind)
		if !ok {
			continue
		}
		if b := Band95 * fig.Spread; b > c.factor*tolerance {
			return ReadyBuy, fmt.Sprintf("its %s is known to %s; a cut needs %s", c.kind.Words(),
				f.PlusMinus(model.Length(b)), f.PlusMinus(model.Length(c.factor*tolerance)))
		}
	}
	return ReadyCut, ""
}

// propose lists the readings that would shrink the worst of the step's cut
// figures most, or of the riser's height that stands on it, each by its default instrument on bare wood. Reading a with spread σ
// takes cov(f,a)²/(σ² + var a) off the variance of figure f.
func (p *problem) propose(s *Step, i int, read []*taken, sol *solution) {
	// The last figure is the height of the riser that stands at the back of
	// this tread, as far as it hangs on how the tread falls.
	const last = len(cutFigures)
	var figs [last + 1]row
	var vars, factors [last + 1]float64
	var have [last + 1]bool
	for c, cf := range cutFigures {
		have[c], factors[c] = observe(&figs[c], p.sites, i, cf.kind, sol.x), cf.factor
	}
	if depth, ok := s.Figure(model.LeftDepth); ok && i+1 < len(p.sites) {
		figs[last].term(p.sites[i].fall(), depth.Value)
		have[last], factors[last] = true, heightBand/float64(p.job.Tolerance)
	}
	now := 0.0
	for c := range figs {
		if have[c] {
			vars[c] = sol.covarianceOf(&figs[c], &figs[c])
			now = math.Max(now, math.Sqrt(math.Max(0, vars[c]))/factors[c])
		}
	}
	done := map[model.Kind]bool{}
	for _, t := range read {
		if t.reading.State.OnBareWood() {
			done[t.reading.Kind] = true
		}
	}
	var r row
	for _, k := range stepKinds {
		if done[k] || !observe(&r, p.sites, i, k, sol.x) {
			continue
		}
		in, ok := p.job.DefaultInstrument(k)
		if !ok {
			continue
		}
		va := sol.covarianceOf(&r, &r) + in.Spread*in.Spread
		after := 0.0
		for c := range figs {
			if !have[c] {
				continue
			}
			cov := sol.covarianceOf(&figs[c], &r)
			after = math.Max(after, math.Sqrt(math.Max(0, vars[c]-cov*cov/va))/factors[c])
		}
		if after < now*(1-worthwhile) || rank(k, done) < len(needs) {
			s.Next = append(s.Next, NextReading{Kind: k, Instrument: in.ID, Now: now, After: after})
		}
	}
	// What a cut cannot be released without comes first, then what helps most.
	sort.SliceStable(s.Next, func(a, b int) bool {
		if ra, rb := rank(s.Next[a].Kind, done), rank(s.Next[b].Kind, done); ra != rb {
			return ra < rb
		}
		return s.Next[a].After < s.Next[b].After
	})
	if len(s.Next) > proposals {
		s.Next = s.Next[:proposals]
	}
}

// rank returns the place of kind k among the needs that nothing done serves
// yet, or their number.
func rank(k model.Kind, done map[model.Kind]bool) int {
	for i, n := range needs {
		if n.any[0] == k && !slices.ContainsFunc(n.any, func(k model.Kind) bool { return done[k] }) {
			return i
		}
	}
	return len(needs)
}

// stepKinds is model.StepKinds, made once.
var stepKinds = model.StepKinds()
