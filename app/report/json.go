package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"time"

	"risewright/app/version"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/survey"
	"risewright/view/sheets"
)

// JSON returns the whole answer as JSON that meets assets.AnswerSchema, with a
// line break at the end. The same answer gives the same bytes.
//
// It fails only for a figure that is not a number where there must be one,
// which cannot happen for an answer of solver.Solve.
func JSON(a *solver.Answer, m buildup.Mending) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // people read it too
	e.SetIndent("", " ")
	if err := e.Encode(WireOf(a, m)); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// WireOf returns what JSON writes.
func WireOf(a *solver.Answer, m buildup.Mending) Wire {
	w := Wire{
		Format: WireFormat, Program: version.Program, Job: wireJob(&a.Job),
		Blocked: a.Blocked(), Released: a.Released(), Mending: wireMending(m),
		Pieces: []WirePiece{}, Cards: []WireCard{}, Balusters: []WireBaluster{}, Findings: []WireFinding{},
	}
	if a.Survey != nil {
		w.Survey = wireSurvey(a.Survey)
		w.BuildUp = wireBuildUp(&a.Buildup)
	}
	for i := range a.Pieces {
		w.Pieces = append(w.Pieces, wirePiece(&a.Pieces[i]))
		w.Cards = append(w.Cards, wireCard(&a.Pieces[i], &a.Cards[i]))
	}
	for i := range a.Balusters {
		w.Balusters = append(w.Balusters, wireBaluster(&a.Balusters[i]))
	}
	for i := range a.Findings {
		w.Findings = append(w.Findings, wireFinding(&a.Findings[i]))
	}
	if l := a.Lit; l != nil {
		w.Lit = &WireLit{l.Up.Bars, WireSpread{l.Up.Bright, l.Up.Dim}, WireSpread{l.Down.Bright, l.Down.Dim}}
	}
	return w
}

func wireJob(j *model.Job) WireJob {
	out := WireJob{
		ID: j.ID.String(), Name: j.Name, Place: j.Place, Units: string(j.Units), Code: j.Code, CodeClass: j.CodeClass,
		Revision: j.Revision, Steps: len(j.Flight.Steps), Tolerance: float64(j.Tolerance),
	}
	if t := sheets.Newest(j); !t.IsZero() {
		out.NewestReading = t.Format(time.RFC3339)
	}
	return out
}

// finite returns v, or nil when it is infinite or no number.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// list returns s, and an empty list for none, so that it is not written as null.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// id returns "" for the id of nothing.
func id(v model.ID) string {
	if v == (model.ID{}) {
		return ""
	}
	return v.String()
}

// unitOf is the unit of a kind's values.
func unitOf(k model.Kind) string {
	if k.Quantity() == model.QuantityLength {
		return "mm"
	}
	return "rad"
}

func wireSurvey(r *survey.Result) *WireSurvey {
	out := &WireSurvey{
		Status: string(r.Status), Iterations: r.Iterations, Objective: r.Objective, Critical: finite(r.Critical),
		Steps: []WireStep{}, Checks: []WireCheck{}, Conflicts: []WireConflict{},
	}
	for i := range r.Steps {
		out.Steps = append(out.Steps, wireStep(i, &r.Steps[i]))
	}
	for i := range r.Checks {
		c := &r.Checks[i]
		out.Checks = append(out.Checks, WireCheck{
			Reading: c.Reading.String(), Step: c.Step + 1, Kind: string(c.Kind), Used: c.Used, Unit: unitOf(c.Kind),
			Value: c.Value, Adjusted: c.Adjusted, Residual: c.Residual, Spread: c.Spread,
			Redundancy: c.Redundancy, Normal: c.Normal, Smallest: smallest(c),
		})
	}
	for i := range r.Conflicts {
		c := WireConflict{Remaining: r.Conflicts[i].Remaining, Suspects: []WireSuspect{}}
		for _, s := range r.Conflicts[i].Suspects {
			c.Suspects = append(c.Suspects, WireSuspect{
				Reading: s.Reading.String(), Step: s.Step + 1, Kind: string(s.Kind), Unit: unitOf(s.Kind),
				Normal: s.Normal, Without: s.Without, Spread: s.Spread, Explanation: s.Explanation, Mended: s.Mended,
			})
		}
		out.Conflicts = append(out.Conflicts, c)
	}
	return out
}

// smallest is the smallest blunder found in a reading; nil where nothing
// checks it, and for a reading set aside.
func smallest(c *survey.Check) *float64 {
	if !c.Used {
		return nil
	}
	return finite(c.Smallest)
}

func wireStep(i int, s *survey.Step) WireStep {
	out := WireStep{
		Step: i + 1, FrontLeft: s.FL, FrontRight: s.FR, BackRight: s.BR, BackLeft: s.BL,
		TopLeft: s.TopLeft, TopRight: s.TopRight, Fall: s.Fall, LeanLeft: s.Lean[0], LeanRight: s.Lean[1],
		Corners: []WirePoint{}, Unknowns: unknowns(len(s.Corners)),
		Readiness: string(s.Readiness), Why: s.Why, Next: []WireNext{}, Figures: []WireFigure{},
	}
	for _, c := range s.Corners {
		out.Corners = append(out.Corners, WirePoint{c[0], c[1]})
	}
	n := len(out.Unknowns)
	out.Covariance = rowsOf(s.Cov, n)
	if len(s.Cross) > 0 {
		out.Cross = rowsOf(s.Cross, len(s.Cross)/n)
	}
	for _, x := range s.Next {
		out.Next = append(out.Next, WireNext{string(x.Kind), x.Instrument, x.Now, x.After})
	}
	for _, f := range s.Figures {
		out.Figures = append(out.Figures, WireFigure{string(f.Kind), WireQuantity{unitOf(f.Kind), f.Value, f.Spread}})
	}
	return out
}

// unknowns names the unknowns of a step with n corners, in the order of
// survey.Unknowns.
func unknowns(n int) []string {
	topLeft, topRight, fall, leanLeft, leanRight, count := survey.Unknowns(n)
	out := make([]string, count)
	for c := range n {
		out[2*c], out[2*c+1] = fmt.Sprintf("corner_%d_x_mm", c), fmt.Sprintf("corner_%d_y_mm", c)
	}
	out[topLeft], out[topRight], out[fall] = "top_left_mm", "top_right_mm", "fall"
	out[leanLeft], out[leanRight] = "lean_left_rad", "lean_right_rad"
	return out
}

// rowsOf cuts a matrix that is stored row by row into its rows.
func rowsOf(m []float64, columns int) [][]float64 {
	out := [][]float64{}
	for len(m) > 0 && columns > 0 {
		out = append(out, m[:columns:columns])
		m = m[columns:]
	}
	return out
}

func length(v buildup.Value) WireLength { return WireLength{v.At, v.Spread} }
func ratio(v buildup.Value) WireRatio   { return WireRatio{v.At, v.Spread} }
func sides(s buildup.Sides) WireSides   { return WireSides{length(s.Left), length(s.Right)} }

func uniformity(u buildup.Uniformity) WireUniformity {
	extreme := func(e buildup.Extreme) WireExtreme {
		return WireExtreme{e.Step, e.Side.String(), length(e.Value)}
	}
	return WireUniformity{
		Count: u.Count, Largest: extreme(u.Largest), Smallest: extreme(u.Smallest), Difference: length(u.Spread),
		Adjacent: length(u.Adjacent), AdjacentStep: u.AdjacentStep, AdjacentSide: u.AdjacentSide.String(),
	}
}

func wireBuildUp(r *buildup.Result) *WireBuildUp {
	out := &WireBuildUp{
		FloorBottom: r.FloorBottom, FloorTop: r.FloorTop,
		FlightRiseBefore: length(r.FlightRiseBefore), FlightRiseAfter: length(r.FlightRise), FlightGoing: length(r.FlightGoing),
		MeanRise: r.MeanRise, MeanGoing: r.MeanGoing, SlopeLength: r.SlopeLength, Pitch: WireAngle{r.Pitch.At, r.Pitch.Spread},
		RiseBefore: uniformity(r.RiseBefore), RiseAfter: uniformity(r.RiseAfter),
		GoingBefore: uniformity(r.GoingBefore), GoingAfter: uniformity(r.GoingAfter), Nosing: uniformity(r.Nosing),
		Runs: []WireRun{}, Steps: []WireRise{}, Headroom: heights(r.Headroom), Rail: heights(r.Rail), Doors: []WireDoor{},
	}
	for i := range r.Runs {
		n := &r.Runs[i]
		out.Runs = append(out.Runs, WireRun{
			First: n.First, Last: n.Last, Foot: n.Foot, Rise: length(n.Rise), Pitch: WireAngle{n.Pitch.At, n.Pitch.Spread},
			RiseBefore: uniformity(n.RiseBefore), RiseAfter: uniformity(n.RiseAfter),
			GoingBefore: uniformity(n.GoingBefore), GoingAfter: uniformity(n.GoingAfter), Nosing: uniformity(n.Nosing),
		})
	}
	for i := range r.Steps {
		s := &r.Steps[i]
		w := WireRise{
			Step: s.Number, OldTop: sides(s.OldTop), NewTop: sides(s.NewTop),
			RiseBefore: sides(s.RiseBefore), RiseAfter: sides(s.RiseAfter), Tapered: s.Tapered,
			Packing: sides(s.Packing), Shim: sides(s.Shim), Room: s.Room,
			Across: length(s.Across), Fall: ratio(s.Fall), Slope: ratio(s.Slope),
			Nosing: s.Nosing, Surveyed: sides(s.Surveyed), Forward: s.Forward, Width: length(s.Width),
			TwoRisePlusGoing: length(s.TwoRisePlusGoing),
		}
		if s.HasGoing {
			before, after := sides(s.GoingBefore), sides(s.GoingAfter)
			w.GoingBefore, w.GoingAfter = &before, &after
		}
		if x := s.Winder; x != nil {
			w.Winder = &WireWinder{Inner: x.Inner.String(), Width: x.Width(), Narrow: length(x.Narrow()), Middle: length(middleGoing(x))}
		}
		if x := s.Landing; x != nil {
			w.Landing = &WireLanding{Depth: length(x.Depth), Width: x.Width, Served: x.Served}
		}
		out.Steps = append(out.Steps, w)
	}
	for _, d := range r.Doors {
		out.Doors = append(out.Doors, WireDoor{d.ID.String(), d.Name, d.Top, d.Before, d.After, d.Undercut})
	}
	return out
}

// middleGoing is the going of a winder at the middle of its nose lines.
func middleGoing(w *buildup.Winder) buildup.Value {
	return w.Going(buildup.Walkline{From: buildup.AtMiddle})
}

func wireBaluster(b *pieces.Baluster) WireBaluster {
	out := WireBaluster{Number: b.Number, Step: b.Step, Side: string(b.Side), Behind: b.Behind, Foot: [3]float64(b.Foot), Cut: b.Cut, Rake: b.Rake}
	if b.Old > 0 {
		out.Old, out.New = finite(b.Old), finite(b.New)
	}
	return out
}

func heights(hs []buildup.HeightChange) []WireHeightChange {
	out := []WireHeightChange{}
	for _, h := range hs {
		out = append(out, WireHeightChange{h.ID.String(), h.Step, length(h.Before), length(h.After), h.Raised, h.Advanced})
	}
	return out
}

func wireMending(m buildup.Mending) WireMending {
	out := WireMending{
		Status: string(m.Status), Why: m.Why, Remedies: []WireRemedy{},
		Limits: WireLimits{
			Least: finite(m.Limits.Least), Most: finite(m.Limits.Most), Spread: finite(m.Limits.Spread),
			Adjacent: finite(m.Limits.Adjacent), Rules: list(m.Limits.Rules), Memory: m.Limits.Memory,
		},
	}
	if m.Status == buildup.NoLimits { // the zero limits of a search that was not made mean nothing
		out.Limits = WireLimits{Rules: []string{}}
	}
	for _, r := range m.Remedies {
		w := WireRemedy{
			Title: r.Title, Detail: r.Detail, Cost: r.Cost, Bottom: r.Bottom, Top: r.Top,
			Treads: []WireTread{}, After: uniformity(r.After),
		}
		if r.NewBoard {
			w.Board = finite(float64(r.Board.Size))
		}
		for _, t := range r.Treads {
			w.Treads = append(w.Treads, WireTread{t.Step, t.By, t.Plane})
		}
		out.Remedies = append(out.Remedies, w)
	}
	return out
}

func wireFinding(f *model.Finding) WireFinding {
	return WireFinding{
		Rule: f.Rule, Severity: f.Severity.String(), Title: f.Title, Detail: f.Detail, Remedy: f.Remedy,
		Section: f.Section, Standing: string(f.Standing),
		Where: WirePlace{Step: f.Where.Step, Kind: string(f.Where.Kind), Reading: id(f.Where.Reading),
			Piece: f.Where.Piece, Field: strings.TrimSpace(f.Where.Field)},
	}
}
