package picture_test

import (
	"context"
	"errors"
	"image"
	"math"
	"sync/atomic"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/view/picture"
	"risewright/view/scene"
)

// square adds a flat square of two triangles, anticlockwise from its front.
func square(s *scene.Scene, part string, material, lamp int, at, u, v mgl64.Vec3) {
	n := u.Cross(v).Normalize()
	p := [4]mgl64.Vec3{at, at.Add(u), at.Add(u).Add(v), at.Add(v)}
	for _, k := range [2][3]int{{0, 1, 2}, {0, 2, 3}} {
		t := scene.Triangle{Material: material, Lamp: lamp, Part: part, N: [3]mgl64.Vec3{n, n, n}}
		for c, i := range k {
			t.P[c], t.Board[c] = p[i], p[i]
		}
		s.Triangles = append(s.Triangles, t)
	}
}

// TestProjection: a place in the stair comes to the pixel to which mathgl's own
// Project brings it, and a hand-worked one where it must.
func TestProjection(t *testing.T) {
	// By hand: from 1000 in front, with a right angle of view, what lies 250 up
	// and 500 to the right is half of half the width from the middle of a square
	// frame: at 3/4 of it, and at 3/8 of the height.
	c := scene.Camera{Eye: mgl64.Vec3{0, -1000, 0}, Up: mgl64.Vec3{0, 0, 1}, Angle: math.Pi / 2}
	m, err := picture.Matrix(c, 800, 800)
	if err != nil {
		t.Fatal(err)
	}
	p := m.Mul4x1(mgl64.Vec4{500, 0, 250, 1})
	if x, y := p[0]/p[3], p[1]/p[3]; math.Abs(x-600) > 1e-9 || math.Abs(y-300) > 1e-9 || math.Abs(p[3]-1000) > 1e-9 {
		t.Errorf("it comes to %g, %g at a depth of %g", x, y, p[3])
	}
	for _, c := range []scene.Camera{
		{Eye: mgl64.Vec3{300, -2000, 1500}, At: mgl64.Vec3{-100, 1500, 900}, Up: mgl64.Vec3{0, 0, 1}, Angle: 0.9},
		{Eye: mgl64.Vec3{-3000, 4000, 5000}, At: mgl64.Vec3{0, 1500, 900}, Up: mgl64.Vec3{0.1, 0, 1}, Angle: 0.5},
	} {
		const w, h = 1000, 700
		m, err := picture.Matrix(c, w, h)
		if err != nil {
			t.Fatal(err)
		}
		view := mgl64.LookAtV(c.Eye, c.At, c.Up)
		lens := mgl64.Perspective(c.Angle, float64(w)/h, 20, 1e6)
		for _, q := range []mgl64.Vec3{{0, 0, 0}, {450, 900, 700}, {-800, 3300, 2600}} {
			want := mgl64.Project(q, view, lens, 0, 0, w, h) // y up
			p := m.Mul4x1(q.Vec4(1))
			if x, y := p[0]/p[3], p[1]/p[3]; math.Abs(x-want[0]) > 1e-6 || math.Abs(h-y-want[1]) > 1e-6 {
				t.Errorf("%v comes to %g, %g; mathgl has %v", q, x, h-y, want)
			}
		}
	}
	for _, bad := range []scene.Camera{{}, {Eye: mgl64.Vec3{0, 0, 1}, Up: mgl64.Vec3{0, 0, 1}, Angle: 1}, {Eye: mgl64.Vec3{1, 0, 0}, Up: mgl64.Vec3{0, 0, 1}}} {
		if _, err := picture.Matrix(bad, 10, 10); err == nil {
			t.Errorf("%+v looks nowhere, and that is not said", bad)
		}
	}
}

// TestPixels: a small square is drawn at the pixels that mathgl's Project gives
// for its corners, what is nearer hides what is farther, and its back is unseen.
func TestPixels(t *testing.T) {
	s := &scene.Scene{Materials: []scene.Material{{Diffuse: scene.Colour{0.8, 0.8, 0.8}}}}
	lamp := func(at, u, v mgl64.Vec3, tint scene.Colour) {
		y := tint.Luminance()
		s.Lamps = append(s.Lamps, scene.Lamp{Corner: at, U: u, V: v, Lumens: 1000, Level: 1, Tint: scene.Colour{tint[0] / y, tint[1] / y, tint[2] / y}})
		square(s, "lamp", 0, len(s.Lamps), at, u, v)
	}
	x, z := mgl64.Vec3{200, 0, 0}, mgl64.Vec3{0, 0, 200}
	lamp(mgl64.Vec3{-100, 0, -100}, x, z, scene.Colour{1, 0.01, 0.01})     // faces the eye
	lamp(mgl64.Vec3{0, 500, -100}, x, z, scene.Colour{0.01, 1, 0.01})      // behind it, to the right
	lamp(mgl64.Vec3{100, -300, -100}, x.Mul(-1), z, scene.Colour{1, 1, 1}) // before both, with its back to the eye
	w, err := picture.Prepare(context.Background(), s, picture.Draft, nil)
	if err != nil {
		t.Fatal(err)
	}
	c := scene.Camera{Eye: mgl64.Vec3{0, -1000, 0}, Up: mgl64.Vec3{0, 0, 1}, Angle: math.Pi / 4}
	img := image.NewRGBA(image.Rect(0, 0, 300, 200))
	var p picture.Painter
	if err := p.Paint(w, picture.Shot{Camera: c, Exposure: picture.Exposure{Gain: 1e-4, White: [3]float32{1, 1, 1}}}, img); err != nil {
		t.Fatal(err)
	}
	view, lens := mgl64.LookAtV(c.Eye, c.At, c.Up), mgl64.Perspective(c.Angle, 1.5, 20, 1e6)
	at := func(q mgl64.Vec3) (int, int) {
		v := mgl64.Project(q, view, lens, 0, 0, 300, 200)
		return int(math.Floor(v[0])), int(math.Floor(200 - v[1]))
	}
	is := func(q mgl64.Vec3, red, green bool, what string) {
		x, y := at(q)
		px := img.RGBAAt(x, y)
		if (px.R > 100) != red || (px.G > 100) != green {
			t.Errorf("%s, pixel %d, %d: %v", what, x, y, px)
		}
	}
	is(mgl64.Vec3{-95, 0, -95}, true, false, "just inside a corner of the near square")
	is(mgl64.Vec3{-106, 0, -95}, false, false, "just outside it")
	is(mgl64.Vec3{95, 0, 95}, true, false, "where the near one hides the far one")
	is(mgl64.Vec3{190, 500, 0}, false, true, "where the far one looks out")
}

// TestEmptyBox: in a black box the illuminance under a lamp is the closed form
// of a rectangle over a point (electrical.md row 6.02): four quarters of it.
func TestEmptyBox(t *testing.T) {
	s := &scene.Scene{Materials: []scene.Material{{}, {}}}
	square(s, "floor", 0, 0, mgl64.Vec3{-1000, -1000, 0}, mgl64.Vec3{2000, 0, 0}, mgl64.Vec3{0, 2000, 0})
	// A lamp of 600 by 400, 500 over the floor, facing down.
	l := scene.Lamp{Corner: mgl64.Vec3{-300, 200, 500}, U: mgl64.Vec3{600, 0, 0}, V: mgl64.Vec3{0, -400, 0}, Lumens: 1200, Level: 1, Tint: scene.Colour{1, 1, 1}}
	s.Lamps = append(s.Lamps, l)
	square(s, "lamp", 1, 1, l.Corner, l.U, l.V)
	w, err := picture.Prepare(context.Background(), s, picture.Fine, nil)
	if err != nil {
		t.Fatal(err)
	}
	quarter := func(a, b, c float64) float64 { // row 6.02
		x, y := a/c, b/c
		return (x/math.Sqrt(1+x*x)*math.Atan(y/math.Sqrt(1+x*x)) + y/math.Sqrt(1+y*y)*math.Atan(x/math.Sqrt(1+y*y))) / (2 * math.Pi)
	}
	exitance := 1200 / (0.6 * 0.4)
	for _, r := range []struct {
		x, y, want float64
	}{
		{0, 0, 4 * quarter(300, 200, 500) * exitance},
		{300, 200, quarter(600, 400, 500) * exitance}, // under a corner
		{500, 200, (quarter(800, 400, 500) - quarter(200, 400, 500)) * exitance},
	} {
		got := w.Illuminance(mgl64.Vec3{r.x, r.y, 1}, mgl64.Vec3{0, 0, -1})
		if math.Abs(got-r.want) > 0.01*r.want {
			t.Errorf("at %g, %g are %.1f lx, want %.1f", r.x, r.y, got, r.want)
		}
	}
}

// TestShutBox: light that is sent on and on in a closed grey box. A lamp fills
// its ceiling, so all walls are lit by nothing else; with reflectance ρ the mean
// light of the other five faces follows from the balance of energy: what is
// absorbed is what the lamp gives. Four rounds leave out what comes after.
func TestShutBox(t *testing.T) {
	const rho = 0.5
	s := &scene.Scene{Materials: []scene.Material{{Diffuse: scene.Colour{rho, rho, rho}}, {}}}
	a := 1000.0
	x, y, z := mgl64.Vec3{a, 0, 0}, mgl64.Vec3{0, a, 0}, mgl64.Vec3{0, 0, a}
	o := mgl64.Vec3{}
	square(s, "floor", 0, 0, o, x, y)
	square(s, "front", 0, 0, o, z, x)
	square(s, "left", 0, 0, o, y, z)
	square(s, "rear", 0, 0, o.Add(y), x, z)
	square(s, "right", 0, 0, o.Add(x), z, y)
	l := scene.Lamp{Corner: z, U: y, V: x, Lumens: 1000, Level: 1, Tint: scene.Colour{1, 1, 1}}
	s.Lamps = append(s.Lamps, l)
	square(s, "lamp", 1, 1, l.Corner, l.U, l.V)
	w, err := picture.Prepare(context.Background(), s, picture.Quality{Rays: 128}, nil)
	if err != nil {
		t.Fatal(err)
	}
	// The lamp is black to what comes back, so the five faces and it absorb:
	// Σ (1-ρ) E A of the faces + what falls on the lamp = 1000 lm.
	sum := 0.0
	const n = 10
	for i := range n {
		for j := range n {
			u, v := (float64(i)+0.5)/n*a, (float64(j)+0.5)/n*a
			for _, f := range [][2]mgl64.Vec3{{{u, v, 1}, {0, 0, -1}}, {{u, 1, v}, {0, -1, 0}}, {{1, u, v}, {-1, 0, 0}}, {{u, a - 1, v}, {0, 1, 0}}, {{a - 1, u, v}, {1, 0, 0}}} {
				sum += (1 - rho) * w.Illuminance(f[0], f[1]) / (n * n)
			}
			sum += w.Illuminance(mgl64.Vec3{u, v, a - 1}, mgl64.Vec3{0, 0, 1}) / (n * n)
		}
	}
	// ρ⁵ of at most half the light is still on its way after four rounds.
	if sum < 1000*(1-0.025) || sum > 1000*1.015 {
		t.Errorf("%.1f lm of 1000 are absorbed", sum)
	}
}

// TestSameBytes: a world and a frame are the same in every run, on any number of
// cores.
func TestSameBytes(t *testing.T) {
	s := sceneOf(t, "well-behaved", scene.Options{Time: scene.Night, Walker: 5})
	frame := func() *image.RGBA {
		w, err := picture.Prepare(context.Background(), s, picture.Quality{Coarse: 4, Rays: 6}, nil)
		if err != nil {
			t.Fatal(err)
		}
		img := image.NewRGBA(image.Rect(0, 0, 96, 64))
		var p picture.Painter
		if err := p.Still(w, picture.Shot{Camera: s.Camera(scene.FromHall, 0), Time: scene.Night}, img, 2); err != nil {
			t.Fatal(err)
		}
		return img
	}
	a, b := frame(), frame()
	differ, seen := 0, map[uint8]bool{}
	for i := range a.Pix {
		if a.Pix[i] != b.Pix[i] {
			differ++
		}
		seen[a.Pix[i]] = true
	}
	if differ > 0 || len(seen) < 40 {
		t.Errorf("%d of %d bytes differ; %d values", differ, len(a.Pix), len(seen))
	}
}

// TestBarsBrighten: with a bar up, what it lights is brighter in proportion; with
// all lamps out nothing is lit.
func TestBarsBrighten(t *testing.T) {
	s := sceneOf(t, "well-behaved", scene.Options{Time: scene.Night})
	w, err := picture.Prepare(context.Background(), s, picture.Quality{Coarse: 4, Rays: 6}, nil)
	if err != nil {
		t.Fatal(err)
	}
	bar := -1
	for i := range s.Lamps {
		if s.Lamps[i].Bar == 6 { // lights tread 5
			bar = i
		}
	}
	at := s.Stand.Line[5].Add(mgl64.Vec3{0, 0, 5})
	down := mgl64.Vec3{0, 0, -1}
	levels := make([]float64, len(s.Lamps))
	w.Relight(levels)
	if e := w.Illuminance(at, down); e != 0 {
		t.Errorf("%g lx with all lamps out", e)
	}
	levels[bar] = 0.2
	w.Relight(levels)
	one := w.Illuminance(at, down)
	levels[bar] = 0.6
	w.Relight(levels)
	if three := w.Illuminance(at, down); !(one > 1) || math.Abs(three/one-3) > 1e-4 {
		t.Errorf("%g lx at a fifth, %g at three", one, three)
	}
}

// counted is a grain that counts how often it is asked.
type counted struct{ n atomic.Int64 }

// At returns a grey.
func (c *counted) At(mgl64.Vec3) scene.Colour {
	c.n.Add(1)
	return scene.Colour{0.5, 0.5, 0.5}
}

// TestGrainIsLent: a draft draws grain quickly, and a world whose boards are those
// of a careful one before draws none.
func TestGrainIsLent(t *testing.T) {
	g := &counted{}
	s := &scene.Scene{Materials: []scene.Material{{Name: "board", Grain: g, Diffuse: scene.Colour{0.5, 0.5, 0.5}}}}
	square(s, "T01", 0, 0, mgl64.Vec3{}, mgl64.Vec3{900, 0, 0}, mgl64.Vec3{0, 260, 0})
	made := func(q picture.Quality, before *picture.World) (*picture.World, int64) {
		t.Helper()
		was := g.n.Load()
		w, err := picture.Prepare(context.Background(), s, q, before)
		if err != nil {
			t.Fatal(err)
		}
		return w, g.n.Load() - was
	}
	_, draft := made(picture.Draft, nil)
	fine, care := made(picture.Fine, nil)
	if draft < 1000 || draft*4 > care {
		t.Errorf("a draft asks %d times, a careful one %d", draft, care)
	}
	again, n := made(picture.Draft, fine)
	_, m := made(picture.Fine, again)
	if n != 0 || m != 0 {
		t.Errorf("drawn again: %d places in the draft, %d in the careful one", n, m)
	}
}

// TestStopped: a context that ends stops the work.
func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := sceneOf(t, "well-behaved", scene.Options{})
	if w, err := picture.Prepare(ctx, s, picture.Fine, nil); w != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", w, err)
	}
}
