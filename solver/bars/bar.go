package bars

import (
	"fmt"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// Bar is one light bar. It is read-only once returned. The zero Bar is none.
type Bar struct {
	Step int // it lies under the nose of this step, counted from 1
	// Lights is the tread that it lights, Step-1; 0 is the bottom floor.
	Lights int

	Left, Right mgl64.Vec3 // ends of its centre line, on the underside of the tread
	// Back is the direction in plan from the nose to the riser, unit.
	Back mgl64.Vec2

	Room   float64 // between what it meets at its two ends
	Length float64 // of base strip and diffuser; 0: no bar
	Pixels int     // on the LED strip
	Strip  float64 // length of the LED strip
	Spare  float64 // of the base strip beyond the LED strip, at each end

	Overhang [2]float64 // nose to riser face at its left and right end
	// Behind is the packer between the bar and the riser's face (or the cove) at
	// its left and right end; below 0 the bar does not fit.
	Behind [2]float64
	// Wedge is how much thicker at its back than at its front a packer must be
	// to hang the bar plumb under a tread that is not level; below 0 the other
	// way round.
	Wedge float64
	// Level is how much higher its right end lies than its left.
	Level float64
	Hang  float64 // below the tread's underside; less with a groove
	Fits  bool    // it goes between the setback and the riser, and has length

	Way Way
	// Climb is where wires in the cavity bend on their way up from here to the
	// next bar that has a way out: none along a straight side.
	Climb []mgl64.Vec3
	Glare Glare
	Feed  model.FeedEnds
}

// Name returns what is written on the bar, such as B07.
func (b *Bar) Name() string { return Name(b.Step) }

// Name returns what is written on the bar under the nose of a step.
func Name(step int) string { return fmt.Sprintf("B%02d", step) }

// LightsWords returns what the bar lights, such as "tread 6" or "bottom floor".
func (b *Bar) LightsWords() string {
	if b.Lights == 0 {
		return "bottom floor"
	}
	return fmt.Sprintf("tread %d", b.Lights)
}

// Way is how the wires leave a bar: a notch in the top corner of the riser
// behind it, or a hole bored high in that riser. It is never in the nose.
type Way struct {
	Hole  bool
	Piece string      // the riser, such as R07
	Side  pieces.Side // the end it is measured from
	// Along is from the riser's end on that side to the middle of the hole, or
	// to the far edge of the notch; Down from the riser's top edge to the
	// middle of the hole, or to the foot of the notch.
	Along, Down   float64
	Width, Height float64    // of the notch; the bore of a hole
	At            mgl64.Vec3 // where the wires pass the riser's face
	Hidden        bool       // the bar covers it
}

// Words returns the way as it is written in a schedule.
func (w *Way) Words(f model.Format) string {
	if w.Piece == "" {
		return ""
	}
	if w.Hole {
		return fmt.Sprintf("%s hole in %s, %s from the %s end, %s down", f.Length(model.Length(w.Width)), w.Piece,
			f.Length(model.Length(w.Along)), w.Side, f.Length(model.Length(w.Down)))
	}
	return fmt.Sprintf("%s × %s notch, top %s corner of %s", f.Length(model.Length(w.Width)), f.Length(model.Length(w.Height)), w.Side, w.Piece)
}

// Glare is what an eye in the hall sees of a bar.
type Glare struct {
	Above bool    // the bar hangs above the eye, and no step hides it
	Lip   float64 // that would hide it; 0 where nothing need be hidden
	Seen  bool    // the lip there is does not do it
}

// Result is the bars of a flight and what is to be known about them.
type Result struct {
	Bars     []Bar
	Strip    model.StripType
	Findings []model.Finding
}

// Pixels returns the number of pixels of all bars.
func (r *Result) Pixels() int {
	n := 0
	for i := range r.Bars {
		n += r.Bars[i].Pixels
	}
	return n
}
