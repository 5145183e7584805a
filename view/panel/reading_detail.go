package panel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/model"
)

// readingDetail stands under the table and tells all about the reading that
// has the keyboard.
type readingDetail struct {
	table *Readings
	title *label
	words *para
	aside *button
	again *button
	whole fyne.CanvasObject
}

func newReadingDetail(t *Readings) *readingDetail {
	d := &readingDetail{table: t, title: newLabel("").bold(), words: newPara("")}
	d.words.soft()
	d.aside = newButton("Set aside", t.Aside)
	d.again = newButton("Read again", t.again)
	head := container.NewBorder(nil, nil, nil, container.NewHBox(d.again, d.aside), padded(d.title))
	d.whole = container.NewVBox(widget.NewSeparator(), head, d.words)
	return d
}

func (d *readingDetail) tell() {
	r := d.table.current()
	if r == nil {
		d.title.set("Type a reading; Enter goes to the next one")
		setPara(d.words, "Write it as the tape or gauge shows it: 36 5/16, 3' 0 5/16\", 918.5 mm, 91.0, 89 30'. Clearing a field removes its reading.")
		d.aside.say("Set aside", false)
		d.again.say("Read again", false)
		return
	}
	d.title.set(d.table.title(r))
	job := d.table.desk.Job()
	read, _, ok := job.Reading(r.id)
	d.again.say("Read again", ok)
	if !ok {
		d.aside.say("Set aside", false)
		setPara(d.words, "Not read yet. "+howTo(r.kind))
		return
	}
	word := "Set aside"
	if read.Aside {
		word = "Use again"
	}
	d.aside.say(word, true)
	var parts []string
	if in, ok := job.InstrumentByID(read.Instrument); ok {
		parts = append(parts, fmt.Sprintf("%s, spread %s (%s).", in.Name, spreadText(&job, in), orStanding(in.Standing)))
	}
	if a := d.table.desk.session.Answer(); a.Survey != nil {
		for i := range a.Survey.Checks {
			if c := &a.Survey.Checks[i]; c.Reading == read.ID {
				parts = append(parts, verdictWords(&job, a.Survey, c))
			}
		}
	}
	if !read.Taken.IsZero() {
		parts = append(parts, "Taken "+read.Taken.Format("2006-01-02 15:04")+".")
	}
	if read.Note != "" {
		parts = append(parts, read.Note)
	}
	setPara(d.words, strings.Join(parts, " "))
}

// howTo says in a few words how a kind is read. Common practice, no source.
func howTo(k model.Kind) string {
	switch k {
	case model.FrontWidth, model.MiddleWidth, model.BackWidth:
		return "Side to side, level, with rods or a tape."
	case model.LeftDepth, model.RightDepth:
		return "Along the side, from the new nose line to the riser face."
	case model.DiagonalLeft, model.DiagonalRight:
		return "Corner to corner of the opening, in plan."
	case model.GaugeFrontLeft, model.GaugeFrontRight, model.GaugeBackLeft, model.GaugeBackRight:
		return "The inside angle of the corner as the gauge shows it: 90 is square."
	case model.LeanLeft, model.LeanRight:
		return "From plumb; above zero when the side opens outwards going up. As degrees, or as a length over 200 mm."
	case model.RiseLeft, model.RiseRight:
		return "From the tread below, plumb up to this tread, bare wood to bare wood."
	case model.GoingLeft, model.GoingRight:
		return "Level, square to the nose line below, nose line to nose line."
	case model.TiltAcross:
		return "From level; above zero when the right is higher. As mm/m, 1/8 in/ft, 1 in 48, or degrees."
	case model.TiltFore:
		return "From level; above zero when the back is higher. As mm/m, 1/8 in/ft, 1 in 48, or degrees."
	case model.TotalRise:
		return "Old bottom floor to old top floor."
	case model.TotalGoing:
		return "Level, first nose line to the middle of the last."
	case model.LongDiagonalLeft, model.LongDiagonalRight:
		return "Level in plan, from the first nose to the last, corner to corner."
	}
	return ""
}
