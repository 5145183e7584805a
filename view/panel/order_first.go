package panel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
	"risewright/solver/fitting"
)

// firstForm takes wishes that one piece, or all of a kind, be in place before
// another.
type firstForm struct {
	desk        *Desk
	list        *fyne.Container
	first, then *chooser
	add         *button
	hint        *para
	choice      []orderName // what the choosers offer
	box         *fyne.Container
}

// orderName is a piece or a group as the wishes name it, and in the trade's
// words.
type orderName struct{ name, words string }

// orderGroups are the groups that a wish can name. The first three are there in
// every flight.
var orderGroups = [...]struct {
	orderName
	kind fitting.Kind
}{
	{orderName{"risers", "all risers"}, fitting.Riser},
	{orderName{"treads", "all treads"}, fitting.Tread},
	{orderName{"skirts", "all skirt boards"}, fitting.Skirt},
	{orderName{"wires", "the wires"}, fitting.Wires},
	{orderName{"bars", "all light bars"}, fitting.Bar},
	{orderName{"coves", "all coves"}, fitting.Cove},
	{orderName{"beads", "all beads"}, fitting.BeadRun},
	{orderName{"caps", "all wire caps"}, fitting.WireCap},
	{orderName{"balusters", "all balusters"}, fitting.Baluster},
	{orderName{"returns", "all return nosings"}, fitting.Return},
}

func newFirstForm(d *Desk) *firstForm {
	f := &firstForm{desk: d, list: container.New(&stack{gap: 1}), hint: newPara("").soft()}
	f.first = newChooser(func(int) { f.look() })
	f.then = newChooser(func(int) { f.look() })
	f.add = newButton("Add", f.put)
	cols := &columns{least: []float32{110, 96, 110, 60}, share: []float32{1, 0, 1, 0}, gap: 6}
	f.box = container.New(&stack{gap: 1}, container.New(&gap{x: 6}, newLabel("What must go in first").bold()), f.list,
		cols.row(f.first, newLabel("goes in before"), f.then, f.add), f.hint)
	f.offer(nil)
	f.look()
	return f
}

// wordsOf says a name of a wish in the trade's words.
func wordsOf(name string) string {
	for _, g := range orderGroups {
		if strings.EqualFold(g.name, strings.TrimSpace(name)) {
			return g.words
		}
	}
	return name
}

// offer offers the groups and pieces of an order; nil keeps to those that every
// flight has.
func (f *firstForm) offer(r *fitting.Result) {
	there := map[fitting.Kind]bool{fitting.Riser: true, fitting.Tread: true, fitting.Skirt: true}
	var pieces []orderName
	if r != nil {
		if len(r.Order) == 0 && len(f.choice) > 0 {
			return // a refusal has no pieces: those of the last order stay
		}
		for i := range r.Order {
			t := &r.Order[i]
			if t.Kind == fitting.Hold || t.InPlace {
				continue
			}
			there[t.Kind] = true
			pieces = append(pieces, orderName{t.ID, taskName(t)})
		}
	}
	var all []orderName
	for _, g := range orderGroups {
		if there[g.kind] {
			all = append(all, g.orderName)
		}
	}
	all = append(all, pieces...)
	if slices.Equal(all, f.choice) {
		return
	}
	keep := func(c *chooser) string {
		if c.at >= 0 && c.at < len(f.choice) {
			return f.choice[c.at].name
		}
		return ""
	}
	first, then := keep(f.first), keep(f.then)
	f.choice = all
	words := make([]string, len(all))
	for i, n := range all {
		words[i] = n.words
	}
	for _, c := range []struct {
		of   *chooser
		name string
	}{{f.first, first}, {f.then, then}} {
		c.of.words(words, nil)
		c.of.set(slices.IndexFunc(all, func(n orderName) bool { return n.name == c.name }))
	}
	f.look()
}

// wish returns the wish that the choosers make, and why it cannot be added.
func (f *firstForm) wish() (model.OrderHint, string) {
	if f.first.at < 0 || f.then.at < 0 {
		return model.OrderHint{}, "Choose a piece, or all of a kind, on both sides."
	}
	h := model.OrderHint{First: f.choice[f.first.at].name, Then: f.choice[f.then.at].name}
	switch {
	case h.First == h.Then:
		return h, "Choose two different ones."
	case slices.Contains(f.desk.Job().Wishes.Order, h):
		return h, "That is wished for already."
	}
	return h, ""
}

func (f *firstForm) look() {
	_, why := f.wish()
	f.add.say("Add", why == "")
	if why == "" {
		why = "What cannot be built so is refused, and the piece that would be trapped is named."
	}
	setPara(f.hint, why)
}

func (f *firstForm) put() {
	h, why := f.wish()
	if why != "" {
		return
	}
	w := f.desk.Job().Wishes
	w.Order = append(slices.Clone(w.Order), h)
	if f.desk.Do(model.SetWishes{Wishes: w}) == nil {
		f.first.set(-1)
		f.then.set(-1)
		f.look()
	}
}

// tell lists the wishes of the job.
func (f *firstForm) tell() {
	f.list.RemoveAll()
	for i, h := range f.desk.Job().Wishes.Order {
		gone := newButton("✕", func() {
			w := f.desk.Job().Wishes
			if i < len(w.Order) {
				w.Order = slices.Delete(slices.Clone(w.Order), i, i+1)
				_ = f.desk.Do(model.SetWishes{Wishes: w}) // an error has been shown
			}
		})
		line := newLabel(fmt.Sprintf("%s before %s", model.Capital(wordsOf(h.First)), wordsOf(h.Then)))
		f.list.Add(container.NewBorder(nil, nil, nil, gone, padded(line)))
	}
	f.look()
}

// goTo returns the control of a field, or nil.
func (f *firstForm) goTo(id string) fyne.Focusable {
	rest, ok := strings.CutPrefix(id, "wishes.order")
	if !ok {
		return nil
	}
	if rest == ".then" {
		return f.then
	}
	if i, err := strconv.Atoi(strings.TrimPrefix(rest, ".")); err == nil && i < len(f.list.Objects) {
		for _, o := range f.list.Objects[i].(*fyne.Container).Objects {
			if b, ok := o.(*button); ok {
				return b
			}
		}
	}
	return f.first
}
