package papers

import (
	"bytes"
	"fmt"
	"image"
	"strings"

	"risewright/app/version"
	"risewright/model"
	"risewright/view/sheets"
	"risewright/view/still"
)

// Still returns a picture of the finished stair as a PNG file that says inside
// which job it shows, of which survey and date, and what is seen. The same
// picture and job give the same bytes: the date is that of the survey.
func Still(name string, img image.Image, j *model.Job, what string) (File, error) {
	date := "no dated reading"
	if t := sheets.Newest(j); !t.IsZero() {
		date = t.Format("2006-01-02")
	}
	title := strings.TrimSpace(j.Name)
	if title == "" {
		title = "A stair"
	}
	var b bytes.Buffer
	err := still.WritePNG(&b, img, []still.Fact{
		{Key: "Title", Text: title},
		{Key: "Description", Text: what},
		{Key: "Survey", Text: fmt.Sprintf("revision %d, %s", j.Revision, date)},
		{Key: "Disclaimer", Text: "Rooms, furniture and what the survey does not know are made up; wood differs from board to board."},
		{Key: "Software", Text: version.Program},
	})
	return File{Name: name, Data: b.Bytes()}, err
}
