package report

import (
	"fmt"
	"io"
	"strings"
	"unicode"

	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/rules"
	"risewright/view/card"
	"risewright/view/sheets"
)

// Text writes the answer in words: the survey step by step, readings that
// conflict, the build-up, the findings, what lights for who walks, the changes that would mend the rises,
// a line for each board, and what to do next.
func Text(w io.Writer, a *solver.Answer, m buildup.Mending) error {
	t := &text{a: a, job: &a.Job, f: a.Job.Format()}
	t.heading()
	if a.Survey != nil {
		t.survey()
		t.conflicts()
		t.rises()
		t.flights()
		t.turns()
		t.clearances()
		t.balusters()
	}
	t.findings()
	t.lit()
	t.mending(m)
	t.boards()
	t.title("NEXT")
	t.para(2, Next(a))
	t.cautions()
	_, err := io.WriteString(w, t.b.String())
	return err
}

// lit says how much of the flight lights for who walks it.
func (t *text) lit() {
	if l := t.a.Lit; l != nil {
		t.title("LIGHT FOR WHO WALKS")
		t.para(2, l.Words())
	}
}

// text is an answer being written.
type text struct {
	a   *solver.Answer
	job *model.Job
	f   model.Format
	b   strings.Builder
}

// line writes one line. What a user typed may hold anything, so characters that
// could move the cursor are replaced.
func (t *text) line(s string) {
	t.b.WriteString(strings.Map(func(r rune) rune {
		if r != ' ' && !unicode.IsGraphic(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
			return '\ufffd'
		}
		return r
	}, s))
	t.b.WriteByte('\n')
}

// title begins a section. The note below it says in what units its figures are.
func (t *text) title(s string, notes ...string) {
	t.line("")
	for _, l := range wrap(s, Width) {
		t.line(l)
	}
	for _, n := range notes {
		t.para(2, n)
	}
}

// para writes s broken into lines, indented.
func (t *text) para(indent int, s string) {
	for _, l := range wrap(s, Width-indent) {
		t.line(strings.Repeat(" ", indent) + l)
	}
}

// hang writes s with a label before its first line, and the others below it.
func (t *text) hang(indent int, label, s string) { t.hangLines(indent, label, wrap(s, Width-indent)) }

func (t *text) hangLines(indent int, label string, lines []string) {
	if len(lines) == 0 {
		lines = []string{""}
	}
	pad := strings.Repeat(" ", max(0, indent-len([]rune(label))))
	t.line(strings.TrimRight(label+pad+lines[0], " "))
	for _, l := range lines[1:] {
		t.line(strings.Repeat(" ", indent) + l)
	}
}

func (t *text) table(tb *table) {
	for _, l := range tb.lines() {
		t.line(l)
	}
}

func (t *text) number(mm float64) string { return t.f.Number(model.Length(mm)) }
func (t *text) length(mm float64) string { return t.f.Length(model.Length(mm)) }
func (t *text) plusMinus(mm float64) string {
	return t.f.PlusMinus(model.Length(mm))
}

// bare is a band without sign and unit, for a column whose head names them.
func (t *text) bare(mm float64) string {
	return strings.TrimPrefix(strings.TrimSuffix(strings.TrimSuffix(t.plusMinus(mm), ` mm`), `"`), "±")
}

// unit names the unit of bare numbers.
func (t *text) unit() string {
	if t.f.Units == model.Imperial {
		return "inches"
	}
	return "mm"
}

func (t *text) heading() {
	j := t.job
	name := j.Name
	if name == "" {
		name = "Unnamed job"
	}
	for _, l := range wrap(name, Width) {
		t.line(l)
	}
	if j.Place != "" {
		t.para(2, j.Place)
	}
	newest := "no dated reading"
	if d := sheets.Newest(j); !d.IsZero() {
		newest = "newest reading " + d.Format("2 January 2006")
	}
	t.para(2, fmt.Sprintf("Survey revision %d · %s · %d risers", j.Revision, newest, len(j.Flight.Steps)))
	t.para(2, "Code: "+codeWords(j))
	t.para(2, "Steps count from the bottom; left and right are as seen walking up.")
}

// codeWords names the rule table a job is held against, and its class of stair.
func codeWords(j *model.Job) string {
	if j.Code == "" {
		return "none chosen"
	}
	c, err := assets.RuleTableByID(j.Code)
	if err != nil {
		return fmt.Sprintf("%q, which this program does not have", j.Code)
	}
	out := c.Title
	if !strings.Contains(out, c.Edition) {
		out += ", " + c.Edition
	}
	for _, k := range c.Classes {
		if k.ID == j.CodeClass {
			return out + "; " + k.Title
		}
	}
	if len(c.Classes) > 0 {
		out += "; " + c.Classes[0].Title + " (none chosen)"
	}
	return out
}

// cautions says what can hurt people.
func (t *text) cautions() {
	var titles []string
	for _, c := range sheets.Cautions() {
		titles = append(titles, strings.ToLower(c.Title))
	}
	t.title("CAUTION")
	s := ""
	if len(t.a.Cards) > 0 {
		s = strings.Join(t.a.Cards[0].Cautions, " ") + " "
	}
	t.para(2, s+"Before work on site read the cautions on the survey sheet: "+strings.Join(titles, ", ")+
		". Structure is for a builder or an engineer, mains for a licensed electrician. "+rules.Deference)
}

// mending writes the changes that would bring the rises within the limits.
func (t *text) mending(m buildup.Mending) {
	if t.a.Survey == nil {
		return
	}
	switch m.Status {
	case buildup.Compliant:
		t.title("RISES")
		t.para(2, model.Sentence(m.Why))
		return
	case buildup.NoLimits, buildup.Unmended, buildup.Unread:
		t.title("CHANGES THAT WOULD BRING THE RISES WITHIN THE LIMITS")
		t.para(2, "None. "+model.Sentence(m.Why))
		return
	}
	t.title("CHANGES THAT WOULD BRING THE RISES WITHIN THE LIMITS, least work first")
	for i, r := range m.Remedies {
		t.hang(5, fmt.Sprintf("  %d", i+1), model.Sentence(r.Title))
		if r.Detail != "" {
			t.para(5, model.Sentence(r.Detail))
		}
	}
	if m.Why != "" {
		t.para(2, model.Sentence(m.Why))
	}
	if m.Limits.Memory {
		t.para(2, "At least one of these limits is from memory: look it up before you work to it.")
	}
}

// plain writes fractions with an ordinary slash: few terminals set the other.
func plain(s string) string { return strings.ReplaceAll(s, "⁄", "/") }

// boardCount is how many boards are in each state, in words.
func boardCount(a *solver.Answer) string {
	n := map[card.State]int{}
	for i := range a.Cards {
		n[card.StateOf(&a.Pieces[i], &a.Cards[i])]++
	}
	out := fmt.Sprintf("%d boards: %d released", len(a.Cards), n[card.Released])
	for _, s := range []card.State{card.Held, card.Refused, card.ByTemplate} {
		if n[s] > 0 {
			out += fmt.Sprintf(", %d %s", n[s], strings.ToLower(s.Banner()))
		}
	}
	return out
}
