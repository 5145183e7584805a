//go:build unix

package session_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"risewright/app/session"
	"risewright/model"
)

// TestMain lets the test binary be a program that works on a job until it is
// killed.
func TestMain(m *testing.M) {
	if dir := os.Getenv("RISEWRIGHT_KILL_ME"); dir != "" {
		workUntilKilled(dir)
	}
	os.Exit(m.Run())
}

// workUntilKilled opens the job in dir as a window does, and edits and saves it
// until it is killed. What it says, a line each:
//
//	opened SUM   the job as it was opened or brought back
//	do SUM       what the job will be after the change that begins now
//	did SUM      the change was made and returned: it is acknowledged
//	save SUM, saved SUM
//	fault TEXT   what must not happen
func workUntilKilled(dir string) {
	say := func(words ...any) { fmt.Fprintln(os.Stdout, words...) }
	defer os.Exit(3)
	t := &quietTB{}
	h := homeIn(t, filepath.Join(dir, "journals"))
	s, err := openAgain(h, filepath.Join(dir, "job"+session.Extension))
	if err != nil || t.failed != "" {
		say("fault", err, t.failed)
		return
	}
	if s.Changed { // a kill never leaves a save that the journal has not heard of unnoticed
		say("fault the file is not as the journal knew it")
	}
	say("opened", sumOf(s.Job()))
	seed, _ := strconv.ParseUint(os.Getenv("RISEWRIGHT_SEED"), 10, 64)
	a := actor{rng: rand.New(rand.NewPCG(seed, 11)), history: model.NewHistory(s.Job())}
	for {
		if a.rng.IntN(6) == 0 {
			say("save", sumOf(s.Job()))
			if _, err := s.Save(); err != nil {
				say("fault", err)
				return
			}
			say("saved", sumOf(s.Job()))
		}
		x := a.next()
		say("do", x.want)
		if err := x.do(s.Session); err != nil {
			say("fault", err)
			return
		}
		if got := sumOf(s.Job()); got != x.want || s.Trouble() != nil {
			say("fault", "the job is", got, s.Trouble())
			return
		}
		say("did", x.want)
	}
}

// openAgain opens the file, with what was not saved of it.
func openAgain(h session.Home, path string) (*session.Opened, error) {
	o, err := h.Open(path, false)
	if err != nil {
		return nil, err
	}
	if o.Path() != path {
		return nil, fmt.Errorf("the job has lost its file: it has %q", o.Path())
	}
	if left, err := h.Orphans(); err != nil || len(left) > 0 {
		return nil, fmt.Errorf("more journals of the job: %v, %v", left, err)
	}
	return o, nil
}

// quietTB takes the faults of helpers where there is no test.
type quietTB struct {
	testing.TB
	failed string
}

func (q *quietTB) Helper()           {}
func (q *quietTB) Fatal(args ...any) { q.failed = fmt.Sprint(args...) }
func (q *quietTB) Cleanup(func())    {}

// A program is killed at any moment of opening, editing and saving, again and
// again: no acknowledged change is ever lost, and no file ever unreadable.
func TestKilledAtAnyMoment(t *testing.T) {
	kills := 25
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		kills = 1000
	}
	const seed = 20261128
	rng := rand.New(rand.NewPCG(seed, 1))
	dir := t.TempDir()
	path := filepath.Join(dir, "job"+session.Extension)
	job := smallJob(t)
	data, err := model.Encode(job)
	must(t, err)
	must(t, os.WriteFile(path, data, 0o644))
	h := homeIn(t, filepath.Join(dir, "journals"))
	exe, err := os.Executable()
	must(t, err)

	// what may be found when the job is opened again, and in its file
	first := sumOf(job)
	states := []string{first}
	files := []string{first}
	acknowledged, saves, early := 0, 0, 0
	for n := range kills {
		cmd := exec.Command(exe)
		cmd.Env = append(os.Environ(), "RISEWRIGHT_KILL_ME="+dir, fmt.Sprint("RISEWRIGHT_SEED=", n))
		cmd.Stderr = os.Stderr
		out, err := cmd.StdoutPipe()
		must(t, err)
		must(t, cmd.Start())
		lines := bufio.NewScanner(out)
		opened := false
		// After so many words, and a moment more, it is killed; of five one
		// already while it starts.
		words, moment := rng.IntN(60), time.Duration(rng.Int64N(int64(8*time.Millisecond)))
		if rng.IntN(5) == 0 {
			words, moment = 0, time.Duration(rng.Int64N(int64(80*time.Millisecond)))
		}
		said := 0
		kill := func() {
			if said == words {
				time.AfterFunc(moment, func() { cmd.Process.Kill() })
			}
			said++
		}
		kill()
		for lines.Scan() {
			kill()
			verb, sum, _ := strings.Cut(lines.Text(), " ")
			switch verb {
			case "opened":
				opened = true
				if !slices.Contains(states, sum) {
					t.Fatalf("kill %d: opened as %s; what was acknowledged or under way is %v", n, sum, states)
				}
				states = []string{sum}
			case "do":
				states = append(states[:1], sum)
			case "did":
				states = []string{sum}
				acknowledged++
			case "save":
				files = append(files[:1], sum)
			case "saved":
				files = []string{sum}
				saves++
			default:
				t.Fatalf("kill %d: %s", n, lines.Text())
			}
		}
		cmd.Process.Kill()
		if err := cmd.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
			t.Fatalf("kill %d: it ended by itself: %v", n, err)
		}
		if !opened {
			early++
		}
		checkFolder(t, h, path, files...)
		if data, err := os.ReadFile(path); err == nil && len(files) > 1 && sumOfBytes(data) == files[1] {
			files = files[1:]
		}
	}
	s, err := openAgain(h, path)
	must(t, err)
	if !slices.Contains(states, sumOf(s.Job())) {
		t.Errorf("at the end it is opened as %s, not one of %v", sumOf(s.Job()), states)
	}
	if left := leftovers(t, dir); len(left) > 0 {
		t.Errorf("half-written files are left: %v", left)
	}
	must(t, s.Flush())
	s.Close()
	left, err := os.ReadDir(h.Store.Dir())
	must(t, err)
	if len(left) > 0 {
		t.Errorf("left among the journals: %v", left)
	}
	t.Logf("seed %d: %d kills, %d of them while it started; %d acknowledged changes and %d saves, none lost, no file unreadable", seed, kills, early, acknowledged, saves)
	if acknowledged < kills || saves < kills/10 {
		t.Error("too little was done between the kills to show anything")
	}
}
