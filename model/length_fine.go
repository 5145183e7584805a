package model

import "fmt"

// feelers is the widest gap that a set of feeler gauges measures, common
// practice, no source: wider ones are read off a tape.
const feelers = 3

// Fine returns a width or movement too small for a tape's fractions, in
// thousandths of an inch or tenths of a millimetre: 0.012 in or 0.3 mm.
func (f Format) Fine(l Length) string {
	if f.Units == Imperial {
		return fmt.Sprintf("%.3f in", float64(l/Inch))
	}
	return fmt.Sprintf("%.1f mm", float64(l))
}

// Gap returns how wide a joint gapes: as Fine as far as feeler gauges go, and
// from there as the tape has it.
func (f Format) Gap(l Length) string {
	if l < feelers {
		return f.Fine(l)
	}
	return f.Length(l)
}
