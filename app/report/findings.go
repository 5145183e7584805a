package report

import (
	"fmt"
	"strings"

	"risewright/model"
	"risewright/solver/rules"
)

// findings lists them, worst first, each with its section and standing.
func (t *text) findings() {
	fs := t.a.Findings
	if len(fs) == 0 {
		t.title("FINDINGS: none")
		t.para(2, rules.Deference)
		return
	}
	t.title("FINDINGS, worst first: " + countWords(fs))
	t.para(2, rules.Deference+" A limit from memory is advice, not a failure.")
	const at = 19
	for i := range fs {
		f := &fs[i]
		t.line("")
		t.hang(at, fmt.Sprintf("  %s %s", mark(f.Severity), strings.ToUpper(f.Heading())), model.Sentence(f.Title))
		if f.Rule == "survey.conflict" {
			t.para(at, "See the readings that conflict, above.")
			continue
		}
		detail := strings.TrimSpace(strings.ReplaceAll(f.Detail, rules.Deference, ""))
		if s := model.Sentence(detail); s != "" {
			t.para(at, s)
		}
		if f.Remedy != "" {
			t.para(at, "Do: "+f.Remedy+".")
		}
		if s := basis(f, detail); s != "" {
			t.para(at, s)
		}
	}
}

// basis says where a finding's limit stands and how far it can be trusted,
// unless the detail says so.
func basis(f *model.Finding, detail string) string {
	switch {
	case f.Section == "" && f.Standing == "":
		return ""
	case f.Section != "" && strings.Contains(detail, f.Section):
		return ""
	case f.Section == "":
		return "Basis: " + rules.StandingWords(f.Standing) + "."
	case f.Standing == "" || f.Section == rules.Practice:
		return "Basis: " + f.Section + "."
	}
	return fmt.Sprintf("Basis: section %s; %s.", f.Section, rules.StandingWords(f.Standing))
}

// mark is a severity's sign. The signs differ in shape.
func mark(s model.Severity) string {
	switch s {
	case model.Block:
		return "■"
	case model.Outside:
		return "▲"
	case model.Advice:
		return "◆"
	}
	return "●"
}

// countWords counts findings, such as "1 stop, 2 outside limit".
func countWords(fs []model.Finding) string {
	var parts []string
	for _, c := range model.CountFindings(fs) {
		parts = append(parts, fmt.Sprintf("%d %s", c.Count, c.Heading))
	}
	return strings.Join(parts, ", ")
}
