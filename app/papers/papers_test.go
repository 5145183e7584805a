package papers_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"risewright/app/papers"
	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/sheets"
	"risewright/view/template"
)

// planned is the work of the tapering job, made once: tests only read it.
var planned = sync.OnceValues(func() (*solver.Work, error) {
	tb, err := tables.Published()
	if err != nil {
		return nil, err
	}
	data, err := assets.DemoJob("tapering")
	if err != nil {
		return nil, err
	}
	j, err := model.Decode(data)
	if err != nil {
		return nil, err
	}
	return solver.Plan(solver.Solve(j, tb), tb), nil
})

// tapering is the work and the answer of the demo job that has something to
// mend.
func tapering(t *testing.T) (*solver.Answer, *solver.Work) {
	t.Helper()
	w, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	return w.Answer, w
}

var names = []string{
	"blank-map.csv", "blank-map.pdf", "build-up.pdf", "buying-list.csv", "buying-list.pdf", "cut-cards.pdf", "hand-over.pdf", "hours-money-days.pdf",
	"light-commissioning.pdf", "light-supply.pdf", "order-of-work.pdf", "proposal.pdf", "rip-list.csv", "rip-list.pdf", "sensor-commissioning.pdf", "sensors.pdf",
	"skirt-boards.pdf", "survey-sheet.pdf", "wiring-labels.pdf", "wiring-plan.pdf", "wiring-schedule.csv", "wiring-schedule.pdf", "wood-movement.pdf",
}

// in lists the names in a folder, sorted.
func in(t *testing.T, dir string) []string {
	t.Helper()
	es, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range es {
		out = append(out, e.Name())
	}
	return out
}

func TestWrite(t *testing.T) {
	a, plan := tapering(t)
	m := papers.MetaOf(&a.Job, "Risewright test", "")
	m.NoShots = "none in this test"
	if m.Paper != sheets.Letter {
		t.Errorf("an imperial job is put on %q", m.Paper)
	}
	dir := filepath.Join(t.TempDir(), "new", "folder")
	paths, err := papers.Write(t.Context(), dir, a, plan, m, true, false, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := in(t, dir); !slices.Equal(got, names) {
		t.Errorf("written %v, want %v and nothing else", got, names)
	}
	for _, p := range paths {
		if filepath.Dir(p) != dir {
			t.Errorf("%s lies outside %s", p, dir)
		}
		data, err := os.ReadFile(p)
		if filepath.Ext(p) == ".csv" {
			if rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll(); err != nil || len(rows) < 2 {
				t.Errorf("%s has %d rows: %v", p, len(rows), err)
			}
			continue
		}
		if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.Contains(data[len(data)-16:], []byte("%%EOF")) {
			t.Errorf("%s is no whole PDF: %v", p, err)
		}
	}

	// the same again is not in the way
	if _, err := papers.Write(t.Context(), dir, a, plan, m, true, false, nil); err != nil {
		t.Errorf("the same papers again: %v", err)
	}

	// something else is, and then nothing is written
	mine := []byte("mine")
	if err := os.WriteFile(paths[1], mine, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(paths[0]); err != nil {
		t.Fatal(err)
	}
	var clash *papers.ClashError
	if _, err := papers.Write(t.Context(), dir, a, plan, m, true, false, nil); !errors.As(err, &clash) || !slices.Equal(clash.Names, []string{filepath.Base(paths[1])}) {
		t.Fatalf("a file in the way: %v", err)
	}
	if got, _ := os.ReadFile(paths[1]); !bytes.Equal(got, mine) {
		t.Error("the file in the way was changed")
	}
	if _, err := os.Lstat(paths[0]); err == nil {
		t.Error("something was written beside a file in the way")
	}

	if _, err := papers.Write(t.Context(), dir, a, plan, m, true, true, nil); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(paths[1]); !bytes.HasPrefix(got, []byte("%PDF-")) {
		t.Error("the file was not replaced")
	}
	if got := in(t, dir); !slices.Equal(got, names) {
		t.Errorf("left behind: %v", got)
	}
}

// TestAdvice checks that the advice reaches the build-up sheet and only it.
func TestAdvice(t *testing.T) {
	a, plan := tapering(t)
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	m := papers.MetaOf(&a.Job, "Risewright test", sheets.A4)
	m.NoShots = "none in this test"
	if m.Paper != sheets.A4 {
		t.Errorf("the paper is %q", m.Paper)
	}
	sense := solver.Sense(a, tb, nil)
	mend := solver.Advise(a, tb)
	words := papers.Advice(mend)
	if mend.Status != buildup.Mendable || len(words) < len(mend.Remedies) || !strings.HasPrefix(words[0], model.Sentence(mend.Remedies[0].Title)) {
		t.Errorf("advice %q for %d remedies", words, len(mend.Remedies))
	}
	without, err := papers.Files(a, plan, &sense, tb, m)
	if err != nil {
		t.Fatal(err)
	}
	m.Advice = words
	with, err := papers.Files(a, plan, &sense, tb, m)
	if err != nil {
		t.Fatal(err)
	}
	for i := range with {
		if same := bytes.Equal(with[i].Data, without[i].Data); same != (with[i].Name != "build-up.pdf") {
			t.Errorf("%s: the same with advice and without: %v", with[i].Name, same)
		}
	}
	// Write works the same advice out by itself, and drops it when told to.
	for _, c := range []struct {
		advice bool
		given  []string
		want   []papers.File
	}{{true, nil, with}, {false, words, without}} {
		dir := t.TempDir()
		m.Advice = c.given
		given := plan
		if c.advice {
			given = nil // it is planned there, to the same bytes
		}
		if _, err := papers.Write(t.Context(), dir, a, given, m, c.advice, false, nil); err != nil {
			t.Fatal(err)
		}
		for _, f := range c.want {
			if got, _ := os.ReadFile(filepath.Join(dir, f.Name)); !bytes.Equal(got, f.Data) {
				t.Errorf("advice %v, given %d: %s differs", c.advice, len(c.given), f.Name)
			}
		}
	}
}

func TestUndatedJobHasPapers(t *testing.T) {
	tb, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	j, err := tables.NewJob(model.Metric, nil)
	if err != nil {
		t.Fatal(err)
	}
	a := solver.Solve(j, tb)
	fs, err := papers.Files(a, nil, nil, tb, papers.MetaOf(&j, "", ""))
	if err != nil || len(fs) == 0 {
		t.Fatalf("%d papers, %v", len(fs), err)
	}
}

// TestLists reads the lists back and looks for cells that a spreadsheet could
// take for a formula, in a job whose goods have names made to be taken for one.
func TestLists(t *testing.T) {
	_, plan := tapering(t)
	changed := *plan
	w := &changed
	w.Buy.Rows = slices.Clone(w.Buy.Rows)
	for i := range w.Buy.Rows {
		w.Buy.Rows[i].Name = "=1+2|" + w.Buy.Rows[i].Name
	}
	w.Buy.Cuts = slices.Clone(w.Buy.Cuts)
	for i := range w.Buy.Cuts {
		c := &w.Buy.Cuts[i].Cutting
		c.Boards = slices.Clone(c.Boards)
		for k := range c.Boards {
			c.Boards[k].Name = "@" + c.Boards[k].Name
		}
	}
	lists, err := papers.Lists(w)
	if err != nil || len(lists) != 3 {
		t.Fatalf("%d lists, %v", len(lists), err)
	}
	quoted := 0
	for _, f := range lists {
		rows, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, c := range row {
				if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r") {
					t.Errorf("%s: a cell begins so: %q", f.Name, c)
				}
				if strings.HasPrefix(c, "'=") || strings.HasPrefix(c, "'@") {
					quoted++
				}
			}
		}
		if f.Name == "rip-list.csv" {
			if len(rows) != len(w.Buy.Rips)+1 {
				t.Errorf("%d rows for %d rips", len(rows), len(w.Buy.Rips))
			}
			for i, r := range w.Buy.Rips {
				want := []string{r.Piece, fmt.Sprintf("%.1f", r.From), fmt.Sprintf("%.1f", r.To)}
				if got := rows[i+1]; !slices.Equal(got[:3], want) || (got[3] == "released") != r.Final {
					t.Errorf("%v, want %v, final %v", got, want, r.Final)
				}
			}
		}
	}
	if quoted == 0 {
		t.Error("no name was made into text, so nothing was tried")
	}
	if lists, err := papers.Lists(nil); err != nil || len(lists) != 0 {
		t.Errorf("no work has %d lists, %v", len(lists), err)
	}
}

func TestPutStaysInsideTheFolder(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"", ".", "..", "../x", "a/b", `a\b`, "/etc/x", "C:x", "x\x00.pdf", "x\n", "nul", "Con.pdf", "COM1.csv", "x.", "x ", "a*", strings.Repeat("x", 300)} {
		if _, err := papers.Put(t.Context(), filepath.Join(dir, "in"), []papers.File{{Name: name, Data: []byte("x")}}, true); err == nil {
			t.Errorf("%q was taken for a name", name)
		}
	}
	if got := in(t, dir); len(got) != 0 {
		t.Errorf("written: %v", got)
	}

	// a link out of the folder is replaced, and what it points at stays
	outside := filepath.Join(dir, "outside.txt")
	if err := os.WriteFile(outside, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "to")
	if err := os.Mkdir(to, 0o755); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(to, "a.txt")
	if err := os.Symlink(outside, link); err != nil {
		t.Skip("no links here:", err)
	}
	file := []papers.File{{Name: "a.txt", Data: []byte("ours")}}
	var clash *papers.ClashError
	if _, err := papers.Put(t.Context(), to, file, false); !errors.As(err, &clash) {
		t.Errorf("a link was not in the way: %v", err)
	}
	if _, err := papers.Put(t.Context(), to, file, true); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(outside); string(got) != "mine" {
		t.Errorf("the file outside now says %q", got)
	}
	if got, _ := os.ReadFile(link); string(got) != "ours" {
		t.Errorf("the file inside says %q", got)
	}
}

func TestPutRefuses(t *testing.T) {
	dir := t.TempDir()
	twins := []papers.File{{Name: "T01.pdf", Data: []byte("one")}, {Name: "t01.PDF", Data: []byte("two")}}
	if _, err := papers.Put(t.Context(), dir, twins, true); err == nil || len(in(t, dir)) != 0 {
		t.Errorf("two files that are one on some disks: %v", err)
	}
	file := []papers.File{{Name: "a.txt", Data: []byte("ours")}}
	if err := os.Mkdir(filepath.Join(dir, "a.txt"), 0o755); err != nil {
		t.Fatal(err)
	}
	var clash *papers.ClashError
	if _, err := papers.Put(t.Context(), dir, file, true); !errors.As(err, &clash) || !clash.Folders {
		t.Errorf("a folder in the way: %v", err)
	}
	plain := filepath.Join(dir, "plain")
	if err := os.WriteFile(plain, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := papers.Put(t.Context(), filepath.Join(plain, "sub"), file, true); err == nil || !strings.Contains(err.Error(), plain) {
		t.Errorf("a folder below a file: %v", err)
	}
}

func TestSentence(t *testing.T) {
	for in, want := range map[string]string{"": "", " a b ": "A b.", "Ärger!": "Ärger!", "écart": "Écart.", `it is 3"`: `It is 3".`} {
		if got := model.Sentence(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// The window's templates are the list of all, each piece that no card makes,
// and the skirt boards of the order; on the job's own paper.
func TestTemplateFiles(t *testing.T) {
	tab, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	needed := 0
	for _, name := range []string{"tapering", "winding"} {
		data, err := assets.DemoJob(name)
		if err != nil {
			t.Fatal(err)
		}
		job, err := model.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		job.Wishes.Left.Battered = true
		a := solver.Solve(job, tab)
		w := solver.Plan(a, tab)
		files, err := papers.TemplateFiles(a, w, papers.MetaOf(&job, "risewright test", ""))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		has := map[string]bool{}
		for _, f := range files {
			has[f.Name] = true
			if !strings.HasPrefix(string(f.Data), "%PDF-") {
				t.Errorf("%s: %s is no PDF", name, f.Name)
			}
		}
		if !has["templates-index.pdf"] || len(has) != len(files) {
			t.Errorf("%s: no list, or a name twice: %d files, %d names", name, len(files), len(has))
		}
		paper := string(sheets.SizeFor(job.Units))
		for i := range a.Pieces {
			if a.Pieces[i].Template == "" || a.Pieces[i].Impossible != "" {
				continue
			}
			needed++
			if file := a.Pieces[i].ID + "-template-" + paper + ".pdf"; !has[file] {
				t.Errorf("%s: %s is not written", name, file)
			}
		}
		for _, side := range []pieces.Side{pieces.Left, pieces.Right} {
			b, ok := w.Board(side)
			if file := template.SkirtID(&b) + "-template-" + paper + ".pdf"; ok && b.Treatment != skirt.Kept && b.Impossible == "" && !has[file] {
				t.Errorf("%s: %s is not written", name, file)
			}
		}
	}
	if needed == 0 {
		t.Error("no demo needs a template: the test shows nothing")
	}
}
