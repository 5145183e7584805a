package window

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"go.uber.org/goleak"

	"risewright/app/session"
	"risewright/app/store"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/still"
	"risewright/view/words"
)

// Whatever is chosen from the menus, pressed, typed, dragged, dropped and
// answered in whatever order, while work goes on beside the window, files change
// under it, another window has them, or the disk is full: nothing panics, the job
// can be saved and opened again, what counts as saved is what the file holds, the
// answer is that of the job, undoing everything gives the job that was opened,
// Escape closes every dialog, nothing is written outside the test's folder, and
// nothing is left running once the window is closed. The like for the panels
// alone, with handles, is in view/panel.
func TestTheWindowIsHammeredByAMonkey(t *testing.T) {
	acts := 150
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		acts = 1500
	}
	seed, end := uint64(7), time.Time{}
	if text := os.Getenv("RISEWRIGHT_MONKEY"); text != "" {
		if n, err := strconv.Atoi(text); err == nil {
			acts = n
		} else if d, err := time.ParseDuration(text); err == nil {
			seed, end, acts = uint64(time.Now().UnixNano()), time.Now().Add(d), math.MaxInt
		} else {
			t.Fatalf("RISEWRIGHT_MONKEY is neither a time such as 1h nor a number of acts: %v", err)
		}
	}
	if text := os.Getenv("RISEWRIGHT_SEED"); text != "" {
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			t.Fatalf("RISEWRIGHT_SEED is no whole number: %v", err)
		}
		seed = n
	}
	t.Logf("seed %d; RISEWRIGHT_SEED=%[1]d RISEWRIGHT_MONKEY=acts or a time such as 1h go test -tags ci -run Monkey ./app/window", seed)
	before := goleak.IgnoreCurrent()
	t.Cleanup(func() { // windows are closed by then
		var err error
		for range 240 { // each of about half a second
			if err = goleak.Find(before); err == nil {
				return
			}
		}
		t.Errorf("seed %d: %v", seed, err)
	})
	m := newMonkey(t, seed)
	defer func() {
		if p := recover(); p != nil {
			t.Fatalf("seed %d, act %d, %s: %v\nbefore it: %s\n%s", seed, m.done, m.last, p, strings.Join(m.lately, "; "), debug.Stack())
		}
	}()
	for ; m.done < acts && (end.IsZero() || time.Now().Before(end)); m.done++ {
		m.act()
		m.serve()
		m.check()
		if t.Failed() {
			t.Fatalf("seed %d, act %d, %s; before it: %s", seed, m.done, m.last, strings.Join(m.lately, "; "))
		}
	}
	m.leave()
	t.Logf("%d acts; %s", m.done, m.counts())
	if acts >= 150 {
		for _, what := range []string{"menu", "shortcut", "poked", "typed", "key", "changes", "sessions", "dialogs"} {
			if m.tally[what] == 0 {
				t.Errorf("seed %d: the monkey has never met %s", seed, what)
			}
		}
	}
}

// monkey does things to a window at random, on one goroutine, which is the
// interface's.
type monkey struct {
	t      *testing.T
	rng    *rand.Rand
	root   string // all it writes lies in it
	files  []string
	disk   *confinedDisk
	app    fyne.App
	config Config
	w      *window
	closed bool // the window is
	others []*session.Opened

	session *session.Session // that of the last look
	first   string           // its job when it was opened
	was     string           // what it was at the last look
	touched map[string]bool  // files that something else has written
	heap    uint64

	mu   sync.Mutex
	soon []func() // what is to be done on the interface's goroutine
	busy int      // how much works beside it

	done   int
	last   string   // what was done last
	lately []string // and before
	tally  map[string]int
}

func newMonkey(t *testing.T, seed uint64) *monkey {
	root := t.TempDir()
	if r, err := filepath.EvalSymlinks(root); err == nil {
		root = r
	}
	t.Setenv("HOME", root)
	for _, name := range []string{"XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"} {
		t.Setenv(name, filepath.Join(root, "xdg"))
	}
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	m := &monkey{t: t, rng: rand.New(rand.NewPCG(seed, 2)), root: root, disk: &confinedDisk{root: root}, touched: map[string]bool{}, tally: map[string]int{}}
	clock := runningClock()
	m.config = Config{
		Tables: pub, Clock: clock, Version: "test", Store: store.New(m.disk, filepath.Join(root, "journals"), clock),
		Sheets: m.papers, Templates: m.papers, Drawings: m.papers, Still: m.keep,
		still: &still.Options{W: 24, H: 15, Samples: 2, Workers: 1},
		later: m.later, do: m.do, mkdir: m.disk.mkdir,
	}
	m.app = test.NewTempApp(t)
	t.Cleanup(func() { words.Speak(nil) })
	m.makeFiles()
	m.open(append(slices.Clone(m.files[:2]), "")[m.rng.IntN(3)])
	t.Cleanup(m.leave)
	return m
}

// open opens the window as the program does, on a file or on what it finds.
func (m *monkey) open(path string) {
	c := m.config
	c.Path = path
	s, greet, err := c.start()
	if err != nil { // such as a file that is none; the program says so and ends
		c.Path = ""
		if s, greet, err = c.start(); err != nil {
			m.t.Fatalf("the window does not open: %v", err)
		}
	}
	m.w = newWindow(m.app, c, s)
	m.closed = false
	m.w.win.SetOnClosed(func() { m.closed = true })
	c.greet(m.w, greet)
	m.session = nil
}

// leave ends whatever is open and still works.
func (m *monkey) leave() {
	m.disk.full.Store(false)
	for _, o := range m.others {
		o.Session.Close()
	}
	m.others = nil
	if m.w == nil {
		return
	}
	for range 100 {
		if m.w.win.Canvas().Overlays().Top() == nil {
			break
		}
		m.escape()
	}
	if m.w.writing != nil {
		m.w.writing.stop()
	}
	for range 200 { // what was begun comes to its end, or is given up by that of a dialog
		m.serve()
		if m.idle() {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if !m.closed {
		m.w.session.Close()
		m.w.win.SetCloseIntercept(nil)
		m.w.win.Close()
	}
	m.w = nil
	if n := m.disk.outside.Load(); n > 0 {
		m.tally["refused outside"] = int(n)
	}
}

func (m *monkey) idle() bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.busy == 0 && len(m.soon) == 0
}

// do is fyne.Do of this window.
func (m *monkey) do(f func()) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.soon = append(m.soon, f)
}

// later works beside the interface, as the program does, and is waited for a
// little so that what is quick is done in turn whatever the machine is busy with.
func (m *monkey) later(work, then func()) {
	m.mu.Lock()
	m.busy++
	m.mu.Unlock()
	done := make(chan struct{})
	go func() {
		work()
		m.mu.Lock()
		m.busy--
		m.soon = append(m.soon, then)
		m.mu.Unlock()
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(40 * time.Millisecond):
		m.tally["went on beside"]++
	}
}

// serve does what waits to be done on the interface's goroutine. What moves by
// itself comes back at every frame, so there is an end to it.
func (m *monkey) serve() {
	for range 20 {
		m.mu.Lock()
		now := m.soon
		m.soon = nil
		m.mu.Unlock()
		if len(now) == 0 {
			return
		}
		for _, f := range now {
			f()
		}
	}
}

// act does one thing.
func (m *monkey) act() {
	if m.closed {
		m.tally["reopened"]++
		m.say("opening the window again")
		m.disk.full.Store(false)
		m.open(append(slices.Clone(m.files), "")[m.rng.IntN(len(m.files)+1)])
		return
	}
	m.chooseAct()
}

// say notes what is about to be done.
func (m *monkey) say(format string, a ...any) {
	const kept = 12
	if m.last != "" {
		m.lately = append(m.lately, m.last)
		m.lately = m.lately[max(0, len(m.lately)-kept):]
	}
	m.last = fmt.Sprintf(format, a...)
	if os.Getenv("RISEWRIGHT_MONKEY_SAYS") != "" {
		m.t.Logf("%d: %s", m.done, m.last)
	}
}

func encoded(t *testing.T, job model.Job) string {
	t.Helper()
	data, err := model.Encode(job)
	if err != nil {
		t.Fatalf("the job cannot be saved: %v", err)
	}
	return string(data)
}

// check holds the window to what must be true at any moment, and now and then to
// what takes longer to ask.
func (m *monkey) check() {
	t, w := m.t, m.w
	if m.closed {
		return
	}
	job := encoded(t, w.session.Job())
	if n := w.desk.Step(); n < 0 || n > w.desk.Steps() {
		t.Errorf("step %d of %d is chosen", n, w.desk.Steps())
	}
	if w.desk.Answer() == nil {
		t.Error("there is no answer to show")
	}
	for _, f := range w.session.Answer().Findings {
		if f.Rule == "program.fault" {
			t.Errorf("the program failed: %s", f.Detail)
		}
	}
	if fresh := w.session != m.session; fresh || m.done%60 == 59 {
		base := m.undone(job)
		if fresh {
			m.tally["sessions"]++
			m.session, m.first = w.session, base
		} else if base != m.first {
			t.Error("undoing everything does not give the job that was opened")
		}
	}
	if w.session == m.session && job != m.was {
		m.tally["changes"]++
	}
	m.was = job
	m.checkFile(job)
	if m.done%20 == 19 {
		again, err := model.Decode([]byte(job))
		if err != nil {
			t.Errorf("the job cannot be opened again: %v", err)
		} else if encoded(t, again) != job {
			t.Error("the job is another once it has been saved and opened")
		}
		fresh, shown := solver.Solve(w.session.Job(), w.session.Tables()), w.session.Answer()
		if !reflect.DeepEqual(fresh.Cards, shown.Cards) || !reflect.DeepEqual(fresh.Buildup, shown.Buildup) || !reflect.DeepEqual(fresh.Findings, shown.Findings) {
			t.Error("the answer is not that of the job")
		}
	}
	if m.done%500 == 499 {
		m.checkHeap()
	}
}

// undone returns the job before all that was done, and does all of it again.
func (m *monkey) undone(job string) string {
	s := m.w.session
	n := 0
	for s.Undo() {
		n++
	}
	base := encoded(m.t, s.Job())
	for range n {
		if !s.Redo() {
			m.t.Error("what was undone can not be done again")
		}
	}
	if encoded(m.t, s.Job()) != job {
		m.t.Error("undoing and doing everything again gives another job")
	}
	return base
}

// checkFile compares a job that counts as saved with its file.
func (m *monkey) checkFile(job string) {
	path := m.w.session.Path()
	if path == "" || m.w.session.Dirty() || m.touched[path] {
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		m.t.Errorf("the job counts as saved, but %v", err)
		return
	}
	held, err := model.Decode(data)
	if err != nil {
		m.t.Errorf("the job counts as saved, but its file holds none: %v", err)
		return
	}
	if encoded(m.t, held) != job {
		m.t.Errorf("the job counts as saved, but %s holds another", path)
	}
}

// checkHeap sees to it that memory does not grow without end.
func (m *monkey) checkHeap() {
	// A window that is shown drops what no paint has asked for in a minute; this
	// one is never painted else.
	m.w.win.Canvas().Capture()
	var s runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&s)
	m.t.Logf("act %d: heap %d MiB, %d goroutines", m.done, s.HeapAlloc>>20, runtime.NumGoroutine())
	// The history of thousands of acts, and what the library keeps of windows that
	// were closed.
	const slack = 300 << 20
	if m.heap > 0 && s.HeapAlloc > m.heap+slack {
		m.t.Errorf("the heap is %d MiB, was %d", s.HeapAlloc>>20, m.heap>>20)
	}
	if m.heap == 0 {
		m.heap = s.HeapAlloc
	}
}

func (m *monkey) counts() string {
	var all []string
	for what, n := range m.tally {
		all = append(all, fmt.Sprintf("%s %d", what, n))
	}
	slices.Sort(all)
	return strings.Join(all, ", ")
}
