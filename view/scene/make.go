package scene

import (
	"errors"
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/pieces"
	"risewright/solver/sensing"
)

// Time is a time of day.
type Time string

// The times. The zero value counts as Day.
const (
	Day     Time = "day"
	Evening Time = "evening"
	Night   Time = "night"
)

// Times lists the times.
func Times() []Time { return []Time{Day, Evening, Night} }

// Options say what is to be seen. The zero value is the finished stair by day,
// nobody on it.
type Options struct {
	Before bool // the stair as it stands, under its carpet
	Time   Time
	// Walker is the step on which somebody walks, counted as in model.Sensor
	// from 1 at tread 1, parts of it between two; 0: nobody. Down says that they
	// walk down.
	Walker float64
	Down   bool
	// Look is how everything is finished; see LookOf.
	Look model.Look
	// Level, where not nil, gives the share of its full light of the bar under
	// each nose, 0 to 1; nil takes what Lit says.
	Level func(bar int) float64
	// Sense is what the sensors see, for Lit; nil works it out, which takes some
	// milliseconds a sensor.
	Sense *sensing.Result
}

// ErrNoStair is returned for an answer without boards.
var ErrNoStair = errors.New("there is no stair to show yet: the job could not be solved; see its findings")

// maker makes one scene.
type maker struct {
	b     builder
	a     *solver.Answer
	w     *solver.Work // may be nil
	t     model.Tables
	o     Options
	sides [2][]sidePoint
	place place
}

// sidePoint is a place on a side of the stair at the height of the tread.
type sidePoint struct {
	step  int // from 1
	front bool
	at    mgl64.Vec3 // on the new tread
	old   float64    // height of the old tread there
	kind  model.SideKind
}

// Make returns the surfaces and lamps of a stair: of a the boards, bars and
// balusters, of w (which may be nil) what the order of fitting decided about
// the skirts. Rooms, walls and what the job does not say are made up in usual
// sizes, common practice, no source. The result depends on nothing else, and
// identical jobs make identical scenes.
func Make(a *solver.Answer, w *solver.Work, t model.Tables, o Options) (*Scene, error) {
	if a == nil || a.Survey == nil || len(a.Pieces) < 2 || len(a.Survey.Steps) == 0 {
		return nil, ErrNoStair
	}
	for i := range a.Pieces {
		p := &a.Pieces[i]
		if p.Impossible != "" && p.Kind != pieces.ReturnNosing {
			return nil, fmt.Errorf("%s cannot be made, so there is no picture: %s", p.ID, p.Impossible)
		}
	}
	m := &maker{a: a, w: w, t: t, o: o, b: builder{named: map[string]int{}}}
	if m.o.Time == "" {
		m.o.Time = Day
	}
	m.findSides()
	if err := m.findPlace(); err != nil {
		return nil, err
	}
	if o.Before {
		m.carpeted()
	} else {
		m.boards()
		m.bars()
	}
	m.skirts()
	m.rail()
	m.rooms()
	m.sensors()
	m.walker()
	m.findStand()
	m.b.s.bounds()
	for i := range 3 {
		if !(m.b.s.Top[i]-m.b.s.Low[i] < 1e6) {
			return nil, fmt.Errorf("the stair reaches %.0f mm; check its readings", m.b.s.Top[i]-m.b.s.Low[i])
		}
	}
	return &m.b.s, nil
}

// findSides lists the places along both sides, from the bottom up: the ends of
// the nose lines and the corners between them. The back corners are left out,
// but for the last, because an opening reaches under the next nose.
func (m *maker) findSides() {
	s, job := m.a.Survey, &m.a.Job
	for i := range s.Steps {
		st := &s.Steps[i]
		n := len(st.Corners)
		top := &m.a.Pieces[2*i+1]
		for side := range m.sides {
			front, back, by := st.FL, st.BL, n-1
			kind := job.Flight.Steps[i].Left.Kind
			if side == 1 {
				front, back, by = st.FR, st.BR, 1
				kind = job.Flight.Steps[i].Right.Kind
			}
			for c := front; c == front || c != back || i == len(s.Steps)-1; c = (c + by) % n {
				p := st.Corners[c]
				m.sides[side] = append(m.sides[side], sidePoint{step: i + 1, front: c == front, kind: kind,
					at: p.Vec3(heightOn(top, p)), old: st.HeightAt(p)})
				if c == back {
					break
				}
			}
		}
	}
}

// heightOn returns the height of a board's show face at a place in plan.
func heightOn(p *pieces.Piece, at mgl64.Vec2) float64 {
	z, o := p.Frame.Col(2).Vec3(), p.Frame.Col(3).Vec3()
	if math.Abs(z[2]) < 1e-9 {
		return o[2]
	}
	return o[2] - (z[0]*(at[0]-o[0])+z[1]*(at[1]-o[1]))/z[2]
}

// surface returns the height of what is walked on at a step in this picture.
func (m *maker) surface(i int, at mgl64.Vec2) float64 {
	if m.o.Before {
		return m.a.Survey.Steps[i].HeightAt(at) + carpetThick
	}
	return heightOn(&m.a.Pieces[2*i+1], at)
}

// paint returns the material of a paint of the table, by id, for a part; the
// part's first when the id is not there.
func (m *maker) paint(name, id string, for_ model.LookPart) int {
	return m.b.material(name, func() Material {
		list := m.t.Looks.PaintsFor(for_)
		c := model.RGB{230, 226, 216}
		for i, p := range list {
			if i == 0 || p.ID == id {
				c = p.Colour
			}
		}
		mat := Material{Diffuse: Linear(c), Gloss: 0.35, Rough: 0.45}
		if for_ == model.LookWall {
			mat.Gloss, mat.Rough = 0, 1
		}
		return mat
	})
}

func (m *maker) trim() int { return m.paint("trim paint", m.o.Look.Trim, model.LookTrim) }
func (m *maker) wall() int { return m.paint("wall paint", m.o.Look.Wall, model.LookWall) }

// species returns the look of the chosen wood.
func (m *maker) species() model.WoodLook {
	id := m.a.Job.Shop.Species
	if id == "" && len(m.t.Wood.Species) > 0 {
		id = m.t.Wood.Species[0].ID
	}
	w, _ := m.t.Looks.Wood(id)
	return w
}

func pick[T any](list []T, id string, of func(T) string) (out T) {
	for i, v := range list {
		if i == 0 || of(v) == id {
			out = v
		}
	}
	return out
}

func (m *maker) stain() model.Finish {
	return pick(m.t.Looks.Stains, m.o.Look.Stain, func(f model.Finish) string { return f.ID })
}

func (m *maker) sheen() model.Sheen {
	return pick(m.t.Looks.Sheens, m.o.Look.Sheen, func(s model.Sheen) string { return s.ID })
}

// wood returns the material of a board, whose figure is its own.
func (m *maker) wood(id string) int {
	return m.b.material("wood "+id, func() Material {
		g := NewWood(m.species(), m.stain(), seed(id))
		s := m.sheen()
		return Material{Diffuse: mean(g), Grain: g, Gloss: s.Gloss, Rough: s.Rough}
	})
}

// stripFloor returns the material of a floor of narrow boards.
func (m *maker) stripFloor(id string) int {
	return m.b.material("floor "+id, func() Material {
		g := NewWood(m.species(), m.stain(), seed("floor "+id))
		g.strip, g.long, g.turn = 92, 1150, id == "hall"
		s := m.sheen()
		return Material{Diffuse: mean(g), Grain: g, Gloss: s.Gloss * 0.8, Rough: s.Rough}
	})
}

// mean returns the mean reflectance of a wood, for what light it sends on.
func mean(g *Wood) (out Colour) {
	const n = 24
	for i := range n {
		for j := range n {
			c := g.At(mgl64.Vec3{float64(i) * 37.3, float64(j) * 12.7, 0})
			for k := range out {
				out[k] += c[k] / (n * n)
			}
		}
	}
	return out
}

// carpet returns the material of the carpet that lies on the stair before.
func (m *maker) carpet() int {
	return m.b.material("carpet", func() Material {
		f := pick(m.t.Looks.Carpets, m.o.Look.Carpet, func(f model.Finish) string { return f.ID })
		c := Linear(f.Colour)
		return Material{Diffuse: c, Grain: &Pile{colour: c, seed: seed("carpet")}, Rough: 1}
	})
}
