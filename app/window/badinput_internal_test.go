package window

import (
	"bytes"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"

	"risewright/model"
	"risewright/view/panel"
)

// badInputs is what is typed by mistake, in haste or by a cat, and never means a
// value of any field.
var badInputs = []string{
	"abc", "-", "--5", "12 kg", "5 lux", "1/0", "3/", "12 13 14", "1e999", "NaN", "inf", "99999999999999999999",
	"-999999", "12,5,5", "1..5", "36 5/16 x 12", "2\n3", "§", "\u0663\u0664", "5'' 3'",
}

// todo are words that begin what is to be done.
var todo = []string{"Write ", "write ", "Type ", "type ", "Use ", "Delete ", "Check ", "give ", "leave it empty", "such as", "goes under", "mark degrees"}

// near is how far from a field its message may begin, in the window's units.
const near = 200

// messageAt returns the words that are shown near a field and were not before.
func messageAt(root, field fyne.CanvasObject, before map[string]bool) string {
	type word struct {
		text string
		y    float32
	}
	var fresh []word
	y := float32(0)
	eachShown(root, func(o fyne.CanvasObject, at fyne.Position) {
		if o == field {
			y = at.Y
		}
		if t, ok := o.(*fcanvas.Text); ok && t.Text != "" && !before[t.Text] {
			fresh = append(fresh, word{t.Text, at.Y})
		}
	})
	var out []string
	for _, w := range fresh {
		if w.y >= y && w.y < y+near {
			out = append(out, w.text)
		}
	}
	return strings.Join(out, " ")
}

// TestBadInputsAreRefusedWithReasons types twenty bad texts into every field that
// Tab comes to, in every tab. What a field of numbers refuses leaves the job as it
// was, stays in the field, and is answered in the panel by what is wrong and what
// to do; only fields of plain words take it.
func TestBadInputsAreRefusedWithReasons(t *testing.T) {
	refused, taken, said := 0, map[string]int{}, map[string]bool{}
	eachEntry(t, newFullWindow, func(k keyboard, name string, e *panel.Entry) {
		w := k.w
		field := k.nameOf(e)
		if said[name+", "+field] {
			return
		}
		said[name+", "+field] = true
		was, err := model.Encode(w.session.Job())
		if err != nil {
			t.Fatal(err)
		}
		text := e.Text
		for _, bad := range badInputs {
			before := map[string]bool{}
			eachShown(w.win.Content(), func(o fyne.CanvasObject, _ fyne.Position) {
				if t, ok := o.(*fcanvas.Text); ok {
					before[t.Text] = true
				}
			})
			w.win.Canvas().Focus(e)
			k.over(bad)
			k.press("Enter")
			now, err := model.Encode(w.session.Job())
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(now, was) {
				taken[name+", "+field]++
				k.press("Ctrl+Z")
				continue
			}
			message := messageAt(w.win.Content(), e, before)
			does := false
			for _, x := range todo {
				does = does || strings.Contains(message, x)
			}
			if !does || len(strings.Fields(message)) < 6 {
				t.Errorf("%s, %s: %q is answered by %q", name, field, bad, message)
			}
			if strings.ReplaceAll(e.Text, "\n", "") != strings.ReplaceAll(bad, "\n", "") {
				t.Errorf("%s, %s: %q has become %q and can not be mended", name, field, bad, e.Text)
			}
			refused++
			w.win.Canvas().Focus(e)
			k.press("Escape")
		}
		if e.Text != text {
			t.Errorf("%s, %s: Escape leaves %q where %q stood", name, field, e.Text, text)
		}
	})
	// A field takes all of them, because it is for words, or none.
	for field, n := range taken {
		if n != len(badInputs) {
			t.Errorf("%s takes %d of %d bad texts", field, n, len(badInputs))
		}
		if !strings.HasPrefix(field, "Job, ") && !strings.HasSuffix(field, ", Name") {
			t.Errorf("%s takes words", field)
		}
	}
	if refused < 2000 {
		t.Errorf("only %d bad texts were refused: the test looked in the wrong place", refused)
	}
}
