package command_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"risewright/app/command"
	"risewright/assets"
	"risewright/model"
)

var update = flag.Bool("update", false, "write the golden texts again")

// ran is what a run of the program did.
type ran struct {
	code     int
	out, err string
}

// run runs the program as on a Linux machine without a display, or as env says.
func run(stdin string, env command.Env, args ...string) ran {
	var out, err bytes.Buffer
	if env.System == "" {
		env.System = "linux"
	}
	if env.Getenv == nil {
		env.Getenv = func(string) string { return "" }
	}
	if env.Clock == nil {
		env.Clock = func() time.Time { panic("no command may ask for the time") }
	}
	code := command.Run(args, strings.NewReader(stdin), &out, &err, env)
	return ran{code, out.String(), err.String()}
}

func plain(args ...string) ran { return run("", command.Env{}, args...) }

// demoText is a demo job's file.
func demoText(t testing.TB, name string) string {
	t.Helper()
	data, err := assets.DemoJob(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// file writes a file into a fresh folder and returns its path.
func file(t testing.TB, name, text string) string {
	t.Helper()
	p := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return p
}

func TestExitCodes(t *testing.T) {
	good, blocked := file(t, "good.risewright.json", demoText(t, "well-behaved")), file(t, "blocked.json", demoText(t, "tapering"))
	for _, c := range []struct {
		args  string
		stdin string
		code  int
		says  string // on standard output when done, else on standard error
	}{
		{"solve GOOD", "", 0, "Quarry Lane"},
		{"solve --json GOOD", "", 0, `"risewright_answer": 1`},
		{"solve GOOD --json", "", 0, `"risewright_answer": 1`},
		{"solve -- GOOD", "", 0, "Quarry Lane"},
		{"solve BLOCKED", "", 1, "RETAKE gauge, back left"},
		{"solve --json BLOCKED", "", 1, `"blocked": true`},
		{"solve demo:well-behaved", "", 0, "Quarry Lane"},
		{"solve demo:tapering", "", 1, "Mill Cottage"},
		{"solve demo:unfinished", "", 0, "Harbour Street"},
		{"solve demo:well-behaved --units imperial", "", 0, "Inches; gauges"},
		{"solve demo:tapering --units=METRIC", "", 1, "mm; gauges"},
		{"solve -", demoText(t, "well-behaved"), 0, "Quarry Lane"},
		{"solve -", demoText(t, "tapering"), 1, "Mill Cottage"},
		{"solve -", "", 2, "standard input"},
		{"solve -", "{", 2, "line 1, column 2"},
		{"solve", "", 2, "needs a job"},
		{"solve GOOD GOOD", "", 2, "one too many"},
		{"solve demo:taperng", "", 2, "did you mean demo:tapering"},
		{"solve demo:", "", 2, "demo:unfinished"},
		{"solve GOOD --jsn", "", 2, "did you mean --json"},
		{"solve GOOD --units cubits", "", 2, "metric or imperial"},
		{"solve GOOD --units", "", 2, "needs a value"},
		{"solve nowhere.json", "", 2, "check the name"},
		{"nowhere.json", "", 2, "check the name"},
		{"GOOD", "", 0, "Quarry Lane"}, // no display: in words
		{"BLOCKED", "", 1, "Mill Cottage"},
		{"GOOD BLOCKED", "", 2, "comes after the job"},
		{"demo:tapering", "", 1, "Mill Cottage"},
		{"sovle GOOD", "", 2, `did you mean "solve"`},
		{"frobnicate", "", 2, `see "risewright help"`},
		{"--frobnicate", "", 2, "a command comes first"},
		{"version", "", 0, "Risewright 0.1.0"},
		{"--version", "", 0, "Risewright 0.1.0"},
		{"version now", "", 2, "takes no arguments"},
		{"schema job", "", 0, `"risewright_job"`},
		{"schema answer", "", 0, `"risewright_answer"`},
		{"schema", "", 2, "takes one name"},
		{"schema answr", "", 2, `did you mean "answer"`},
		{"help", "", 0, "Exit codes"},
		{"-h", "", 0, "Exit codes"},
		{"help solve", "", 0, "--json"},
		{"solve --help", "", 0, "--json"},
		{"solve -h", "", 0, "--json"},
		{"help slove", "", 2, `did you mean "solve"`},
		{"help solve sheets", "", 2, "one command"},
		{"demo here", "", 2, "--to DIR"},
		{"demo --steps 1001", "", 2, "from 2 to 1000"},
		{"demo --steps many", "", 2, "from 2 to 1000"},
		{"sheets GOOD", "", 2, "--to DIR"},
		{"sheets --to x", "", 2, "needs a job"},
		{"sheets GOOD --to x --paper a3", "", 2, "a4 or letter"},
	} {
		var args []string
		for _, a := range strings.Fields(c.args) {
			args = append(args, strings.NewReplacer("GOOD", good, "BLOCKED", blocked).Replace(a))
		}
		got := run(c.stdin, command.Env{}, args...)
		where := got.out
		if c.code == command.Bad {
			where = got.err
			if got.out != "" {
				t.Errorf("%s: bad input, yet it printed %.80q", c.args, got.out)
			}
			if !strings.HasPrefix(got.err, "risewright: ") || !strings.Contains(got.err, "\n  what to do: ") {
				t.Errorf("%s: the message lacks a part:\n%s", c.args, got.err)
			}
		}
		if got.code != c.code || !strings.Contains(where, c.says) {
			t.Errorf("%s: code %d, want %d; looked for %q in\n%.400s\nstandard error:\n%s", c.args, got.code, c.code, c.says, where, got.err)
		}
	}
}

// TestBadFiles gives each class of bad file: the message says which file, where
// in it, and what to do.
func TestBadFiles(t *testing.T) {
	good := demoText(t, "well-behaved")
	change := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("the good file has no %q", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	folder := t.TempDir()
	for _, c := range []struct {
		name, text string
		says       []string
	}{
		{"empty", "", []string{"line 1, column 1", "empty"}},
		{"a PDF", "%PDF-1.4\n", []string{"a PDF, not a job"}},
		{"a picture", "\x89PNG\r\n", []string{"PNG"}},
		{"not JSON", "tread 36 5/16", []string{"line 1, column"}},
		{"cut off", good[:len(good)/2], []string{"line ", "column "}},
		{"not text", "{\"a\": \"\xff\"}", []string{"UTF-8"}},
		{"other JSON", `{"name": "x"}`, []string{"risewright_job"}},
		{"newer", change(`"risewright_job": 2`, `"risewright_job": 99`), []string{"99"}},
		{"unknown field", change(`"name":`, `"nmae": "x", "name":`), []string{"nmae"}},
		{"wrong type", change(`"tolerance": 0.8`, `"tolerance": "0.8"`), []string{"/tolerance"}},
		{"bad value", change(`"tolerance": 0.8`, `"tolerance": -1`), []string{"/tolerance"}},
		{"field twice", change(`"units":`, `"units": "metric", "units":`), []string{"units"}},
		{"too large", strings.Repeat(" ", model.MaxFileBytes+1), []string{"at most"}},
	} {
		path := filepath.Join(folder, strings.ReplaceAll(c.name, " ", "-")+".json")
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"solve", path}, {"sheets", path, "--to", filepath.Join(folder, "out")}, {path}} {
			got := plain(args...)
			if got.code != command.Bad || got.out != "" {
				t.Errorf("%s: %v: code %d, printed %.80q", c.name, args[0], got.code, got.out)
			}
			for _, s := range append(c.says, filepath.Base(path), "\n  what to do: ") {
				if !strings.Contains(got.err, s) {
					t.Errorf("%s: %v does not say %q:\n%s", c.name, args[0], s, got.err)
				}
			}
			if strings.Count(got.err, "\n") > 4 {
				t.Errorf("%s: a long message:\n%s", c.name, got.err)
			}
		}
	}
	if _, err := os.Lstat(filepath.Join(folder, "out")); err == nil {
		t.Error("a bad job left a folder behind")
	}
	if got := plain("solve", folder); got.code != command.Bad || !strings.Contains(got.err, "is a folder") {
		t.Errorf("a folder for a job: %d %s", got.code, got.err)
	}
}

func TestSheets(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	got := plain("sheets", "demo:well-behaved", "--to", dir, "--no-pictures")
	if got.code != command.Done {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	for _, n := range []string{"survey-sheet.pdf", "cut-cards.pdf", "build-up.pdf", "order-of-work.pdf", "skirt-boards.pdf",
		"buying-list.pdf", "blank-map.pdf", "rip-list.pdf", "wood-movement.pdf", "hours-money-days.pdf"} {
		if !strings.Contains(got.out, filepath.Join(dir, n)+"\n") {
			t.Errorf("%s is not named:\n%s", n, got.out)
		}
		if data, err := os.ReadFile(filepath.Join(dir, n)); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("%s: %v", n, err)
		}
	}
	got = plain("sheets", "demo:tapering", "--to", dir, "--no-pictures")
	if got.code != command.Bad || !strings.Contains(got.err, "--replace") || !strings.Contains(got.err, "cut-cards.pdf") || !strings.Contains(got.err, "nothing was written") {
		t.Errorf("other sheets in the way: code %d: %s", got.code, got.err)
	}
	if got := plain("sheets", "demo:tapering", "--to", dir, "--replace", "--paper", "A4", "--no-pictures"); got.code != command.Blocked || !strings.Contains(got.out, "stop work") {
		t.Errorf("replaced: code %d: %s%s", got.code, got.out, got.err)
	}
	// An imperial job would be on Letter; A4 is 210 by 297 mm, 595.28 by 841.89 points.
	if data, _ := os.ReadFile(filepath.Join(dir, "cut-cards.pdf")); !bytes.Contains(data, []byte("595.28 841.89]")) || bytes.Contains(data, []byte("612.00 792.00]")) {
		t.Error("the cards are not on A4")
	}
	blocked := file(t, "plain", "")
	if got := plain("sheets", "demo:well-behaved", "--to", filepath.Join(blocked, "x"), "--no-pictures"); got.code != command.Bad || !strings.Contains(got.err, blocked) {
		t.Errorf("a folder that cannot be made: %d %s", got.code, got.err)
	}
}

// TestUnwritableFolder needs a user whom permissions bind; root is not.
func TestUnwritableFolder(t *testing.T) {
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o700)
	if f, err := os.Create(filepath.Join(dir, "x")); err == nil {
		f.Close()
		os.Remove(filepath.Join(dir, "x"))
		t.Skip("this user may write anywhere")
	}
	for _, args := range [][]string{{"demo", "--to", dir}, {"demo", "--to", filepath.Join(dir, "sub")}, {"sheets", "demo:well-behaved", "--to", dir, "--no-pictures"}} {
		if got := plain(args...); got.code != command.Bad || !strings.Contains(got.err, dir) || !strings.Contains(got.err, "permission denied") {
			t.Errorf("%v: %d %s", args, got.code, got.err)
		}
	}
}

func TestDemo(t *testing.T) {
	dir := t.TempDir()
	got := plain("demo", "--to", dir)
	if got.code != command.Done {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	for _, n := range []string{"well-behaved", "tapering", "unfinished", "winding"} {
		path := filepath.Join(dir, n+".risewright.json")
		if data, _ := os.ReadFile(path); string(data) != demoText(t, n) {
			t.Errorf("%s is not the demo job", path)
		}
	}
	path := filepath.Join(dir, "unfinished.risewright.json")
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := plain("demo", "--to", dir); got.code != command.Bad || !strings.Contains(got.err, "unfinished.risewright.json") || strings.Contains(got.err, "well-behaved") {
		t.Errorf("in the way: %d %s", got.code, got.err)
	}
	if data, _ := os.ReadFile(path); string(data) != "mine" {
		t.Error("a file in the way was changed")
	}
	if got := plain("demo", "--to", dir, "--replace"); got.code != command.Done {
		t.Errorf("replaced: %d %s", got.code, got.err)
	}
	long := filepath.Join(dir, "long-30.risewright.json")
	if got := plain("demo", "--steps", "30", "--to", dir); got.code != command.Done || !strings.Contains(got.out, "Now try: risewright solve "+long) {
		t.Errorf("a long flight: %d %s%s", got.code, got.out, got.err)
	}
	if got := plain("solve", long); got.code == command.Bad || !strings.Contains(got.out, "Hillside, 30 steps") {
		t.Errorf("the long flight is not solved: %d %s", got.code, got.err)
	}
	t.Chdir(t.TempDir())
	if got := plain("demo"); got.code != command.Done {
		t.Errorf("into the folder one is in: %d %s", got.code, got.err)
	}
	if _, err := os.Lstat("tapering.risewright.json"); err != nil {
		t.Error(err)
	}
}

// TestWithoutDisplay runs the program without arguments where there is no
// display: it prints the demo's answer, writes its sheets, and can do so again,
// over what an older version left.
func TestWithoutDisplay(t *testing.T) {
	t.Chdir(t.TempDir())
	sheet := filepath.Join("risewright-demo", "cut-cards.pdf")
	if err := os.Mkdir("risewright-demo", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(sheet, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	first := plain()
	if first.code != command.Done || first.err != "" {
		t.Fatalf("code %d: %s", first.code, first.err)
	}
	for _, s := range []string{"Mill Cottage", "RETAKE", "There is no display", sheet} {
		if !strings.Contains(first.out, s) {
			t.Errorf("it does not say %q", s)
		}
	}
	if data, err := os.ReadFile(sheet); err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("the sheet was not written: %v", err)
	}
	for _, line := range strings.Split(first.out, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Errorf("too wide: %s", line)
		}
	}
	if again := plain(); again != first {
		t.Errorf("the second run differs: code %d, %s", again.code, again.err)
	}
}

func TestWindow(t *testing.T) {
	type call struct{ path, version string }
	var calls []call
	fail := error(nil)
	env := command.Env{
		Clock: time.Now,
		Window: func(_ model.Tables, path string, clock func() time.Time, version string) error {
			if clock == nil {
				t.Error("the window got no clock")
			}
			calls = append(calls, call{path, version})
			return fail
		},
		Getenv: func(name string) string { return map[string]string{"WAYLAND_DISPLAY": "wayland-0"}[name] },
	}
	good := file(t, "good.json", demoText(t, "well-behaved"))
	if got := run("", env); got.code != command.Done || len(calls) != 1 || calls[0] != (call{"", "0.1.0"}) {
		t.Errorf("without arguments: %+v, calls %v", got, calls)
	}
	if got := run("", env, good); got.code != command.Done || len(calls) != 2 || calls[1].path != good {
		t.Errorf("on a job: %+v, calls %v", got, calls)
	}
	if got := run("", env, "demo:well-behaved"); got.code != command.Done || len(calls) != 3 || calls[2].path != "demo:well-behaved" {
		t.Errorf("on a demo job: %+v, calls %v", got, calls)
	}
	calls = calls[:2]
	bad := file(t, "bad.json", "{")
	if got := run("", env, bad); got.code != command.Bad || len(calls) != 2 || !strings.Contains(got.err, "bad.json") {
		t.Errorf("on a bad file: %+v, calls %v", got, calls)
	}
	fail = errors.New("no OpenGL")
	if got := run("", env); got.code != command.Bad || !strings.Contains(got.err, "no OpenGL") {
		t.Errorf("a window that fails: %+v", got)
	}
	// Windows and macOS keep no display in the environment.
	env.Getenv, env.System, fail, calls = nil, "darwin", nil, nil
	if got := run("", env); got.code != command.Done || len(calls) != 1 {
		t.Errorf("on macOS: %+v, calls %v", got, calls)
	}
}

// TestOutputLost gives the commands an output that takes nothing.
func TestOutputLost(t *testing.T) {
	for _, args := range [][]string{{"solve", "demo:well-behaved"}, {"solve", "demo:well-behaved", "--json"}, {"help"}, {"version"}, {"schema", "job"}} {
		var e bytes.Buffer
		r, w := io.Pipe()
		r.Close()
		code := command.Run(args, strings.NewReader(""), w, &e, command.Env{System: "linux", Getenv: func(string) string { return "" }})
		if code != command.Bad || e.Len() == 0 {
			t.Errorf("%v: code %d, %q", args, code, e.String())
		}
	}
}

func TestHelp(t *testing.T) {
	all := plain("help").out
	for _, name := range []string{"solve", "work", "sheets", "demo", "schema", "version", "help"} {
		if !strings.Contains(all, "\n  risewright "+name) {
			t.Errorf("help does not name %s", name)
		}
		if got := plain("help", name); got.code != command.Done || !strings.HasPrefix(got.out, "risewright "+name+": ") {
			t.Errorf("help %s: %+v", name, got)
		}
	}
	for _, name := range []string{"", "solve", "work", "sheets", "demo", "schema"} {
		args := []string{"help"}
		if name != "" {
			args = append(args, name)
		}
		for _, line := range strings.Split(plain(args...).out, "\n") {
			if utf8.RuneCountInString(line) > 100 {
				t.Errorf("help %s is too wide: %s", name, line)
			}
		}
	}
}

func TestSchemasAreJSON(t *testing.T) {
	for _, name := range []string{"job", "answer"} {
		if !json.Valid([]byte(plain("schema", name).out)) {
			t.Errorf("the schema of the %s is not JSON", name)
		}
	}
}

// TestGoldens holds the texts of the demo jobs that have most in them: one with
// faults in its readings, and one that turns. Look at the
// difference, then write them again with
//
//	go test ./app/command -run Golden -update
func TestGoldens(t *testing.T) {
	for _, name := range []string{"tapering", "winding"} {
		for _, verb := range []string{"solve", "work"} {
			golden(t, "testdata/"+verb+"-"+name+".txt", plain(verb, "demo:"+name).out)
		}
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	const told = 5
	n := 0
	for i := 0; i < min(len(g), len(w)) && n < told; i++ {
		if g[i] != w[i] {
			t.Errorf("line %d:\n got %s\nwant %s", i+1, g[i], w[i])
			n++
		}
	}
	t.Errorf("%d lines, want %d", len(g), len(w))
}
