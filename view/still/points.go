package still

import "math/bits"

// This file makes the places and directions of the samples: the first two
// dimensions of Sobol's sequence, scrambled by Owen's method through hashes
// (Burley 2020, "Practical hash-based Owen scrambling"). Every pair of
// dimensions has the order and the digits of its points shuffled by a hash of
// the seed, the pixel and the pair, so a point depends on nothing else.

// second holds, for every byte of an index, its share of the second dimension.
var second = secondDimension()

func secondDimension() (t [4][256]uint32) {
	// The generator matrix of the second dimension is Pascal's triangle modulo 2:
	// each column is the one before, exclusive-or itself shifted.
	column := uint32(1) << 31
	for bit := range 32 {
		for v := range 256 {
			if v>>(bit%8)&1 == 1 {
				t[bit/8][v] ^= column
			}
		}
		column ^= column >> 1
	}
	return t
}

// mix is a hash of one word (lowbias32 of C. Wellons, public domain).
func mix(x uint32) uint32 {
	x ^= x >> 16
	x *= 0x7feb352d
	x ^= x >> 15
	x *= 0x846ca68b
	return x ^ x>>16
}

// scramble permutes the digits of x, from the lowest bit up, as Owen asks: each
// is flipped or not by those below it (Laine and Karras 2011, as improved by
// Vegdahl 2021).
func scramble(x, seed uint32) uint32 {
	x ^= x * 0x3d20adea
	x += seed
	x *= seed>>16 | 1
	x ^= x * 0x05526c56
	x ^= x * 0x53a22864
	return x
}

// points is where the samples of one path come from. The zero value is the first
// path of pixel 0 and seed 0.
type points struct {
	index uint32 // of the sample within its pixel
	key   uint32 // of the pixel and the seed
	pair  uint32 // how many pairs have been taken
}

// pointsOf returns the samples of a pixel.
func pointsOf(seed uint64, pixel int, index int) points {
	key := mix(uint32(seed) ^ mix(uint32(seed>>32)+0x9e3779b9))
	return points{index: uint32(index), key: mix(key ^ mix(uint32(pixel)*0x9e3779b1+1))}
}

// to32 makes a number in [0, 1) of 32 bits.
func to32(x uint32) float64 { return float64(x) * (1.0 / (1 << 32)) }

// next returns two numbers in [0, 1).
func (p *points) next() (a, b float64) {
	p.pair++
	seed := mix(p.key + p.pair*0x9e3779b9)
	i := bits.Reverse32(scramble(bits.Reverse32(p.index), seed))
	// The first dimension is the index with its bits turned round.
	x := bits.Reverse32(scramble(i, mix(seed^0x68bc21eb)))
	y := second[0][i&255] ^ second[1][i>>8&255] ^ second[2][i>>16&255] ^ second[3][i>>24]
	y = bits.Reverse32(scramble(bits.Reverse32(y), mix(seed^0x02e5be93)))
	return to32(x), to32(y)
}

// luck returns a number in [0, 1) that keeps to no pattern, for what happens
// seldom.
func (p *points) luck() float64 {
	p.pair++
	return to32(mix(p.key + mix(p.index^p.pair*0x85ebca6b)))
}
