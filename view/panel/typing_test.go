package panel_test

import (
	"html"
	"math"
	"regexp"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"risewright/model"
)

// A whole survey goes in without a mouse: every reading of every step in
// walking order, then those of the flight, with Enter and nothing else between.
func TestAWholeSurveyIsTypedWithTheKeyboardAlone(t *testing.T) {
	r := newRig(t, smallJob(t, 3))
	r.d.GoTo(model.Place{Step: 1, Kind: model.BackWidth})
	texts := map[model.Kind]string{
		model.BackWidth: "897.5", model.GaugeBackLeft: "90.4", model.GaugeBackRight: "90 12'", model.MiddleWidth: "35 3/8\"",
		model.FrontWidth: "900 mm", model.LeftDepth: "28.6cm", model.RightDepth: "286.5",
		model.DiagonalLeft: "942", model.DiagonalRight: "944.5", model.GaugeFrontLeft: "89,5°", model.GaugeFrontRight: "89.5",
		model.LeanLeft: "3 mm", model.LeanRight: "-0.5", model.RiseLeft: "190", model.RiseRight: "191",
		model.GoingLeft: "250", model.GoingRight: "251", model.TiltAcross: "2 mm/m", model.TiltFore: "1 in 100",
		model.TotalRise: "571", model.TotalGoing: "500", model.LongDiagonalLeft: "1030", model.LongDiagonalRight: "1031",
	}
	type place struct {
		step int
		kind model.Kind
	}
	var want []place
	for step := 1; step <= 3; step++ {
		for _, k := range model.StepKinds() {
			if step == 1 && (k == model.GoingLeft || k == model.GoingRight) {
				continue // there is no step below the first
			}
			want = append(want, place{step, k})
		}
	}
	for _, k := range model.FlightKinds() {
		want = append(want, place{0, k})
	}
	for i, p := range want {
		if r.d.Step() != p.step {
			t.Fatalf("before %v the keyboard is at step %d", p, r.d.Step())
		}
		r.typed(texts[p.kind])
		r.key(fyne.KeyReturn)
		rs := r.readings(p.step)
		got := rs[len(rs)-1]
		if got.Kind != p.kind || got.Typed != texts[p.kind] {
			t.Fatalf("field %d: typed the %s of step %d as %q, filed as %s %q", i, p.kind.Words(), p.step, texts[p.kind], got.Kind.Words(), got.Typed)
		}
		if !got.Taken.Equal(noon) || got.State != model.Bare || got.Aside {
			t.Errorf("%s: taken %v, state %s, aside %v", p.kind, got.Taken, got.State, got.Aside)
		}
		in, ok := r.s.Job().InstrumentByID(got.Instrument)
		if def, _ := r.s.Job().DefaultInstrument(p.kind); !ok || in.ID != def.ID {
			t.Errorf("%s: instrument %q is not the one offered first", p.kind, got.Instrument)
		}
	}
	for _, c := range []struct {
		kind model.Kind
		want float64
	}{
		{model.BackWidth, 897.5}, {model.MiddleWidth, 35.375 * 25.4}, {model.LeftDepth, 286},
		{model.GaugeBackRight, 90.2 * math.Pi / 180}, {model.LeanLeft, math.Atan(3.0 / 200)},
		{model.TiltAcross, math.Atan(0.002)}, {model.TiltFore, math.Atan(0.01)},
	} {
		if got := find(t, r.readings(2), c.kind); math.Abs(got.Value-c.want) > 1e-9 {
			t.Errorf("%s: %q was read as %v, want %v", c.kind, got.Typed, got.Value, c.want)
		}
	}
	if len(r.errs) > 0 {
		t.Errorf("complaints: %v", r.errs)
	}
	// and the same way back, by Shift+Enter, changing nothing
	revision := r.s.Job().Revision
	for i := len(want) - 1; i >= 0; i-- {
		if r.d.Step() != want[i].step || r.text() != texts[want[i].kind] {
			t.Fatalf("on the way back, at %v: step %d shows %q", want[i], r.d.Step(), r.text())
		}
		r.shiftKey(fyne.KeyReturn)
	}
	if r.s.Job().Revision != revision {
		t.Error("walking back changed readings")
	}
}

func find(t *testing.T, rs []model.Reading, k model.Kind) model.Reading {
	t.Helper()
	for _, x := range rs {
		if x.Kind == k && !x.Aside {
			return x
		}
	}
	t.Fatalf("no %s among %d readings", k.Words(), len(rs))
	return model.Reading{}
}

// textOnScreen finds the words in what the test driver writes down.
var textOnScreen = regexp.MustCompile(`<text[^>]*>([^<]*)</text>`)

// shown is everything written on the screen, lines joined by spaces.
func shown(r *rig) string {
	var words []string
	for _, m := range textOnScreen.FindAllStringSubmatch(test.RenderToMarkup(r.w.Canvas()), -1) {
		words = append(words, html.UnescapeString(m[1]))
	}
	return strings.Join(words, " ")
}

func TestBadTextStaysWithItsMessage(t *testing.T) {
	r := newRig(t, smallJob(t, 3))
	before := r.s.Job().Revision
	r.d.GoTo(model.Place{Step: 2, Kind: model.FrontWidth})
	field := r.w.Canvas().Focused()
	r.typed("36 x/16")
	r.key(fyne.KeyReturn)
	if r.w.Canvas().Focused() != field || r.text() != "36 x/16" {
		t.Fatal("the keyboard moved on from a text that cannot be read")
	}
	_, err := model.ParseLength("36 x/16", model.Metric)
	caret := err.(*model.TextError)
	at := strings.Split(caret.Caret(), "\n")[1]
	if s := shown(r); !strings.Contains(s, at) || !strings.Contains(s, caret.Remedy[1:]) {
		t.Errorf("the message or its caret is not shown under the field; remedy %q", caret.Remedy)
	}
	// away and back: nothing is lost, nothing is filed
	r.d.Choose(3)
	if r.text() == "36 x/16" {
		t.Error("the bad text of step 2 is shown at step 3")
	}
	r.d.GoTo(model.Place{Step: 2, Kind: model.FrontWidth})
	if r.text() != "36 x/16" || !strings.Contains(shown(r), caret.Remedy[1:]) {
		t.Errorf("back at step 2 the field shows %q", r.text())
	}
	if r.s.Job().Revision != before {
		t.Error("a bad text changed the job")
	}
	// Escape takes it back, and the message with it
	r.key(fyne.KeyEscape)
	if r.text() != "" || strings.Contains(shown(r), caret.Remedy[1:]) {
		t.Errorf("after Escape the field shows %q", r.text())
	}
	r.typed("918")
	r.key(fyne.KeyReturn)
	if got := find(t, r.readings(2), model.FrontWidth); got.Value != 918 {
		t.Errorf("mended text filed as %v", got.Value)
	}
}

// What is being typed belongs to the step it was typed at, even if the step is
// changed by a button that does not take the keyboard.
func TestTextIsFiledAtItsOwnStep(t *testing.T) {
	r := newRig(t, smallJob(t, 3))
	r.d.GoTo(model.Place{Step: 1, Kind: model.FrontWidth})
	r.typed("905")
	r.d.Choose(2)
	if got := find(t, r.readings(1), model.FrontWidth); got.Value != 905 {
		t.Errorf("step 1 got %v", got.Value)
	}
	if n := len(r.readings(2)); n != 0 {
		t.Errorf("step 2 got %d readings", n)
	}
	if r.text() != "" {
		t.Errorf("step 2 shows %q", r.text())
	}
}

func TestClearingRemovesAndUnitsFollow(t *testing.T) {
	r := newRig(t, smallJob(t, 3))
	r.d.GoTo(model.Place{Step: 2, Kind: model.BackWidth})
	r.typed("900")
	r.key(fyne.KeyReturn)
	e := model.DetailsOf(r.s.Job())
	e.Units = model.Imperial
	if err := r.d.Do(e); err != nil {
		t.Fatal(err)
	}
	r.d.GoTo(model.Place{Step: 2, Kind: model.BackWidth})
	if r.text() != `35 7/16"` { // 900 mm is 35.433 in; 900 bare would be read as inches now
		t.Errorf("in inches the reading shows as %q", r.text())
	}
	if got := find(t, r.readings(2), model.BackWidth); got.Value != 900 || got.Typed != "900" {
		t.Errorf("changing units changed the reading: %+v", got)
	}
	r.typed("")
	r.key(fyne.KeyReturn)
	if n := len(r.readings(2)); n != 0 {
		t.Errorf("cleared, but %d readings are left", n)
	}
}

// A reading set aside stays in sight, and a fresh field takes its successor.
func TestSetAsideLeavesRoomForAnother(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	conflict := r.s.Answer().Survey.Conflicts[0].Suspects[0]
	r.d.GoTo(model.Place{Step: conflict.Step + 1, Kind: conflict.Kind, Reading: conflict.Reading})
	old := r.text()
	r.b.Readings.Aside()
	read, _, _ := r.s.Job().Reading(conflict.Reading)
	if !read.Aside {
		t.Fatal("not set aside")
	}
	r.d.GoTo(model.Place{Step: conflict.Step + 1, Kind: conflict.Kind})
	if r.text() != "" {
		t.Fatalf("no fresh field for the %s; it shows %q", conflict.Kind, r.text())
	}
	r.typed("90.8")
	r.key(fyne.KeyReturn)
	if again, _, _ := r.s.Job().Reading(conflict.Reading); !again.Aside || again.Typed != old {
		t.Errorf("the reading set aside became %+v", again)
	}
	if n := len(r.s.Answer().Survey.Conflicts); n != 0 {
		t.Errorf("%d conflicts left", n)
	}
	for i := range 2 {
		if !r.s.Undo() {
			t.Fatalf("two edits were made, and only %d can be undone", i)
		}
	}
	r.d.Answered()
	if n := len(r.s.Answer().Survey.Conflicts); n != 1 {
		t.Errorf("after undoing, %d conflicts", n)
	}
}
