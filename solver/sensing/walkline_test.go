package sensing_test

import (
	"math"
	"testing"
)

// TestFoot walks every line of every shape of stair: the foot goes on without a
// jump, climbs only, stands on each tread in its middle, stays between the sides
// and faces the way it goes.
func TestFoot(t *testing.T) {
	tb := published(t)
	for i, j := range flights(t) {
		st := stairOf(t, j, tb)
		for l := range st.Lines {
			for b := range tb.Senses.Bodies {
				body := &tb.Senses.Bodies[b]
				const step = 0.005
				last, faced := st.Foot(&st.Lines[l], body, -3)
				for at := -3 + step; at < float64(st.Risers)+2; at += step {
					foot, face := st.Foot(&st.Lines[l], body, at)
					d := foot.Sub(last)
					// the longest way of one step is round a half landing: 2.5 m
					if d.Vec2().Len() > 2500*step || d[2] < -1e-9 || d[2] > 250*step {
						t.Fatalf("stair %d, %s, %s: jumps by %.1f at %.3f", i, st.Lines[l].Name, body.ID, d, at)
					}
					if n := d.Vec2().Len(); n > 0.1 && max(d.Vec2().Dot(face), d.Vec2().Dot(faced))/n < 0.7 { // or faced, where it turns a corner
						t.Fatalf("stair %d, %s, %s: goes %.2f and faces %.2f at %.3f", i, st.Lines[l].Name, body.ID, d, face, at)
					}
					last, faced = foot, face
				}
				for k := 1; k <= st.Risers; k++ {
					foot, _ := st.Foot(&st.Lines[l], body, float64(k)-0.5)
					v := st.Nose[k-1]
					if z := (v[0][2] + v[1][2]) / 2; math.Abs(foot[2]-z) > 1e-6 {
						t.Errorf("stair %d: stands at %.1f on step %d, whose nose is at %.1f", i, foot[2], k, z)
					}
					on, _ := st.Foot(&st.Lines[l], body, float64(k-1))
					across := v[1].Sub(v[0]).Vec2()
					if s := on.Sub(v[0]).Vec2().Dot(across) / across.LenSqr(); s < 0.1 || s > 0.9 {
						t.Errorf("stair %d, %s: crosses nose %d at %.2f of its width", i, st.Lines[l].Name, k, s)
					}
				}
			}
		}
	}
}
