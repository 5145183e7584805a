package panel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver"
)

// woodForm takes the wood of the treads and the air they live in, and shows how
// they move.
type woodForm struct {
	desk          *Desk
	form          form
	species, cut  *chooser
	standing      *para
	moves, fixing *para
	treads        *folded
	notes         *fyne.Container
	veil          *veil
	box           fyne.CanvasObject
}

// shopEdit hands changed choices to the session.
func shopEdit(d *Desk, change func(*model.Shop)) {
	s := d.Job().Shop
	change(&s)
	_ = d.Do(model.SetShop{Shop: s}) // an error has been shown
}

func newWoodForm(d *Desk) *woodForm {
	f := &woodForm{desk: d, form: form{desk: d, tab: tabBuy}, standing: newPara(""), moves: newPara(""), fixing: newPara(""),
		treads: newFolded("Tread by tread"), notes: container.New(&stack{}), veil: newVeil()}
	f.standing.soft()
	f.fixing.bold()
	f.species = newChooser(func(i int) {
		if t := d.session.Tables().Wood.Species; i < len(t) {
			shopEdit(d, func(s *model.Shop) { s.Species = t[i].ID })
		}
	})
	f.cut = newChooser(func(i int) { shopEdit(d, func(s *model.Shop) { s.QuarterSawn = i == 1 }) })
	f.cut.words([]string{"flat-sawn", "quarter-sawn"}, nil)
	grid := container.NewGridWithColumns(2,
		fieldColumns().row(newLabel("Species"), f.species),
		fieldColumns().row(newLabel("Cut"), f.cut))
	for _, x := range []struct {
		id, name string
		most     float64
		share    float64 // of what is typed to what is kept
		at       func(*model.Shop) *float64
	}{
		{"winter_humidity", "Driest air, humidity", 99, 0.01, func(s *model.Shop) *float64 { return &s.WinterHumidity }},
		{"summer_humidity", "Dampest air", 99, 0.01, func(s *model.Shop) *float64 { return &s.SummerHumidity }},
		{"moisture", "Boards, by the meter", 30, 1, func(s *model.Shop) *float64 { return &s.Moisture }},
	} {
		e := newField(d, "shop."+x.id, x.name,
			func(j *model.Job) string {
				s := j.Shop
				if *x.at(&s) == 0 {
					return ""
				}
				return strconv.FormatFloat(math.Round(*x.at(&s)/x.share*10)/10, 'g', -1, 64) + " %"
			},
			func(j *model.Job, text string) (model.Edit, error) {
				v, err := parsePercent(text, x.most)
				s := j.Shop
				*x.at(&s) = v * x.share
				return model.SetShop{Shop: s}, err
			})
		e.entry.SetPlaceHolder("from the table")
		if x.id == "moisture" {
			e.entry.SetPlaceHolder("not measured")
		}
		grid.Add(f.form.add(e).box)
	}
	result := container.NewStack(container.New(&stack{gap: 1}, f.standing, f.moves, f.fixing, f.treads.box, f.notes), f.veil.rect)
	f.box = container.New(&stack{gap: 2}, grid, result)
	return f
}

// parsePercent reads a part of a hundred; nothing is 0.
func parsePercent(text string, most float64) (float64, error) {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if text == "" {
		return 0, nil
	}
	v, doubt := readFigure(text)
	if doubt != nil {
		return 0, doubt
	}
	if !(v >= 0 && v <= most) {
		return 0, fmt.Errorf("%q is not from 0 to %g percent; leave it empty to take the table's", text, most)
	}
	return v, nil
}

func (f *woodForm) tell() {
	f.form.tell()
	table := f.desk.session.Tables().Wood
	shop := f.desk.Job().Shop
	names, at := make([]string, len(table.Species)), 0
	for i, s := range table.Species {
		names[i] = s.Name
		if s.ID == shop.Species {
			at = i
		}
	}
	f.species.words(names, nil)
	f.species.set(at)
	f.cut.set(0)
	if shop.QuarterSawn {
		f.cut.set(1)
	}
	_, fresh := f.desk.Work()
	f.veil.cover(!fresh && f.moves.text != "")
}

// show shows how the wood of a plan moves.
func (f *woodForm) show(w *solver.Work) {
	f.veil.cover(false)
	m := &w.Movement
	job := w.Answer.Job
	format := job.Format()
	if len(m.Treads) == 0 {
		setPara(f.standing, "")
		setPara(f.moves, "No boards yet.")
		setPara(f.fixing, "")
		return
	}
	how := "by its shrinkage from green to ovendry"
	if m.Coefficient > 0 {
		how = fmt.Sprintf("coefficient %.5f for each percent", m.Coefficient)
	}
	setPara(f.standing, fmt.Sprintf("%s, %s (%s). Moisture: winter %.1f %%, summer %.1f %%, when fixed %.1f %%.", model.Capital(w.Species.Name), how, orStanding(m.Standing), m.Winter, m.Summer, m.Laid)+strings.TrimSuffix(" "+standingWords(m.Standing), " "))
	worst := 0
	for i := range m.Treads {
		if m.Treads[i].Swing > m.Treads[worst].Swing {
			worst = i
		}
	}
	t := &m.Treads[worst]
	seen := "which the riser on it covers"
	if t.Seen {
		seen = "which is seen"
	}
	setPara(f.moves, fmt.Sprintf("%s, %s deep, moves %s from winter to summer: winter opens %s behind it, %s; keep %s free behind it for summer.",
		t.Piece, format.Length(model.Length(t.Depth)), fine(format, t.Swing), fine(format, t.Gap), seen, fine(format, t.Room)))
	setPara(f.fixing, model.Capital(m.Fixing)+".")
	cols := &columns{least: []float32{50, 70, 70, 70, 70, 90}, share: []float32{1, 1, 1, 1, 1, 1}, gap: 4}
	head := func(s string) *label { return newLabel(s).small().soft() }
	treads := []fyne.CanvasObject{cols.row(head("tread"), head("depth"), head("moves"), head("winter gap"), head("room"), head("gap is"))}
	for i := range m.Treads {
		t := &m.Treads[i]
		state := newLabel("covered").soft()
		if t.Seen {
			state = newLabel("▲ seen")
		}
		treads = append(treads, cols.row(newLabel(t.Piece).bold(), newLabel(format.Length(model.Length(t.Depth))), newLabel(fine(format, t.Swing)),
			newLabel(fine(format, t.Gap)), newLabel(fine(format, t.Room)), state))
	}
	holdAll(f.treads.body, treads)
	f.notes.RemoveAll()
	for _, n := range m.Notes {
		f.notes.Add(newPara(model.Capital(n) + ".").soft())
	}
}

// fine writes a movement: a tape's fractions are too coarse for it.
func fine(f model.Format, mm float64) string { return f.Fine(model.Length(mm)) }

// orStanding says a standing in words, and that there is none.
func orStanding(s model.Standing) string {
	if text := standingShort(s); text != "" {
		return text
	}
	return "no source"
}

// goTo returns the control of a field, or nil.
func (f *woodForm) goTo(id string) fyne.Focusable {
	for _, x := range f.form.fields {
		if id != "" && x.id == id {
			return x.entry
		}
	}
	switch id {
	case "shop.species":
		return f.species
	case "shop.quarter_sawn":
		return f.cut
	}
	return nil
}
