package model_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"risewright/model"
)

var monday = time.Date(2026, 11, 2, 9, 0, 0, 0, time.UTC)

func state(label, text string) model.JournalState {
	return model.JournalState{Label: label, Text: []byte(text)}
}

// begun begins a journal with one state that lies in a file.
func begun(t testing.TB, w io.Writer, text []byte) *model.JournalWriter {
	t.Helper()
	j, err := model.NewJournal(w, model.Journal{
		File: model.JournalFile{Path: "/stairs/a.json", Sum: [32]byte{1}}, Program: "test",
		States: []model.JournalState{{Text: text}}, Last: monday,
	}, model.MaxFileBytes)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// sameJournal compares what two journals say, but not how they are laid out.
var sameJournal = cmp.Options{
	cmpopts.IgnoreFields(model.Journal{}, "Torn", "Good"), cmpopts.IgnoreUnexported(model.Journal{}),
	cmp.Comparer(bytes.Equal),
}

func readJournal(t testing.TB, data []byte) *model.Journal {
	t.Helper()
	j, err := model.ReadJournal(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Random edits, undos, redos and saves are written, and the journal is cut at
// every record: each time the job, what can be undone and redone, and what is
// saved are those of the history at that moment.
func TestJournalFollowsTheHistory(t *testing.T) {
	type moment struct {
		size                  int64
		text, undo, redo      string
		depth, saved, unsaved int
	}
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 7))
		h := model.NewHistory(plainJob(4))
		var file bytes.Buffer
		w := begun(t, &file, []byte(encoded(t, h.Job())))
		saved, unsaved := 0, 0
		var moments []moment
		note := func(err error) {
			if err != nil {
				t.Fatal(err)
			}
			moments = append(moments, moment{w.Size(), encoded(t, h.Job()), h.UndoLabel(), h.RedoLabel(), h.Depth(), saved, unsaved})
		}
		note(nil)
		for i := range 120 {
			at := monday.Add(time.Duration(i) * time.Minute)
			label := h.UndoLabel()
			switch rng.IntN(6) {
			case 0:
				if h.Undo() {
					unsaved++
					note(w.Undo(at, label, []byte(encoded(t, h.Job()))))
				}
			case 1:
				if h.Redo() {
					unsaved++
					note(w.Redo(at, h.UndoLabel(), []byte(encoded(t, h.Job()))))
				}
			case 2:
				saved, unsaved = h.Depth(), 0
				note(w.Saved(at, model.JournalFile{Path: fmt.Sprint(i)}))
			default:
				before := h.Depth()
				if h.Do(randomEdit(rng, h.Job(), fmt.Sprint("edit ", i))) != nil {
					continue
				}
				if before < saved {
					saved = -1
				}
				unsaved++
				note(w.Edit(at, h.UndoLabel(), []byte(encoded(t, h.Job()))))
			}
		}
		if int(w.Size()) != file.Len() {
			t.Errorf("seed %d: it says it has %d bytes and has %d", seed, w.Size(), file.Len())
		}
		for i, m := range moments {
			cut := m.size
			if i < len(moments)-1 { // and some of the next record, which is torn
				cut += rng.Int64N(moments[i+1].size - m.size)
			}
			j := readJournal(t, file.Bytes()[:cut])
			got, back, err := j.History()
			if err != nil {
				t.Fatalf("seed %d, moment %d: %v", seed, i, err)
			}
			if j.Good != m.size || (j.Torn == "") != (cut == m.size) {
				t.Errorf("seed %d, moment %d: good to %d of %d, torn %q", seed, i, j.Good, m.size, j.Torn)
			}
			now := moment{m.size, encoded(t, got.Job()), got.UndoLabel(), got.RedoLabel(), got.Depth(), back, j.Unsaved}
			if d := cmp.Diff(m, now, cmp.AllowUnexported(moment{})); d != "" {
				t.Fatalf("seed %d, moment %d: %s", seed, i, d)
			}
			if i != len(moments)-1 && i%20 != 0 {
				continue
			}
			for back := encoded(t, h.Job()); h.Depth() > 0 && i == len(moments)-1; back = encoded(t, h.Job()) {
				if encoded(t, got.Job()) != back || got.UndoLabel() != h.UndoLabel() || !got.Undo() || !h.Undo() {
					t.Fatalf("seed %d: undone to another job at depth %d", seed, h.Depth())
				}
			}
			// written anew it says the same, and it can be gone on with
			var again bytes.Buffer
			w2, err := model.NewJournal(&again, *j, model.MaxFileBytes)
			if err != nil {
				t.Fatal(err)
			}
			j2 := readJournal(t, again.Bytes())
			if j2.Good != w2.Size() || int(j2.Good) != again.Len() {
				t.Errorf("written anew: good to %d, %d of %d bytes", j2.Good, w2.Size(), again.Len())
			}
			if d := cmp.Diff(j, j2, sameJournal); d != "" {
				t.Errorf("written anew: %s", d)
			}
			if err := w2.Edit(monday, "after", []byte("{}")); err != nil || string(readJournal(t, again.Bytes()).Text()) != "{}" {
				t.Errorf("gone on with: %v", err)
			}
		}
	}
}

// No flip of a bit goes unnoticed, wherever it is: what is read is a beginning
// of what was written, or nothing.
func TestJournalFlips(t *testing.T) {
	var file bytes.Buffer
	w := begun(t, &file, []byte("one"))
	texts := []string{"one"}
	for i := range 6 {
		texts = append(texts, fmt.Sprintf("text %d of the job", i))
		if err := w.Edit(monday, "edit", []byte(texts[i+1])); err != nil {
			t.Fatal(err)
		}
	}
	refused := 0
	for bit := range file.Len() * 8 {
		data := slices.Clone(file.Bytes())
		data[bit/8] ^= 1 << (bit % 8)
		j, err := model.ReadJournal(bytes.NewReader(data))
		if err != nil {
			var e *model.JournalError
			if !errors.As(err, &e) || e.Problem == "" {
				t.Fatalf("bit %d: %T %v", bit, err, err)
			}
			refused++
			continue
		}
		if j.Torn == "" {
			t.Fatalf("bit %d: the damage is not noticed", bit)
		}
		for i, s := range j.States {
			if string(s.Text) != texts[i] {
				t.Fatalf("bit %d: state %d is %q", bit, i, s.Text)
			}
		}
	}
	t.Logf("%d flips, %d of which left nothing to read", file.Len()*8, refused)
}

// limited is a disk with room for so many bytes.
type limited struct {
	bytes.Buffer
	room  int
	quiet bool // says nothing when it writes less than it was given
}

func (l *limited) Write(b []byte) (int, error) {
	n := min(len(b), l.room)
	l.Buffer.Write(b[:n])
	l.room -= n
	if n < len(b) && !l.quiet {
		return n, errors.New("no room")
	}
	return n, nil
}

// A write that fails, or writes less without a word, is told, and after what it
// wrote is cut off the journal goes on.
func TestJournalGoesOnAfterAFailedWrite(t *testing.T) {
	for _, quiet := range []bool{false, true} {
		disk := &limited{room: 1 << 20, quiet: quiet}
		w := begun(t, disk, []byte("one"))
		for room := range 30 {
			disk.room = room
			text := fmt.Sprintf("text with room for %d bytes", room)
			if err := w.Edit(monday, "edit", []byte(text)); err == nil {
				t.Fatalf("room for %d bytes was enough", room)
			}
			if string(w.Text()) == text {
				t.Fatal("what was not written counts as written")
			}
			disk.Truncate(int(w.Size()))
			disk.room = 1 << 20
			if err := w.Edit(monday, "edit", []byte(text)); err != nil {
				t.Fatal(err)
			}
			j := readJournal(t, disk.Bytes())
			if string(j.Text()) != text || j.Torn != "" || len(j.States) != room+2 {
				t.Fatalf("%q, torn %q, %d states", j.Text(), j.Torn, len(j.States))
			}
		}
		disk.room = 3
		if _, err := model.NewJournal(disk, model.Journal{States: []model.JournalState{state("", "one")}}, 1<<20); err == nil {
			t.Error("a journal begins on a full disk")
		}
	}
}

func TestJournalRefuses(t *testing.T) {
	var file bytes.Buffer
	begun(t, &file, []byte("one"))
	good := file.String()
	newer := []byte(good)
	newer[8] = 2
	for _, row := range []struct {
		name, data, words string
		newer             bool
	}{
		{"nothing", "", "cut short", false},
		{"a letter", "r", "cut short", false},
		{"something else", "%PDF-1.7 and so on", "no journal", false},
		{"newer", string(newer), "format 2", true},
		{"no record", good[:10], "first job", false},
		{"half a record", good[:len(good)-1], "first job", false},
		{"length beyond all", good[:10] + "\xff\xff\xff\xff0000", "first job", false},
		{"length 0", good[:10] + "\x00\x00\x00\x000000", "first job", false},
	} {
		_, err := model.ReadJournal(strings.NewReader(row.data))
		var e *model.JournalError
		if !errors.As(err, &e) || !strings.Contains(e.Problem, row.words) || e.Newer != row.newer {
			t.Errorf("%s: %v", row.name, err)
		}
	}
	// what follows a good journal does no harm
	for _, tail := range []string{"x", "\x01\x00\x00\x00\x00\x00\x00\x00x", good[10:], strings.Repeat("\x00", 4096)} {
		j := readJournal(t, []byte(good+tail))
		if j.Torn == "" || string(j.Text()) != "one" || j.Good != int64(len(good)) {
			t.Errorf("with %q behind it: torn %q, %q", tail[:1], j.Torn, j.Text())
		}
	}
	if _, err := model.ReadJournal(io.MultiReader(strings.NewReader(good), failing{})); !errors.Is(err, errBroken) {
		t.Errorf("a disk that cannot be read: %v", err)
	}
}

var errBroken = errors.New("broken disk")

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errBroken }

// The history handed back is bounded, and the state last seen is never let go.
func TestJournalHistoryIsBounded(t *testing.T) {
	text := func(i int) []byte { return fmt.Appendf(bytes.Repeat([]byte("x"), 1<<20), "%d", i) }
	var file bytes.Buffer
	w := begun(t, &file, text(0))
	for i := range 40 {
		if err := w.Edit(monday, fmt.Sprint(i), text(i+1)); err != nil {
			t.Fatal(err)
		}
	}
	if n := file.Len(); n > 2<<20 {
		t.Errorf("40 small changes of 1 MB take %d bytes", n)
	}
	j := readJournal(t, file.Bytes())
	if n := len(j.States); n < 10 || n > 16 || j.At != n-1 || string(j.Text()) != string(text(40)) {
		t.Errorf("%d states, at %d", n, j.At)
	}
	for i := 40; i > 0; i-- { // back beyond what is kept
		if err := w.Undo(monday, "", text(i-1)); err != nil {
			t.Fatal(err)
		}
	}
	j = readJournal(t, file.Bytes())
	if string(j.Text()) != string(text(0)) || j.At != 0 || j.Unsaved != 80 {
		t.Errorf("undone: at %d of %d, %d changes", j.At, len(j.States), j.Unsaved)
	}
	var small bytes.Buffer
	if _, err := model.NewJournal(&small, *j, 1); err != nil {
		t.Fatal(err)
	}
	k := readJournal(t, small.Bytes())
	if len(k.States) != 1 || string(k.Text()) != string(text(0)) || k.Unsaved != 80 {
		t.Errorf("written anew in 1 byte: %d states, %d changes", len(k.States), k.Unsaved)
	}
}

// A thousand edits of a flight of 1,000 steps stay a small journal.
func TestJournalOfALongFlight(t *testing.T) {
	job := plainJob(200)
	var file bytes.Buffer
	first := []byte(encoded(t, job))
	w := begun(t, &file, first)
	rng := rand.New(rand.NewPCG(5, 5))
	edits := 0
	for edits < 60 {
		next, err := randomEdit(rng, job, fmt.Sprint("edit ", edits)).Apply(job)
		if err != nil {
			continue
		}
		job = next
		edits++
		if err := w.Edit(monday, "edit", []byte(encoded(t, job))); err != nil {
			t.Fatal(err)
		}
	}
	each := (file.Len() - len(first)) / edits
	t.Logf("a job of %d kB; %d bytes for each edit", len(first)>>10, each)
	if each > len(first)/20 {
		t.Errorf("an edit takes %d bytes", each)
	}
}

func TestSame(t *testing.T) {
	good := encoded(t, plainJob(3))
	for _, row := range []struct {
		a, b string
		want bool
	}{
		{good, good, true},
		{good, "\ufeff" + strings.ReplaceAll(good, "\n", "\r\n"), true},
		{good, once(t, good, `"Plain"`, `"Plane"`), false},
		{"x", "x", true},
		{"x", "y", false},
		{good, "", false},
	} {
		if model.Same([]byte(row.a), []byte(row.b)) != row.want {
			t.Errorf("%.20q and %.20q: not %v", row.a, row.b, row.want)
		}
	}
}

// FuzzJournal feeds any bytes, with their sums put right so that they reach
// behind them. What is read has a state that is seen, and can be written anew
// and read again as the same.
func FuzzJournal(f *testing.F) {
	var file bytes.Buffer
	w := begun(f, &file, []byte("{\n  \"risewright_job\": 1\n}"))
	text := bytes.Repeat([]byte("a line of a job file\n"), 9)
	for _, err := range []error{
		w.Edit(monday, "edit", text), w.Undo(monday, "edit", []byte("{}")), w.Redo(monday, "edit", text),
		w.Saved(monday, model.JournalFile{Path: "b"}), w.Edit(monday, "again", text[20:]),
	} {
		if err != nil {
			f.Fatal(err)
		}
	}
	f.Add(file.Bytes(), false)
	f.Add(file.Bytes(), true)
	f.Add(file.Bytes()[:40], true)
	f.Add([]byte("rwjournl\x01\x00"), true)
	f.Add([]byte("rwjournl\x02\x00"), true)
	var anew bytes.Buffer
	if _, err := model.NewJournal(&anew, *readJournal(f, file.Bytes()[:w.Size()-40]), 1<<20); err != nil {
		f.Fatal(err)
	}
	f.Add(anew.Bytes(), true)
	f.Fuzz(func(t *testing.T, data []byte, mend bool) {
		if mend {
			data = model.MendedJournal(data)
		}
		j, err := model.ReadJournal(bytes.NewReader(data))
		if err != nil {
			var e *model.JournalError
			if !errors.As(err, &e) || e.Problem == "" {
				t.Fatalf("%T %v", err, err)
			}
			return
		}
		if j.At < 0 || j.At >= len(j.States) || j.SavedAt < -1 || j.SavedAt >= len(j.States) || j.Unsaved < 0 || j.Good > int64(len(data)) {
			t.Fatalf("at %d, saved at %d of %d; good to %d of %d", j.At, j.SavedAt, len(j.States), j.Good, len(data))
		}
		if (j.Torn == "") != (j.Good == int64(len(data))) {
			t.Fatalf("good to %d of %d, torn %q", j.Good, len(data), j.Torn)
		}
		var out bytes.Buffer
		if _, err := model.NewJournal(&out, *j, model.MaxFileBytes); err != nil {
			t.Fatal(err)
		}
		back := readJournal(t, out.Bytes())
		if d := cmp.Diff(j, back, sameJournal); d != "" {
			t.Fatal(d)
		}
	})
}
