package model

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// randomText makes lines like those of a job file, of which many are alike.
func randomText(rng *rand.Rand, lines int) []byte {
	var b bytes.Buffer
	for range lines {
		fmt.Fprintf(&b, "        \"field %d\": %d,\n", rng.IntN(5), rng.IntN(4))
	}
	return b.Bytes()
}

// Whatever is changed, the change gives it back; and it is small when the
// change is.
func TestDeltaGivesTheNewText(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	for i := range 400 {
		old := randomText(rng, rng.IntN(200))
		new := bytes.Clone(old)
		for range rng.IntN(5) { // put in, take out, move
			at := rng.IntN(len(new) + 1)
			n := rng.IntN(min(200, len(new)-at) + 1)
			piece := bytes.Clone(new[at : at+n])
			switch rng.IntN(3) {
			case 0:
				new = append(new[:at:at], append(randomText(rng, rng.IntN(4)), new[at:]...)...)
			case 1:
				new = append(new[:at:at], new[at+n:]...)
			case 2:
				rest := append(new[:at:at], new[at+n:]...)
				to := rng.IntN(len(rest) + 1)
				new = append(rest[:to:to], append(piece, rest[to:]...)...)
			}
		}
		d := delta(old, new)
		got, err := patch(old, d, MaxFileBytes)
		if err != nil || !bytes.Equal(got, new) {
			t.Fatalf("case %d: %v", i, err)
		}
	}
}

// A step put in and a count changed far from it cost little more than they hold.
func TestDeltaIsSmall(t *testing.T) {
	var lines []string
	for i := range 4000 {
		lines = append(lines, fmt.Sprintf("      \"corner %d\": %d.5,", i*7919%4001, i))
	}
	old := []byte(strings.Join(lines, "\n"))
	lines[2] = `      "revision": 8,`
	put := append([]string{strings.Repeat("a new step ", 30)}, lines[3000:]...)
	new := []byte(strings.Join(append(lines[:3000:3000], put...), "\n"))
	if n := len(delta(old, new)); n > 600 {
		t.Errorf("the change takes %d bytes", n)
	}
	if n := len(delta(new, new)); n > 6 {
		t.Errorf("no change takes %d bytes", n)
	}
}

func TestPatchRefuses(t *testing.T) {
	number := func(vs ...uint64) (b []byte) {
		for _, v := range vs {
			b = binary.AppendUvarint(b, v)
		}
		return b
	}
	for _, row := range []struct {
		name  string
		delta []byte
	}{
		{"more text than there is", number(5)},
		{"no place", append(number(1), 'x', 0x80)},
		{"no length", append(number(1), append([]byte("x"), number(0)...)...)},
		{"beyond the end", number(0, 3, 2)},
		{"far beyond the end", number(0, 1<<40, 2)},
		{"length that wraps round", number(0, 3, 1<<63)},
		{"longer than may be", number(0, 0, 4, 0, 0, 4, 0, 0, 4)},
	} {
		if got, err := patch([]byte("four"), row.delta, 10); err == nil {
			t.Errorf("%s: gave %q", row.name, got)
		}
	}
	if got, err := patch([]byte("four"), nil, 10); err != nil || len(got) != 0 {
		t.Errorf("nothing gave %q, %v", got, err)
	}
}

// FuzzDelta changes any text into any other, and applies any change.
func FuzzDelta(f *testing.F) {
	f.Add([]byte("old"), []byte("new"))
	f.Add(bytes.Repeat([]byte("line\n"), 40), bytes.Repeat([]byte("line\n"), 41))
	f.Fuzz(func(t *testing.T, a, b []byte) {
		got, err := patch(a, delta(a, b), MaxFileBytes)
		if err != nil || !bytes.Equal(got, b) {
			t.Fatalf("%v: %q", err, got)
		}
		if got, err := patch(a, b, 1<<16); err == nil && len(got) > 1<<16 {
			t.Fatalf("%d bytes", len(got))
		}
	})
}
