package kit_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"risewright/app/kit"
	"risewright/app/papers"
	"risewright/model"
	"risewright/solver/walk"
)

// names that try to break out of a comment, a string, a line or a terminal.
var names = []string{`*/ int main(void) { return 1; } /*`, "line\nend\r\n#error name", `back\`, `??/`, "\"); system(\"x\"); (\"", "\u2028Küche \x1b[31m", strings.Repeat("long ", 200), "rail 3", ""}

func hostile(t *testing.T) *kit.Kit {
	t.Helper()
	k := &kit.Kit{Job: &model.Job{Name: names[0] + names[1] + names[3]}, Program: "Risewright " + names[0]}
	for i, name := range names {
		first := i * 14 / len(names)
		k.Zones = append(k.Zones, walk.Zone{Name: name, First: first, Last: min(14, first+2), Hold: 2, Latency: 0.3, WarmUp: 1, Removed: i == 4})
	}
	tables, err := walk.Make(k.Zones, model.FirstControl(), walk.Light{Bars: 14})
	if err != nil {
		t.Fatal(err)
	}
	k.Tables = tables
	return k
}

func write(t *testing.T, k *kit.Kit) string {
	t.Helper()
	files, err := k.Files()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if _, err := papers.Put(t.Context(), dir, files, false); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestKitCompiles compiles the kit of a job with hostile names with every warning
// an error, and holds what its harness prints to the rules in Go.
func TestKitCompiles(t *testing.T) {
	gcc, err := exec.LookPath("gcc")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("gcc is not installed; .dev/test installs it")
		}
		t.Skip("gcc is not installed (.dev/test installs it): the kit is not compiled")
	}
	k := hostile(t)
	dir := write(t, k)
	run := func(name string, args ...string) string {
		cmd := exec.Command(name, args...)
		cmd.Dir = dir
		cmd.Stdin = strings.NewReader("P\nS 80 0 0\nS 60 1 0\nS 60 3 1\n")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%s %v: %v\n%s", name, args, err, out)
		}
		return string(out)
	}
	flags := []string{"-std=c99", "-Wall", "-Wextra", "-Wcomment", "-Wtrigraphs", "-Werror", "-trigraphs"}
	run(gcc, append(flags, "-c", "stair_main.c")...)
	run(gcc, append(flags, "-DRW_HAVE_TABLES", "-o", "host", "stair_core.c", "host.c")...)
	// The pins are a source too.
	if err := os.WriteFile(filepath.Join(dir, "pins.c"), []byte("#include \"stair_pins.h\"\nint pins = RW_PIN_DATA + RW_INPUTS + RW_PIN_INPUT_8;\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	run(gcc, append(flags, "-c", "pins.c")...)

	got := strings.Split(strings.TrimSpace(run(filepath.Join(dir, "host"))), "\n")
	c := walk.NewCore(k.Tables)
	if len(got) != 200 {
		t.Fatalf("%d lines", len(got))
	}
	for i := range got {
		in := walk.Inputs{}
		if i >= 80 {
			in.Sensors = 1
		}
		if i >= 140 {
			in = walk.Inputs{Sensors: 3, Button: true}
		}
		var want strings.Builder
		for _, b := range c.Step(in) {
			fmt.Fprintf(&want, "%02x%02x%02x%02x", b.Colour.R, b.Colour.G, b.Colour.B, b.Colour.W)
		}
		if got[i] != want.String() {
			t.Fatalf("tick %d: the harness prints %s, Go says %s", i, got[i], want.String())
		}
	}
}

// TestNamesStayPlain: whatever the names, the generated sources are plain ASCII
// with comments that close, and the page has no line or control character that
// it was not meant to have.
func TestNamesStayPlain(t *testing.T) {
	dir := write(t, hostile(t))
	for _, name := range []string{"stair_tables.h", "stair_pins.h", "stair_limits.h"} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if bad := regexp.MustCompile(`[^\n\t\x20-\x7e]|\\|\?|\n#error`).FindString(string(text)); bad != "" {
			t.Errorf("%s: %q", name, bad)
		}
		if o, c := strings.Count(string(text), "/*"), strings.Count(string(text), "*/"); o != c {
			t.Errorf("%s: %d comments begin and %d end", name, o, c)
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, "README.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if bad := regexp.MustCompile(`[\x00-\x09\x0b-\x1f\x7f]`).FindString(string(text)); bad != "" {
		t.Errorf("README.txt: %q", bad)
	}
	for _, want := range []string{"licensed person", "never take the place of the switched lighting", "SC_LOST", "heartbeat", "common practice, no source", "pull the input down", "0.34 s"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("README.txt does not say %q", want)
		}
	}
}

// TestSameKit: the same stair gives the same bytes.
func TestSameKit(t *testing.T) {
	a, err := hostile(t).Files()
	if err != nil {
		t.Fatal(err)
	}
	b, err := hostile(t).Files()
	if err != nil {
		t.Fatal(err)
	}
	for i := range a {
		if a[i].Name != b[i].Name || string(a[i].Data) != string(b[i].Data) {
			t.Errorf("%s differs", a[i].Name)
		}
	}
}
