package model

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// errDelta is returned for a delta that does not fit the text it is applied to.
var errDelta = errors.New("the change does not fit the text it was made from")

// blockSize is how much text must be the same before it is copied instead of
// written. A line of a job file has about 30 bytes, so a block is about one
// line: shorter ones cost more to name than they save.
const blockSize = 32

// delta returns what turns old into new: a list of commands, each the length
// of text to insert, the text, and the place and length of old text to copy
// after it. All numbers are unsigned varints. It finds text that has moved, so
// that a step put in or taken out costs no more than the step.
func delta(old, new []byte) []byte {
	head := commonPrefix(old, new)
	tail := commonSuffix(old[head:], new[head:])
	d := deltaWriter{}
	d.copied(0, head)
	d.middle(old, head, new[head:len(new)-tail])
	d.copied(len(old)-tail, tail)
	return d.finish()
}

// middle writes what lies between the common beginning and end. Blocks of old
// that begin a whole number of blocks from its start are looked up by their
// rolling sum.
func (d *deltaWriter) middle(old []byte, head int, new []byte) {
	if len(new) < blockSize {
		d.insert(new)
		return
	}
	at := make(map[uint32]int, len(old)/blockSize)
	for i := len(old) / blockSize * blockSize; i >= blockSize; i -= blockSize {
		at[rolling(old[i-blockSize:i])] = i - blockSize // the first of several alike wins
	}
	done := 0 // all of new before it is written
	sum := rolling(new[:blockSize])
	for i := 0; ; {
		from, ok := at[sum]
		if ok && bytes.Equal(old[from:from+blockSize], new[i:i+blockSize]) {
			n := blockSize + commonPrefix(old[from+blockSize:], new[i+blockSize:])
			back := commonSuffix(old[:from], new[done:i])
			d.insert(new[done : i-back])
			d.copied(from-back, n+back)
			i += n
			done = i
			if i+blockSize > len(new) {
				break
			}
			sum = rolling(new[i : i+blockSize])
			continue
		}
		if i+blockSize >= len(new) {
			break
		}
		sum = roll(sum, new[i], new[i+blockSize])
		i++
	}
	d.insert(new[done:])
}

// rollBase is odd, so that multiplying by it loses nothing modulo 2^32.
const rollBase = 0x01000193

// rollOut is rollBase to the power blockSize, modulo 2^32: the weight of the
// byte that leaves the block.
var rollOut = func() uint32 {
	p := uint32(1)
	for range blockSize {
		p *= rollBase
	}
	return p
}()

// rolling returns the sum of a block, and roll that of the block one byte on.
func rolling(block []byte) uint32 {
	sum := uint32(0)
	for _, c := range block {
		sum = sum*rollBase + uint32(c)
	}
	return sum
}

func roll(sum uint32, out, in byte) uint32 {
	return sum*rollBase + uint32(in) - rollOut*uint32(out)
}

// deltaWriter joins insertions and copies into commands.
type deltaWriter struct {
	out  []byte
	text []byte // to be inserted before the next copy
}

func (d *deltaWriter) insert(text []byte) { d.text = append(d.text, text...) }

func (d *deltaWriter) copied(from, n int) {
	if n == 0 {
		return
	}
	d.out = binary.AppendUvarint(d.out, uint64(len(d.text)))
	d.out = append(d.out, d.text...)
	d.out = binary.AppendUvarint(d.out, uint64(from))
	d.out = binary.AppendUvarint(d.out, uint64(n))
	d.text = d.text[:0]
}

func (d *deltaWriter) finish() []byte {
	if len(d.text) > 0 {
		d.out = binary.AppendUvarint(d.out, uint64(len(d.text)))
		d.out = append(d.out, d.text...)
	}
	return d.out
}

// patch applies a delta to old. The result has at most most bytes.
func patch(old, delta []byte, most int) ([]byte, error) {
	var out []byte
	number := func() (int, bool) {
		v, n := binary.Uvarint(delta)
		if n <= 0 || v > uint64(most) {
			return 0, false
		}
		delta = delta[n:]
		return int(v), true
	}
	for len(delta) > 0 {
		n, ok := number()
		if !ok || n > len(delta) || len(out)+n > most {
			return nil, errDelta
		}
		out = append(out, delta[:n]...)
		if delta = delta[n:]; len(delta) == 0 {
			break
		}
		from, ok := number()
		if !ok {
			return nil, errDelta
		}
		n, ok = number()
		if !ok || from > len(old) || n > len(old)-from || len(out)+n > most {
			return nil, errDelta
		}
		out = append(out, old[from:from+n]...)
	}
	return out, nil
}

func commonPrefix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for ; i+8 <= n; i += 8 {
		if binary.LittleEndian.Uint64(a[i:]) != binary.LittleEndian.Uint64(b[i:]) {
			break
		}
	}
	for i < n && a[i] == b[i] {
		i++
	}
	return i
}

func commonSuffix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for i < n && a[len(a)-1-i] == b[len(b)-1-i] {
		i++
	}
	return i
}
