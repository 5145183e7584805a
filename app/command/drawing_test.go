package command_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestDrawing(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		name, begins string
		more         []string
	}{{"plan.svg", "<?xml", nil}, {"section.PNG", "\x89PNG", []string{"--section", "--paper", "letter"}}} {
		out := filepath.Join(dir, c.name)
		got := plain(append([]string{"drawing", "demo:well-behaved", out}, c.more...)...)
		data, err := os.ReadFile(out)
		if got.code != 0 || err != nil || !bytes.HasPrefix(data, []byte(c.begins)) || !strings.Contains(got.out, c.name) {
			t.Errorf("%s: %+v, %v, begins %.8q", c.name, got, err, data)
		}
		if got := plain(append([]string{"drawing", "demo:well-behaved", out}, c.more...)...); got.code != 2 || !strings.Contains(got.err, "already there") {
			t.Errorf("%s a second time: %+v", c.name, got)
		}
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"demo:tapering"}, "a job and a file"},
		{[]string{"demo:tapering", filepath.Join(dir, "a.gif")}, "neither in .svg nor in .png"},
		{[]string{"demo:tapering", filepath.Join(dir, "a.svg"), "b.svg"}, "one too many"},
	} {
		if got := plain(append([]string{"drawing"}, c.args...)...); got.code != 2 || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: %+v", c.args, got)
		}
	}
	if got := in(t, dir); len(got) != 2 {
		t.Errorf("the folder holds %v", got)
	}
}
