//go:build unix

package session_test

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"risewright/app/session"
	"risewright/app/tables"
	"risewright/model"
)

// smallJob has three steps, so that it is solved at once.
func smallJob(t testing.TB) model.Job {
	t.Helper()
	base, err := tables.NewJob(model.Metric, nil)
	must(t, err)
	base.Name = "Small"
	return model.Sketch(model.SketchSpec{Risers: 3, Width: 900, Rise: 190, Going: 250, Base: base})
}

// sumOf names a job by its file.
func sumOf(j model.Job) string {
	data, err := model.Encode(j)
	if err != nil {
		panic(err) // cannot happen: no edit lets such a job in
	}
	return sumOfBytes(data)
}

func sumOfBytes(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:8])
}

// act is something a person does, and the job as it is to be afterwards.
type act struct {
	do   func(*session.Session) error
	want string
}

// actor makes up what a person does. It has a history of its own, so that what
// is to come of it is known beforehand.
type actor struct {
	rng     *rand.Rand
	history *model.History
	count   int
}

func (a *actor) next() act {
	for {
		a.count++
		switch n := a.rng.IntN(8); {
		case n == 0 && a.history.Undo():
			return a.act(func(s *session.Session) error { return done(s.Undo()) })
		case n == 1 && a.history.Redo():
			return a.act(func(s *session.Session) error { return done(s.Redo()) })
		case n > 1:
			e := a.edit()
			if a.history.Do(e) == nil {
				return a.act(func(s *session.Session) error { return s.Do(e) })
			}
		}
	}
}

func (a *actor) act(do func(*session.Session) error) act { return act{do, sumOf(a.history.Job())} }

func done(ok bool) error {
	if !ok {
		return fmt.Errorf("there was nothing to undo or redo")
	}
	return nil
}

// edit makes up an edit, small or large.
func (a *actor) edit() model.Edit {
	j := a.history.Job()
	switch a.rng.IntN(4) {
	case 0:
		o := j.Overlay
		o.Tread = model.Length(10 + a.rng.IntN(200)/10)
		return model.SetOverlay{Overlay: o}
	case 1:
		e := model.DetailsOf(j)
		e.Notes = strings.Repeat(fmt.Sprintf("note %d. ", a.count), a.rng.IntN(400))
		return e
	default:
		e := model.DetailsOf(j)
		e.Name = fmt.Sprint("Small ", a.count)
		return e
	}
}

// checkFolder holds what must hold of a job's folder at any moment, whatever happened:
// the file is one of those given, every earlier version is a job, and there are
// not too many.
func checkFolder(t testing.TB, h session.Home, path string, sums ...string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("the file is gone: %v", err)
	}
	if _, err := model.Decode(data); err != nil {
		t.Fatalf("the file can not be read: %v", err)
	}
	if !slices.Contains(sums, sumOfBytes(data)) {
		t.Fatalf("the file holds %s, not one of %v", sumOfBytes(data), sums)
	}
	versions, err := h.Store.Versions(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(versions) > 6 { // one more while a save goes on
		t.Fatalf("%d earlier versions", len(versions))
	}
	for _, v := range versions {
		if _, err := session.Load(v.Path); err != nil {
			t.Fatalf("an earlier version: %v", err)
		}
	}
}

// leftovers lists what was left half written in a folder.
func leftovers(t testing.TB, dir string) []string {
	t.Helper()
	out, err := filepath.Glob(filepath.Join(dir, ".*.part"))
	must(t, err)
	return out
}
