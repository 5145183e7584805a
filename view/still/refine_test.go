package still_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"math"
	"os"
	"runtime"
	"testing"
	"time"

	"risewright/view/scene"
	"risewright/view/still"
)

// full says whether the long checks are asked for.
func full() bool { return os.Getenv("RISEWRIGHT_FULL") != "" }

// longer returns long when the long checks are asked for, and short otherwise.
func longer(short, long int) int {
	if full() {
		return long
	}
	return short
}

func run(t *testing.T, o still.Options) *still.Refiner {
	t.Helper()
	s, cam := cell()
	r, err := still.NewRefiner(s, cam, o)
	if err != nil {
		t.Fatal(err)
	}
	r.Map()
	if err := r.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return r
}

// bits returns the bits of a film's light.
func bits(f *still.Film) []uint64 {
	var out []uint64
	for y := range f.H {
		for x := range f.W {
			for _, c := range f.At(x, y) {
				out = append(out, math.Float64bits(c))
			}
		}
	}
	return out
}

func equal(a, b []uint64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// The same seed gives the same bytes, whoever works and however often the
// picture is stopped on its way; another seed gives others.
func TestSameSeedSameBytes(t *testing.T) {
	o := still.Options{W: 14, H: 9, Samples: 2, Seed: 4, Workers: 1}
	one := run(t, o)
	o.Workers = 7
	many := run(t, o)
	if !equal(bits(one.Film(0)), bits(many.Film(0))) {
		t.Error("1 and 7 goroutines differ")
	}
	if !bytes.Equal(one.Picture(still.Look{}).Pix, many.Picture(still.Look{}).Pix) {
		t.Error("the smoothed pictures of 1 and 7 goroutines differ")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	o.Workers = 0
	if !equal(bits(one.Film(0)), bits(run(t, o).Film(0))) {
		t.Error("one and two cores differ")
	}
	// Stopped and gone on with, again and again.
	s, cam := cell()
	r, err := still.NewRefiner(s, cam, o)
	if err != nil {
		t.Fatal(err)
	}
	r.Map()
	for stops := 0; r.Progress().Samples < 2; stops++ {
		ctx, cancel := context.WithCancel(context.Background())
		n := 0
		err := r.Run(ctx, func(still.Progress) {
			if n++; n == 5 {
				if stops%2 == 0 {
					cancel()
				} else {
					r.Stop()
				}
			}
		})
		if stops%2 == 0 && r.Progress().Samples < 2 && !errors.Is(err, context.Canceled) {
			t.Fatalf("cancelled: %v", err)
		}
		cancel()
	}
	if !equal(bits(one.Film(0)), bits(r.Film(0))) {
		t.Error("a picture that was stopped on its way differs")
	}
	o.Seed = 5
	if equal(bits(one.Film(0)), bits(run(t, o).Film(0))) {
		t.Error("another seed gives the same picture")
	}
}

// A stop that comes before the first run has begun is not lost, and ends no later
// run.
func TestStopBeforeRun(t *testing.T) {
	s, cam := cell()
	r, err := still.NewRefiner(s, cam, still.Options{W: 24, H: 16, Samples: 1})
	if err != nil {
		t.Fatal(err)
	}
	r.Stop()
	if err := r.Run(context.Background(), nil); err != nil || r.Progress().Samples != 0 {
		t.Errorf("stopped, it went on: %v, %v samples", err, r.Progress().Samples)
	}
	if err := r.Run(context.Background(), nil); err != nil || r.Progress().Samples < 1 {
		t.Errorf("gone on with, it came to %v samples, %v", r.Progress().Samples, err)
	}
}

// Twice the light gives twice the picture, bit for bit but for rounding.
func TestLightIsLinear(t *testing.T) {
	s, cam := cell()
	o := still.Options{W: 24, H: 16, Samples: 2, True: true}
	one, err := still.Render(context.Background(), s, cam, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Lamps {
		s.Lamps[i].Lumens *= 2
	}
	two, err := still.Render(context.Background(), s, cam, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	lit := 0
	for y := range 16 {
		for x := range 24 {
			a, b := one.At(x, y).Luminance(), two.At(x, y).Luminance()
			if math.Abs(b-2*a) > 1e-5*(a+1e-6) {
				t.Fatalf("pixel %d, %d: %g and %g cd/m²", x, y, a, b)
			}
			if a > 0 {
				lit++
			}
		}
	}
	if lit < 300 {
		t.Errorf("only %d of 384 pixels have light", lit)
	}
}

// A picture is done by samples, by grain, or by time, and tells the way there.
func TestDone(t *testing.T) {
	s, cam := cell()
	now := time.Unix(0, 0)
	clock := func() time.Time { return now }
	for _, c := range []struct {
		name string
		o    still.Options
		ok   func(still.Progress) bool
	}{
		{"samples", still.Options{Samples: 2}, func(p still.Progress) bool { return p.Samples == 2 && p.Done == 1 }},
		{"grain", still.Options{Grain: 0.5, Samples: 1000}, func(p still.Progress) bool { return p.Grain <= 0.5 && p.Samples < 1000 && p.Done == 1 }},
		{"time", still.Options{Time: 20 * time.Second, Clock: clock}, func(p still.Progress) bool { return p.Spent == 20*time.Second && p.Left == 0 }},
	} {
		c.o.W, c.o.H, c.o.True = 20, 12, true
		last, before := still.Progress{}, int64(0)
		r, err := still.NewRefiner(s, cam, c.o)
		if err != nil {
			t.Fatal(err)
		}
		err = r.Run(context.Background(), func(p still.Progress) {
			now = now.Add(time.Second)
			if p.Done < last.Done-0.2 || p.Samples < last.Samples || p.Rays <= before {
				t.Errorf("%s: from %+v to %+v", c.name, last, p)
			}
			last, before = p, p.Rays
		})
		if err != nil || !c.ok(r.Progress()) || !r.Progress().Stopped {
			t.Errorf("%s: %+v, %v", c.name, r.Progress(), err)
		}
	}
	// With a second a sixteenth, and 32 to do, the time left goes down by one; the
	// first, which takes none here, says nothing.
	now = time.Unix(0, 0)
	o := still.Options{W: 12, H: 12, Samples: 2, Clock: clock, True: true}
	n := 0
	_, err := still.Render(context.Background(), s, cam, o, func(p still.Progress) {
		if n++; n > 2 {
			want := time.Duration(32-n) * time.Second
			if d := p.Left - want; d < -time.Millisecond || d > time.Millisecond {
				t.Errorf("after %d: %v left, want %v", n, p.Left, want)
			}
		}
		now = now.Add(time.Second)
	})
	if err != nil || n != 32 {
		t.Errorf("%d reports, %v", n, err)
	}
}

// A cancelled picture says so, and what there is can be kept; a second run at
// the same time is refused.
func TestCancel(t *testing.T) {
	s, cam := stair(0)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f, err := still.Render(ctx, s, cam, still.Options{W: 20, H: 20}, nil)
	if !errors.Is(err, context.Canceled) || f == nil || f.Samples() != 0 {
		t.Errorf("cancelled before it began: %v, %v", f, err)
	}
	r, err := still.NewRefiner(s, cam, still.Options{W: 64, H: 48, True: true})
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	ctx, cancel = context.WithCancel(context.Background())
	begun := make(chan bool)
	n := 0
	go func() {
		done <- r.Run(ctx, func(still.Progress) {
			if n++; n == 1 {
				close(begun)
			}
		})
	}()
	<-begun
	if err := r.Run(context.Background(), nil); err == nil {
		t.Error("a second run at the same time is let in")
	}
	// Looked at while it is made: nothing black is left after a sixteenth.
	img := r.Picture(still.Look{Rough: true})
	dark := 0
	for i := 0; i < len(img.Pix); i += 4 {
		if img.Pix[i] < 2 && img.Pix[i+1] < 2 && img.Pix[i+2] < 2 {
			dark++
		}
	}
	if dark > len(img.Pix)/4/2 {
		t.Errorf("%d of %d pixels are black in an early picture", dark, len(img.Pix)/4)
	}
	cancel()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if got := r.Picture(still.Look{Most: 32}).Bounds(); got != image.Rect(0, 0, 32, 24) {
		t.Errorf("a smaller picture is %v", got)
	}
}

// A glance shows what the picture will: its colours, made small, are near those
// of a good picture.
func TestGlance(t *testing.T) {
	s, cam := cell()
	r, err := still.NewRefiner(s, cam, still.Options{W: 32, H: 20, Samples: 24, True: true})
	if err != nil {
		t.Fatal(err)
	}
	img, err := r.Glance(context.Background(), 16)
	if err != nil {
		t.Fatal(err)
	}
	if r.Film(0).Samples() != 0 {
		t.Error("a glance has left samples in the picture")
	}
	if err := r.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	good := r.Picture(still.Look{Most: 16})
	if img.Bounds() != good.Bounds() {
		t.Fatalf("%v and %v", img.Bounds(), good.Bounds())
	}
	if off := apart(img, good); off > 40 {
		t.Errorf("a glance is %.1f of 255 off", off)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.Glance(ctx, 16); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func TestRefuses(t *testing.T) {
	s, cam := stair(0)
	for name, c := range map[string]struct {
		cam scene.Camera
		o   still.Options
	}{
		"negative": {cam, still.Options{W: -1, H: 10}}, "no height": {cam, still.Options{W: 10}},
		"huge":     {cam, still.Options{W: 1 << 40, H: 1 << 40}},
		"no way":   {scene.Camera{Angle: 1}, still.Options{W: 10, H: 10}},
		"upright":  {scene.Camera{At: v3(0, 0, 9), Up: v3(0, 0, 1), Angle: 1}, still.Options{W: 10, H: 10}},
		"no angle": {scene.Camera{At: v3(0, 9, 0)}, still.Options{W: 10, H: 10}},
		"nowhere":  {scene.Camera{Eye: v3(math.NaN(), 0, 0), At: v3(0, 9, 0), Angle: 1}, still.Options{W: 10, H: 10}},
	} {
		if _, err := still.NewRefiner(s, c.cam, c.o); err == nil {
			t.Errorf("%s is let in", name)
		}
	}
	// An empty scene is dark, not a fault.
	f, err := still.Render(context.Background(), &scene.Scene{}, cam, still.Options{W: 8, H: 8, Samples: 1}, nil)
	if err != nil || f.At(3, 3) != (scene.Colour{}) {
		t.Errorf("an empty scene: %v, %v", f.At(3, 3), err)
	}
}

// The filter makes the picture truer: nearer to one of many samples, and most
// where there are few.
func TestSmoothComesNearer(t *testing.T) {
	s, cam := cell()
	o := still.Options{W: longer(40, 96), H: longer(25, 60), Samples: longer(32, 512)}
	o.True = true
	truth, err := still.NewRefiner(s, cam, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := truth.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	tone := truth.Film(0).Tone()
	want := truth.Picture(still.Look{Rough: true, Tone: &tone})
	for _, n := range []int{2, 8} {
		o.Samples, o.Seed = n, 77
		r, err := still.NewRefiner(s, cam, o)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		rough := apart(want, r.Picture(still.Look{Rough: true, Tone: &tone}))
		smooth := apart(want, r.Picture(still.Look{Tone: &tone}))
		t.Logf("%d samples: %.2f of 255 off, smoothed %.2f", n, rough, smooth)
		if smooth > 0.8*rough {
			t.Errorf("%d samples: %.2f of 255 off, and %.2f when smoothed", n, rough, smooth)
		}
	}
}

// apart returns the root mean square difference of two pictures, of 255.
func apart(a, b *image.NRGBA) float64 {
	sum := 0.0
	for i := range a.Pix {
		d := float64(a.Pix[i]) - float64(b.Pix[i])
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(a.Pix)) * 4 / 3)
}

// TestDivided: at the left of its column a divided picture has the light of one
// scene and from there on that of the other, sample by sample; and when it is
// smoothed and glows, no light goes over.
func TestDivided(t *testing.T) {
	bright, c := cell()
	dark := *bright
	dark.Lamps = append([]scene.Lamp(nil), bright.Lamps...)
	for i := range dark.Lamps {
		dark.Lamps[i].Level = 0
	}
	dark.Sky = scene.Colour{}
	const w, h, at = 40, 30, 17
	o := still.Options{W: w, H: h, Samples: 3, Seed: 5}
	film := func(s *scene.Scene) *still.Film {
		f, err := still.Render(context.Background(), s, c, o, nil)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	left, right := film(&dark), film(bright)
	r, err := still.NewDivided(&dark, bright, at, c, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	got := r.Film(0)
	for y := range h {
		for x := range w {
			want := right
			if x < at {
				want = left
			}
			if got.At(x, y) != want.At(x, y) {
				t.Fatalf("pixel %d, %d is %v, want %v", x, y, got.At(x, y), want.At(x, y))
			}
		}
	}
	img := r.Picture(still.Look{})
	lit := 0
	for y := range h {
		for x := range w {
			if v := img.NRGBAAt(x, y).G; x < at && v > 1 {
				t.Fatalf("light has come over to %d, %d: %d", x, y, v)
			} else if v > 60 {
				lit++
			}
		}
	}
	if lit < w*h/4 {
		t.Errorf("only %d pixels are lit", lit)
	}
}

// TestFurther: a picture that is done goes on when its end is put further off, and
// one that is not done keeps its end.
func TestFurther(t *testing.T) {
	s, c := cell()
	r, err := still.NewRefiner(s, c, still.Options{W: 12, H: 9, Samples: 2})
	if err != nil {
		t.Fatal(err)
	}
	r.Further()
	for _, want := range []float64{2, 4} {
		if err := r.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		if got := r.Progress().Samples; got != want {
			t.Errorf("%g samples, want %g", got, want)
		}
		r.Further()
	}
	g, err := still.NewRefiner(s, c, still.Options{W: 12, H: 9, Grain: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	var grain, n float64
	for range 2 {
		if err := g.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		p := g.Progress()
		if n > 0 && (p.Samples <= n || p.Grain >= grain) {
			t.Errorf("went from a grain of %g with %g samples to %g with %g", grain, n, p.Grain, p.Samples)
		}
		grain, n = p.Grain, p.Samples
		g.Further()
	}
}
