package papers_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/app/papers"
	"risewright/app/store"
	"risewright/view/sheets"
)

// stepping is a disk that does something at a step: before the step of that
// number, counted from 0 over all that is asked of it.
type stepping struct {
	store.Disk
	step int
	at   func(step int) error
}

func (d *stepping) tick() error {
	n := d.step
	d.step++
	return d.at(n)
}

func (d *stepping) Open(name string, flag int, perm fs.FileMode) (store.File, error) {
	if err := d.tick(); err != nil {
		return nil, err
	}
	return d.Disk.Open(name, flag, perm)
}

func (d *stepping) Temp(dir, pattern string) (store.File, error) {
	if err := d.tick(); err != nil {
		return nil, err
	}
	f, err := d.Disk.Temp(dir, pattern)
	if err != nil {
		return nil, err
	}
	return &steppingFile{f, d}, nil
}

func (d *stepping) Rename(from, to string) error {
	if err := d.tick(); err != nil {
		return err
	}
	return d.Disk.Rename(from, to)
}

func (d *stepping) Link(from, to string) error {
	if err := d.tick(); err != nil {
		return err
	}
	return d.Disk.Link(from, to)
}

func (d *stepping) MkdirAll(dir string, perm fs.FileMode) error {
	if err := d.tick(); err != nil {
		return err
	}
	return d.Disk.MkdirAll(dir, perm)
}

func (d *stepping) Lstat(name string) (fs.FileInfo, error) {
	if err := d.tick(); err != nil {
		return nil, err
	}
	return d.Disk.Lstat(name)
}

func (d *stepping) SyncDir(dir string) error {
	if err := d.tick(); err != nil {
		return err
	}
	return d.Disk.SyncDir(dir)
}

type steppingFile struct {
	store.File
	d *stepping
}

func (f *steppingFile) Write(p []byte) (int, error) {
	if err := f.d.tick(); err != nil {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, err
	}
	return f.File.Write(p)
}

func (f *steppingFile) Sync() error {
	if err := f.d.tick(); err != nil {
		return err
	}
	return f.File.Sync()
}

// files are some papers: one that is the same as before, some that are not, and
// one that is new.
func someFiles(word string) []papers.File {
	out := []papers.File{{Name: "same.pdf", Data: []byte("always the same")}}
	for i := range 7 {
		out = append(out, papers.File{Name: fmt.Sprintf("paper-%d.pdf", i), Data: []byte(strings.Repeat(word, 40+i))})
	}
	return out
}

// beside is what lies in the folder that is not ours.
const beside = "mine.txt"

// found reads a folder; an absent one has nothing in it.
func found(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(data)
	}
	return out
}

// heldTo holds a folder to what may be in it: each file old or new and whole, and
// nothing else. It returns how many are new.
func heldTo(t *testing.T, dir string, was []papers.File, will []papers.File) int {
	t.Helper()
	news := 0
	before, after := map[string]string{}, map[string]string{}
	for _, f := range was {
		before[f.Name] = string(f.Data)
	}
	for _, f := range will {
		after[f.Name] = string(f.Data)
	}
	got := found(t, dir)
	for name, data := range got {
		old, had := before[name]
		next, has := after[name]
		switch {
		case name == beside && data == beside:
		case has && data == next && !(had && old == next):
			news++
		case had && data == old:
		default:
			t.Errorf("%s holds %d bytes that are neither old nor new: %.40q", name, len(data), data)
		}
	}
	for name := range before {
		if _, ok := got[name]; !ok {
			t.Errorf("%s is gone", name)
		}
	}
	return news
}

// TestStoppedAtEveryStep stops the writing of papers at every step that the disk
// is asked for, into a folder of earlier papers and into a new one: what is found
// then is the folder as it was or with all of the new papers, whole, and nothing
// besides.
func TestStoppedAtEveryStep(t *testing.T) {
	will := someFiles("new ")
	for _, earlier := range []bool{true, false} {
		stopped, went, steps := 0, 0, 0
		for n := 0; ; n++ {
			root := t.TempDir()
			dir := filepath.Join(root, "papers", "of the stair")
			var was []papers.File
			if earlier {
				was = someFiles("old ")[:6] // and two that are new
				if err := os.MkdirAll(dir, 0o755); err != nil {
					t.Fatal(err)
				}
				for _, f := range append(was, papers.File{Name: beside, Data: []byte(beside)}) {
					if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
			ctx, stop := context.WithCancel(t.Context())
			disk := &stepping{at: func(step int) error {
				if step == n {
					stop()
				}
				return nil
			}}
			paths, err := papers.PutOn(ctx, disk, dir, will, earlier)
			stop()
			news := heldTo(t, dir, was, will)
			switch {
			case err == nil && len(paths) == len(will):
				went++
				if all := len(found(t, dir)); all != len(will)+map[bool]int{true: 1}[earlier] {
					t.Errorf("step %d: written, but %d files are there", n, all)
				}
			case errors.Is(err, context.Canceled):
				stopped++
				if news != 0 {
					t.Errorf("step %d: it says that nothing was written, and %d files are new", n, news)
				}
				if _, err := os.Lstat(filepath.Join(root, "papers")); !earlier && !errors.Is(err, fs.ErrNotExist) {
					t.Errorf("step %d: the folder that was made for it is left: %v", n, err)
				}
			default:
				t.Errorf("step %d: %v", n, err)
			}
			if n > disk.step {
				steps = disk.step
				break
			}
		}
		if stopped < 20 || went < 3 {
			t.Errorf("earlier %v: stopped at %d of %d steps, went through at %d: little was tried", earlier, stopped, steps, went)
		}
	}
}

// TestDiskFailsAtEveryStep does the same with a disk that fails there.
func TestDiskFailsAtEveryStep(t *testing.T) {
	will := someFiles("new ")
	broken := errors.New("the disk does not want to")
	failed := 0
	for n := 0; ; n++ {
		dir := t.TempDir()
		was := someFiles("old ")[:6]
		for _, f := range append(was, papers.File{Name: beside, Data: []byte(beside)}) {
			if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		disk := &stepping{at: func(step int) error {
			if step == n {
				return broken
			}
			return nil
		}}
		_, err := papers.PutOn(t.Context(), disk, dir, will, true)
		news := heldTo(t, dir, was, will)
		if err != nil {
			failed++
			if strings.Contains(err.Error(), "nothing was written") && news != 0 {
				t.Errorf("step %d: %v, and %d files are new", n, err, news)
			}
		}
		if n > disk.step {
			break
		}
	}
	if failed < 20 {
		t.Errorf("the disk failed %d times", failed)
	}
}

// TestWriteIsStoppedAnywhere stops the whole making of papers whenever it tells
// how far it has come.
func TestWriteIsStoppedAnywhere(t *testing.T) {
	a, _ := tapering(t)
	m := papers.MetaOf(&a.Job, "Risewright test", sheets.A4)
	m.NoShots = "none in this test"
	told := 0
	if _, err := papers.Write(t.Context(), t.TempDir(), a, nil, m, false, true, func(float64, string) { told++ }); err != nil {
		t.Fatal(err)
	}
	for n := 0; n < told; n += 4 {
		dir := t.TempDir()
		old := filepath.Join(dir, "proposal.pdf")
		if err := os.WriteFile(old, []byte("an earlier one"), 0o644); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		k, last := 0, 0.0
		_, err := papers.Write(ctx, dir, a, nil, m, false, true, func(part float64, what string) {
			if k == n {
				stop()
			}
			if k++; part < last || part > 1 || what == "" {
				t.Errorf("told %v after %v, %q", part, last, what)
			}
			last = part
		})
		stop()
		if !errors.Is(err, context.Canceled) {
			t.Errorf("stopped when told the time number %d: %v", n+1, err)
		}
		if got := found(t, dir); len(got) != 1 || got["proposal.pdf"] != "an earlier one" {
			t.Errorf("stopped when told the time number %d: %d files, the earlier one is %q", n+1, len(got), got["proposal.pdf"])
		}
	}
	if told < 15 {
		t.Errorf("it told %d times how far it has come", told)
	}
}

// TestRestsOfAKilledWritingAreSweptAway: a program that is killed while papers
// wait for their names leaves them under hidden ones. The next writing to the
// folder removes those that are a day old, and nothing that may be another's.
func TestRestsOfAKilledWritingAreSweptAway(t *testing.T) {
	dir := t.TempDir()
	// two rests, made as the program makes them
	var rests []string
	for range 2 {
		if _, err := store.Stage(store.Disk{}, filepath.Join(dir, "cards.pdf"), []byte("half")); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		rests = append(rests, e.Name())
	}
	if len(rests) != 2 || !strings.HasPrefix(rests[0], ".") {
		t.Fatalf("%q lie there", rests)
	}
	old := time.Now().Add(-25 * time.Hour)
	stay := []string{".risewright-notes.part", ".risewright-12.part.txt", "risewright-12.part", ".risewright-.part", ".other-12.part"}
	for _, name := range stay {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("somebody's"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, ".risewright-34.part"), 0o755); err != nil {
		t.Fatal(err)
	}
	stay = append(stay, ".risewright-34.part")
	for _, name := range append(stay, rests[0]) { // the other rest may be of a writing that goes on
		if err := os.Chtimes(filepath.Join(dir, name), old, old); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(rests[1], filepath.Join(dir, ".risewright-56.part")); err == nil { // not on every system
		stay = append(stay, ".risewright-56.part")
	}
	if _, err := papers.Put(t.Context(), dir, []papers.File{{Name: "cards.pdf", Data: []byte("whole")}}, false); err != nil {
		t.Fatal(err)
	}
	for _, name := range append(stay, rests[1], "cards.pdf") {
		if _, err := os.Lstat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s should be there: %v", name, err)
		}
	}
	if _, err := os.Lstat(filepath.Join(dir, rests[0])); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the rest of a day ago, %s, is still there: %v", rests[0], err)
	}
}
