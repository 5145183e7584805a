package saw

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
)

// corners the slow way: of every three faces' meeting point, those that lie
// behind all faces.
func slowCorners(b *board) []mgl64.Vec3 {
	var out []mgl64.Vec3
	for i := range b.nf {
		for j := range i {
			for k := range j {
				p, ok := corner(&b.faces[i], &b.faces[j], &b.faces[k])
				if !ok {
					continue
				}
				in := true
				for l := range b.nf {
					in = in && b.faces[l].normal.Dot(p) <= b.faces[l].offset+1e-7
				}
				for _, q := range out {
					in = in && q.Sub(p).Len() > 1e-6
				}
				if in {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// nearest point the slow way: Dykstra's alternating projections onto the
// half-spaces of the faces, which tend to the nearest point of their
// intersection.
func slowDistance(b *board, p mgl64.Vec3) float64 {
	var left [maxFaces]mgl64.Vec3
	x := p
	for range 4000 {
		for i := range b.nf {
			y := x.Add(left[i])
			x = y
			if d := b.faces[i].normal.Dot(y) - b.faces[i].offset; d > 0 {
				x = y.Sub(b.faces[i].normal.Mul(d))
			}
			left[i] = y.Sub(x)
		}
	}
	return x.Sub(p).Len()
}

func randomDirection(rng *rand.Rand) mgl64.Vec3 {
	return mgl64.Vec3{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Normalize()
}

// A board clipped by random planes has the corners that its faces have, and
// stays closed: every edge is shared by two faces, once each way.
func TestClipMeetsSlowTwin(t *testing.T) {
	const seed = 11
	rng := rand.New(rand.NewPCG(seed, 0))
	clipped, missed := 0, 0
	for try := range 3000 {
		var b board
		b.box(100, 60, 20, tagLeft, tagRight)
		for range 4 {
			n := randomDirection(rng)
			at := mgl64.Vec3{100 * rng.Float64(), -60 * rng.Float64(), 20 * rng.Float64()}
			switch rng.IntN(4) {
			case 0: // through a corner the board has
				at = b.verts[rng.IntN(b.nv)]
			case 1: // through an edge it has: the plane holds two corners
				f := &b.faces[rng.IntN(b.nf)]
				u, v := b.verts[f.loop[0]], b.verts[f.loop[1]]
				n = v.Sub(u).Cross(randomDirection(rng)).Normalize()
				at = u
			}
			before := b
			switch err := b.clip(n, n.Dot(at), tagLeft); err {
			case nil:
				clipped++
			case errMissed, errGone:
				b = before
				missed++
			default:
				t.Fatalf("seed %d try %d: %v", seed, try, err)
			}
		}
		want := slowCorners(&b)
		if len(want) != b.nv {
			t.Fatalf("seed %d try %d: %d corners, the slow twin has %d", seed, try, b.nv, len(want))
		}
		for _, p := range want {
			found := false
			for _, q := range b.verts[:b.nv] {
				found = found || q.Sub(p).Len() < 1e-6
			}
			if !found {
				t.Fatalf("seed %d try %d: corner %v is missing", seed, try, p)
			}
		}
		edges := map[[2]uint8]int{}
		for i := range b.nf {
			f := &b.faces[i]
			for k := range f.n {
				edges[[2]uint8{f.loop[k], f.loop[(k+1)%f.n]}]++
			}
		}
		for e, n := range edges {
			if n != 1 || edges[[2]uint8{e[1], e[0]}] != 1 {
				t.Fatalf("seed %d try %d: the board is not closed at edge %v", seed, try, e)
			}
		}
	}
	if clipped < 5000 || missed < 100 {
		t.Errorf("%d clipped and %d missed; the test shows little", clipped, missed)
	}
}

func TestDistanceMeetsSlowTwin(t *testing.T) {
	const seed = 12
	rng := rand.New(rand.NewPCG(seed, 0))
	outside := 0
	for try := range 150 {
		var b board
		b.box(100, 60, 20, tagLeft, tagRight)
		for range 2 {
			n := randomDirection(rng)
			before := b
			if b.clip(n, n.Dot(mgl64.Vec3{50, -30, 10})+10+20*rng.Float64(), tagRight) != nil {
				b = before
			}
		}
		p := mgl64.Vec3{50, -30, 10}.Add(randomDirection(rng).Mul(100 * rng.Float64()))
		got, want := b.distance(p), slowDistance(&b, p)
		if math.Abs(got-want) > 1e-3 {
			t.Errorf("seed %d try %d: %v lies %g off, the slow twin says %g", seed, try, p, got, want)
		}
		if got > 0 {
			outside++
		}
	}
	if outside < 50 {
		t.Errorf("only %d points lay outside", outside)
	}
}

// The distance of two boxes that differ in one size, in two and in none, known
// by hand; and a law: it is symmetric.
func TestApart(t *testing.T) {
	box := func(l, w, h float64) *board {
		b := new(board)
		b.box(l, w, h, tagLeft, tagRight)
		return b
	}
	rows := []struct {
		a, b *board
		want float64
	}{
		{box(100, 60, 20), box(100, 60, 20), 0},
		{box(100, 60, 20), box(101, 60, 20), 1},
		{box(103, 60, 20), box(100, 64, 20), 4}, // a sticks out by 3, b by 4
		{box(103, 64, 20), box(100, 60, 20), 5}, // one corner by 3 and 4
	}
	for i, r := range rows {
		if d, e := apart(r.a, r.b), apart(r.b, r.a); math.Abs(d-r.want) > 1e-12 || d != e {
			t.Errorf("row %d: %g and %g, want %g", i, d, e, r.want)
		}
	}
}
