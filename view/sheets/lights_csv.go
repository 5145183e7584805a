package sheets

import (
	"risewright/solver"
	"risewright/solver/stock"
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
			row[i] = stock.SafeCell(s)
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
	return stock.CSV(rows)
}
