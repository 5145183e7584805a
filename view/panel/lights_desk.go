package panel

import (
	"context"
	"fmt"
	"image/color"
	"slices"

	"risewright/model"
	"risewright/solver"
	"risewright/solver/lux"
	"risewright/solver/power"
	"risewright/view/drawing"
	"risewright/view/lights"
)

// lightDesk is how the light bars are being looked at, and what follows from
// them that is too slow for a drag. The zero lightDesk looks at nothing.
type lightDesk struct {
	picked []int // steps whose bars are lit; none: all
	scene  int   // in which they are lit, an index
	mapped bool  // the plan shows the light map

	lux     *lux.Result // the last light map, nil before the first
	luxBars []lux.Bar
	luxOf   luxKey
	luxRun  errand[luxKey]

	sides   []power.Side // at 5, 12 and 24 V
	sidesOf *solver.Answer
	fault   string // why sidesOf has none
	siding  bool   // they are to be worked out, once the job rests
	sideRun errand[*solver.Answer]
}

// errand is work beside the window, one at a time, that can be given up; the zero
// errand is none.
type errand[K comparable] struct {
	about K
	ctx   context.Context
	stop  context.CancelFunc
}

// begin begins work on something, that goes on until the context ends.
func (e *errand[K]) begin(about K) context.Context {
	e.about = about
	e.ctx, e.stop = context.WithCancel(context.Background())
	return e.ctx
}

// going says whether it is under way.
func (e *errand[K]) going() bool { return e.ctx != nil }

// givenUp says whether it is to stop.
func (e *errand[K]) givenUp() bool { return e.going() && e.ctx.Err() != nil }

// keepIf gives it up where it is about something else.
func (e *errand[K]) keepIf(about K) {
	if e.going() && e.about != about {
		e.stop()
	}
}

// end ends it, and says whether it had been given up: what came of it is of no use
// then, even if what it was about is looked at again.
func (e *errand[K]) end() bool {
	up := e.givenUp()
	e.stop()
	*e = errand[K]{}
	return up
}

// luxKey is what a light map was computed for.
type luxKey struct {
	answer *solver.Answer
	scene  int
	picked string
}

// lit says whether the bar of a step was picked to be lit.
func (d *Desk) lit(step int) bool { return slices.Contains(d.lights.picked, step) }

// PickBar lights the bar of a step, or puts it out. While none is picked all
// count as lit.
func (d *Desk) PickBar(step int) {
	p := &d.lights.picked
	if i := slices.Index(*p, step); i >= 0 {
		*p = slices.Delete(slices.Clone(*p), i, i+1)
	} else {
		*p = append(slices.Clone(*p), step)
		slices.Sort(*p)
	}
	d.tell(Viewed)
}

// PickedBars returns the steps whose bars are picked, from the bottom up.
func (d *Desk) PickedBars() []int { return slices.Clone(d.lights.picked) }

// ShowLightMap shows the light map on the plan, or takes it away.
func (d *Desk) ShowLightMap(on bool) {
	if on != d.lights.mapped {
		d.lights.mapped = on
		d.tell(Viewed)
	}
}

// lighting says whether the drawings show the bars so that they can be moved
// and picked.
func (d *Desk) lighting() bool {
	return d.tabs.shows(tabLights) && d.session.Job().Lighting.On()
}

// mapping says whether the plan shows the light map; there is one then.
func (d *Desk) mapping() bool {
	return d.lights.mapped && d.lights.lux != nil && d.lighting()
}

// litScene returns the scene that the map shows, and whether there is one.
func (d *Desk) litScene() (model.Scene, bool) {
	s := d.session.Job().Lighting.Scenes
	if i := d.lights.scene; i >= 0 && i < len(s) {
		return s[i], true
	}
	return model.Scene{}, false
}

// lamps returns the colours of the bars' light in the scene that is looked at,
// taken in turn.
func (d *Desk) lamps() []color.NRGBA {
	a := d.session.Answer()
	if a.Power == nil {
		return nil
	}
	s, _ := d.litScene()
	return lights.Previews(a, s)
}

// lampNames names them.
func (d *Desk) lampNames() []string {
	a := d.session.Answer()
	s, _ := d.litScene()
	switch {
	case a.Power == nil:
		return nil
	case s.Kind == model.SceneOff:
		return []string{"off"}
	case len(s.Colours) == 0:
		return []string{"all channels on"}
	}
	var out []string
	for _, c := range s.Colours {
		out = append(out, lights.Name(a, c))
	}
	return out
}

// lampOf returns the ink of each lit bar's light; nil while bars are not looked
// at.
func (d *Desk) lampOf() func(step int) drawing.Ink {
	if !d.lighting() {
		return nil
	}
	s, _ := d.litScene()
	return func(step int) drawing.Ink {
		if len(d.lights.picked) > 0 && !d.lit(step) {
			return drawing.None
		}
		return drawing.Lamp + drawing.Ink(lights.Turn(s, step))
	}
}

// dropLight gives up what is worked out for a job, a scene or bars that are not
// looked at any more: it would keep a core from what is typed meanwhile.
func (d *Desk) dropLight() {
	d.lights.luxRun.keepIf(d.luxKey())
	d.lights.sideRun.keepIf(d.session.Answer())
}

// light sees to it that the light map and the three voltages are known some
// time, while the tab that shows them is at the front.
func (d *Desk) light() {
	d.dropLight()
	if !d.lighting() {
		return
	}
	d.mapLight()
	d.besides()
}

func (d *Desk) luxKey() luxKey {
	return luxKey{d.session.Answer(), d.lights.scene, fmt.Sprint(d.lights.picked)}
}

// mapLight computes the light map off the goroutine of the interface, one at a
// time.
func (d *Desk) mapLight() {
	g := &d.lights
	key := d.luxKey()
	if !g.mapped || g.luxRun.going() || g.luxOf == key || key.answer.Power == nil {
		return
	}
	scene, ok := d.litScene()
	if !ok {
		scene = model.Scene{Level: 1}
	}
	picked := slices.Clone(g.picked)
	ctx := g.luxRun.begin(key)
	var res *lux.Result
	var bars []lux.Bar
	d.later(func() { res, bars = lightOf(ctx, key.answer, scene, picked) }, func() {
		if g.luxRun.end() || d.luxKey() != key {
			d.light()
			return
		}
		g.luxOf, g.lux, g.luxBars = key, res, bars
		d.tell(Viewed)
	})
}

// lightOf computes the light of the picked bars, or of all when none is. Should
// that break down, which is our fault and not the job's, there is no map, nor when
// it is given up.
func lightOf(ctx context.Context, a *solver.Answer, s model.Scene, picked []int) (res *lux.Result, bars []lux.Bar) {
	defer func() {
		if recover() != nil {
			res, bars = nil, nil
		}
	}()
	p := lights.Problem(a, func(step int) float64 {
		if len(picked) > 0 && !slices.Contains(picked, step) {
			return 0
		}
		return lights.LumensOf(a, step, lights.InScene(a, s, step))
	})
	r, err := lux.SolveUntil(ctx, p, lux.Settings{})
	if err != nil {
		return nil, nil
	}
	return &r, p.Bars
}

// besides works out the same flight at three voltages, once the job rests.
func (d *Desk) besides() {
	g := &d.lights
	a := d.session.Answer()
	if g.siding || g.sidesOf == a || a.Power == nil {
		return
	}
	g.siding = true
	d.rested(func() {
		if d.session.Answer() != a { // it has not rested
			g.siding = false
			d.light()
			return
		}
		tables := d.session.Tables()
		var sides []power.Side
		fault := ""
		ctx := g.sideRun.begin(a)
		d.later(func() { sides, fault = sidesOf(ctx, a, tables) }, func() {
			g.siding = false
			if g.sideRun.end() || d.session.Answer() != a {
				d.light()
				return
			}
			g.sides, g.sidesOf, g.fault = sides, a, fault
			d.tell(Viewed)
		})
	})
}

func sidesOf(ctx context.Context, a *solver.Answer, t model.Tables) (sides []power.Side, fault string) {
	defer func() {
		if cause := recover(); cause != nil {
			sides, fault = nil, fmt.Sprintf("the program failed while working this out: %v; nothing is lost", cause)
		}
	}()
	sides, _ = power.VoltagesUntil(ctx, a.Job, a.Job.Lighting, t.Lights, a.Pieces) // an error says only that it was given up
	return sides, ""
}
