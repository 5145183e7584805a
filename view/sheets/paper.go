package sheets

import (
	"fmt"
	"time"

	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
)

// Size is a size of paper. The zero value is A4.
type Size string

// The sizes.
const (
	A4     Size = "a4"
	Letter Size = "letter"
)

// Millimetres returns the width and height of an upright sheet. A4 is that of
// ISO 216, Letter 8.5 by 11 in of ANSI Y14.1 (both from memory).
func (s Size) Millimetres() (width, height float64) {
	if s == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// SizeFor returns the paper in use where lengths are shown in u.
func SizeFor(u model.Units) Size {
	if u == model.Imperial {
		return Letter
	}
	return A4
}

// Meta is what the papers say about themselves.
type Meta struct {
	Paper    Size
	Job      string    // the job's name
	Revision int       // of the survey
	Date     time.Time // of the newest reading; zero when there is none
	Program  string    // name and version; may be empty
	// Advice are changes worked out for this flight, best first; see
	// buildup.Remedies.
	Advice []string
	// Shots are pictures of the stair for the household, and NoShots says why
	// there are none.
	Shots   []Shot
	NoShots string
}

// MetaOf returns what a job's papers say: its name, revision and newest
// reading, on the paper that goes with its units.
func MetaOf(j *model.Job, program string) Meta {
	return Meta{Paper: SizeFor(j.Units), Job: j.Name, Revision: j.Revision, Date: Newest(j), Program: program}
}

// Newest returns when the newest reading was taken, or the zero time.
func Newest(j *model.Job) time.Time {
	var t time.Time
	newer := func(rs []model.Reading) {
		for i := range rs {
			if rs[i].Taken.After(t) {
				t = rs[i].Taken
			}
		}
	}
	newer(j.Flight.Readings)
	for i := range j.Flight.Steps {
		newer(j.Flight.Steps[i].Readings)
	}
	return t
}

// Stamp says which survey a paper belongs to.
func (m Meta) Stamp() string {
	date := "no dated reading"
	if !m.Date.IsZero() {
		date = m.Date.Format("2 January 2006")
	}
	name := m.Job
	if name == "" {
		name = "unnamed job"
	}
	// A long name must not push out what follows it.
	const most = 40
	if r := []rune(name); len(r) > most {
		name = string(r[:most-1]) + "…"
	}
	return fmt.Sprintf("%s · survey revision %d · %s", name, m.Revision, date)
}

// Paper is one document: its pages and the name of its file.
type Paper struct {
	Name  string // of the file, such as "cut-cards.pdf"
	Title string
	Pages []drawing.Page
}

// All returns every paper of the job. An answer to a job that could not be
// solved gives the survey sheet and the build-up with its findings.
func All(a *solver.Answer, m Meta) []Paper {
	out := []Paper{{Name: "survey-sheet.pdf", Title: "Survey sheet", Pages: Survey(a, m)}}
	if len(a.Cards) > 0 {
		out = append(out, Paper{Name: "cut-cards.pdf", Title: "Cut cards", Pages: Cards(a, m)})
	}
	return append(out, Paper{Name: "build-up.pdf", Title: "Build-up and findings", Pages: Buildup(a, m)})
}
