package command_test

import (
	"path/filepath"
	"strings"
	"testing"

	"risewright/app/command"
)

// TestFlagsRefuse holds what is said of a bad flag to naming it as it is
// typed, and to saying what to do.
func TestFlagsRefuse(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"a value", []string{"solve", "demo:tapering", "--units", "feet"},
			"risewright: solve: --units cannot be “feet”\n  what to do: it can be metric or imperial; see \"risewright help solve\"\n"},
		{"no value", []string{"sheets", "demo:tapering", "--paper="},
			"risewright: sheets: --paper cannot be “”\n  what to do: it can be a4 or letter; see \"risewright help sheets\"\n"},
		{"a value too many", []string{"solve", "demo:tapering", "--json=x"},
			"risewright: solve: --json takes no value\n  what to do: write it alone; see \"risewright help solve\"\n"},
		{"no flag", []string{"solve", "demo:tapering", "--unit", "metric"},
			"risewright: solve has no flag “--unit”\n  what to do: did you mean --units? Or see \"risewright help solve\"\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if r := plain(c.args...); r.code != command.Bad || r.err != c.want {
				t.Errorf("code %d, it says\n%swant\n%s", r.code, r.err, c.want)
			}
		})
	}
}

// TestFileForFolder says what to do where a file stands in the way of a folder.
func TestFileForFolder(t *testing.T) {
	in := file(t, "note.txt", "kept")
	r := plain("sheets", "demo:tapering", "--no-pictures", "--to", filepath.Join(in, "papers"))
	if r.code != command.Bad || !strings.Contains(r.err, "a file stands where a folder has to be") {
		t.Errorf("code %d, it says %q", r.code, r.err)
	}
}
