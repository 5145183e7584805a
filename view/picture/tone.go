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

// newTone makes the table: the curve of Reinhard and others (2002, their equation
// 4; from memory), whose brightest light comes out white and whose shoulder keeps
// the glow under a nose apart from the tread that it lights; a little contrast in
// the darks; then the encoding of sRGB (IEC 61966-2-1).
func newTone() *tone {
	t := &tone{value: make([]uint16, (toneHigh-toneLow)<<toneBits)}
	for i := range t.value {
		x := float64(math.Float32frombits(uint32(i+((toneLow+127)<<toneBits)) << (23 - toneBits)))
		const white, gain, toe = 7.0, 1.55, 1.13
		x *= gain
		y := math.Pow(x*(1+x/(white*white))/(1+x), toe)
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
