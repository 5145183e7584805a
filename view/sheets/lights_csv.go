package sheets

import (
	"bytes"
	"encoding/csv"
	"strings"

	"risewright/solver"
)

// LightsCSV returns the wiring schedule as comma-separated values, in UTF-8:
// the tables of bars, wires, scenes and controllers, each below its title and
// with an empty line after it. Every line has as many cells as the widest
// table, as some readers want. Lengths are in the job's units. A cell that a
// spreadsheet could take for a formula begins with an apostrophe, so that it
// stays text. A job without lighting gives nothing.
func LightsCSV(a *solver.Answer) []byte {
	if a == nil || !a.Job.Lighting.On() || a.Power == nil {
		return nil
	}
	tables := a.Power.Schedule(&a.Bars, a.Job.Format())
	wide := 0
	for _, t := range tables {
		wide = max(wide, len(t.Head))
	}
	var rows [][]string
	add := func(cells ...string) {
		row := make([]string, wide)
		for i, s := range cells {
			row[i] = plainCell(s)
		}
		rows = append(rows, row)
	}
	for i, t := range tables {
		if i > 0 {
			add()
		}
		add(t.Title)
		add(t.Head...)
		for _, r := range t.Rows {
			add(r...)
		}
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		// Cannot happen: a buffer takes everything, and the comma is a fair
		// separator.
		panic(err)
	}
	return b.Bytes()
}

// plainCell returns a cell that no spreadsheet takes for a formula, by the
// same rule as the buying list (package stock).
func plainCell(s string) string {
	if s == "" {
		return s
	}
	if strings.ContainsRune("\t\r\n", rune(s[0])) {
		return "'" + s
	}
	if rest := strings.TrimLeft(s, " \u00a0"); rest != "" && strings.ContainsAny(rest[:1], "=+-@\t\r\n|%") {
		return "'" + s
	}
	for _, wide := range []string{"＝", "＋", "－", "＠"} { // full-width, folded by some programs
		if strings.HasPrefix(s, wide) {
			return "'" + s
		}
	}
	return s
}
