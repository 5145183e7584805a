package command_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"risewright/app/command"
)

// clocked is a machine whose clock goes on by a second each time it is asked.
func clocked() command.Env {
	now := time.Unix(0, 0)
	return command.Env{Clock: func() time.Time {
		now = now.Add(time.Second)
		return now
	}}
}

func in(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestStill(t *testing.T) {
	dir := t.TempDir()
	args := func(name string, more ...string) []string {
		return append([]string{"still", "demo:well-behaved", filepath.Join(dir, name), "--size", "16x16", "--samples", "1"}, more...)
	}
	one := run("", clocked(), args("a.png")...)
	if one.code != 0 || !strings.HasSuffix(strings.TrimSpace(one.out), "a.png") || !strings.Contains(one.err, "100 %") || !strings.Contains(one.err, "as the controller makes them") {
		t.Fatalf("%+v", one)
	}
	data, err := os.ReadFile(filepath.Join(dir, "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil || img.Bounds().Dx() != 16 || img.Bounds().Dy() != 16 {
		t.Errorf("%v, %v", img.Bounds(), err)
	}
	// The demo job's name and the date of its newest reading are inside.
	for _, want := range []string{"Title\x00", "evening", "Survey\x00revision "} {
		if !bytes.Contains(data, []byte(want)) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	// The same again, and by its own kind of job and seed another.
	if again := run("", clocked(), args("b.png")...); again.code != 0 {
		t.Fatalf("%+v", again)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "b.png")); !bytes.Equal(b, data) {
		t.Error("the same job gives other bytes")
	}
	if again := run("", clocked(), args("b.png", "--seed", "2", "--replace")...); again.code != 0 {
		t.Fatalf("%+v", again)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "b.png")); bytes.Equal(b, data) {
		t.Error("another seed gives the same bytes")
	}
	// What is there already stays.
	if again := run("", clocked(), args("a.png", "--time", "day")...); again.code != 2 || !strings.Contains(again.err, "--replace") {
		t.Errorf("%+v", again)
	}
	if got := fmt.Sprint(in(t, dir)); got != "[a.png b.png]" {
		t.Errorf("the folder holds %v", got)
	}
}

func TestStillRefuses(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "a.png")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"demo:well-behaved"}, "needs a file"},
		{[]string{"demo:well-behaved", filepath.Join(dir, "a.jpg")}, ".png"},
		{[]string{"demo:well-behaved", out, "--size", "1920"}, "1920x1200"},
		{[]string{"demo:well-behaved", out, "--size", "9000x9"}, "8192"},
		{[]string{"demo:well-behaved", out, "--time", "noon"}, "evening"},
		{[]string{"demo:well-behaved", out, "--view", "roof"}, "landing"},
		{[]string{"demo:well-behaved", out, "--samples", "-3"}, "--samples"},
		{[]string{"demo:well-behaved", out, "--seconds", "NaN"}, "--seconds"},
		{[]string{"demo:well-behaved", out, "--walker", "-1"}, "--walker"},
		{[]string{"demo:well-behaved", out, "more"}, "one too many"},
		{[]string{"demo:nowhere", out}, "demo:"},
	} {
		got := run("", clocked(), append([]string{"still"}, c.args...)...)
		if got.code != 2 || !strings.Contains(got.err, c.want) || !strings.Contains(got.err, "what to do") {
			t.Errorf("%v: %+v", c.args, got)
		}
	}
	if got := in(t, dir); len(got) > 0 {
		t.Errorf("%v was written", got)
	}
}

// TestStillBoth: before at the left of a white line, after at the right.
func TestStillBoth(t *testing.T) {
	dir := t.TempDir()
	shot := func(name string, more ...string) image.Image {
		t.Helper()
		out := filepath.Join(dir, name)
		got := run("", clocked(), append([]string{"still", "demo:unfinished", out, "--size", "40x30", "--samples", "1", "--time", "evening"}, more...)...)
		if got.code != 0 {
			t.Fatalf("%+v", got)
		}
		data, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if want := "before at the left, after at the right"; (len(more) > 0) != bytes.Contains(data, []byte(want)) {
			t.Errorf("%s says the wrong thing about its sides", name)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	// In the evening: by day, with the low sun, one sample is too rough to tell the
	// sides apart (0.93 and 0.97).
	both, after := shot("both.png", "--both"), shot("after.png")
	// The same samples go through another exposure, so the right sides rise and
	// fall together: their correlation is near 1.
	like := func(x0, x1 int) float64 {
		var n, a, b, aa, bb, ab float64
		for y := range 30 {
			for x := x0; x < x1; x++ {
				p, _, _, _ := both.At(x, y).RGBA()
				q, _, _, _ := after.At(x, y).RGBA()
				u, v := float64(p)/0xffff, float64(q)/0xffff
				n, a, b, aa, bb, ab = n+1, a+u, b+v, aa+u*u, bb+v*v, ab+u*v
			}
		}
		return (n*ab - a*b) / math.Sqrt((n*aa-a*a)*(n*bb-b*b))
	}
	if left, right := like(0, 17), like(23, 40); right < 0.98 || left > 0.96 {
		t.Errorf("the left side is like the stair after by %.3f, the right one by %.3f", left, right)
	}
	for y := range 30 {
		if r, g, b, _ := both.At(20, y).RGBA(); r+g+b != 3*0xffff {
			t.Fatalf("no line at row %d", y)
		}
	}
	if got := run("", clocked(), "still", "demo:unfinished", filepath.Join(dir, "c.png"), "--before", "--both"); got.code != 2 || !strings.Contains(got.err, "cannot go together") {
		t.Errorf("%+v", got)
	}
}

// Ctrl-C at any moment leaves nothing, or what was there: here after so many
// looks at the clock, which is after every sixteenth.
func TestStillStopped(t *testing.T) {
	moments := map[bool][]int{false: {4}, true: {0}}
	if os.Getenv("RISEWRIGHT_FULL") != "" {
		moments = map[bool][]int{false: {0, 1, 2, 5, 9, 15}, true: {0, 1, 2, 5, 9, 15}}
	}
	for _, there := range []bool{false, true} {
		for _, after := range moments[there] {
			dir := t.TempDir()
			out := filepath.Join(dir, "a.png")
			if there {
				if err := os.WriteFile(out, []byte("before"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			env := clocked()
			tick := env.Clock
			var stop context.CancelFunc
			n := 0
			env.Clock = func() time.Time {
				if n++; n > after {
					stop()
				}
				return tick()
			}
			env.Interrupt = func(ctx context.Context) (context.Context, context.CancelFunc) {
				ctx, stop = context.WithCancel(ctx)
				return ctx, stop
			}
			got := run("", env, "still", "demo:well-behaved", out, "--size", "16x16", "--samples", "1", "--replace")
			if got.code != 2 || !strings.Contains(got.err, "nothing was written") {
				t.Errorf("after %d: %+v", after, got)
			}
			data, err := os.ReadFile(out)
			if there && string(data) != "before" || !there && err == nil {
				t.Errorf("after %d: the file holds %d bytes", after, len(data))
			}
			want := 0
			if there {
				want = 1
			}
			if got := in(t, dir); len(got) != want {
				t.Errorf("after %d: the folder holds %v", after, got)
			}
		}
	}
}
