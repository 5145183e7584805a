package plan_test

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
)

// demoJobs are the jobs in testdata/jobs.
var demoJobs = []string{"well-behaved", "tapering", "unfinished", "winding"}

// demo returns the answer to a job in testdata/jobs.
func demo(tb testing.TB, name string) *solver.Answer {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", name+".risewright.json"))
	if err != nil {
		tb.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		tb.Fatal(err)
	}
	return answer(tb, job)
}

// answer solves a job with the published tables.
func answer(tb testing.TB, job model.Job) *solver.Answer {
	tb.Helper()
	t, err := tables.Published()
	if err != nil {
		tb.Fatal(err)
	}
	return solver.Solve(job, t)
}

// save writes a picture for eyes into the folder RISEWRIGHT_LOOK names.
func save(tb testing.TB, name string, l *drawing.List, w, h int, v drawing.Viewport, p drawing.Palette) {
	tb.Helper()
	var r screen.Renderer
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	r.Draw(dst, l, v, p)
	f, err := os.Create(filepath.Join(os.Getenv("RISEWRIGHT_LOOK"), name+".png"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, dst); err != nil {
		tb.Fatal(err)
	}
}
