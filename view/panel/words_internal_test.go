package panel

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	base "fyne.io/fyne/v2/theme"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/survey"
	"risewright/view/theme"
)

// Of two readings that cannot be told apart the header names both, from either
// of their steps.
func TestTheHeaderNamesBothSuspects(t *testing.T) {
	suspect := func(step int, k model.Kind) survey.Suspect {
		return survey.Suspect{Step: step - 1, Kind: k, Reading: model.NamedID(model.ID{}, string(k)+string(rune('a'+step)))}
	}
	for _, c := range []struct {
		suspects []survey.Suspect
		step     int
		want     string
	}{
		{[]survey.Suspect{suspect(2, model.FrontWidth)}, 2, "Retake: front width"},
		{[]survey.Suspect{suspect(2, model.FrontWidth)}, 3, ""},
		{[]survey.Suspect{suspect(2, model.FrontWidth), suspect(2, model.GaugeBackLeft)}, 2, "Retake both: front width, gauge back left"},
		{[]survey.Suspect{suspect(2, model.FrontWidth), suspect(4, model.RiseLeft)}, 2, "Retake both: front width, rise left (step 4)"},
		{[]survey.Suspect{suspect(2, model.FrontWidth), suspect(4, model.RiseLeft)}, 4, "Retake both: rise left, front width (step 2)"},
		{[]survey.Suspect{suspect(2, model.RiseLeft), suspect(0, model.TotalRise)}, 2, "Retake both: rise left, total rise (whole flight)"},
	} {
		a := &solver.Answer{Survey: &survey.Result{Conflicts: []survey.Conflict{{Suspects: c.suspects}}}}
		at, got, ok := suspectOf(a, c.step)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("step %d: %q, want %q", c.step, got, c.want)
		}
		if ok && (at.Step != c.step || at.Kind == "") {
			t.Errorf("%q leads to %+v", got, at)
		}
	}
}

// The caret lies under its character in a face of one width; the sentences
// beside it are broken to the room there is.
func TestALongMessageIsBroken(t *testing.T) {
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(theme.New(theme.Light))
	_, err := model.ParseLength("36 x/16", model.Metric)
	caret, words := faultText(err)
	if strings.Count(caret, "\n") != 1 || strings.Contains(words, "\n") || strings.Contains(words, "^") || !strings.HasSuffix(words, ".") {
		t.Fatalf("caret %q, words %q", caret, words)
	}
	f := newFault()
	f.say(err)
	const room = 240
	f.box.Resize(fyne.NewSize(room, f.box.MinSize().Height))
	f.box.Resize(fyne.NewSize(room, f.box.MinSize().Height))
	if len(f.words.lines) < 2 || strings.Join(f.words.lines, " ") != words {
		t.Errorf("%q is broken into %q", words, f.words.lines)
	}
	for _, l := range f.words.lines {
		if w := fyne.MeasureText(l, f.words.Theme().Size(base.SizeNameText), fyne.TextStyle{}).Width; w > room {
			t.Errorf("%q is %g wide", l, w)
		}
	}
	if !f.caret.TextStyle.Monospace || !f.line.Visible() || f.caret.Text != caret {
		t.Errorf("the caret is shown as %q", f.caret.Text)
	}
	f.say(errPlain)
	if f.line.Visible() {
		t.Error("a message without a caret keeps room for one")
	}
	f.say(nil)
	if f.box.Visible() {
		t.Error("the message stays when all is well")
	}
}

type plainError struct{}

func (plainError) Error() string { return "this cannot be" }

var errPlain error = plainError{}

// Packing that is wanted nowhere is said in a word, and only what leaves no
// room for the bed of adhesive is marked.
func TestWantedPackingInWords(t *testing.T) {
	f := model.Format{Units: model.Metric}
	for _, c := range []struct {
		left, right float64
		room        bool
		want        string
	}{
		{0, 0, false, "none"}, {0.1, -0.1, false, "none"}, {0, 0, true, "none"}, {-3, -3, false, "▲ " + f.Number(-3)}, {0, 4, false, "▲ " + f.Number(0) + " · " + f.Number(4)}, {5, 5, true, f.Number(5)},
	} {
		s := buildup.Step{Room: c.room}
		s.Shim.Left.At, s.Shim.Right.At = c.left, c.right
		if got, _ := shimWords(f, &s); got != c.want {
			t.Errorf("%g and %g, room %v: %q, want %q", c.left, c.right, c.room, got, c.want)
		}
	}
}

// Each word for a source that is shown is explained, and none that is not.
func TestStandingsAreExplained(t *testing.T) {
	all := []model.Standing{model.Yours, model.Seen, model.Transcription, model.Secondary, model.Memory}
	key := standingKey(all)
	for _, s := range all {
		short := standingShort(s)
		if short == "" || !strings.Contains(key, "“"+short+"”") || !strings.Contains(standingWords(s), "means") {
			t.Errorf("%s: %q in %q", s, short, key)
		}
	}
	if one := standingKey([]model.Standing{model.Memory, model.Memory}); strings.Count(one, "“") != 1 || !strings.Contains(one, "check it") {
		t.Errorf("of one: %q", one)
	}
	if standingKey(nil) != "" || standingShort("") != "" || standingWords("") != "" {
		t.Error("what has no standing is explained")
	}
}
