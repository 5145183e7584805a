package papers

import (
	"bytes"
	"fmt"
	"image"
	"math"

	"risewright/app/report"
	"risewright/model"
	"risewright/solver"
	"risewright/solver/rules"
	"risewright/view/drawing"
	"risewright/view/drawing/screen"
	"risewright/view/drawing/svg"
	"risewright/view/handle"
	"risewright/view/plan"
	"risewright/view/section"
	"risewright/view/sheets"
)

// The drawings that can be written by themselves, and the formats of a picture
// of one beside FormatSVG.
const (
	DrawingPlan    = "plan"
	DrawingSection = "section"
	FormatPNG      = "png"
)

// Drawing returns the plan or the section of a job on a sheet of its own, laid
// across, with the job's name, revision and date.
func Drawing(which string, a *solver.Answer, m sheets.Meta) (drawing.Page, error) {
	title, draw := "Plan", plan.Draw
	if which == DrawingSection {
		title, draw = "Section", section.Draw
	}
	tall, wide := m.Paper.Millimetres()
	p := drawing.Page{Name: title, Width: wide, Height: tall}
	if a.Survey == nil {
		return p, fmt.Errorf("there is no %s: the job could not be solved", which)
	}
	const margin, head, foot = 11.0, 14.0, 8.0
	say := func(x, y, size float64, bold bool, align drawing.Align, s string) {
		s = drawing.Shorten(s, wide/2-margin, size, bold, false)
		p.Text(drawing.Text{At: drawing.Point{X: x, Y: y}, Size: size, Bold: bold, Align: align, String: s})
	}
	say(margin, tall-margin-6, 7.6, true, drawing.AlignStart, title)
	say(wide-margin, tall-margin-5, 3.4, false, drawing.AlignEnd, m.Stamp())
	say(margin, margin, 3.2, true, drawing.AlignStart, rules.Deference)
	say(wide-margin, margin, 2.8, false, drawing.AlignEnd, "not to scale on paper; left and right as walking up")
	o := handle.Options{Format: a.Job.Format(), Dimensions: true}
	v := handle.Fit(func(l *drawing.List, scale float64) {
		o.Scale = scale
		draw(l, a, o)
	}, wide-2*margin, tall-2*margin-head-foot, 1)
	var l drawing.List
	o.Scale = v.Scale / v.Paper
	draw(&l, a, o)
	p.Append(&l, v.Transform().Then(drawing.Shift(margin, tall-margin-head)))
	return p, nil
}

// pngDots is how many pixels an inch of a drawing has as PNG: print needs no
// more for lines and letters.
const pngDots = 200

// DrawingFile returns the plan or the section as SVG or PNG.
func DrawingFile(name, which, format string, a *solver.Answer, m sheets.Meta) (File, error) {
	p, err := Drawing(which, a, m)
	if err != nil {
		return File{}, err
	}
	if format == FormatPNG {
		return Still(name, pixels(&p), &a.Job, which)
	}
	var b bytes.Buffer
	err = svg.Write(&b, &p, drawing.Print(), p.Name+", "+m.Stamp())
	return File{Name: name, Data: b.Bytes()}, err
}

// pixels paints a page as it would be printed.
func pixels(p *drawing.Page) image.Image {
	const dots = pngDots / 25.4
	img := image.NewRGBA(image.Rect(0, 0, int(math.Round(p.Width*dots)), int(math.Round(p.Height*dots))))
	var r screen.Renderer
	r.Draw(img, &p.List, drawing.Viewport{Scale: dots, Paper: dots, Origin: drawing.Point{Y: p.Height * dots}}, drawing.Print())
	return img
}

// Shared returns what somebody else's program can read of an answer: plan and
// section as SVG and PNG, and the whole answer as JSON.
func Shared(a *solver.Answer, t model.Tables, m sheets.Meta) ([]File, error) {
	var out []File
	for _, which := range []string{DrawingPlan, DrawingSection} {
		for _, format := range []string{FormatSVG, FormatPNG} {
			f, err := DrawingFile(which+"."+format, which, format, a, m)
			if err != nil {
				return nil, err
			}
			out = append(out, f)
		}
	}
	found := *solver.OnMap(a, t)
	sense := solver.Sense(a, t, nil)
	found.Findings, found.Lit = solver.Found(a, t, &sense)
	text, err := report.JSON(&found, solver.Advise(a, t))
	return append(out, File{Name: "answer.json", Data: text}), err
}
