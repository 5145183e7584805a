package wood

import (
	"fmt"
	"math"

	"risewright/model"
)

// Cut is how a board was sawn from the log.
type Cut string

// The cuts. The empty cut counts as FlatSawn, which moves most.
const (
	FlatSawn    Cut = "flat-sawn"
	QuarterSawn Cut = "quarter-sawn"
)

// Choice is the wood of the treads and the air they live in.
type Choice struct {
	Species model.Species
	Cut     Cut
	Winter  model.Season // the driest air
	Summer  model.Season // the dampest
	// Laid is the moisture of the boards when they are fixed, in percent, by a
	// meter; 0 means not measured, and then the middle of the seasons is taken.
	Laid float64
	// Screwed says that treads are screwed on a dry bed, not glued.
	Screwed bool
}

// Board is a tread or a landing nosing as far as it moves.
type Board struct {
	Piece   string
	Depth   float64 // nose to back edge, mm; the greater of both ends
	Landing bool    // the landing nosing, whose back edge meets the floor in the open
}

// Movement is how the treads of a flight move.
type Movement struct {
	Winter, Summer float64 // moisture the wood comes to, percent
	Laid           float64 // moisture taken for the day of fixing
	Coefficient    float64 // for each percent; 0 where shrinkage was used
	Standing       model.Standing
	Treads         []Tread
	Fixing         string   // how to fix them so that they can move
	Notes          []string // what to know before trusting this
}

// Tread is how one tread moves, mm.
type Tread struct {
	Piece string
	Depth float64 // nose to back edge, the greater of both ends
	Swing float64 // from winter to summer
	Dry   float64 // how much it has shrunk in winter, from the day of fixing; 0 or more
	Damp  float64 // how much it has grown in summer
	// Gap is what winter opens behind the back edge. Seen says whether it
	// shows: it does not as long as the riser that stands on the tread covers it.
	Gap  float64
	Seen bool
	// Cover is how much of the tread stays under that riser in winter; 0 where
	// the tread butts against the riser.
	Cover float64
	// Room is what must be free behind the back edge when it is fixed, so that
	// summer does not push the riser.
	Room float64
}

// leastCover is how much of a tread should stay under the riser in winter, mm:
// a quarter of a thin riser. Common practice, no source.
const leastCover = 2.0

// Treads returns the movement of every board.
func Treads(job model.Job, boards []Board, c Choice) Movement {
	m := Movement{
		Winter: Moisture(c.Winter.Humidity, c.Winter.Temperature),
		Summer: Moisture(c.Summer.Humidity, c.Summer.Temperature),
		Laid:   c.Laid,
	}
	if !(m.Laid > 0) {
		m.Laid = (m.Winter + m.Summer) / 2
		m.Notes = append(m.Notes, "the boards' moisture was not measured; the middle of the seasons is taken: use a meter before fixing, twice")
	}
	if m.Winter > m.Summer {
		m.Notes = append(m.Notes, "the winter air given is damper than the summer air")
	}
	change := m.changer(c)
	under := job.Overlay.Back == model.BackUnderRiser
	m.Fixing = FixingWords(under, c.Screwed)
	for _, p := range boards {
		depth := p.Depth
		dry, damp := change(depth, m.Winter), change(depth, m.Summer)
		t := Tread{Piece: p.Piece, Depth: depth, Swing: math.Abs(damp - dry), Dry: math.Max(0, -math.Min(dry, damp)), Damp: math.Max(0, math.Max(dry, damp))}
		t.Gap, t.Room = t.Dry, t.Damp
		switch {
		case p.Landing:
			t.Seen = true // the floor's edge meets it in the open
		case under:
			t.Cover = math.Max(0, float64(job.Overlay.Riser)-t.Dry)
			t.Seen = t.Cover == 0
			if t.Cover < leastCover {
				m.Notes = append(m.Notes, fmt.Sprintf("%s keeps only %.1f mm under the riser in winter", p.Piece, t.Cover))
			}
		default:
			t.Seen = true
		}
		m.Treads = append(m.Treads, t)
	}
	return m
}

// changer returns how much a depth, as it is when fixed, grows when it comes to
// a moisture, and fills in the coefficient and the notes on it.
func (m *Movement) changer(c Choice) func(depth, to float64) float64 {
	s := c.Species
	coefficient, shrink, standing := s.Tangential, s.ShrinkTangential, s.TangentialStanding
	if c.Cut == QuarterSawn {
		coefficient, shrink, standing = s.Radial, s.ShrinkRadial, s.RadialStanding
	}
	m.Standing = standing
	low, high := math.Min(m.Winter, math.Min(m.Summer, m.Laid)), math.Max(m.Winter, math.Max(m.Summer, m.Laid))
	if (low < Least || high > Most) && shrink > 0 {
		m.Standing = s.ShrinkStanding
		m.Notes = append(m.Notes, fmt.Sprintf("the wood goes from %.1f to %.1f %%, beyond the 6 to 14 %% for which coefficients hold; shrinkage from green to ovendry is used", low, high))
		return func(depth, to float64) float64 { return ChangeByShrinkage(depth, shrink, m.Laid, to) }
	}
	if low < Least || high > Most {
		m.Notes = append(m.Notes, fmt.Sprintf("the wood goes from %.1f to %.1f %%, beyond the 6 to 14 %% for which the coefficient holds, and no shrinkage is listed for it: take the figures as rough", low, high))
	}
	m.Coefficient = coefficient
	return func(depth, to float64) float64 { return Change(depth, coefficient, m.Laid, to) }
}
