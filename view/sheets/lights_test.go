package sheets_test

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"risewright/app/demo"
	"risewright/app/tables"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/bars"
	"risewright/view/drawing/pdf"
	"risewright/view/sheets"
)

// lit are demo jobs with light bars, in many ways of wiring and of going wrong.
var lit = sync.OnceValues(func() (map[string]*solver.Answer, error) {
	ds, err := demo.Jobs()
	if err != nil {
		return nil, err
	}
	t, err := tables.Published()
	if err != nil {
		return nil, err
	}
	out := map[string]*solver.Answer{}
	for _, d := range ds {
		if d.Name != "tapering" {
			continue
		}
		for _, c := range []struct {
			name   string
			units  model.Units
			change func(*model.Job)
		}{
			{"first metric", model.Metric, nil},
			{"first imperial", model.Imperial, nil},
			{"home runs", model.Metric, func(j *model.Job) {
				j.Lighting.Trunk, j.Lighting.Feed, j.Lighting.Data = model.HomeRuns, model.FeedBoth, model.DataLines
			}},
			{"serpentine", model.Imperial, func(j *model.Job) {
				j.Lighting.Cavity, j.Lighting.Data, j.Lighting.Feed, j.Lighting.Supplies = model.CavityUnder, model.DataSerpentine, model.FeedMiddle, 3
			}},
			{"nothing chosen", model.Metric, func(j *model.Job) {
				j.Lighting.Supply, j.Lighting.Controller, j.Lighting.Scenes, j.Lighting.Wires = "", "", nil, model.WirePick{}
			}},
			{"negative", model.Imperial, func(j *model.Job) {
				j.Lighting.EndClearance, j.Lighting.Setback, j.Lighting.BarWidth = -400, 60, 500
			}},
			{"strange words", model.Metric, func(j *model.Job) {
				j.Lighting.Scenes = []model.Scene{{Name: "=1+1\n\U0001F600 " + strings.Repeat("very long ", 20), Level: 1}}
			}},
			{"ten bars", model.Metric, tenBars},
			{"unsolved", model.Imperial, func(j *model.Job) { j.Flight.Steps[1].Corners = nil }},
		} {
			j := d.Job
			j.Units = c.units
			j.Flight.Steps = append([]model.Step(nil), j.Flight.Steps...)
			j.Lighting = model.FirstLighting(j, t.Lights)
			if c.change != nil {
				c.change(&j)
			}
			out[c.name] = solver.Solve(j, t)
		}
	}
	return out, nil
})

// tenBars is a job that asks too much of its parts: ten bars of 54 four-channel
// pixels at 20 mA a channel on a 5 V 40 A supply, with the 8-bit controller.
func tenBars(j *model.Job) {
	j.Flight.Steps = j.Flight.Steps[:10]
	j.Flight.Rail, j.Flight.Headroom = nil, nil // some are over steps that are no more
	j.Lighting.Strip, j.Lighting.Supply, j.Lighting.Controller = "rgbw-5v-60", "5v-40a", "8bit-2k"
	for i := range j.Flight.Steps {
		j.Lighting.Bars = append(j.Lighting.Bars, model.BarOwn{Step: j.Flight.Steps[i].ID, Pixels: 54})
	}
}

func lights(t *testing.T) map[string]*solver.Answer {
	t.Helper()
	a, err := lit()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestLookAtLights writes the papers of the light bars for eyes.
func TestLookAtLights(t *testing.T) {
	dir := os.Getenv("RISEWRIGHT_LOOK")
	if dir == "" {
		t.Skip("set RISEWRIGHT_LOOK to a folder to write papers for eyes")
	}
	for name, a := range lights(t) {
		m := metaFor(a, sheets.SizeFor(a.Job.Units))
		for _, p := range sheets.Lights(a, m) {
			var b bytes.Buffer
			if err := pdf.Write(&b, p.Pages, pdf.Meta{Title: p.Title, Date: m.Date}); err != nil {
				t.Error(err)
			}
			if err := os.WriteFile(filepath.Join(dir, name+" "+p.Name), b.Bytes(), 0o600); err != nil {
				t.Error(err)
			}
		}
		if err := os.WriteFile(filepath.Join(dir, name+" wiring-schedule.csv"), sheets.LightsCSV(a), 0o600); err != nil {
			t.Error(err)
		}
	}
}

// TestLayoutOfLights looks on every page, on both papers, for lettering that is
// cut off or lies over other lettering.
func TestLayoutOfLights(t *testing.T) {
	for name, a := range lights(t) {
		for _, s := range []sheets.Size{sheets.A4, sheets.Letter} {
			ps := sheets.Lights(a, metaFor(a, s))
			if len(ps) != 5 {
				t.Errorf("%s: %d papers", name, len(ps))
			}
			for _, p := range ps {
				checkLayout(t, name+" "+string(s)+" "+p.Name, p.Pages, 5)
			}
		}
	}
}

// words joins the lettering of a paper, line ends as blanks.
func words(p *sheets.Paper) string {
	var out []string
	for i := range p.Pages {
		out = append(out, lettering(&p.Pages[i])...)
	}
	return strings.Join(out, " ")
}

// TestTenBarsOnPaper: by how much full white exceeds the supply, the cap that
// fits, the buffer that does not, and the two ways out are all on paper. By
// hand: 540 × 4 × 20 mA = 43.2 A; (32 - 0.54) / (43.2 - 0.54) = 73.7 %.
func TestTenBarsOnPaper(t *testing.T) {
	a := lights(t)["ten bars"]
	if n := a.Bars.Pixels(); n != 540 {
		t.Fatalf("%d pixels", n)
	}
	ps := sheets.Lights(a, metaFor(a, sheets.A4))
	text := words(&ps[4])
	for _, want := range []string{"43.2 A", "exceeds one supply by 3.2 A", "73.7 %", "2,160 buffer bytes do not fit in 2,048", "BREAKS FIRST",
		"one colour a bar, one bar's buffer used again 256", "one bar after another, each on its own line 216", "never"} {
		if !strings.Contains(text, want) {
			t.Errorf("not on paper: %q", want)
		}
	}
	if t.Failed() {
		t.Log(text)
	}
}

// TestScheduleNamesEveryBar: each bar and each pair of wires has a line in the
// schedule, labels of its own, and a line in the test; every paper carries its
// cautions.
func TestScheduleNamesEveryBar(t *testing.T) {
	for _, name := range []string{"first metric", "serpentine", "home runs"} {
		a := lights(t)[name]
		ps := sheets.Lights(a, metaFor(a, sheets.A4))
		schedule, labels, soak := words(&ps[0]), words(&ps[2]), words(&ps[3])
		n := len(a.Job.Flight.Steps)
		for k := 1; k <= n; k++ {
			b := bars.Name(k)
			if !strings.Contains(schedule, b) || strings.Count(labels, b) < 2 || !strings.Contains(soak, b) {
				t.Errorf("%s: %s is missing on a paper", name, b)
			}
		}
		for _, want := range []string{"licensed person", "never buried", "never replace"} {
			if !strings.Contains(schedule, want) {
				t.Errorf("%s: the schedule does not say %q", name, want)
			}
		}
		if got, want := strings.Count(labels, " → "), 2*len(a.Power.Cables); got != want {
			t.Errorf("%s: %d ends of wires have labels, want %d", name, got, want)
		}
	}
}

// TestLightsCSV reads the file back: every row as wide as the others, every bar
// there, and no cell that a spreadsheet would run.
func TestLightsCSV(t *testing.T) {
	for name, a := range lights(t) {
		data := sheets.LightsCSV(a)
		if a.Power == nil {
			if data != nil {
				t.Errorf("%s: a file without bars", name)
			}
			continue
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll() // uneven rows are an error
		if err != nil || len(rows) < len(a.Bars.Bars)+len(a.Power.Cables) {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, r := range rows {
			for _, c := range r {
				if c != "" && strings.ContainsRune("=+-@\t\r\n|%", rune(c[0])) {
					t.Errorf("%s: the cell %q begins like a formula", name, c)
				}
			}
		}
		for k := range a.Bars.Bars {
			if !slices.ContainsFunc(rows, func(r []string) bool { return r[0] == bars.Name(k+1) }) {
				t.Errorf("%s: no row for %s", name, bars.Name(k+1))
			}
		}
	}
	data := sheets.LightsCSV(lights(t)["strange words"])
	if !bytes.Contains(data, []byte("'=1+1")) {
		t.Error("a scene's name that begins like a formula is not made safe")
	}
}

func TestUnlitJobHasNoLightPapers(t *testing.T) {
	a := answers(t)["unfinished imperial"]
	if ps := sheets.Lights(a, metaFor(a, sheets.A4)); ps != nil || sheets.LightsCSV(a) != nil {
		t.Errorf("%d papers of no lighting", len(ps))
	}
}

// TestWiringPlan: every bar is named on the plan, the box is drawn on plan and
// section, and the page says where the wires climb and how they are come to.
func TestWiringPlan(t *testing.T) {
	for name, want := range map[string]string{"first metric": "at the left is screwed, never glued", "ten bars": "The longest cable from the box", "unsolved": "no light bars yet"} {
		a := lights(t)[name]
		text := words(&sheets.Lights(a, metaFor(a, sheets.A4))[1])
		if !strings.Contains(text, want) {
			t.Errorf("%s: not on the plan: %q in %q", name, want, text)
		}
		if name == "unsolved" {
			continue
		}
		for i := range a.Bars.Bars {
			if b := &a.Bars.Bars[i]; strings.Count(text, b.Name()) < 1 {
				t.Errorf("%s: %s is not on the plan", name, b.Name())
			}
		}
		if n := strings.Count(text, " box "); n < 2 {
			t.Errorf("%s: the box is drawn %d times", name, n)
		}
	}
}
