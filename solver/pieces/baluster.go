package pieces

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/survey"
)

// Baluster is one bar on a tread and what is to be done with it. It keeps its
// place; it comes off, is cut at its bottom by what the tread rises, and goes
// back. Common practice, no source.
type Baluster struct {
	ID     model.ID
	Number int        // from the bottom of the flight, counted by side
	Step   int        // counted from 1
	Side   model.Edge // left or right
	Foot   mgl64.Vec3 // middle of its foot on the new tread, in the stair, mm
	Behind float64    // behind the new nose line, mm
	Old    float64    // its length as it stands, mm; 0 when not measured
	Cut    float64    // off its bottom, mm; negative where the tread comes lower
	New    float64    // its length then; 0 when Old is
	// Rake is the angle of its upper end from square, that of the pitch, rad: a
	// bar set on the rail's slope meets it so.
	Rake float64
}

// Balusters returns the bars of the flight, from the bottom up, left before
// right on each tread. pitch gives that of the flight to which a step belongs,
// counted from 1, rad.
func Balusters(job model.Job, s *survey.Result, pitch func(step int) float64) []Baluster {
	n := min(len(job.Flight.Steps), len(s.Steps))
	var out []Baluster
	count := map[model.Edge]int{}
	for i := range n {
		bars := job.Flight.Steps[i].Balusters
		if len(bars) == 0 {
			continue
		}
		t := siteOf(&job, s, i)
		for _, side := range [2]model.Edge{model.Left, model.Right} {
			for _, b := range sorted(bars, side) {
				count[side]++
				place := t.onSide(side, float64(b.Behind))
				cut := t.raised(place)
				bar := Baluster{ID: b.ID, Number: count[side], Step: i + 1, Side: side, Behind: float64(b.Behind),
					Foot: place.Vec3(t.height(&t.bed, place) + t.lift), Old: float64(b.Length), Cut: cut, Rake: pitch(i + 1)}
				if bar.Old > 0 {
					bar.New = math.Max(0, bar.Old-bar.Cut)
				}
				out = append(out, bar)
			}
		}
	}
	return out
}

// sorted returns the bars of one side from the nose backwards.
func sorted(bars []model.Baluster, side model.Edge) []model.Baluster {
	var out []model.Baluster
	for _, b := range bars {
		if b.Side != side {
			continue
		}
		k := len(out)
		for ; k > 0 && out[k-1].Behind > b.Behind; k-- {
		}
		out = append(out, model.Baluster{})
		copy(out[k+1:], out[k:])
		out[k] = b
	}
	return out
}

// onSide returns the place in plan on a side of the opening that lies behind
// the nose line by d, square to it, or its back end when it ends before.
func (t *site) onSide(side model.Edge, d float64) mgl64.Vec2 {
	s := t.step
	n := len(s.Corners)
	c, end, by := s.FL, s.BL, n-1
	if side == model.Right {
		c, end, by = s.FR, s.BR, 1
	}
	start := s.Corners[c]
	for c != end {
		a, b := s.Corners[c], s.Corners[(c+by)%n]
		da, db := a.Sub(start).Dot(t.back), b.Sub(start).Dot(t.back)
		if db >= d && db > da {
			return a.Add(b.Sub(a).Mul((d - da) / (db - da)))
		}
		c = (c + by) % n
	}
	return s.Corners[end]
}
