package panel

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"risewright/model"
)

// handForm lists the boards in hand, and takes more. A board is added by its
// length, because without one it is no board.
type handForm struct {
	desk  *Desk
	fold  *folded
	list  *fyne.Container
	rows  []*handRow
	use   *chooser // of the board to come
	fresh *field   // its length
}

// handRow is one kind of board in hand.
type handRow struct {
	use                                   *chooser
	length, width, thickness, count, name *field
	box                                   *fyne.Container
}

func (r *handRow) fields() []*field {
	return []*field{r.length, r.width, r.thickness, r.count, r.name}
}

func handColumns() *columns {
	return &columns{least: []float32{104, 70, 70, 66, 40, 70, 30}, share: []float32{1, 1, 1, 1, 0, 3, 0}, gap: 4}
}

// useWords are the uses as a chooser shows them.
func useWords() []string {
	var out []string
	for _, u := range model.BoardUses() {
		out = append(out, string(u))
	}
	return out
}

func newHandForm(d *Desk) *handForm {
	f := &handForm{desk: d, fold: newFolded("Boards in hand"), list: container.New(&stack{gap: 1})}
	f.use = newChooser(nil)
	f.use.words(useWords(), nil)
	f.use.set(0)
	f.fresh = newField(d, "shop.hand.new", "",
		func(*model.Job) string { return "" },
		func(j *model.Job, text string) (model.Edit, error) {
			if text == "" {
				return nil, nil
			}
			l, err := lengthMoreThanNone(j, text)
			if err != nil {
				return nil, err
			}
			s := j.Shop
			s.Hand = append(slices.Clone(s.Hand), model.OwnBoard{Use: model.BoardUses()[f.use.at], Length: l})
			return model.SetShop{Shop: s}, nil
		})
	f.fresh.entry.SetPlaceHolder("length, then Enter")
	add := &columns{least: []float32{90, 120, 150}, share: []float32{0, 1, 2}, gap: 6}
	f.fold.body.Add(newPara("They are cut before anything is bought, wherever that saves anything. Give the length that can be used: a board with a bad place in the middle is two boards. Leave width and thickness empty where they are what the use needs.").soft())
	f.fold.body.Add(f.list)
	f.fold.body.Add(add.row(newLabel("Add a board"), f.use, f.fresh.entry))
	f.fold.body.Add(f.fresh.fault.box)
	return f
}

// lengthMoreThanNone reads the length of a board.
func lengthMoreThanNone(j *model.Job, text string) (model.Length, error) {
	l, err := ReadLength(text, j.Units)
	if err == nil && l <= 0 {
		err = errors.New("a board has a length of more than 0")
	}
	return l, err
}

// change returns the edit that changes board i.
func changeHand(j *model.Job, i int, do func(*model.OwnBoard)) model.Edit {
	s := j.Shop
	if i >= len(s.Hand) {
		return nil
	}
	s.Hand = slices.Clone(s.Hand)
	do(&s.Hand[i])
	return model.SetShop{Shop: s}
}

func (f *handForm) newRow(i int) *handRow {
	d := f.desk
	r := &handRow{}
	board := func(j *model.Job) model.OwnBoard {
		if i < len(j.Shop.Hand) {
			return j.Shop.Hand[i]
		}
		return model.OwnBoard{}
	}
	size := func(id string, at func(*model.OwnBoard) *model.Length, needed bool) *field {
		x := newField(d, fmt.Sprintf("shop.hand.%d.%s", i, id), "",
			func(j *model.Job) string {
				b := board(j)
				if *at(&b) == 0 {
					return ""
				}
				return fieldText(j.Format(), *at(&b))
			},
			func(j *model.Job, text string) (model.Edit, error) {
				if text == "" && !needed {
					return changeHand(j, i, func(b *model.OwnBoard) { *at(b) = 0 }), nil
				}
				l, err := lengthMoreThanNone(j, text)
				return changeHand(j, i, func(b *model.OwnBoard) { *at(b) = l }), err
			})
		if !needed {
			x.entry.SetPlaceHolder("as needed")
		}
		return x
	}
	r.length = size("length", func(b *model.OwnBoard) *model.Length { return &b.Length }, true)
	r.width = size("width", func(b *model.OwnBoard) *model.Length { return &b.Width }, false)
	r.thickness = size("thickness", func(b *model.OwnBoard) *model.Length { return &b.Thickness }, false)
	r.count = newField(d, fmt.Sprintf("shop.hand.%d.count", i), "",
		func(j *model.Job) string { return strconv.Itoa(board(j).Number()) },
		func(j *model.Job, text string) (model.Edit, error) {
			n, err := strconv.Atoi(text)
			if err != nil || n < 1 || n > model.MaxAlike {
				return nil, fmt.Errorf("%q is no number of boards from 1 to %d; type one", text, model.MaxAlike)
			}
			return changeHand(j, i, func(b *model.OwnBoard) { b.Count = n }), nil
		})
	r.name = newField(d, fmt.Sprintf("shop.hand.%d.name", i), "",
		func(j *model.Job) string { return board(j).Name },
		func(j *model.Job, text string) (model.Edit, error) {
			return changeHand(j, i, func(b *model.OwnBoard) { b.Name = text }), nil
		})
	r.name.words().entry.SetPlaceHolder("mark or note")
	r.use = newChooser(func(k int) {
		job := d.Job()
		if e := changeHand(&job, i, func(b *model.OwnBoard) { b.Use = model.BoardUses()[k] }); e != nil {
			_ = d.Do(e) // an error has been shown
		}
	})
	r.use.words(useWords(), nil)
	gone := newButton("✕", func() {
		s := d.Job().Shop
		if i < len(s.Hand) {
			s.Hand = slices.Delete(slices.Clone(s.Hand), i, i+1)
			_ = d.Do(model.SetShop{Shop: s}) // an error has been shown
		}
	})
	r.box = container.New(&stack{}, handColumns().row(r.use, r.length.entry, r.width.entry, r.thickness.entry, r.count.entry, r.name.entry, gone))
	to := func(k, column int) func() {
		return func() {
			switch {
			case k >= 0 && k < len(f.list.Objects)-1: // the first is the heads
				d.focus(f.rows[k].fields()[column].entry)
			case k > 0:
				d.focus(f.fresh.entry)
			}
		}
	}
	for column, x := range r.fields() {
		x.entry.Next, x.entry.Below = to(i+1, column), to(i+1, column)
		x.entry.Back, x.entry.Above = to(i-1, column), to(i-1, column)
		r.box.Add(x.fault.box)
	}
	return r
}

func (f *handForm) tell() {
	job := f.desk.Job()
	hand := job.Shop.Hand
	n := 0
	for _, b := range hand {
		n += b.Number()
	}
	title := "Boards in hand: none"
	if n > 0 {
		title = fmt.Sprintf("Boards in hand: %d", n)
	}
	f.fold.say(title)
	for len(f.rows) < len(hand) {
		f.rows = append(f.rows, f.newRow(len(f.rows)))
	}
	if want := len(hand) + min(1, len(hand)); len(f.list.Objects) != want {
		f.list.RemoveAll()
		head := func(s string) fyne.CanvasObject { return newLabel(s).small().soft() }
		if len(hand) > 0 {
			f.list.Add(handColumns().row(head("for"), head("length"), head("width"), head("thickness"), head("n"), head("mark"), head("")))
		}
		for _, r := range f.rows[:len(hand)] {
			f.list.Add(r.box)
		}
	}
	for i, r := range f.rows[:len(hand)] {
		r.use.set(slices.Index(model.BoardUses(), hand[i].Use))
		for _, x := range r.fields() {
			x.tell(&job)
		}
	}
}

// goTo opens the form and returns the field called id, or nil.
func (f *handForm) goTo(id string) fyne.Focusable {
	if !strings.HasPrefix(id, "shop.hand") {
		return nil
	}
	f.fold.open(true)
	for _, r := range f.rows[:len(f.desk.Job().Shop.Hand)] {
		for _, x := range r.fields() {
			if strings.HasPrefix(x.id+".", id+".") {
				return x.entry
			}
		}
	}
	return f.fresh.entry
}
