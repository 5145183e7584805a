package main_test

import (
	"os/exec"
	"strings"
	"testing"

	"risewright/assets"
)

// Every module that is linked into the program, or into a test of it, is named
// in the list of licences that ships with it.
func TestEveryModuleIsInTheLicenceList(t *testing.T) {
	listed := map[string]bool{}
	for line := range strings.Lines(assets.ThirdParty()) {
		if cells := strings.Split(line, "|"); len(cells) > 2 {
			listed[strings.TrimSpace(cells[1])] = true
		}
	}
	for _, tags := range []string{"no_emoji", "ci,no_emoji"} {
		cmd := exec.Command("go", "list", "-e", "-deps", "-test", "-tags", tags, "-f", "{{with .Module}}{{.Path}}{{end}}", "./...")
		cmd.Dir = ".."
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v: %v", cmd, err)
		}
		modules := 0
		for path := range strings.FieldsSeq(string(out)) {
			if path == "risewright" {
				continue
			}
			modules++
			if !listed[path] {
				t.Errorf("%s is not in assets/third-party.md: read its licence file and add it", path)
				listed[path] = true // say so once
			}
		}
		if modules == 0 {
			t.Errorf("tags %s: no module listed: the check looked in the wrong place", tags)
		}
	}
	if !strings.Contains(assets.Licence(), "The Risewright authors") {
		t.Error("the licence names no holder")
	}
}
