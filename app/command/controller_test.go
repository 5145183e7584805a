package command_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"risewright/app/command"
	"risewright/app/tables"
	"risewright/assets"
	"risewright/model"
)

// sensored writes a demo job with the sensors that a job is first given.
func sensored(t *testing.T) string {
	t.Helper()
	text, err := assets.DemoJob("well-behaved")
	if err != nil {
		t.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	pub, err := tables.Published()
	if err != nil {
		t.Fatal(err)
	}
	if job, err = (model.SetSensing{Sensing: model.FirstSensing(job, pub.Senses)}).Apply(job); err != nil {
		t.Fatal(err)
	}
	out, err := model.Encode(job)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "sensors.risewright.json")
	if err := os.WriteFile(path, out, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestController writes the kit of a job, writes it again, and refuses to replace
// what somebody changed.
func TestController(t *testing.T) {
	job, dir := sensored(t), filepath.Join(t.TempDir(), "kit")
	r := plain("controller", job, "--to", dir)
	if r.code != command.Done || r.err != "" || !strings.Contains(r.out, "Read README.txt first.") {
		t.Fatalf("code %d\n%s%s", r.code, r.out, r.err)
	}
	names := strings.Join(namesIn(t, dir), " ")
	if names != "README.txt host.c stair_core.c stair_core.h stair_hardware.h stair_limits.h stair_main.c stair_pins.h stair_tables.h" {
		t.Errorf("files %s", names)
	}
	t.Log(r.out)
	if r := plain("controller", job, "--to", dir); r.code != command.Done {
		t.Errorf("the same again: %s", r.err)
	}
	pins := filepath.Join(dir, "stair_pins.h")
	if err := os.WriteFile(pins, []byte("my own pins"), 0o644); err != nil {
		t.Fatal(err)
	}
	if r := plain("controller", job, "--to", dir); r.code != command.Bad || !strings.Contains(r.err, "stair_pins.h") {
		t.Errorf("code %d: %s", r.code, r.err)
	}
	if text, _ := os.ReadFile(pins); string(text) != "my own pins" {
		t.Error("a file of somebody's own was replaced")
	}
	if r := plain("controller", job, "--to", dir, "--replace"); r.code != command.Done {
		t.Errorf("--replace: %s", r.err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"demo:winding", "--to", dir}, "no motion sensors"},
		{[]string{job}, "--to DIR"},
	} {
		if r := plain(append([]string{"controller"}, c.args...)...); r.code != command.Bad || !strings.Contains(r.err, c.want) {
			t.Errorf("%v: code %d: %s", c.args, r.code, r.err)
		}
	}
}
