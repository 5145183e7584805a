package report_test

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"risewright/app/report"
	"risewright/model"
	"risewright/solver/rules"
	"risewright/solver/survey"
	"risewright/view/card"
)

func words(t testing.TB, a answered) string {
	t.Helper()
	var b bytes.Buffer
	if err := report.Text(&b, a.Answer, a.mending); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTextFitsATerminal(t *testing.T) {
	for _, a := range answers(t) {
		for i, line := range strings.Split(words(t, a), "\n") {
			if n := utf8.RuneCountInString(line); n > report.Width {
				t.Errorf("%s: line %d is %d wide: %s", a.name, i+1, n, line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("%s: line %d ends in blanks", a.name, i+1)
			}
			if !utf8.ValidString(line) || strings.ContainsAny(line, "\x1b\t\r⁄") {
				t.Errorf("%s: line %d has what a terminal may take amiss: %q", a.name, i+1, line)
			}
		}
	}
}

// TestTextHoldsHostileNames gives a job names that could move the cursor or
// break the table.
func TestTextHoldsHostileNames(t *testing.T) {
	j := demoJob(t, "well-behaved")
	j.Name = "a\x1b[2Jb\nc\u202ed"
	j.Place = strings.Repeat("x", 300)
	j.Flight.Doors = append([]model.Door(nil), j.Flight.Doors...)
	j.Flight.Doors[0].Name = strings.Repeat("door ", 60)
	out := words(t, answer(t, "hostile", j))
	for _, line := range strings.Split(out, "\n") {
		if utf8.RuneCountInString(line) > report.Width {
			t.Errorf("too wide: %s", line)
		}
	}
	if strings.ContainsAny(out, "\x1b\u202e") {
		t.Error("a control character got through")
	}
}

// section returns the lines of a section, without its title.
func section(t testing.TB, out, title string) []string {
	t.Helper()
	_, rest, ok := strings.Cut(out, "\n"+title)
	if !ok {
		t.Fatalf("there is no section %s", title)
	}
	var lines []string
	for i, l := range strings.Split(rest, "\n") {
		if i > 0 && l != "" && l[0] != ' ' {
			break
		}
		if i > 0 {
			lines = append(lines, l)
		}
	}
	return lines
}

// TestTextSaysWhatTheAnswerSays looks for each step, board, finding, conflict
// and remedy.
func TestTextSaysWhatTheAnswerSays(t *testing.T) {
	for _, a := range answers(t) {
		out := words(t, a)
		flat := strings.Join(strings.Fields(out), " ")
		want := func(s string) {
			t.Helper()
			if s = strings.Join(strings.Fields(s), " "); !strings.Contains(flat, s) {
				t.Errorf("%s: nowhere: %s", a.name, s)
			}
		}
		want(a.Job.Name)
		want(rules.Deference)
		for _, f := range a.Findings {
			want(f.Title[1:])
		}
		for _, r := range a.mending.Remedies {
			want(r.Title[1:])
		}
		if a.Survey == nil {
			continue
		}
		f := a.Job.Format()
		table := section(t, out, "SURVEY")
		for i := range a.Survey.Steps {
			fig, _ := a.Survey.Steps[i].Figure(model.FrontWidth)
			row := strings.TrimSpace(table[i+3])
			number, rest, _ := strings.Cut(row, " ")
			if number != strconv.Itoa(i+1) || !strings.HasPrefix(strings.TrimSpace(rest), f.Number(model.Length(fig.Value))+" ") {
				t.Errorf("%s: step %d: the table says %q", a.name, i+1, row)
			}
			good := map[survey.Readiness]string{survey.ReadyCut: "the saw", survey.ReadyBuy: "buying", survey.ReadySketch: "a sketch"}
			if !strings.HasSuffix(row, good[a.Survey.Steps[i].Readiness]) {
				t.Errorf("%s: step %d is %s: the table says %q", a.name, i+1, a.Survey.Steps[i].Readiness, row)
			}
		}
		for _, c := range a.Survey.Conflicts {
			for _, s := range c.Suspects {
				if !strings.Contains(strings.Join(section(t, out, "READINGS THAT CONFLICT"), " "), s.Kind.Words()) {
					t.Errorf("%s: the suspect %s is not named", a.name, s.Kind.Words())
				}
			}
		}
		rises := section(t, out, "BUILD-UP")
		for i := range a.Buildup.Steps {
			s := &a.Buildup.Steps[i]
			cells := strings.Fields(rises[i+3])
			left := strings.Fields(f.Number(model.Length(s.RiseBefore.Left.At)))
			if cells[0] != strconv.Itoa(s.Number) || strings.Join(cells[1:1+len(left)], " ") != strings.Join(left, " ") {
				t.Errorf("%s: riser %d: the table says %q", a.name, s.Number, rises[i+3])
			}
		}
	}
}

// TestTextFiguresOnlyForReleased looks at what each board is given by its state.
func TestTextFiguresOnlyForReleased(t *testing.T) {
	seen := map[card.State]int{}
	all := answers(t)
	refused := answer(t, "refused", demoJob(t, "well-behaved"))
	refused.Cards[2].Proof.OK, refused.Cards[2].Proof.Reason = false, "made to fail"
	for _, a := range append(slices.Clone(all), refused) {
		if len(a.Cards) == 0 {
			continue
		}
		blocks := map[string]string{}
		id := ""
		for _, l := range section(t, words(t, a), "CUT CARDS") {
			if len(l) > 7 && l[:2] == "  " && l[2] != ' ' && l[5] == ' ' && strings.ContainsAny(l[2:3], "RTLFN") {
				id = l[2:5]
			}
			if id != "" {
				blocks[id] += l + "\n"
			}
		}
		if len(blocks) != len(a.Cards) {
			t.Errorf("%s: %d boards told, %d cards", a.name, len(blocks), len(a.Cards))
		}
		for i := range a.Cards {
			state := card.StateOf(&a.Pieces[i], &a.Cards[i])
			seen[state]++
			b := blocks[a.Pieces[i].ID]
			cuts := strings.Contains(b, "gauge ") && strings.Contains(b, "mark ") && strings.Contains(b, "RIP")
			banner := b[7:]
			if !strings.HasPrefix(banner, state.Banner()) {
				t.Errorf("%s: %s is %s: %q", a.name, a.Pieces[i].ID, state.Banner(), b)
			}
			if cuts != (state == card.Released) {
				t.Errorf("%s: %s is %s and says\n%s", a.name, a.Pieces[i].ID, state.Banner(), b)
			}
			if state == card.Refused && (!strings.Contains(b, "made to fail") || strings.ContainsAny(b[7:], "0123456789")) {
				t.Errorf("%s: a refused board says\n%s", a.name, b)
			}
		}
	}
	for _, s := range []card.State{card.Released, card.Held, card.Refused, card.ByTemplate} {
		if seen[s] == 0 {
			t.Errorf("no board was %s", s.Banner())
		}
	}
}

// TestTextNamesBothOfTwo gives an answer two readings that cannot be told apart,
// and one that was typed otherwise than it is shown.
func TestTextNamesBothOfTwo(t *testing.T) {
	a := answer(t, "two", demoJob(t, "tapering"))
	c := &a.Survey.Conflicts[0]
	other := a.Job.Flight.Steps[4].Readings[0]
	c.Suspects = []survey.Suspect{c.Suspects[0], {Reading: other.ID, Step: 4, Kind: other.Kind, Without: other.Value + 5, Spread: 0.5}}
	out := strings.Join(strings.Fields(strings.Join(section(t, words(t, a), "READINGS THAT CONFLICT"), " ")), " ")
	for _, want := range []string{"cannot be told apart: retake both", model.GaugeBackLeft.Words() + ": read as 89.2°;", other.Kind.Words() + ": read as "} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q: %s", want, out)
		}
	}
	if strings.Contains(out, "RETAKE ") {
		t.Errorf("it accuses one of the two: %s", out)
	}
	if next := report.Next(a.Answer); !strings.Contains(next, "“gauge, back left” of step 5 and “"+other.Kind.Words()+"” of step 5") {
		t.Error(next)
	}
}

// A middle width that does not fit its ends is a bow if it stands, and that is
// said with the reading to retake.
func TestTextTellsOfABow(t *testing.T) {
	for _, k := range []model.Kind{model.MiddleWidth, model.FrontWidth} {
		a := answer(t, "bow", demoJob(t, "tapering"))
		c := &a.Survey.Conflicts[0]
		read := a.Job.Flight.Steps[4].Readings[0]
		c.Suspects = []survey.Suspect{{Reading: read.ID, Step: 4, Kind: k, Without: 905, Spread: 0.5}}
		out := strings.Join(strings.Fields(strings.Join(section(t, words(t, a), "READINGS THAT CONFLICT"), " ")), " ")
		if got := strings.Contains(out, "a side is bowed: set it aside and make a hardboard template."); got != (k == model.MiddleWidth) {
			t.Errorf("%s: a bow is told: %v: %s", k, got, out)
		}
	}
}

func TestNext(t *testing.T) {
	all := answers(t)
	find := func(name string) answered {
		for _, a := range all {
			if a.name == name {
				return a
			}
		}
		t.Fatal(name)
		return answered{}
	}
	for name, want := range map[string]string{
		"tapering":         "Take “gauge, back left” of step 5 again on bare wood",
		"unfinished":       "steps are ready for the saw)",
		"well-behaved":     "All 13 steps are ready",
		"not to be solved": "olerance",
	} {
		if got := report.Next(find(name).Answer); !strings.Contains(got, want) {
			t.Errorf("%s: %s", name, got)
		}
	}
}
