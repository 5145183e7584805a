package papers_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"risewright/app/demo"
	"risewright/app/papers"
	"risewright/app/tongue"
	"risewright/solver"
	"risewright/view/sheets"
	"risewright/view/words"
)

// foreign is what German papers may hold that is not German: titles of
// publications, their classes, the currency of a job, and names in the controller's program.
var foreign = []string{"IRC", "NEC Ch. 9", "IEC ", "SELV", "RW_PIN_", "NFPA", "International Residential Code", "EUR"}

// TestGermanPapersAreGerman: nothing on any paper of a job stays English, but for
// what the person wrote and names that are the same everywhere.
func TestGermanPapersAreGerman(t *testing.T) {
	b, err := tongue.Book("de")
	if err != nil {
		t.Fatal(err)
	}
	var mutex sync.Mutex
	left, heard := map[string]string{}, 0
	b.Heard(func(text, said string, n int) {
		mutex.Lock()
		defer mutex.Unlock()
		heard++
		if n > 0 {
			left[text] = said
		}
	})
	tb := published(t)
	ds, err := demo.Jobs()
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(b)
	defer words.Speak(nil)
	scheduledToo := append(ds, demo.Demo{Job: scheduled(ds[0].Job)}, demo.Demo{Job: scheduled(ds[1].Job)})
	for _, d := range scheduledToo {
		j := d.Job
		a := solver.Solve(j, tb)
		sense := solver.Sense(a, tb, nil)
		m := papers.MetaOf(&j, "", sheets.A4)
		m.Advice = papers.Advice(solver.Advise(a, tb))
		m.NoShots = "they were left out when the papers were written"
		if _, err := papers.Files(a, solver.Plan(a, tb), &sense, tb, m); err != nil {
			t.Fatal(err)
		}
	}
	if heard < 1500 {
		t.Errorf("only %d texts were looked up", heard)
	}
	own := own(ds)
	var texts []string
	for text := range left {
		if !slices.ContainsFunc(own, func(s string) bool { return strings.Contains(text, s) }) &&
			!slices.ContainsFunc(foreign, func(s string) bool { return strings.Contains(text, s) }) {
			texts = append(texts, text)
		}
	}
	slices.Sort(texts)
	for _, text := range texts {
		t.Errorf("%q is said as %q", text, left[text])
	}
}

// own is what people wrote in the jobs.
func own(ds []demo.Demo) []string {
	var out []string
	add := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	for _, d := range ds {
		add(d.Job.Name)
		add(d.Job.Place)
		for _, line := range strings.Split(d.Job.Notes, ". ") {
			add(line)
		}
		for _, door := range d.Job.Flight.Doors {
			add(door.Name)
		}
	}
	return out
}
