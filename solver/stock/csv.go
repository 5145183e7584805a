package stock

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
)

// CSV returns the buying list as comma-separated values, with a heading, in
// UTF-8. A text cell that a spreadsheet could take for a formula begins with
// an apostrophe, so that it stays text.
func (p Plan) CSV() []byte {
	rows := [][]string{{"for", "what", "count", "price each", "price", "need", "extra", "unit", "price is from", "why"}}
	for _, r := range p.All() {
		why := r.Why
		if r.Missing {
			why = strings.TrimSpace("not listed: " + why)
		}
		from := string(r.Standing)
		if r.InHand {
			from = "in hand"
		}
		rows = append(rows, []string{
			SafeCell(string(r.Use)), SafeCell(r.Name), strconv.Itoa(r.Count), money(r.Price), money(r.Cost),
			amount(r.Need), amount(r.Extra), SafeCell(r.Unit), SafeCell(from), SafeCell(why),
		})
	}
	label := "total"
	if p.Currency != "" {
		label += " " + p.Currency
	}
	rows = append(rows, []string{SafeCell(label), "", "", "", money(p.Total), "", "", "", "", "no plan costs less than " + money(p.Lower)})
	if len(p.Electric) > 0 {
		rows = append(rows, []string{"caution", SafeCell(ElectricCaution), "", "", "", "", "", "", "", ""})
	}
	for _, n := range p.Notes {
		rows = append(rows, []string{"note", SafeCell(n), "", "", "", "", "", "", "", ""})
	}
	return CSV(rows)
}

// MapCSV returns the blank map: one line for each cut of each board and sheet,
// in the order of sawing. Positions and lengths are millimetres.
func (p Plan) MapCSV() []byte {
	rows := [][]string{{"for", "board", "number", "strip at", "strip width", "piece", "from", "length", "kerf", "offcut"}}
	for _, c := range p.Cuts {
		for i, l := range c.Result.Layouts {
			for k, q := range l.Cuts {
				off := ""
				if k == len(l.Cuts)-1 {
					off = amount(l.Offcut)
				}
				rows = append(rows, []string{SafeCell(string(c.Use)), SafeCell(c.Cutting.Boards[l.Board].Name), strconv.Itoa(i + 1), "", "",
					SafeCell(c.Cutting.Parts[q.Part].Name), amount(q.At), amount(q.Length), amount(c.Cutting.Kerf), off})
			}
		}
	}
	for _, c := range p.Sheets {
		for i, l := range c.Result.Layouts {
			for _, s := range l.Strips {
				for k, q := range s.Cuts {
					off := ""
					if k == len(s.Cuts)-1 {
						off = amount(s.Offcut)
					}
					rows = append(rows, []string{SafeCell(string(c.Use)), SafeCell(c.Cutting.Sheets[l.Sheet].Name), strconv.Itoa(i + 1), amount(s.At), amount(s.Width),
						SafeCell(c.Cutting.Panels[q.Part].Name), amount(q.At), amount(q.Length), amount(c.Cutting.Kerf), off})
				}
			}
		}
	}
	return CSV(rows)
}

// CSV returns rows as comma-separated values, in UTF-8. It leaves the cells as
// they are: pass what people typed through SafeCell.
func CSV(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		// Cannot happen: a buffer takes everything, and the comma is a fair
		// separator.
		panic(err)
	}
	return b.Bytes()
}

// SafeCell returns a text cell that no spreadsheet takes for a formula. What counts
// is the first character that is not a blank, since some programs skip blanks;
// a leading tab, carriage return or line feed is itself enough. The list is the
// one of the open web-security project's page on CSV injection (from memory).
func SafeCell(s string) string {
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

func money(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// amount prints a quantity to a tenth, without an end of zeros.
func amount(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
}
