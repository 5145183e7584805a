package model

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Limits on what no rule of its own holds. They lie far beyond any real row and
// keep sums finite and lists small.
const (
	absurdNumber = 1e8
	absurdRows   = 10_000
)

// absurd looks through a value for a number, text or list beyond those limits.
// It returns the way to the first, as the file names it, and what is wrong with
// it, or an empty problem.
func absurd(v reflect.Value) (where []string, problem string) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.Abs(f) > absurdNumber {
			return nil, fmt.Sprintf("the number %g is beyond anything real", f)
		}
	case reflect.Int:
		if n := v.Int(); n > absurdNumber || n < -absurdNumber {
			return nil, fmt.Sprintf("the number %d is beyond anything real", n)
		}
	case reflect.String:
		if n := v.Len(); n > MaxText {
			return nil, fmt.Sprintf("a text has %d characters, and at most %d are kept", n, MaxText)
		}
	case reflect.Slice:
		if n := v.Len(); n > absurdRows {
			return nil, fmt.Sprintf("a list has %d rows, and at most %d are kept", n, absurdRows)
		}
		for i := range v.Len() {
			if where, problem := absurd(v.Index(i)); problem != "" {
				return append([]string{strconv.Itoa(i)}, where...), problem
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if where, problem := absurd(v.Field(i)); problem != "" {
				name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
				if name == "" {
					return where, problem // an embedded struct, whose fields are its parent's
				}
				return append([]string{name}, where...), problem
			}
		}
	}
	return nil, ""
}

// validateLimits judges the job's own rows, whose columns are too many for a
// rule each.
func (j Job) validateLimits() []Finding {
	var out []Finding
	for _, rows := range []struct {
		field string
		value any
	}{{"lighting", j.Lighting}, {"sensing", j.Sensing}} {
		if where, problem := absurd(reflect.ValueOf(rows.value)); problem != "" {
			field := strings.Join(append([]string{rows.field}, where...), ".")
			out = append(out, Finding{Rule: "job.limits", Severity: Block, Where: Place{Field: field},
				Title: fmt.Sprintf("%s: %s", field, problem), Remedy: "correct it, or remove the row"})
		}
	}
	return out
}
