// Package papers puts the papers of a job, and other files made from it, into
// a folder.
//
// # What is always true
//
//  1. Nothing is written outside the folder: a file's name has no folder in it,
//     and a link that stands in the way is replaced, not followed.
//  2. Nothing is replaced unless asked for. A file that already holds the same
//     bytes is not in the way.
//  3. Every file is made in memory before the first is written, and written
//     whole under a hidden name before the first gets its own. Whoever stops it
//     finds the folder as it was, or with all of the files.
package papers

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/buildup"
	"risewright/solver/sensing"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// undated is the date of a PDF of a job without a dated reading: the format
// wants one, and a clock would give the same job other bytes every day. The
// pages themselves say "no dated reading".
var undated = time.Unix(0, 0).UTC()

// Write writes every paper of the job as PDF, and its lists as CSV, into the
// folder dir, which is made if it is not there, and returns the paths. Without
// w, what follows from the answer is planned here, which takes about a second.
// With advice, the smallest changes that bring the rises within the limits are worked out and
// printed, which takes up to a tenth of a second, unless m has some already;
// without, m's are left out. The proposal gets the pictures of m; where it has
// none, and no reason why not, they are drawn here, which takes some seconds, and
// when that fails the proposal says why it has none. Files in the way are a
// *ClashError, unless replace. Once the context has ended it gives up with the
// context's error, unless the files are getting their names already. tell hears
// how far it has come, from the calling goroutine; it may be nil.
func Write(ctx context.Context, dir string, a *solver.Answer, w *solver.Work, m sheets.Meta, advice, replace bool, tell Progress) ([]string, error) {
	if tell == nil {
		tell = func(float64, string) {}
	}
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	tell(0, "the work is being planned")
	if w == nil {
		if w, err = solver.PlanUntil(ctx, a, t); err != nil {
			return nil, stopped(ctx, dir)
		}
	}
	switch {
	case !advice:
		m.Advice = nil
	case m.Advice == nil:
		m.Advice = Advice(solver.Advise(a, t))
	}
	sense := solver.Sense(a, t, nil)
	if len(m.Shots) == 0 && m.NoShots == "" {
		if m.Shots, err = Shots(ctx, a, w, &sense, t, func(part float64, what string) { tell(shotsFrom+(shotsTo-shotsFrom)*part, what) }); err != nil {
			m.NoShots = err.Error()
		}
	}
	if ctx.Err() != nil {
		return nil, stopped(ctx, dir)
	}
	tell(shotsTo, "the papers are being laid out")
	files, err := files(ctx, a, w, &sense, t, m, func(part float64, what string) { tell(shotsTo+(1-shotsTo)*part, what) })
	if ctx.Err() != nil {
		return nil, stopped(ctx, dir)
	}
	if err != nil {
		return nil, err
	}
	return Put(ctx, dir, files, replace)
}

// Progress hears how far something has come, as a part of 1, and what comes
// next.
type Progress func(part float64, what string)

// shotsFrom and shotsTo are when the pictures begin and end, as parts of the
// whole on a usual machine.
const shotsFrom, shotsTo = 0.1, 0.85

// Papers returns every paper of the job. Without w, those of the work are left
// out. sense is what solver.Sense says of the answer with the tables t.
func Papers(a *solver.Answer, w *solver.Work, sense *sensing.Result, t model.Tables, m sheets.Meta) []sheets.Paper {
	all := sheets.All(w.OnMap(a), m)
	if w != nil {
		all = append(all, sheets.Client(w, m, m.Shots))
		all = append(all, sheets.Work(w, m)...)
	}
	all = append(all, sheets.Balusters(a, m)...)
	all = append(all, sheets.Lights(a, m)...)
	all = append(all, sheets.Sensors(a, sense, t, m)...)
	if w != nil {
		all = append(all, sheets.Handover(w, m))
	}
	return all
}

// Files returns every paper of the job as a PDF file in memory, and the lists as
// CSV. Without w, the papers and lists of the work are left out. sense is what
// solver.Sense says of the answer with the tables t.
func Files(a *solver.Answer, w *solver.Work, sense *sensing.Result, t model.Tables, m sheets.Meta) ([]File, error) {
	return files(context.Background(), a, w, sense, t, m, func(float64, string) {})
}

// files is Files; it leaves off when the context ends, which the caller then
// sees.
func files(ctx context.Context, a *solver.Answer, w *solver.Work, sense *sensing.Result, t model.Tables, m sheets.Meta, tell Progress) ([]File, error) {
	var out []File
	all := Papers(a, w, sense, t, m)
	for i, p := range all {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		tell(float64(i)/float64(len(all)), p.Title)
		f, err := asPDF(p, m)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	lists, err := Lists(w)
	out = append(out, lists...)
	if wiring := sheets.LightsCSV(a); wiring != nil {
		out = append(out, File{Name: "wiring-schedule.csv", Data: wiring})
	}
	return out, err
}

// asPDF writes one paper.
func asPDF(p sheets.Paper, m sheets.Meta) (File, error) {
	date := m.Date
	if date.IsZero() {
		date = undated
	}
	var b bytes.Buffer
	if err := pdf.Write(&b, p.Pages, pdf.Meta{Title: p.Title, Subject: m.Stamp(), Creator: m.Program, Date: date}); err != nil {
		return File{}, fmt.Errorf("%s: %w", p.Name, err)
	}
	return File{Name: p.Name, Data: b.Bytes()}, nil
}

// Advice returns the remedies in words, best first, for sheets.Meta.
func Advice(m buildup.Mending) []string {
	if m.Status == buildup.Unmended || m.Status == buildup.Unread {
		return []string{model.Sentence(m.Why)}
	}
	var out []string
	for _, r := range m.Remedies {
		s := model.Sentence(r.Title)
		if r.Detail != "" {
			s += " " + model.Sentence(r.Detail)
		}
		out = append(out, s)
	}
	if len(out) > 0 && m.Limits.Memory {
		out = append(out, "At least one of these limits is from memory: look it up before you work to it.")
	}
	return out
}

// MetaOf returns what the papers of a job say of themselves. A paper of "" is
// the one that goes with the job's units.
func MetaOf(j *model.Job, program string, paper sheets.Size) sheets.Meta {
	m := sheets.MetaOf(j, program)
	if paper != "" {
		m.Paper = paper
	}
	return m
}
