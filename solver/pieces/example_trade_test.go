package pieces_test

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
)

// The worked examples of the trade that concern boards. Source of all: common
// practice, no source; the numbers are arithmetic on it.
func TestTradeExamples(t *testing.T) {
	// Back width 914, depth 286 square to the back, gauges 91.0 and 90.5 at the
	// back: front width 921.5.
	f := straight(14)
	s := &f.res.Steps[6]
	left, right := math.Tan(1*degree), math.Tan(0.5*degree)
	y := s.Corners[2][1]
	s.Corners = []mgl64.Vec2{{-286 * left, y - 286}, {914 + 286*right, y - 286}, {914, y}, {0, y}}
	p := f.named(t, "T07")
	near(t, "T07 back width", p.Figures.Back.Value, 914, 1e-9)
	near(t, "T07 front width", p.Figures.Front.Value, 921.5, 0.05)
	near(t, "T07 gauge left", p.Ends[pieces.Left].Gauge.Value/degree, 91, 1e-9)
	near(t, "T07 gauge right", p.Ends[pieces.Right].Gauge.Value/degree, 90.5, 1e-9)

	// 0.1 degree is 0.5 mm over 286.
	near(t, "a tenth of a degree over 286", 286*math.Tan(0.1*degree), 0.5, 0.05)
	g := f.clone()
	g.res.Steps[6].Corners[0] = mgl64.Vec2{-286 * math.Tan(1.1*degree), y - 286}
	near(t, "front width for 0.1 degree", g.named(t, "T07").Figures.Front.Value-p.Figures.Front.Value, 0.5, 0.05)

	// An undercut of 2 degrees over 25 mm is 0.9.
	f.job.Overlay.Undercut = 2 * model.Degree
	f.job.Overlay.Tread = 25
	p = f.named(t, "T05")
	near(t, "undercut 2 over 25", p.Solid.Verts[4][0]-p.Solid.Verts[0][0], 0.9, 0.05)

	// A side leaning 1 degree over 180 is 3.1: the riser is that much wider at
	// the top than at the bottom.
	f = straight(14)
	f.res.Steps[4].Lean[1] = 1 * degree
	for k := 4; k < 14; k++ { // rise 201: 180 is left between tread and underside
		f.res.Steps[k].TopLeft, f.res.Steps[k].TopRight = f.res.Steps[k].TopLeft+10, f.res.Steps[k].TopRight+10
	}
	f.job.Flight.Steps[4].PackLeft, f.job.Flight.Steps[4].PackRight = -10, -10
	r := f.named(t, "R06")
	near(t, "height of R06", r.Figures.LeftDepth.Value, 180, 1e-9)
	near(t, "lean 1 over 180", r.Figures.Front.Value-r.Figures.Back.Value, 3.1, 0.05)

	// A tread that butts against the riser is going + overhang deep, one that
	// runs under it a riser's thickness more: 254 + 32 = 286.
	f = straight(14)
	f.job.Overlay.Overhang = 32
	for k := range 13 {
		for c := 2; c < 4; c++ {
			s := &f.res.Steps[k]
			s.Corners[c][1] = s.Corners[0][1] + float64(model.OpeningDepth(f.job, 254))
		}
	}
	near(t, "depth under the riser", f.named(t, "T03").Figures.LeftDepth.Value, 254+32+12, 1e-9)
	f.job.Overlay.Back = model.BackAgainstRiser
	near(t, "depth against the riser", f.named(t, "T03").Figures.LeftDepth.Value, 286, 1e-9)
}

// On a square flight every board can be worked out in the head.
func TestSquareFlight(t *testing.T) {
	f := straight(14)
	o := &f.job.Overlay
	o.Fit, o.RiserGap, o.FloorBottom, o.FloorTop = 0.25, 1, 15, 12
	f.job.Flight.Steps[2].PackLeft, f.job.Flight.Steps[2].PackRight = 3, 3
	type row struct {
		id                        string
		back, front, left, right  float64
		bottomZ, faceY, thickness float64
	}
	rows := []row{
		// width 914 less twice the fit; opening 254 + 25 + 12 deep
		{id: "T01", back: 913.5, front: 913.5, left: 291, right: 291, bottomZ: 190 + 20, faceY: 291, thickness: 20},
		{id: "L14", back: 913.5, front: 913.5, left: 90, right: 90, bottomZ: 14*190 + 12, faceY: 13*254 + 90, thickness: 20},
		// from the new floor at 15 to 190 (underside of T01) less the gap
		{id: "R01", back: 913.5, front: 913.5, left: 174, right: 174, bottomZ: 15, faceY: 25, thickness: 12},
		// from 210 to 380 less the gap
		{id: "R02", back: 913.5, front: 913.5, left: 169, right: 169, bottomZ: 210, faceY: 254 + 25, thickness: 12},
		// packed 3 up: the riser below is longer, the one above shorter
		{id: "R03", back: 913.5, front: 913.5, left: 172, right: 172, bottomZ: 400, faceY: 508 + 25, thickness: 12},
		{id: "R04", back: 913.5, front: 913.5, left: 166, right: 166, bottomZ: 593, faceY: 762 + 25, thickness: 12},
		// from T13's top at 2490 to the landing nosing's underside at 2660+12-20
		{id: "R14", back: 913.5, front: 913.5, left: 161, right: 161, bottomZ: 2490, faceY: 13*254 + 25, thickness: 12},
	}
	for _, r := range rows {
		t.Run(r.id, func(t *testing.T) {
			p := f.named(t, r.id)
			near(t, "back", p.Figures.Back.Value, r.back, 1e-9)
			near(t, "front", p.Figures.Front.Value, r.front, 1e-9)
			near(t, "left", p.Figures.LeftDepth.Value, r.left, 1e-9)
			near(t, "right", p.Figures.RightDepth.Value, r.right, 1e-9)
			near(t, "diagonal", p.Figures.DiagonalLeft.Value, math.Hypot(r.back, r.left), 1e-9)
			near(t, "thickness", p.Thickness, r.thickness, 0)
			at := p.Frame.Col(3)
			near(t, "x of the frame", at[0], 0.25, 1e-9)
			near(t, "y of the frame", at[1], r.faceY, 1e-9)
			near(t, "z of the frame", at[2], r.bottomZ, 1e-9)
			if !p.Released {
				t.Errorf("not released: %s", p.Why)
			}
		})
	}

	// Against the riser, the tread stops at its face and the riser stands on
	// the old tread, or on what planing left of it.
	o.Back = model.BackAgainstRiser
	f.job.Flight.Steps[4].PackLeft, f.job.Flight.Steps[4].PackRight = -2, -2
	near(t, "T01 against the riser", f.named(t, "T01").Figures.LeftDepth.Value, 279, 1e-9)
	near(t, "R02 on the old tread", f.named(t, "R02").Figures.LeftDepth.Value, 189, 1e-9)
	near(t, "R04 beside packing", f.named(t, "R04").Figures.LeftDepth.Value, 189, 1e-9)
	near(t, "R06 on a planed tread", f.named(t, "R06").Figures.LeftDepth.Value, 191, 1e-9)
	// planed to a wedge, the riser follows it; packed to one, it stands beside
	f.job.Flight.Steps[4].PackRight = 0
	near(t, "R06 left, planed there", f.named(t, "R06").Figures.LeftDepth.Value, 191, 0.01)
	near(t, "R06 right, not planed", f.named(t, "R06").Figures.RightDepth.Value, 189, 0.01)
	f.job.Flight.Steps[4].PackRight = 1
	near(t, "R06 left, packed at the right", f.named(t, "R06").Figures.LeftDepth.Value, 189, 0.01)
	near(t, "R05 left, under the wedge", f.named(t, "R05").Figures.LeftDepth.Value, 187, 0.01)
	near(t, "R05 right, under the wedge", f.named(t, "R05").Figures.RightDepth.Value, 190, 0.01)
}
