package command_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/app/command"
)

// TestCtrlCLeavesTheFolderAsItWas stops each command that writes several files:
// at once, and sheets at several moments of its work. What it says is true of
// the folder.
func TestCtrlCLeavesTheFolderAsItWas(t *testing.T) {
	for _, c := range []struct {
		args  []string
		after []time.Duration
	}{
		{[]string{"sheets", "demo:well-behaved", "--no-pictures", "--replace"}, []time.Duration{0, 20 * time.Millisecond, 150 * time.Millisecond, 500 * time.Millisecond, time.Second}},
		{[]string{"template", "demo:winding", "needed", "--replace"}, []time.Duration{0}},
		{[]string{"controller", "demo:well-behaved", "--replace"}, []time.Duration{0}},
		{[]string{"demo", "--replace"}, []time.Duration{0}},
	} {
		for _, after := range c.after {
			dir := filepath.Join(t.TempDir(), "out")
			if err := os.Mkdir(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			old := filepath.Join(dir, "proposal.pdf")
			if err := os.WriteFile(old, []byte("an earlier one"), 0o644); err != nil {
				t.Fatal(err)
			}
			env := command.Env{}
			env.Interrupt = func(ctx context.Context) (context.Context, context.CancelFunc) {
				ctx, stop := context.WithCancel(ctx)
				if after == 0 {
					stop()
				}
				time.AfterFunc(after, stop)
				return ctx, stop
			}
			got := run("", env, append(c.args, "--to", dir)...)
			names := in(t, dir)
			stopped := got.code == 2
			if stopped != strings.Contains(got.err, "nothing was written") {
				t.Errorf("%v after %v: %+v", c.args, after, got)
			}
			if after == 0 && !stopped {
				t.Errorf("%v was not stopped", c.args)
			}
			if stopped && (len(names) != 1 || names[0] != "proposal.pdf") {
				t.Errorf("%v after %v: the folder holds %v", c.args, after, names)
			}
			data, err := os.ReadFile(old)
			if err != nil || stopped && string(data) != "an earlier one" {
				t.Errorf("%v after %v: the earlier paper holds %d bytes: %v", c.args, after, len(data), err)
			}
			for _, n := range names {
				if strings.HasPrefix(n, ".") {
					t.Errorf("%v after %v: %s is left", c.args, after, n)
				}
			}
		}
	}
}
