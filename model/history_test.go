package model_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"risewright/model"
)

func TestHistoryZero(t *testing.T) {
	var h model.History
	if h.Undo() || h.Redo() || h.Depth() != 0 || h.UndoLabel() != "" || h.RedoLabel() != "" {
		t.Error("the zero History has something to undo or redo")
	}
}

func TestHistory(t *testing.T) {
	first := plainJob(3)
	h := model.NewHistory(first)
	rename := func(name string) model.Edit {
		return details(h.Job(), func(e *model.SetDetails) { e.Name = name })
	}
	do := func(e model.Edit) {
		t.Helper()
		if err := h.Do(e); err != nil {
			t.Fatal(err)
		}
	}
	state := func(name string, depth int, undo, redo string) {
		t.Helper()
		if h.Job().Name != name || h.Depth() != depth || h.UndoLabel() != undo || h.RedoLabel() != redo {
			t.Errorf("name %q, depth %d, undo %q, redo %q; want %q, %d, %q, %q", h.Job().Name, h.Depth(), h.UndoLabel(), h.RedoLabel(), name, depth, undo, redo)
		}
	}
	do(rename("one"))
	do(overlay(h.Job(), func(o *model.Overlay) { o.Tread = 15 }))
	do(rename("two"))
	state("two", 3, "change the job's name", "")
	h.Undo()
	state("one", 2, "change the new treads' thickness", "change the job's name")
	h.Undo()
	state("one", 1, "change the job's name", "change the new treads' thickness")
	if h.Job().Overlay.Tread != first.Overlay.Tread {
		t.Error("undo did not bring back the overlay")
	}
	h.Redo()
	state("one", 2, "change the new treads' thickness", "change the job's name")
	// a refused edit leaves everything, what can be redone too
	if err := h.Do(overlay(h.Job(), func(o *model.Overlay) { o.Tread = -1 })); err == nil {
		t.Error("a bad edit was done")
	}
	state("one", 2, "change the new treads' thickness", "change the job's name")
	// a new edit forgets what could be redone
	do(rename("three"))
	state("three", 3, "change the job's name", "")
	if h.Redo() {
		t.Error("redo after a new edit")
	}
}

// TestHistoryRandom does random edits, with undo and redo among them, against
// a plain list of files: every job must come back byte for byte.
func TestHistoryRandom(t *testing.T) {
	for seed := range uint64(6) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			rng := rand.New(rand.NewPCG(seed, 2))
			h := model.NewHistory(plainJob(4))
			files, at := []string{encoded(t, h.Job())}, 0
			for i := range 150 {
				switch rng.IntN(5) {
				case 0:
					if h.Undo() != (at > 0) {
						t.Fatalf("edit %d: undo at %d", i, at)
					}
					at = max(at-1, 0)
				case 1:
					if h.Redo() != (at < len(files)-1) {
						t.Fatalf("edit %d: redo at %d of %d", i, at, len(files)-1)
					}
					at = min(at+1, len(files)-1)
				default:
					if h.Do(randomEdit(rng, h.Job(), fmt.Sprint("edit ", i))) == nil {
						files, at = append(files[:at+1], encoded(t, h.Job())), at+1
					}
				}
				if encoded(t, h.Job()) != files[at] || h.Depth() != at {
					t.Fatalf("edit %d: the job is not the one at %d", i, at)
				}
			}
			for h.Undo() {
			}
			if encoded(t, h.Job()) != files[0] {
				t.Error("undo all does not give the first job")
			}
			for h.Redo() {
			}
			if encoded(t, h.Job()) != files[len(files)-1] {
				t.Error("redo all does not give the last job")
			}
		})
	}
}
