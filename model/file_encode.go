package model

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Encode returns the job file of j. The same job gives the same bytes, and
// Decode gives the same job back. Text that is not UTF-8 is written with the
// replacement character in its place.
//
// It fails only for what no edit lets into a job: numbers that are not finite,
// years beyond 9999, and jobs larger than MaxFileBytes.
func Encode(j Job) ([]byte, error) { return EncodeAs(j, "") }

// EncodeAs is Encode with the version text of the program written in the
// file's header, for people who ask which version wrote it.
func EncodeAs(j Job, program string) ([]byte, error) {
	if j.Flight.Steps == nil {
		j.Flight.Steps = []Step{} // an empty list, not null, which Decode refuses
	}
	if j.Instruments == nil {
		j.Instruments = []Instrument{}
	}
	if j.States == nil {
		j.States = []StateRow{}
	}
	j.Flight.Steps = withLists(j.Flight.Steps)
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // people read the file too
	e.SetIndent("", "  ")
	if err := e.Encode(file{Format: FileFormat, Program: program, Job: j}); err != nil {
		return nil, fmt.Errorf("the job can not be written to a file: %w", err)
	}
	if b.Len() > MaxFileBytes {
		return nil, fmt.Errorf("the job takes %d MB in a file and at most %d MB can be read again; shorten its notes or remove readings",
			b.Len()>>20, MaxFileBytes>>20)
	}
	return b.Bytes(), nil
}

// withLists returns steps with empty lists where a step has none, so that
// they are not written as null. Steps that need no change are shared.
func withLists(steps []Step) []Step {
	copied := false
	for i, s := range steps {
		if s.Corners != nil && s.Edges != nil {
			continue
		}
		if !copied {
			steps, copied = append([]Step(nil), steps...), true
		}
		if s.Corners == nil {
			steps[i].Corners = []Corner{}
		}
		if s.Edges == nil {
			steps[i].Edges = []Edge{}
		}
	}
	return steps
}
