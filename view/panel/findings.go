package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver/rules"
)

// mostFindings is how many findings are listed; the worst come first, and
// more than this are not read anyway. The count of the rest is told.
const mostFindings = 60

// severityMark returns the mark and the colour of a severity. The
// marks differ in shape, so that colour is never needed.
func severityMark(s model.Severity) (mark string, role fyne.ThemeColorName) {
	switch s {
	case model.Block:
		return "■", base.ColorNameError
	case model.Outside:
		return "▲", base.ColorNameError
	case model.Advice:
		return "◆", base.ColorNameWarning
	}
	return "●", base.ColorNamePlaceHolder
}

// Findings is the list of what the user should know, worst first.
type Findings struct {
	desk   *Desk
	head   *label
	rows   []*findingRow
	box    *fyne.Container
	more   *label
	scroll *container.Scroll
	whole  fyne.CanvasObject
}

// NewFindings returns the list. Each finding takes the user to its place by a
// click or by Enter.
func NewFindings(d *Desk) *Findings {
	f := &Findings{desk: d, head: newLabel("").bold(), box: container.NewVBox(), more: newLabel("").soft()}
	foot := newLabel(rules.Deference).small()
	f.scroll = container.NewVScroll(f.box)
	f.whole = container.NewBorder(padded(f.head), padded(foot), nil, nil, f.scroll)
	d.Watch(func(c Change) {
		if c&(Answered|Found) != 0 {
			f.tell()
		}
	})
	f.tell()
	return f
}

// Object returns what stands in the window.
func (f *Findings) Object() fyne.CanvasObject { return f.whole }

// FocusFirst gives the keyboard to the worst finding.
func (f *Findings) FocusFirst() {
	if len(f.box.Objects) > 0 && len(f.rows) > 0 {
		f.desk.focus(f.rows[0])
	}
}

func (f *Findings) tell() {
	all := f.desk.Findings()
	f.head.set(countWords(all))
	shown := all[:min(len(all), mostFindings)]
	for len(f.rows) < len(shown) {
		f.rows = append(f.rows, newFindingRow(f, len(f.rows)))
	}
	same := len(f.box.Objects) == len(shown)
	f.box.Objects = f.box.Objects[:0]
	for i := range shown {
		f.rows[i].show(shown[i])
		f.box.Objects = append(f.box.Objects, f.rows[i])
	}
	if rest := len(all) - len(shown); rest > 0 {
		f.more.set(fmt.Sprintf("and %d more", rest))
		f.box.Objects = append(f.box.Objects, f.more)
		same = false
	}
	if len(all) == 0 {
		f.more.set("Nothing to mend.")
		f.box.Objects = append(f.box.Objects, f.more)
		same = false
	}
	if !same {
		f.box.Refresh()
	}
}

// countWords heads the list, such as "2 stop, 1 outside limit, 3 advice".
func countWords(all []model.Finding) string {
	var parts []string
	for _, c := range model.CountFindings(all) {
		mark, _ := severityMark(c.Severity)
		parts = append(parts, fmt.Sprintf("%s %d %s", mark, c.Count, c.Heading))
	}
	if len(parts) == 0 {
		return "No findings"
	}
	return "Findings:  " + strings.Join(parts, "   ")
}

// findingRow is one finding: a line, and what is behind it when it is chosen
// or pointed at.
type findingRow struct {
	listRow
	list    *Findings
	index   int
	finding model.Finding

	mark     *label
	standing *label // of the limit behind it
	title    *para
	more     *para

	open bool
}

var (
	_ fyne.Focusable    = (*findingRow)(nil)
	_ fyne.Tappable     = (*findingRow)(nil)
	_ desktop.Hoverable = (*findingRow)(nil)
)

func newFindingRow(f *Findings, i int) *findingRow {
	r := &findingRow{list: f, index: i}
	r.ground, r.lit = base.ColorNameBackground, base.ColorNameHeaderBackground
	r.mark, r.standing = newLabel("").bold(), newLabel("").small().soft()
	r.title, r.more = newPara(""), newPara("")
	r.more.soft()
	r.more.Hide()
	cols := &columns{least: []float32{136, 60, 72}, share: []float32{0, 1, 0}, gap: 2}
	r.hold(container.NewVBox(cols.row(padded(r.mark), r.title, r.standing), r.more))
	r.ExtendBaseWidget(r)
	r.look()
	return r
}

func (r *findingRow) show(f model.Finding) {
	if f == r.finding {
		return
	}
	r.finding = f
	mark, role := severityMark(f.Severity)
	r.mark.put(mark+" "+f.Heading(), role)
	setPara(r.title, model.Capital(f.Title))
	r.standing.set(standingShort(f.Standing))
	var parts []string
	for _, p := range []string{f.Detail, f.Remedy} {
		if p = strings.TrimSpace(p); p != "" {
			p = model.Capital(p)
			if !strings.HasSuffix(p, ".") {
				p += "."
			}
			parts = append(parts, p)
		}
	}
	if f.Section != "" && !strings.Contains(f.Detail, f.Section) {
		parts = append(parts, "Section: "+f.Section+".")
	}
	if s := standingWords(f.Standing); s != "" {
		parts = append(parts, s)
	}
	setPara(r.more, strings.Join(parts, " "))
	r.unfold()
}

// unfold shows what is behind the finding while it has the keyboard.
func (r *findingRow) unfold() {
	want := r.open && r.more.text != ""
	if want != r.more.Visible() {
		if want {
			r.more.Show()
		} else {
			r.more.Hide()
		}
		r.list.box.Refresh()
	}
}

// Tapped implements fyne.Tappable.
func (r *findingRow) Tapped(*fyne.PointEvent) {
	r.list.desk.focus(r)
	r.list.desk.GoTo(r.finding.Where)
}

// FocusGained implements fyne.Focusable. Only one finding is unfolded: the
// last one that had the keyboard.
func (r *findingRow) FocusGained() {
	for _, o := range r.list.rows {
		if o != r && o.open {
			o.open = false
			o.unfold()
		}
	}
	r.open = true
	r.unfold()
	r.listRow.FocusGained()
	reveal(r.list.scroll, r)
}

// TypedKey implements fyne.Focusable.
func (r *findingRow) TypedKey(k *fyne.KeyEvent) {
	rows := r.list.rows
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		r.list.desk.GoTo(r.finding.Where)
	case fyne.KeyUp:
		if r.index > 0 {
			r.list.desk.focus(rows[r.index-1])
		}
	case fyne.KeyDown:
		if r.index+1 < min(len(r.list.box.Objects), len(rows)) && rows[r.index+1].Visible() {
			r.list.desk.focus(rows[r.index+1])
		}
	}
}
