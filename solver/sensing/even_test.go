package sensing_test

import (
	"reflect"
	"testing"

	"risewright/solver/sensing"
)

// TestEvenZones: three sensors of four steps each over ten steps, one shared by
// neighbours, come out exactly (common practice, no source); and laws that hold
// for all.
func TestEvenZones(t *testing.T) {
	if got, want := sensing.EvenZones(10, 3, 1), []sensing.Span{{1, 4}, {4, 7}, {7, 10}}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, not %v", got, want)
	}
	for n := 1; n <= 40; n++ {
		for sensors := 1; sensors <= 12; sensors++ {
			for overlap := range 4 {
				z := sensing.EvenZones(n, sensors, overlap)
				if z[0].First != 1 || z[len(z)-1].Last != n {
					t.Fatalf("%d steps, %d sensors, %d shared: %v does not run from end to end", n, sensors, overlap, z)
				}
				for i := range z {
					if i > 0 && (z[i].And(z[i-1]).Len() != overlap || z[i].Last <= z[i-1].Last || z[i].First <= z[i-1].First) {
						t.Fatalf("%d steps, %d sensors, %d shared: %v", n, sensors, overlap, z)
					}
					if d := z[0].Len() - z[i].Len(); d < 0 || d > 1 {
						t.Fatalf("%d steps, %d sensors, %d shared: %v is uneven", n, sensors, overlap, z)
					}
				}
				if len(z) < sensors { // one more would leave somebody no step of its own
					if s := len(z) + 1; n+(s-1)*overlap >= s*(overlap+1) {
						t.Fatalf("%d steps, %d sensors, %d shared: only %d", n, sensors, overlap, len(z))
					}
				}
			}
		}
	}
	if sensing.EvenZones(0, 3, 1) != nil || sensing.EvenZones(3, 0, 1) != nil {
		t.Error("zones of nothing")
	}
}
