package picture

import "math"

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

// newTone makes the table: the filmic curve of Narkowicz (2015, a fit; its
// constants from memory), then the encoding of sRGB (IEC 61966-2-1).
func newTone() *tone {
	t := &tone{value: make([]uint16, (toneHigh-toneLow)<<toneBits)}
	for i := range t.value {
		x := float64(math.Float32frombits(uint32(i+((toneLow+127)<<toneBits)) << (23 - toneBits)))
		y := x * (2.51*x + 0.03) / (x*(2.43*x+0.59) + 0.14)
		t.value[i] = uint16(math.Min(255*256, 255*256*encode(math.Max(0, math.Min(1, y)))))
	}
	return t
}

// encode is the transfer function of sRGB.
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
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
