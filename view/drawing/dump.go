package drawing

import (
	"math"
	"strconv"
	"strings"
)

// Dump returns the list as text, one line an item, for golden files and for
// eyes. Lengths have three decimals at most (a thousandth of a millimetre),
// angles are in degrees with four. Values that were left zero are left out.
func (l *List) Dump() string {
	var b strings.Builder
	for i := range l.items {
		l.items[i].dump(&b)
		b.WriteByte('\n')
	}
	return b.String()
}

func (it *Item) dump(b *strings.Builder) {
	b.WriteString(it.Kind.String())
	if it.Kind == KindPolyline && it.Closed {
		b.WriteString(" closed")
	}
	for _, p := range it.Points {
		b.WriteByte(' ')
		b.WriteString(number(p.X, 3) + "," + number(p.Y, 3))
	}
	switch it.Kind {
	case KindCircle, KindDot, KindSquare, KindArc:
		b.WriteString(" r=" + number(it.R, 3))
	case KindDimension:
		b.WriteString(" offset=" + number(it.R, 3))
	case KindText:
		b.WriteString(" " + number(it.Text.At.X, 3) + "," + number(it.Text.At.Y, 3))
	}
	if it.Kind == KindArc {
		b.WriteString(" from=" + degrees(it.From) + " to=" + degrees(it.To))
	}
	it.Fill.dump(b)
	it.Stroke.dump(b)
	if it.Kind == KindPicture && it.Picture != nil {
		b.WriteString(" " + it.Picture.Name())
	}
	if it.Kind == KindText || it.Kind == KindDimension {
		it.Text.dump(b)
	}
}

func (f Fill) dump(b *strings.Builder) {
	if f.Ink != None {
		b.WriteString(" fill=" + f.Ink.String())
	}
	if h := f.Hatch; h.Pattern != Plain {
		b.WriteString(" hatch=" + [...]string{"plain", "diagonal", "backdiagonal", "crosshatch", "level"}[h.Pattern])
		if h.Ink != None {
			b.WriteString("/" + h.Ink.String())
		}
		if h.Spacing != 0 {
			b.WriteString("/" + number(h.Spacing, 3))
		}
	}
}

func (s Stroke) dump(b *strings.Builder) {
	if s.Ink == None {
		return
	}
	b.WriteString(" stroke=" + s.Ink.String())
	if s.Width != 0 {
		b.WriteString(" width=" + number(s.Width, 3))
	}
	for i, d := range s.Dash {
		if i == 0 {
			b.WriteString(" dash=")
		} else {
			b.WriteByte(',')
		}
		b.WriteString(number(d, 3))
	}
}

func (t Text) dump(b *strings.Builder) {
	if t.Size != 0 {
		b.WriteString(" size=" + number(t.Size, 3))
	}
	if t.Align != AlignStart {
		b.WriteString(" align=" + [...]string{"start", "middle", "end"}[t.Align])
	}
	if t.Baseline != BaseLine {
		b.WriteString(" base=" + [...]string{"line", "middle", "top"}[t.Baseline])
	}
	if t.Angle != 0 {
		b.WriteString(" angle=" + degrees(t.Angle))
	}
	if t.Bold {
		b.WriteString(" bold")
	}
	if t.Mono {
		b.WriteString(" mono")
	}
	if t.Halo {
		b.WriteString(" halo")
	}
	if t.Ink != None {
		b.WriteString(" ink=" + t.Ink.String())
	}
	b.WriteString(" " + strconv.Quote(t.String))
}

func degrees(a float64) string { return number(a*180/math.Pi, 4) + "°" }

// number writes v with at most the given decimals and no idle zeros; minus
// zero is zero, so that goldens do not hang on rounding.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
