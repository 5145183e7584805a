package template

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/skirt"
	"risewright/view/card"
	"risewright/view/drawing"
)

// SkirtID names a skirt board by its side, what becomes of it and its lower
// edge, such as "left-skirt-new-risers".
func SkirtID(b *skirt.Board) string {
	id := b.Side.String() + "-skirt-" + string(b.Treatment)
	switch b.Lower {
	case skirt.OverFinished:
		id += "-over-finished"
	case skirt.RiserLine:
		id += "-risers"
	case skirt.OverRough:
		id += "-over-old"
	}
	return id
}

// Skirt returns a skirt board's show face at full size, as one sees it from
// the stair. A board that stays as it is, or cannot be made, is an error. Held
// says why it must not be cut yet; empty when it may be.
func Skirt(b *skirt.Board, f model.Format, held string) (Shape, error) {
	id := SkirtID(b)
	switch {
	case b.Impossible != "":
		return Shape{}, fmt.Errorf("template: %s cannot be made: %s", id, b.Impossible)
	case b.Treatment == skirt.Kept:
		return Shape{}, fmt.Errorf("template: %s: the old skirt stays, so there is nothing to cut", id)
	case len(b.Outline) < 3:
		return Shape{}, fmt.Errorf("template: %s has no outline", id)
	}
	title := fmt.Sprintf("%s skirt board, %s, %s, %s thick", b.Side, b.Treatment, b.Lower, card.Length(f, b.Thickness))
	n := len(b.Outline)
	outline := Line{Use: Cut, Closed: true, Points: make([]drawing.Point, n), Labels: make([]string, n)}
	for i, q := range b.Outline {
		outline.Points[i] = drawing.Point{X: q[0], Y: q[1]}
	}
	s := Shape{ID: id, Title: title, Grain: true, Held: held, Notes: append([]string(nil), b.Notes...)}
	s.Across = "← DOWN THE STAIR · FACE UP · UP THE STAIR →"
	if b.Side == pieces.Right {
		s.Across = "← UP THE STAIR · FACE UP · DOWN THE STAIR →"
	}
	for i := range outline.Points {
		a, z := b.Outline[i], b.Outline[(i+1)%n]
		if words := cutWords(b, f, a, z); words != "" {
			outline.Labels[i] = words + " · " + card.Length(f, z.Sub(a).Len())
		}
	}
	for _, m := range b.Marks {
		a, z := drawing.Point{X: m.Line[0][0], Y: m.Line[0][1]}, drawing.Point{X: m.Line[1][0], Y: m.Line[1][1]}
		s.Lines = append(s.Lines, Line{Use: Mark, Points: []drawing.Point{a, z},
			Labels: []string{fmt.Sprintf("plumb at nose %d · register mark", m.Step)}})
		s.Registers = append(s.Registers, Register{At: a.Add(z).Mul(0.5), Name: fmt.Sprintf("nose %d", m.Step)})
	}
	s.Lines = append(s.Lines, outline)
	s.Notes = append(s.Notes, fmt.Sprintf("A register mark stands at every third nose: hold a level along it, and all marks plumb means the template lies true. The board must be at least %s long and %s wide.",
		card.Length(f, b.Length), card.Length(f, b.Width)))
	return s, nil
}

// onCut is how near, in mm, the ends of a stretch of the outline lie to a cut
// for it to be that cut: they are made from the same figures.
const onCut = 1e-6

// cutWords says what a stretch of the outline is cut along.
func cutWords(b *skirt.Board, f model.Format, a, z mgl64.Vec2) string {
	near := func(p, q mgl64.Vec2) bool { return p.Sub(q).Len() < onCut }
	if near(a, b.Top[0]) && near(z, b.Top[1]) || near(a, b.Top[1]) && near(z, b.Top[0]) {
		return "TOP edge"
	}
	for i := range b.Cuts {
		c := &b.Cuts[i]
		for k := range c.Line[:len(c.Line)-1] {
			p, q := c.Line[k], c.Line[k+1]
			if !(near(a, p) && near(z, q) || near(a, q) && near(z, p)) {
				continue
			}
			if c.Kind == skirt.Nose {
				// A nose has many short stretches; its last, longest one speaks for it.
				if k != longestOf(c.Line) {
					return ""
				}
			}
			where := c.Meets
			if where == "" {
				where = "floor"
			}
			words := []string{fmt.Sprintf("%s, %s", strings.ToUpper(string(c.Kind)), where)}
			if math.Abs(c.Bevel) >= leastBevel {
				words = append(words, "bevel "+model.FormatDegrees(model.Angle(c.Bevel), 1))
			}
			return strings.Join(words, " · ")
		}
	}
	return "END, plumb"
}

// longestOf returns the number of the longest stretch of a line.
func longestOf(line []mgl64.Vec2) int {
	best, length := 0, -1.0
	for i := range line[:len(line)-1] {
		if d := line[i+1].Sub(line[i]).Len(); d > length {
			best, length = i, d
		}
	}
	return best
}
