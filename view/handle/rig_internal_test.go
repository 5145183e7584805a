package handle

import (
	"os"
	"path/filepath"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
)

func solved(tb testing.TB, job model.Job) *solver.Answer {
	tb.Helper()
	t, err := tables.Published()
	if err != nil {
		tb.Fatal(err)
	}
	return solver.Solve(job, t)
}

// surveyed returns the answers to the demo jobs.
func surveyed(tb testing.TB) []*solver.Answer {
	tb.Helper()
	var out []*solver.Answer
	for _, name := range []string{"well-behaved", "tapering", "unfinished", "winding"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".risewright.json"))
		if err != nil {
			tb.Fatal(err)
		}
		job, err := model.Decode(text)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, solved(tb, job))
	}
	return out
}
