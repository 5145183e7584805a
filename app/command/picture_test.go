package command_test

import (
	"bytes"
	"context"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPicture(t *testing.T) {
	dir := t.TempDir()
	args := func(name string, more ...string) []string {
		return append([]string{"picture", "demo:unfinished", filepath.Join(dir, name), "--size", "64x40"}, more...)
	}
	one := run("", clocked(), args("a.png", "--both", "--time", "day")...)
	if one.code != 0 || !strings.HasSuffix(strings.TrimSpace(one.out), "a.png") {
		t.Fatalf("%+v", one)
	}
	data, err := os.ReadFile(filepath.Join(dir, "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil || img.Bounds().Dx() != 64 || img.Bounds().Dy() != 40 {
		t.Errorf("%v, %v", img.Bounds(), err)
	}
	for _, want := range []string{"Title\x00", "before at the left", "Survey\x00revision "} {
		if !bytes.Contains(data, []byte(want)) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	// The job has no light bars, so there is nothing to say of them.
	if one.err != "" {
		t.Errorf("said of no bars: %s", one.err)
	}
	// What is there stays, and a bad wish is refused before any work.
	for _, bad := range [][]string{args("a.png"), args("b.jpg"), args("b.png", "--before", "--both"), args("b.png", "--walker", "-2"), args("b.png", "--view", "moon"), args("b.png", "--size", "8x8"), {"picture", "demo:unfinished"}} {
		if got := run("", clocked(), bad...); got.code != 2 || got.err == "" {
			t.Errorf("%v: %+v", bad, got)
		}
	}
	// Stopped, it writes nothing.
	env := clocked()
	env.Interrupt = func(ctx context.Context) (context.Context, context.CancelFunc) {
		ctx, cancel := context.WithCancel(ctx)
		cancel()
		return ctx, cancel
	}
	if got := run("", env, args("c.png")...); got.code != 2 || !strings.Contains(got.err, "nothing was written") {
		t.Errorf("%+v", got)
	}
	if got := in(t, dir); len(got) != 1 {
		t.Errorf("%v lie there", got)
	}
}
