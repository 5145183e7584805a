package sensing

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
)

// Trigger is something beside the stair that a sensor sees.
type Trigger struct {
	Sensor int // place in Result.Zones
	Thing  model.ID
	Name   string
	Warm   bool    // it does not move, but warms
	Most   float64 // the largest share of it that is seen
	Part   float64 // the part of its path on which it may trigger; 1 for a warm thing
	Field  string  // of the job, such as "sensing.passers.0"
}

const (
	paceOfPath = 100 // mm between two places of a path that are looked at
	swings     = 6   // places of a door leaf
	doorThick  = 45  // mm, from memory
	mostPlaces = 400 // of one path
)

// thing is something beside the stair: a passer or what warms.
type thing struct {
	Trigger // what does not depend on the sensor
	passer  *model.Passer
	warm    *model.WarmThing
}

// things returns what moves and warms near the stair.
func things(job *model.Job) []thing {
	var out []thing
	for k := range job.Sensing.Passers {
		p := &job.Sensing.Passers[k]
		out = append(out, thing{Trigger: Trigger{Thing: p.ID, Name: p.Name, Field: placeOf("passers", k)}, passer: p})
	}
	for k := range job.Sensing.Warm {
		b := &job.Sensing.Warm[k]
		out = append(out, thing{Trigger: Trigger{Thing: b.ID, Name: b.Name, Warm: true, Field: placeOf("warm", k)}, warm: b})
	}
	return out
}

// solids returns a thing at every place where it may be.
func (st *Stair) solids(x *thing) []Solid {
	if x.passer != nil {
		return st.passing(x.passer)
	}
	return []Solid{warmBox(x.warm)}
}

// trigger returns what a sensor that works sees of a thing, t without the
// sensor, if that may fool it.
func (w *watcher) trigger(z *Zone, t Trigger, solids []Solid) []Trigger {
	if !z.Settled() {
		return nil
	}
	seen := 0
	for k := range solids {
		part, whole := w.l.measure(w.st, &z.Eye, &solids[k])
		if part > 0 && whole > 0 {
			t.Most = max(t.Most, part/whole)
			if w.may(view{part / whole, part}) {
				seen++
			}
		}
	}
	if seen == 0 {
		return nil
	}
	t.Sensor, t.Part = z.Sensor, float64(seen)/float64(len(solids))
	return []Trigger{t}
}

// warmBox returns the solid of a warm thing; what is flat is given a millimetre.
func warmBox(b *model.WarmThing) Solid {
	low, high := b.Low, b.High
	mid := mgl64.Vec2{float64(low.X+high.X) / 2, float64(low.Y+high.Y) / 2}
	return block(mid, mgl64.Vec2{1, 0}, max(1, float64(high.X-low.X)), max(1, float64(high.Y-low.Y)),
		float64(low.Z), max(float64(low.Z)+1, float64(high.Z)), false)
}

// passing returns the solids of a passer along its path.
func (st *Stair) passing(p *model.Passer) []Solid {
	floor := st.floor
	if p.Top {
		v := st.Nose[st.Risers-1]
		floor = (v[0][2] + v[1][2]) / 2
	}
	at := func(c model.Corner) mgl64.Vec2 { return mgl64.Vec2{float64(c.X), float64(c.Y)} }
	var out []Solid
	if p.Kind == model.DoorSwings {
		if len(p.Path) < 3 {
			return nil
		}
		high := float64(p.Height)
		if high == 0 {
			high = st.t.Practised("door_high").Value
		}
		hinge := at(p.Path[0])
		a, b := at(p.Path[1]).Sub(hinge), at(p.Path[2]).Sub(hinge)
		if a.Len() < 1 || b.Len() < 1 {
			return nil
		}
		turn := turnOf(a.Normalize(), b)
		for i := range swings + 1 {
			sin, cos := math.Sincos(turn * float64(i) / swings)
			d := a.Normalize()
			d = mgl64.Vec2{d[0]*cos - d[1]*sin, d[1]*cos + d[0]*sin}
			out = append(out, block(hinge.Add(d.Mul(a.Len()/2)), d, a.Len(), doorThick, floor, floor+high, false))
		}
		return out
	}
	sum := 0.0
	for k := 0; k+1 < len(p.Path); k++ {
		sum += at(p.Path[k+1]).Sub(at(p.Path[k])).Len()
	}
	pace := max(paceOfPath, sum/mostPlaces)
	for k := 0; k+1 < len(p.Path); k++ {
		a, b := at(p.Path[k]), at(p.Path[k+1])
		l := b.Sub(a).Len()
		if l < 1 {
			continue
		}
		way := b.Sub(a).Mul(1 / l)
		n := int(math.Ceil(l / pace))
		for i := range n + 1 {
			out = append(out, st.passer(p, a.Add(way.Mul(l*float64(i)/float64(n))).Vec3(floor), way))
		}
	}
	return out
}

// passer returns the solid of a passer at a foot.
func (st *Stair) passer(p *model.Passer, foot mgl64.Vec3, way mgl64.Vec2) Solid {
	if p.Kind == model.PetPasses {
		high := float64(p.Height)
		if high == 0 {
			high = st.t.Practised("pet_height").Value
		}
		return block(foot.Vec2(), way, st.t.Practised("pet_long").Value, st.t.Practised("pet_wide").Value, foot[2], foot[2]+high, true)
	}
	age := model.Adult
	if p.Kind == model.ChildPasses {
		age = model.Child
	}
	for i := range st.t.Bodies {
		b := st.t.Bodies[i]
		if b.Age != age {
			continue
		}
		if p.Height > 0 { // as that body, scaled upright
			s := float64(p.Height) / b.Stature.Value
			b.Stature.Value *= s
			b.Shoulder.Value *= s
			b.Crotch.Value *= s
		}
		return Standing(&b, foot, way)
	}
	return block(foot.Vec2(), way, 300, 500, foot[2], foot[2]+max(1, float64(p.Height)), true) // no such body in the table
}
