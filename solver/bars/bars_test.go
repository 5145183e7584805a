package bars_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/bars"
	"risewright/solver/pieces"
)

// TestWhichTreadABarLights guards the count that is easily one off: the bar
// under nose k lights tread k-1; bar 1 lights the floor, the landing nosing's
// bar lights the last tread; N risers have N bars.
func TestWhichTreadABarLights(t *testing.T) {
	for _, n := range []int{1, 2, 14} {
		f := straight(n)
		r := f.bars(t, f.light(t))
		if len(r.Bars) != n {
			t.Fatalf("%d risers have %d bars", n, len(r.Bars))
		}
		ps := pieces.Make(f.job, &f.res)
		for i := range r.Bars {
			b := &r.Bars[i]
			if b.Step != i+1 || b.Lights != i {
				t.Errorf("bar %d of %d is under nose %d and lights %d", i+1, n, b.Step, b.Lights)
			}
			// What it lights is what lies next below it: straight down from just
			// inside its riser's face there is the top of tread k-1, and no other
			// between.
			below := 0
			for p := range ps {
				q := &ps[p]
				if q.Kind != pieces.Tread && q.Kind != pieces.LandingNosing {
					continue
				}
				top := mgl64.TransformCoordinate(q.Face[q.BackLeft].Vec3(0), q.Frame)
				front := mgl64.TransformCoordinate(q.Face[q.FrontLeft].Vec3(0), q.Frame)
				c := b.Centre()
				if top[2] < c[2] && c[1] >= front[1] && c[1] <= top[1] {
					below = max(below, q.Step)
				}
			}
			if below != b.Lights {
				t.Errorf("below bar %d lies tread %d, but it is said to light %d", b.Step, below, b.Lights)
			}
		}
		if last := r.Bars[n-1]; n > 1 && last.LightsWords() != fmt.Sprintf("tread %d", n-1) {
			t.Errorf("the landing nosing's bar lights the %s", last.LightsWords())
		}
		if r.Bars[0].LightsWords() != "bottom floor" {
			t.Errorf("bar 1 lights the %s", r.Bars[0].LightsWords())
		}
	}
}

// TestWorkedBar is the trade's figure: 910 between the walls less 15 at each
// end is 880, which is 52 LEDs at 60 to the metre (16.7 apart). Common
// practice, no source.
func TestWorkedBar(t *testing.T) {
	f := straight(14)
	r := f.bars(t, f.light(t))
	for _, b := range r.Bars {
		near(t, b.Name()+" room", b.Room, 910, 1e-6)
		near(t, b.Name()+" length", b.Length, 880, 1e-6)
		if b.Pixels != 52 {
			t.Errorf("%s has %d pixels, want 52", b.Name(), b.Pixels)
		}
		near(t, b.Name()+" strip", b.Strip, 52*1000.0/60, 1e-6)
		near(t, b.Name()+" overhang", b.Overhang[0], 30, 1e-6)
		near(t, b.Name()+" packer behind", b.Behind[1], 30-5-10, 1e-6)
		near(t, b.Name()+" underside", b.Left[2], 190*float64(b.Step)-20, 1e-6)
		near(t, b.Name()+" set back", b.Left[1], 254*float64(b.Step-1)+5+5, 1e-6)
		if !b.Fits || b.Way.Piece != pieces.Label(pieces.Riser, b.Step) || b.Way.Hole {
			t.Errorf("%s: fits %v, way %+v", b.Name(), b.Fits, b.Way)
		}
	}
	// Cut in groups: 20 pixels to the metre, each 50 mm.
	l := f.light(t)
	l.Strip = "rgb-12v-60-groups"
	if b := f.bars(t, l).Bars[3]; b.Pixels != 17 || math.Abs(b.Strip-850) > 1e-6 {
		t.Errorf("groups of three: %d pixels, %g mm", b.Pixels, b.Strip)
	}
}

// TestGlareFromTheHall is the trade's figure: an eye at 1600 sees the underside
// of the noses above step 8. Common practice, no source.
func TestGlareFromTheHall(t *testing.T) {
	f := straight(14)
	r := f.bars(t, f.light(t))
	for _, b := range r.Bars {
		if b.Glare.Above != (b.Step > 8) {
			t.Errorf("%s above the eye: %v", b.Name(), b.Glare.Above)
		}
	}
	// By hand, bar 14: underside 2640, less 15 is 1025 above the eye, and
	// 1500 + 13·254 + 10 away in plan.
	b := r.Bars[13]
	near(t, "lip of bar 14", b.Glare.Lip, 10*1025.0/4812, 1e-9)
	l := f.light(t)
	l.Lip = model.Length(b.Glare.Lip)
	if g, ok := rules(f.bars(t, l).Findings)["light.glare"]; ok {
		t.Errorf("a lip of %g still leaves %q", b.Glare.Lip, g.Title)
	}
	l.Lip /= 2
	if g := rules(f.bars(t, l).Findings)["light.glare"]; g.Title == "" {
		t.Error("half the lip is taken as enough")
	}
	l.EyeHeight = 3000
	if g, ok := rules(f.bars(t, l).Findings)["light.glare"]; ok {
		t.Errorf("an eye above all bars sees %q", g.Title)
	}
	// Close to the foot of a steep flight the lower treads hide the upper bars.
	near0 := f.light(t)
	near0.EyeHeight, near0.EyeDistance = 400, 10
	hidden := 0
	for _, b := range f.bars(t, near0).Bars {
		if !b.Glare.Above && b.Centre()[2] > 400+20 {
			hidden++
		}
	}
	if hidden == 0 {
		t.Error("an eye at 400 mm right before the flight sees past every tread")
	}
}

// TestFindings: each wrong setting has its finding, and Make stands.
func TestFindings(t *testing.T) {
	rows := []struct {
		name, want string
		set        func(*flight, *model.Lighting)
	}{
		{"negative end clearance", "light.negative", func(_ *flight, l *model.Lighting) { l.EndClearance = -20 }},
		{"negative setback", "light.negative", func(_ *flight, l *model.Lighting) { l.Setback = -1 }},
		{"nan", "light.negative", func(_ *flight, l *model.Lighting) { l.BarWidth = model.Length(math.NaN()) }},
		{"too near the nose", "light.setback", func(_ *flight, l *model.Lighting) { l.Setback = 2 }},
		{"clearance eats the bar", "light.no_strip", func(_ *flight, l *model.Lighting) { l.EndClearance = 500 }},
		{"too wide", "light.no_fit", func(_ *flight, l *model.Lighting) { l.BarWidth = 26 }},
		{"a cove in the way", "light.no_fit", func(_ *flight, l *model.Lighting) { l.Cove = 16 }},
		{"deep groove", "light.groove", func(_ *flight, l *model.Lighting) { l.Groove = 13 }},
		{"no such strip", "light.strip", func(_ *flight, l *model.Lighting) { l.Strip = "none" }},
		{"strip with no pixels", "light.strip", func(_ *flight, l *model.Lighting) {
			l.Own.Strips = []model.StripType{{ID: l.Strip, Title: "empty"}}
		}},
		{"bar longer than its strip", "light.strip_short", func(f *flight, l *model.Lighting) {
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Pixels: 40}}
		}},
		{"strip longer than its bar", "light.strip_over", func(f *flight, l *model.Lighting) {
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Pixels: 60}}
		}},
		{"bar longer than its room", "light.too_long", func(f *flight, l *model.Lighting) {
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Length: 950}}
		}},
		{"bar longer than a reel", "light.reel", func(f *flight, l *model.Lighting) {
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Length: 6000}}
		}},
		{"cut off its points", "light.cut_point", func(f *flight, l *model.Lighting) {
			s, _ := table(t).Strip(l.Strip)
			s.CutPixels = 3
			l.Own.Strips = []model.StripType{s}
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Pixels: 50}}
		}},
		{"fewer pixels than none", "light.negative_pixels", func(f *flight, l *model.Lighting) {
			l.Bars = []model.BarOwn{{Step: f.job.Flight.Steps[2].ID, Pixels: -5}}
		}},
		{"a step that is not there", "light.own", func(_ *flight, l *model.Lighting) { l.Bars = []model.BarOwn{{Pixels: 3}} }},
		{"coarse strip, low diffuser", "light.spots", func(_ *flight, l *model.Lighting) { l.Strip = "rgb-5v-30" }},
		{"huge notch", "light.notch", func(_ *flight, l *model.Lighting) { l.NotchHeight = 90 }},
		{"huge hole", "light.hole", func(_ *flight, l *model.Lighting) { l.Cavity, l.NotchWidth = model.CavityUnder, 90 }},
		{"no section", "light.section", func(_ *flight, l *model.Lighting) { l.BarWidth = 0 }},
	}
	for _, c := range rows {
		t.Run(c.name, func(t *testing.T) {
			f := straight(5)
			l := f.light(t)
			if _, ok := rules(f.bars(t, l).Findings)[c.want]; ok {
				t.Fatalf("%s is found before anything is wrong", c.want)
			}
			c.set(f, &l)
			r := f.bars(t, l)
			g, ok := rules(r.Findings)[c.want]
			if !ok || g.Title == "" || g.Severity == model.Block {
				t.Errorf("findings %+v lack %s", r.Findings, c.want)
			}
			if !strings.HasPrefix(g.Where.Field, "lighting.") {
				t.Errorf("%s names no field that mends it: %+v", c.want, g.Where)
			}
			if len(r.Bars) != 5 {
				t.Errorf("%d bars of 5", len(r.Bars))
			}
		})
	}
	if r := straight(5).bars(t, model.Lighting{}); len(r.Bars)+len(r.Findings) > 0 {
		t.Error("no lighting has bars")
	}
	// A riser of no height.
	f := straight(4)
	f.res.Steps[2].TopLeft, f.res.Steps[2].TopRight = f.res.Steps[1].TopLeft, f.res.Steps[1].TopRight
	r := f.bars(t, f.light(t))
	if _, ok := rules(r.Findings)["light.no_room"]; !ok || len(r.Bars) != 4 || r.Bars[2].Length != 0 {
		t.Errorf("no riser at step 3: %d bars, %+v", len(r.Bars), r.Findings)
	}
}

// TestCuts: law 2 over widths and strips.
func TestCuts(t *testing.T) {
	const seed = 5
	r := rand.New(rand.NewPCG(seed, 1))
	for range 200 {
		f := straight(2)
		w := 100 + 1500*r.Float64()
		for k := range f.res.Steps {
			c := f.res.Steps[k].Corners
			c[1][0], c[2][0] = w, w+20*r.Float64()-10
		}
		l := f.light(t)
		strips := table(t).Strips
		l.Strip = strips[r.IntN(len(strips))].ID
		res := f.bars(t, l)
		for _, b := range res.Bars {
			unit := res.Strip.Pitch() * float64(res.Strip.CutPixels)
			if b.Strip > b.Length+1e-6 || b.Length-b.Strip >= unit+1e-6 || b.Pixels%res.Strip.CutPixels != 0 {
				t.Fatalf("seed %d: bar %g, strip %g, unit %g", seed, b.Length, b.Strip, unit)
			}
		}
	}
}

// TestMovedFlight: law 3, and a mirrored cavity gives the mirrored way.
func TestMovedFlight(t *testing.T) {
	f := straight(6)
	for k := range f.res.Steps { // tilt and fall
		f.res.Steps[k].TopRight += 3
		if k < 5 {
			f.res.Steps[k].Fall = 0.02
		}
	}
	l := f.light(t)
	a := f.bars(t, l)
	near(t, "level", a.Bars[2].Level, 3*880.0/910, 1e-3)
	near(t, "wedge", a.Bars[2].Wedge, 10*0.02, 1e-6)
	g := straight(6)
	turn, shift := mgl64.Rotate2D(0.7), mgl64.Vec2{300, -200}
	for k := range g.res.Steps {
		g.res.Steps[k] = f.res.Steps[k]
		g.res.Steps[k].Corners = nil
		for _, c := range f.res.Steps[k].Corners {
			g.res.Steps[k].Corners = append(g.res.Steps[k].Corners, turn.Mul2x1(c).Add(shift))
		}
	}
	b := g.bars(t, l)
	for i := range a.Bars {
		p, q := a.Bars[i], b.Bars[i]
		near(t, "length", q.Length, p.Length, 1e-6)
		near(t, "lip", q.Glare.Lip, p.Glare.Lip, 1e-6)
		moved := turn.Mul2x1(p.Left.Vec2()).Add(shift)
		near(t, "left end", q.Left.Vec2().Sub(moved).Len(), 0, 1e-6)
		near(t, "way", q.Way.At.Vec2().Sub(turn.Mul2x1(p.Way.At.Vec2()).Add(shift)).Len(), 0, 1e-6)
	}
	l.Cavity = model.CavityRight
	if w := f.bars(t, l).Bars[1].Way; w.Side != pieces.Right || math.Abs(w.At[0]-910) > 1 {
		t.Errorf("cavity at the right: %+v", w)
	}
	l.Cavity, l.Box = model.CavityUnder, model.Point{X: 2000}
	if w := f.bars(t, l).Bars[1].Way; !w.Hole || w.Side != pieces.Right || math.Abs(w.At[0]-(910-50-4)) > 1 {
		t.Errorf("cavity under the stair: %+v", w)
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		steps []int
		want  string
	}{{nil, ""}, {[]int{1}, "B01"}, {[]int{1, 2}, "B01, B02"}, {[]int{1, 3, 4, 5, 7}, "B01, B03–B05, B07"}} {
		if got := bars.Names(c.steps); got != c.want {
			t.Errorf("%v: %q, want %q", c.steps, got, c.want)
		}
	}
}
