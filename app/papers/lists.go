package papers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"

	"risewright/solver"
	"risewright/solver/stock"
)

// Lists returns the buying list, the blank map and the rip list as CSV files,
// in UTF-8, lengths in mm. No cell of them is taken for a formula. A job that
// could not be solved has none.
func Lists(w *solver.Work) ([]File, error) {
	if w == nil || w.Answer.Survey == nil {
		return nil, nil
	}
	rips, err := ripList(w.Buy.Rips)
	if err != nil {
		return nil, fmt.Errorf("rip-list.csv: %w", err)
	}
	return []File{
		{Name: "buying-list.csv", Data: w.Buy.CSV()},
		{Name: "blank-map.csv", Data: w.Buy.MapCSV()},
		{Name: "rip-list.csv", Data: rips},
	}, nil
}

// ripList writes the rip list. Its cells are labels of pieces, which begin with
// a letter, figures that are never below 0, and our own words.
func ripList(rs []stock.Rip) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"piece", "from mm", "rip to mm", "state"}}
	figure := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
	for _, r := range rs {
		state := "released"
		if !r.Final {
			state = "only likely: do not rip yet"
		}
		rows = append(rows, []string{r.Piece, figure(r.From), figure(r.To), state})
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
