package window

import (
	"bytes"
	"image"
	_ "image/png" // what help pictures are
	"regexp"

	"fyne.io/fyne/v2"
	fcanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"risewright/assets"
	"risewright/view/panel"
)

// typed is what a page says is typed, in back quotes. The library breaks such a
// part letter by letter where it begins at the end of a line.
var typed = regexp.MustCompile("`([^`]+)`")

// showPages shows the pages of help: their titles at the left, one at the right.
func (w *window) showPages() {
	pages, err := assets.HelpPages(w.language())
	if err != nil {
		w.complain(err)
		return
	}
	room := container.NewStack()
	page := w.newReader(room)
	turn := func(i int) {
		text := widget.NewRichTextFromMarkdown("# " + pages[i].Title + "\n\n" + typed.ReplaceAllString(pages[i].Text, "“$1”"))
		text.Wrapping = fyne.TextWrapWord
		column := container.NewVBox(text)
		if p := pages[i].Picture; p != nil {
			column.Add(newHelpPicture(pages[i].Name, p))
		}
		room.Objects = []fyne.CanvasObject{column}
		room.Refresh()
		page.scroll.ScrollToTop()
	}
	list := w.newPickList()
	list.Chose = turn
	list.Opened = func(int) { w.win.Canvas().Focus(page) }
	var titles []string
	for _, p := range pages {
		titles = append(titles, p.Title)
	}
	list.set(titles)
	split := container.NewHSplit(list, page)
	split.Offset = 0.28
	d := w.closable("Help", split)
	size := w.win.Canvas().Size()
	k := max(1, w.letters())
	d.Resize(fyne.NewSize(min(900*k, size.Width*0.9), min(640*k, size.Height*0.88)))
	w.show(d)
	list.choose(0)
	w.win.Canvas().Focus(list)
}

// helpPicture is a picture of a page of help, as wide as the page and as high as
// that makes it.
type helpPicture struct {
	widget.BaseWidget
	image *fcanvas.Image
	shape float32 // height over width
}

// leastPicture is how narrow a picture of help can get.
const leastPicture = 300

func newHelpPicture(name string, data []byte) *helpPicture {
	m := &helpPicture{image: fcanvas.NewImageFromResource(fyne.NewStaticResource(name+".png", data)), shape: 0.6}
	m.image.FillMode = fcanvas.ImageFillContain
	if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width > 0 {
		m.shape = float32(c.Height) / float32(c.Width)
	}
	m.ExtendBaseWidget(m)
	return m
}

// MinSize implements fyne.CanvasObject.
func (m *helpPicture) MinSize() fyne.Size {
	w := max(leastPicture, m.Size().Width)
	return fyne.NewSize(leastPicture, w*m.shape)
}

// Resize implements fyne.CanvasObject: the height that is asked for follows the
// width.
func (m *helpPicture) Resize(s fyne.Size) {
	was := m.Size().Width
	m.BaseWidget.Resize(s)
	if s.Width != was {
		m.Refresh()
	}
}

// CreateRenderer implements fyne.Widget.
func (m *helpPicture) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.image) }

// keyToured remembers that the tour has been offered.
const keyToured = "toured"

// offerTour asks a first-time user whether to be shown round. It asks once:
// whatever the answer, the tour stays under Help.
func (w *window) offerTour() {
	w.app.Preferences().SetBool(keyToured, true)
	w.ask("Shall we look round?", "This is the first start, and a demo job is open. A tour of it takes three minutes: what is where, and what to do next. It never changes the job.\n\nIt can be had at any time: Help, Tour on a demo job.",
		choice{"Not now", widget.MediumImportance, func() { w.win.Canvas().Focus(w.bench.Plan) }},
		choice{"Show me round", widget.HighImportance, w.tour})
}

// tour walks through the window on the job that is open.
func (w *window) tour() {
	stops, err := assets.Tour(w.language())
	if err != nil {
		w.complain(err)
		return
	}
	w.app.Preferences().SetBool(keyToured, true)
	var list []panel.Stop
	for _, s := range stops {
		list = append(list, panel.Stop{Title: s.Title, Text: s.Text, Tab: s.Tab, Step: s.Step})
	}
	end := func() {
		w.win.SetContent(w.bench.Object())
		w.win.Canvas().Focus(w.bench.Plan)
	}
	t := panel.NewTour(w.desk, list, end)
	w.win.SetContent(container.NewBorder(nil, t.Object(), nil, nil, w.bench.Object()))
	t.Focus()
}

// tourOnDemo opens the demo job first.
func (w *window) tourOnDemo() {
	w.ifSaved(func() {
		s, err := w.config.demo(firstDemo)
		if err != nil {
			w.complain(err)
			return
		}
		w.use(s)
		w.tour()
	})
}
