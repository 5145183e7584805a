package command_test

import (
	"encoding/json"
	"strings"
	"testing"

	"risewright/app/command"
)

// TestWork holds the exit code to that of solve for the same jobs (see
// TestExitCodes), and that of a job whose wishes cannot be met to 1, with the
// trapped piece named.
func TestWork(t *testing.T) {
	for args, code := range map[string]int{"demo:well-behaved": command.Done, "demo:tapering --units metric": command.Blocked} {
		got := plain(append([]string{"work"}, strings.Fields(args)...)...)
		if got.code != code || got.err != "" {
			t.Errorf("%s: code %d, want %d: %s", args, got.code, code, got.err)
		}
		for _, want := range []string{"\nORDER OF WORK", "\nEVENING 1 ", "\nBUYING LIST", "no plan costs less than", "\nHOURS AND MONEY", "\nDAYS", "\nCAUTION", " mm"} {
			if !strings.Contains(got.out, want) {
				t.Errorf("%s: there is no %q", args, want)
			}
		}
		if strings.Contains(got.out, "1/16\"") {
			t.Errorf("%s is not in metric", args)
		}
	}
	var j map[string]any
	if err := json.Unmarshal([]byte(demoText(t, "well-behaved")), &j); err != nil {
		t.Fatal(err)
	}
	j["wishes"] = map[string]any{"right": map[string]any{"keep": true, "no_false": true, "wiring": true}}
	j["shop"] = map[string]any{"start": "2026-11-30"}
	text, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	path := file(t, "refused.risewright.json", string(text))
	got := plain("work", path)
	if got.code != command.Blocked || !strings.Contains(got.out, "NO ORDER OF WORK") || !strings.Contains(got.out, "is trapped") {
		t.Errorf("refused: code %d: %s", got.code, got.err)
	}
	if !strings.Contains(strings.Join(strings.Fields(got.out), " "), "The days follow from the order of fitting, and there is none yet.") {
		t.Error("days without an order")
	}
	delete(j, "wishes")
	text, err = json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	dated := plain("work", file(t, "dated.risewright.json", string(text)))
	if !strings.Contains(dated.out, "Mon 30 Nov 2026") || !strings.Contains(dated.out, "off the stair that night") || !strings.Contains(dated.out, "hours, likely ") {
		t.Error("a first day gives no days")
	}
	if got := plain("solve", path); got.code != command.Done {
		t.Errorf("the same job solved: %d", got.code)
	}
	if got := plain("work"); got.code != command.Bad || !strings.Contains(got.err, "work needs a job") {
		t.Errorf("no job: %d %s", got.code, got.err)
	}
}
