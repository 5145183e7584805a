package solver_test

import (
	"os"
	"path/filepath"
	"testing"

	"risewright/model"
	"risewright/solver"
)

// Jobs that once broke the program. Each must be answered, whatever the answer.
//
//   - shape-lost-without-a-reading: a job hammered by random edits, in which the
//     normal equations cannot be factored once the suspect reading is left out.
func TestDefects(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "defects", "*.risewright.json"))
	if err != nil || len(files) == 0 {
		t.Fatal("no defects found", err)
	}
	tab := published(t)
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			job, err := model.Decode(data)
			if err != nil {
				t.Fatal(err)
			}
			a := solver.Solve(job, tab)
			if a.Survey == nil || len(a.Survey.Steps) != len(job.Flight.Steps) {
				t.Error("no shape")
			}
		})
	}
}
