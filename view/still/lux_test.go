package still_test

import (
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/solver/lux"
	"risewright/view/lights"
	"risewright/view/scene"
	"risewright/view/still"
)

// barsOnly returns the demo job's scene by night with every bar fully on and no
// other light.
func barsOnly(t *testing.T, keep func(part string) bool, paint func(part string) float64) *scene.Scene {
	t.Helper()
	j, err := demoJob()
	if err != nil {
		t.Fatal(err)
	}
	s, err := scene.Make(j.work.Answer, j.work, j.tables, scene.Options{Time: scene.Night, Level: func(int) float64 { return 1 }})
	if err != nil {
		t.Fatal(err)
	}
	out := *s
	out.Sky = scene.Colour{}
	out.Lamps = append([]scene.Lamp(nil), s.Lamps...)
	for i := range out.Lamps {
		out.Lamps[i].Tint = scene.Colour{1, 1, 1}
		if out.Lamps[i].Bar == 0 {
			out.Lamps[i].Level = 0
		}
	}
	out.Triangles, out.Materials = nil, nil
	for _, tr := range s.Triangles {
		if !keep(tr.Part) {
			continue
		}
		r := paint(tr.Part)
		out.Materials = append(out.Materials, scene.Material{Diffuse: scene.Colour{r, r, r}})
		tr.Material = len(out.Materials) - 1
		out.Triangles = append(out.Triangles, tr)
	}
	return &out
}

// The illuminance on the walking line of every tread is that of the light map,
// within 5 % on the mean of a tread: straight light, and with one reflection
// from treads, risers and floor.
//
// Like is compared with like: the boards, the bars and, for reflected light, the
// reflectances are the same, and walls, skirts, rail and wires are left out of
// both, because the light map knows none. What differs: the picture's noses are
// rounded as they are milled, where the light map's are the square blank's; the
// map reflects from patches of even light, and once.
func TestLuxAgrees(t *testing.T) {
	j, err := demoJob()
	if err != nil {
		t.Fatal(err)
	}
	const tread, riser, floor = 0.3, 0.8, 0.2
	board := func(part string) bool {
		return strings.HasPrefix(part, "T") || strings.HasPrefix(part, "R") || strings.HasPrefix(part, "N") || strings.HasPrefix(part, "L") || strings.HasPrefix(part, "bar") || strings.HasPrefix(part, "lip") || strings.HasPrefix(part, "lamp")
	}
	for _, reflect := range []bool{false, true} {
		s := barsOnly(t, board, func(part string) float64 {
			switch {
			case !reflect:
				return 0
			case strings.HasPrefix(part, "R"):
				return riser
			case strings.HasPrefix(part, "T"), strings.HasPrefix(part, "N"), strings.HasPrefix(part, "L"):
				return tread
			}
			return 0 // the light map's bars are black
		})
		of := map[int]float64{}
		for _, l := range s.Lamps {
			if l.Bar > 0 {
				of[l.Bar] += l.Lumens * l.Level
			}
		}
		p := lights.Problem(j.work.Answer, func(step int) float64 { return of[step] })
		p.Stair = lux.FromPieces(j.work.Answer.Pieces, lux.Finish{Tread: tread, Riser: riser, Floor: floor})
		res := lux.Solve(p, lux.Settings{Across: 21, Deep: 8, Reflect: reflect})
		bounces := 0
		if reflect {
			bounces = 1
			addFloor(s, res.Surfaces, floor)
		}
		m := still.NewMeter(s, bounces)
		worst, seen := 0.0, 0
		for _, l := range res.Surfaces {
			if l.Kind == lux.Floor {
				continue
			}
			g := &l.Grid
			n := g.U.Cross(g.V).Normalize()
			var want, got float64
			for row := range g.Deep {
				k := g.Index(g.Across/2, row)
				if !(g.Area[k] > 0) {
					continue
				}
				r := m.Read(g.At[k].Add(n.Mul(0.05)), n, longer(1<<7, 1<<12), uint64(k))
				want, got = want+g.Lux[k], got+r.Lux
			}
			if want == 0 {
				continue
			}
			seen++
			off := math.Abs(got-want) / want
			worst = max(worst, off)
			if off > 0.05 {
				t.Errorf("reflect %v, %s: %.2f lx on the mean of the walking line, the light map says %.2f", reflect, l.Name(), got/float64(g.Deep), want/float64(g.Deep))
			}
		}
		t.Logf("reflect %v: %d treads, at most %.2f %% apart", reflect, seen, 100*worst)
		if seen < 10 {
			t.Errorf("reflect %v: only %d treads were lit", reflect, seen)
		}
	}
}

// addFloor adds the light map's floor to a scene.
func addFloor(s *scene.Scene, surfaces []lux.Lit, reflectance float64) {
	for _, l := range surfaces {
		if l.Kind != lux.Floor {
			continue
		}
		s.Materials = append(s.Materials, scene.Material{Diffuse: scene.Colour{reflectance, reflectance, reflectance}})
		up := mgl64.Vec3{0, 0, 1}
		for i := 1; i+1 < len(l.Outline); i++ {
			s.Triangles = append(s.Triangles, scene.Triangle{
				P: [3]mgl64.Vec3{l.Outline[0], l.Outline[i], l.Outline[i+1]}, N: [3]mgl64.Vec3{up, up, up}, Material: len(s.Materials) - 1, Part: "floor",
			})
		}
	}
}

// The same read off a picture: of the whole scene, with walls, skirts and rail,
// the eye above a tread, straight light. The surfaces are made matt, because a
// coat takes its part of the light before the body.
func TestLuxReadOffThePicture(t *testing.T) {
	j, err := demoJob()
	if err != nil {
		t.Fatal(err)
	}
	s := barsOnly(t, func(string) bool { return true }, func(string) float64 { return 0.4 })
	of := map[int]float64{}
	for _, l := range s.Lamps {
		of[l.Bar] += l.Lumens * l.Level
	}
	p := lights.Problem(j.work.Answer, func(step int) float64 { return of[step] })
	res := lux.Solve(p, lux.Settings{Across: 21, Deep: 8})
	read := 0
	for _, l := range res.Surfaces {
		if l.Kind != lux.Tread || l.Step%longer(4, 1) != 0 {
			continue
		}
		k := l.Grid.Index(l.Grid.Across/2, 2)
		at, want := l.Grid.At[k], l.Grid.Lux[k]
		f, err := still.Render(t.Context(), s, scene.Camera{Eye: at.Add(v3(0, -200, 700)), At: at, Up: v3(0, 0, 1), Angle: 0.01}, still.Options{
			W: 16, H: 16, Samples: longer(16, 128), Straight: true,
		}, nil)
		if err != nil {
			t.Fatal(err)
		}
		sum, n := 0.0, 0.0
		for y := range f.H {
			for x := range f.W {
				if v, ok := f.Lux(x, y); ok {
					sum, n = sum+v, n+1
				}
			}
		}
		if n < 200 || !(math.Abs(sum/n-want) <= 0.05*want) {
			t.Errorf("%s: %.1f lx read off %.0f pixels, the light map says %.1f", l.Name(), sum/n, n, want)
		}
		t.Logf("%s: %.1f lx read off the picture, map %.1f", l.Name(), sum/n, want)
		read++
	}
	if read < 2 {
		t.Errorf("only %d treads were read", read)
	}
}
