package sheets

import (
	"fmt"
	"math"

	"risewright/model"
	"risewright/solver"
	"risewright/view/card"
	"risewright/view/drawing"
)

// Work returns the papers for those who buy and fit: order of work, skirt
// boards, buying list, blank map, rip list, wood movement, and hours, money and
// days. What is not known yet is named on the paper, with what would make it
// known; no paper is left out.
func Work(w *solver.Work, m Meta) []Paper {
	var out []Paper
	for _, p := range []struct {
		name, title string
		write       func(*worker)
	}{
		{"order-of-work.pdf", "Order of work", (*worker).order},
		{"skirt-boards.pdf", "Skirt boards", (*worker).skirts},
		{"buying-list.pdf", "Buying list", (*worker).buying},
		{"blank-map.pdf", "Blank map", (*worker).blanks},
		{"rip-list.pdf", "Rip list", (*worker).rips},
		{"wood-movement.pdf", "Wood movement", (*worker).movement},
		{"hours-money-days.pdf", "Hours, money, days", (*worker).time},
	} {
		k := &worker{book: newBook(p.title, m, w.Answer.Job.Format()), w: w, job: &w.Answer.Job}
		k.page()
		p.write(k)
		out = append(out, Paper{Name: p.name, Title: p.title, Pages: k.finish(len(k.pages))})
	}
	return out
}

// worker lays out one paper of the work.
type worker struct {
	*book
	w   *solver.Work
	job *model.Job
}

func (k *worker) length(mm float64) string { return card.Length(k.f, mm) }
func (k *worker) number(mm float64) string { return card.Number(k.f, mm) }

// fine writes a gap without its unit.
func (k *worker) fine(mm float64) string {
	if k.job.Units == model.Imperial {
		return fmt.Sprintf("%.3f", mm/25.4)
	}
	return fmt.Sprintf("%.1f", mm)
}

func (k *worker) fineUnit() string {
	if k.job.Units == model.Imperial {
		return "in"
	}
	return "mm"
}

// unit is that of bare lengths.
func (k *worker) unit() string {
	if k.job.Units == model.Imperial {
		return "inches"
	}
	return "mm"
}

// solved reports whether there are boards at all; where not, the page says so.
func (k *worker) solved() bool {
	if k.w.Answer.Survey != nil {
		return true
	}
	k.missing("this job could not be solved, so there is nothing to say here yet", "mend the findings that stop work; they are on the build-up sheet")
	return false
}

func (k *worker) notes(title string, notes []string) {
	if len(notes) == 0 {
		return
	}
	k.heading(title, 6)
	for _, n := range notes {
		k.item("–", card.SetFractions(model.Sentence(n)))
	}
	k.y += gap
}

// money writes an amount with the label of its currency, whole.
func money(currency string, v float64) string {
	s := fmt.Sprintf("%.0f", math.Round(v))
	if currency != "" {
		s += " " + currency
	}
	return s
}

// cents writes an amount to the hundredth.
func cents(v float64) string { return fmt.Sprintf("%.2f", v) }

// hoursWords writes hours to a tenth.
func hoursWords(h float64) string {
	if h == 1 {
		return "1 hour"
	}
	return fmt.Sprintf("%.1f hours", h)
}

// figures is a column of figures, set to the right.
func figures(title string, width float64) column {
	return column{title: title, width: width, align: drawing.AlignEnd}
}
