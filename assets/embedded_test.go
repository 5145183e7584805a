package assets

import (
	"strings"
	"testing"
)

func TestDecodeIsStrict(t *testing.T) {
	rows := []struct{ name, text, want string }{
		{"misspelt field", `{"id":"x","titel":"X"}`, "titel"},
		{"cut short", `{"id":"x"`, "EOF"},
		{"second value", `{"id":"x"} {}`, "text after"},
		{"wrong type", `{"id":7}`, "id"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			var table RuleTable
			err := decode("rules/x.json", []byte(r.text), &table)
			if err == nil || !strings.Contains(err.Error(), r.want) || !strings.Contains(err.Error(), "rules/x.json") {
				t.Errorf("error %v does not name the file and %q", err, r.want)
			}
		})
	}
	if err := read("rules/none.json", new(RuleTable)); err == nil {
		t.Error("a missing table was read")
	}
}
