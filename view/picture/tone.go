package picture

import (
	"math"

	"risewright/solver/lux"
	"risewright/view/scene"
)

// tone turns luminances into what a screen shows. A table over the exponent and
// the first bits of a float32 stands for the curve.
type tone struct {
	value []uint16 // 8-bit code times 256
}

const (
	toneBits = 10
	toneLow  = -18 // exponents of 2 that are told apart
	toneHigh = 8
)

// newTone makes the table: the curve, then the encoding of sRGB.
func newTone() *tone {
	t := &tone{value: make([]uint16, (toneHigh-toneLow)<<toneBits)}
	for i := range t.value {
		x := float64(math.Float32frombits(uint32(i+((toneLow+127)<<toneBits)) << (23 - toneBits)))
		t.value[i] = uint16(math.Min(255*256, 255*256*lux.Encode(scene.Curve(x))))
	}
	return t
}

// of returns the code times 256 of a channel.
func (t *tone) of(v float32) uint32 {
	i := int(math.Float32bits(v)>>(23-toneBits)) - (toneLow+127)<<toneBits
	if i < 0 {
		return 0
	}
	if i >= len(t.value) {
		return 255 * 256
	}
	return uint32(t.value[i])
}
