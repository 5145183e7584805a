package panel_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"risewright/model"
	"risewright/solver/rules"
	"risewright/view/canvas"
	"risewright/view/panel"
)

// Every finding of every demo takes the user to its place: the step is chosen
// and something there has the keyboard.
func TestEveryFindingLeadsToItsPlace(t *testing.T) {
	for _, name := range []string{"well-behaved", "tapering", "unfinished"} {
		t.Run(name, func(t *testing.T) {
			r := newRig(t, demoJob(t, name))
			for _, f := range r.s.Answer().Findings {
				r.d.Choose(1)
				r.d.Canvas.Focus(nil)
				r.d.GoTo(f.Where)
				r.frame()
				if f.Where.Step > 0 && r.d.Step() != f.Where.Step {
					t.Errorf("%s: step %d is chosen, not %d", f.Title, r.d.Step(), f.Where.Step)
				}
				on := r.w.Canvas().Focused()
				switch {
				case f.Where == (model.Place{Step: f.Where.Step}):
					// a step without a field: choosing it is all there is
				case on == nil:
					t.Errorf("%s: nothing has the keyboard for %+v", f.Title, f.Where)
				case f.Where.Piece != "":
					if c, ok := on.(*canvas.Canvas); !ok || c.Name != "Card" || r.d.Piece() != f.Where.Piece {
						t.Errorf("%s: the keyboard is at %T, piece %s", f.Title, on, r.d.Piece())
					}
				case f.Where.Reading != (model.ID{}):
					read, _, _ := r.s.Job().Reading(f.Where.Reading)
					if r.text() != read.Typed {
						t.Errorf("%s: the field shows %q, the reading is %q", f.Title, r.text(), read.Typed)
					}
				}
			}
			if s := shown(r); !strings.Contains(s, rules.Deference) {
				t.Error("the list does not say who decides")
			}
		})
	}
}

func TestFindingsByKeyboard(t *testing.T) {
	r := newRig(t, demoJob(t, "tapering"))
	all := r.s.Answer().Findings
	if all[0].Severity != model.Block || all[0].Where.Kind == "" {
		t.Fatalf("the demo's worst finding is %+v", all[0])
	}
	r.d.Choose(1)
	r.b.Findings.FocusFirst()
	r.frame()
	if s := shown(r); !strings.Contains(s, "■ stop") {
		t.Error("severity is not told by mark and word")
	}
	r.key(fyne.KeyReturn)
	if r.d.Step() != all[0].Where.Step {
		t.Errorf("Enter leads to step %d, not %d", r.d.Step(), all[0].Where.Step)
	}
	read, _, _ := r.s.Job().Reading(all[0].Where.Reading)
	if r.text() != read.Typed {
		t.Errorf("the field shows %q", r.text())
	}
	r.b.Findings.FocusFirst()
	r.key(fyne.KeyDown)
	r.key(fyne.KeyReturn)
	if r.d.Step() != all[1].Where.Step {
		t.Errorf("Down and Enter lead to step %d, not %d", r.d.Step(), all[1].Where.Step)
	}
}

// The line at the foot follows the job from the conflict to what is left.
func TestWhatComesNext(t *testing.T) {
	rows := []struct {
		name string
		job  func(*testing.T) model.Job
		want string
		step int
	}{
		{"a misread gauge", func(t *testing.T) model.Job { return demoJob(t, "tapering") }, "Retake the ", 5},
		{"nothing read", func(t *testing.T) model.Job { return smallJob(t, 3) }, "Type the ", 1},
		{"all read", func(t *testing.T) model.Job { return demoJob(t, "well-behaved") }, "All 13 steps are ready: see Order", 1},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, row.job(t))
			text, where := panel.NextStep(r.s.Answer(), r.d.Findings())
			if !strings.HasPrefix(text, row.want) || where.Step != row.step {
				t.Errorf("%q at step %d; want %q at step %d", text, where.Step, row.want, row.step)
			}
			if !strings.Contains(shown(r), text) {
				t.Errorf("the window does not show %q", text)
			}
		})
	}
}
