package section

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"risewright/model"
	"risewright/solver/pieces"
	"risewright/solver/survey"
	"risewright/view/drawing"
)

// inOutline says whether p lies within an outline.
func inOutline(p drawing.Point, outline []drawing.Point) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// TestKnife holds the cut of every board of the tapering stair to the plain
// test: a point of the plane is within the outline when it is within the solid.
func TestKnife(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jobs", "tapering.risewright.json"))
	if err != nil {
		t.Fatal(err)
	}
	job, err := model.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	s := survey.Solve(job)
	const seed = 11
	rng := rand.New(rand.NewPCG(seed, seed))
	var k knife
	inside, outside, missed := 0, 0, 0
	for _, b := range pieces.Make(job, s) {
		if !b.Solid.Convex {
			continue
		}
		solid := b.Placed()
		st := &s.Steps[b.Step-1]
		for range 8 {
			// anywhere across, and turned: the cut passes the ends of some boards
			at := st.Corners[st.FL].Add(st.Corners[st.FR].Sub(st.Corners[st.FL]).Mul(rng.Float64()*1.2 - 0.1))
			sin, cos := math.Sincos((rng.Float64() - 0.5) * 1.5)
			way := mgl64.Vec2{sin, cos}
			outline := append([]drawing.Point(nil), k.cut(&b, at, way)...)
			if outline == nil {
				missed++
			}
			for range 60 {
				u := rng.Float64()*500 - 100
				z := st.TopLeft + rng.Float64()*300 - 230
				if n := len(outline); n > 0 && rng.IntN(2) == 0 { // near the outline
					c := outline[rng.IntN(n)]
					u, z = c.X+rng.Float64()*12-6, c.Y+rng.Float64()*12-6
				}
				p := at.Add(way.Mul(u))
				deep := math.Inf(1)
				for _, f := range solid.Faces {
					deep = math.Min(deep, f.Offset-f.Normal.Dot(mgl64.Vec3{p[0], p[1], z}))
				}
				if math.Abs(deep) < 1e-4 {
					continue
				}
				if deep > 0 {
					inside++
				} else {
					outside++
				}
				if got := inOutline(drawing.Point{X: u, Y: z}, outline); got != (deep > 0) {
					t.Fatalf("seed %d, %s: point %.3f, %.3f lies %.4f deep in the board, but outline says %v: %.2f", seed, b.ID, u, z, deep, got, outline)
				}
			}
		}
	}
	if inside < 200 || outside < 200 || missed == 0 {
		t.Errorf("tested %d points inside, %d outside and %d planes that miss; wanted more", inside, outside, missed)
	}
}
