package estimate

import (
	"slices"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/stock"
	"risewright/solver/wood"
)

// Range is a least, a likeliest and a greatest value.
type Range struct{ Low, Likely, High float64 }

func (r Range) plus(s Range) Range {
	return Range{r.Low + s.Low, r.Likely + s.Likely, r.High + s.High}
}

func (r Range) times(s Range) Range {
	return Range{r.Low * s.Low, r.Likely * s.Likely, r.High * s.High}
}

func (r Range) scaled(f float64) Range { return Range{r.Low * f, r.Likely * f, r.High * f} }

func rangeOf(r model.Range) Range { return Range{r.Low, r.Likely, r.High} }

// Work is how much there is of everything that takes time. The zero value is
// no stair.
type Work struct {
	Risers        int // one for each step
	Treads        int // without the landing nosing
	ScribedSkirts int // sides
	PlainSkirts   int
	OpenSteps     int // sides of steps that are open
	LightBars     int
	// Householder says that the household does it, takes longer and asks no
	// wage; Novice that those who do it take as long, whoever they are.
	Householder, Novice bool
	// Sessions are the evenings of the order of fitting, in turn; Pieces then
	// counts what they fit by the stage of the table, instead of the counts
	// above. Without an order there are none, and no calendar.
	Sessions []Session
	Pieces   map[string]int
}

// fitted are the stages that an order of fitting does, where it has pieces of
// them. Wiring is done beforehand when the order does not speak of it.
var fitted = []string{"risers", "treads", "landing", "skirt-scribed", "skirt-straight", "open-side", "light-bars", "wiring"}

// inSessions says whether a stage is done in the evenings of the order.
func (w Work) inSessions(id string) bool {
	if len(w.Sessions) == 0 || !slices.Contains(fitted, id) {
		return false
	}
	return id != "wiring" || w.Pieces[id] > 0
}

// Small is the id of the stage of the small work that the order has and the
// table does not list.
const Small = "small"

// The range of the small work, as parts of its likeliest time: our own
// judgement.
const smallLow, smallHigh = 0.75, 1.5

// WorkOf counts the work of a flight. Skirts are those to be fitted new, and
// scribed says how; bars are the light bars wished for.
func WorkOf(job model.Job, skirts int, scribed bool, bars int) Work {
	w := Work{Risers: len(job.Flight.Steps), Treads: max(0, len(job.Flight.Steps)-1), LightBars: bars}
	for _, s := range job.Flight.Steps {
		for _, side := range []model.Side{s.Left, s.Right} {
			if side.Kind == model.Open {
				w.OpenSteps++
			}
		}
	}
	if scribed {
		w.ScribedSkirts = skirts
	} else {
		w.PlainSkirts = skirts
	}
	return w
}

// pace is how much longer than a professional those take who do the work.
func (w Work) pace(l model.Labour) Range {
	if w.Householder || w.Novice {
		return rangeOf(l.Householder)
	}
	return Range{1, 1, 1}
}

// count returns what a stage's hours are multiplied by.
func (w Work) count(s *model.Stage) int {
	if w.inSessions(s.ID) {
		if s.ID == "wiring" {
			return 1 // for the lighting as a whole
		}
		return w.Pieces[s.ID]
	}
	switch s.Per {
	case model.PerJob:
		return 1
	case model.PerStep, model.PerRiser:
		return w.Risers
	case model.PerTread:
		return w.Treads
	case model.PerSkirtScribed:
		return w.ScribedSkirts
	case model.PerSkirtPlain:
		return w.PlainSkirts
	case model.PerOpenStep:
		return w.OpenSteps
	case model.PerLightBar:
		return w.LightBars
	case model.PerLightJob:
		return min(1, w.LightBars)
	}
	return 0
}

// StageHours is one stage of this job.
type StageHours struct {
	ID       string
	Name     string
	Count    int
	Hours    Range
	Standing model.Standing
	Note     string
}

// Hours returns the stages that this job has, in the order of the table, and
// their sum.
func Hours(l model.Labour, w Work) ([]StageHours, Range) {
	var out []StageHours
	var sum Range
	left := 0.0 // of the evenings, beside the stages they do
	for _, s := range w.Sessions {
		left += s.Hours
	}
	pace := w.pace(l)
	for i := range l.Stages {
		s := &l.Stages[i]
		n := w.count(s)
		if n == 0 {
			continue
		}
		h := rangeOf(s.Hours).scaled(float64(n)).times(pace)
		out = append(out, StageHours{ID: s.ID, Name: s.Name, Count: n, Hours: h, Standing: s.Hours.Standing, Note: s.Note})
		sum = sum.plus(h)
		if w.inSessions(s.ID) {
			left -= h.Likely
		}
	}
	if left > leastHours {
		h := Range{left * smallLow, left, left * smallHigh}
		out = append(out, StageHours{ID: Small, Name: "coves, beads, holes, plugs and checks of the order", Count: 1, Hours: h, Standing: model.Memory})
		sum = sum.plus(h)
	}
	return out, sum
}

// Money is what a job costs. Currency is a label.
type Money struct {
	Currency    string
	Labour      Range
	Materials   Range
	Contingency Range // for what the carpet hides
	Total       Range
	Notes       []string
}

// unlistedNote is said where the buying list has gaps.
const unlistedNote = "something on the buying list has no listed price: it is not in the materials"

// Cost returns what the hours and the plan's materials cost. A householder's
// own hours cost nothing. Materials are at least what no plan can go below, and
// at most what they come to with the contingency once more, because shipped
// prices are from memory.
func Cost(l model.Labour, w Work, hours Range, p stock.Plan) Money {
	m := Money{Currency: p.Currency}
	if !w.Householder {
		m.Labour = hours.times(rangeOf(l.Rate))
	}
	c := rangeOf(l.Contingency)
	m.Materials = Range{p.Lower, p.Total, p.Total * (1 + c.High)}
	m.Contingency = m.Labour.plus(m.Materials).times(c)
	m.Total = m.Labour.plus(m.Materials).plus(m.Contingency)
	for _, r := range p.All() {
		if r.Missing {
			m.Notes = append(m.Notes, unlistedNote)
			break
		}
	}
	if p.Early {
		m.Notes = append(m.Notes, "the survey is not finished: lengths, and so prices, may still change")
	}
	return m
}

// Boards returns the treads and the landing nosing as package wood wants them.
func Boards(ps []pieces.Piece) []wood.Board {
	var out []wood.Board
	for i := range ps {
		p := &ps[i]
		if p.Kind == pieces.Riser || p.Impossible != "" {
			continue
		}
		depth := max(p.Figures.LeftDepth.Value, p.Figures.RightDepth.Value)
		for _, v := range p.Face { // a winder may be deepest between its ends
			depth = max(depth, v[1])
		}
		out = append(out, wood.Board{Piece: p.ID, Depth: depth, Landing: p.Kind == pieces.LandingNosing})
	}
	return out
}
