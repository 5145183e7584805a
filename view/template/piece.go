package template

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/view/card"
	"risewright/view/drawing"
)

const (
	// onFace is how near, in mm, a vertex of a solid is taken for a corner of
	// its face: the two are made from the same figures, of at most 1e4 mm,
	// where float64 is spaced 2e-12.
	onFace = 1e-6
	// leastBevel is the least bevel that is drawn and named: half of the tenth
	// of a degree that is printed.
	leastBevel = 0.05 * math.Pi / 180
	// leastTurn is how far an outline must turn at a corner for its angle to be
	// lettered: less is the facet of a curve, or no corner to anybody's eye.
	leastTurn = 15 * math.Pi / 180
)

// Piece returns a board's show face at full size as one sees it looking at it:
// a tread's from above with its nose towards you, a riser's from the front. A
// piece that cannot be made is an error. Held says why it must not be cut yet;
// empty when it may be: see [Held].
func Piece(p *pieces.Piece, f model.Format, held string) (Shape, error) {
	if p.Impossible != "" {
		return Shape{}, fmt.Errorf("template: %s cannot be made: %s", p.ID, p.Impossible)
	}
	into := p.Into()
	at := func(x, y float64) drawing.Point { return drawing.Point{X: x, Y: -into * y} }
	n := len(p.Face)
	s := Shape{
		ID:     p.ID,
		Title:  card.Name(p) + ", " + card.Length(f, p.Thickness) + " thick",
		Across: "← LEFT · FACE UP · RIGHT →",
		Grain:  true,
		Held:   held,
		Notes:  append([]string(nil), p.Notes...),
	}
	if p.Template != "" {
		s.Notes = append([]string{"Straight cuts from a card do not make this board: " + p.Template}, s.Notes...)
	}

	outline := Line{Use: Cut, Closed: true, Points: make([]drawing.Point, n), Labels: make([]string, n)}
	var under, noses []Line
	var longest [2]float64 // of the nose's and the back's sides
	var middle [2]Register
	for j := range n {
		a, b := p.Face[j], p.Face[(j+1)%n]
		outline.Points[j] = at(a[0], a[1])
		facet := facetAt(p, a, b)
		if facet == nil {
			return Shape{}, fmt.Errorf("template: no side of %s's solid lies along edge %d of its face", p.ID, j+1)
		}
		// A slope above 0 runs in under the face.
		slope := math.Atan2(into*facet.Normal[2], math.Hypot(facet.Normal[0], facet.Normal[1]))
		outline.Labels[j] = strings.Join([]string{partName(p.Kind, facet.Part), card.Length(f, b.Sub(a).Len()), bevelWords(p.Kind, slope)}, " · ")
		if facet.Part == pieces.Nose && p.Kind != pieces.Riser {
			noses = append(noses, Line{Use: Nose, Points: []drawing.Point{at(a[0], a[1]), at(b[0], b[1])}})
		}
		// A nose that runs round a corner has many short sides; its longest one
		// has the register.
		if i := slices.Index([]pieces.Part{pieces.Nose, pieces.BackEdge}, facet.Part); i >= 0 && b.Sub(a).Len() > longest[i] {
			longest[i] = b.Sub(a).Len()
			middle[i] = Register{At: at((a[0]+b[0])/2, (a[1]+b[1])/2), Name: "middle"}
		}
		if math.Abs(slope) >= leastBevel {
			l := Line{Use: Under}
			for _, v := range facet.Loop {
				if q := p.Solid.Verts[v]; math.Abs(q[2]-into*p.Thickness) < onFace {
					l.Points = append(l.Points, at(q[0], q[1]))
				}
			}
			under = append(under, l)
		}
	}
	for i := range middle {
		if longest[i] > 0 {
			s.Registers = append(s.Registers, middle[i])
		}
	}
	s.Lines = append(append(append(s.Lines, under...), noses...), outline)
	for j := range n {
		tag, angle := cornerTag(outline.Points[(j+n-1)%n], outline.Points[j], outline.Points[(j+1)%n], into < 0)
		if math.Abs(angle-math.Pi) >= leastTurn {
			s.Tags = append(s.Tags, tag)
		}
	}
	if len(under) > 0 {
		s.Notes = append(s.Notes, "Dashed: the edge of the "+underName(p.Kind)+". Saw to the unbroken line with the head leaning so that the "+underName(p.Kind)+" comes out shorter.")
	}
	return s, nil
}

// facetAt returns the side of the solid along the edge a→b of the face.
func facetAt(p *pieces.Piece, a, b mgl64.Vec2) *pieces.Facet {
	for i := range p.Solid.Faces {
		f := &p.Solid.Faces[i]
		if f.Part == pieces.ShowFace || f.Part == pieces.Underside {
			continue
		}
		hasA, hasB := false, false
		for _, v := range f.Loop {
			q := p.Solid.Verts[v]
			hasA = hasA || q.Sub(a.Vec3(0)).Len() < onFace
			hasB = hasB || q.Sub(b.Vec3(0)).Len() < onFace
		}
		if hasA && hasB {
			return f
		}
	}
	return nil
}

// partName says what the trade calls a side of a board of this kind.
func partName(k pieces.Kind, p pieces.Part) string {
	switch {
	case p == pieces.LeftEnd:
		return "LEFT end"
	case p == pieces.RightEnd:
		return "RIGHT end"
	case k == pieces.Riser && p == pieces.BackEdge:
		return "BOTTOM edge"
	case k == pieces.Riser:
		return "TOP edge"
	case p == pieces.BackEdge:
		return "BACK edge"
	}
	return "NOSE, the front edge"
}

func underName(k pieces.Kind) string {
	if k == pieces.Riser {
		return "back"
	}
	return "underside"
}

// bevelWords says how a side is cut; a slope above 0 runs in under the face.
func bevelWords(k pieces.Kind, slope float64) string {
	if math.Abs(slope) < leastBevel {
		return "square to the face"
	}
	words := "shorter"
	if slope < 0 {
		words = "longer"
	}
	return fmt.Sprintf("saw bevel %s, %s %s", model.FormatDegrees(model.Angle(math.Abs(slope)), 1), underName(k), words)
}

// cornerTag letters the angle inside a corner of an outline, and returns it.
func cornerTag(before, at, after drawing.Point, anticlockwise bool) (Tag, float64) {
	in, out := before.Sub(at), after.Sub(at)
	angle := math.Atan2(in.Y, in.X) - math.Atan2(out.Y, out.X)
	if !anticlockwise {
		angle = -angle
	}
	angle = math.Mod(angle+4*math.Pi, 2*math.Pi)
	// The middle of the angle, which may be more than half a turn.
	half := angle / 2
	if !anticlockwise {
		half = -half
	}
	sin, cos := math.Sincos(math.Atan2(out.Y, out.X) + half)
	return Tag{At: at, Dir: drawing.Point{X: cos, Y: sin}, Text: model.FormatDegrees(model.Angle(angle), 1)}, angle
}
