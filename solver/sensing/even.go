package sensing

// EvenZones returns the zones of so many sensors spread evenly over the steps 1
// to n, neighbours sharing overlap of them: three over ten steps sharing one
// have four each (common practice, no source). All zones are as long as each
// other, or longer by one from the bottom up where that does not come out. It
// returns fewer when so many would not each have a step of their own beside
// those shared, and none for no steps or no sensors.
func EvenZones(n, sensors, overlap int) []Span {
	overlap = max(0, overlap)
	if n < 1 || sensors < 1 {
		return nil
	}
	// s sensors have n + (s-1) overlap steps together, and each needs overlap + 1
	for sensors > 1 && n+(sensors-1)*overlap < sensors*(overlap+1) {
		sensors--
	}
	sum := n + (sensors-1)*overlap
	out := make([]Span, sensors)
	first := 1
	for i := range out {
		l := sum / sensors
		if i < sum%sensors {
			l++
		}
		out[i] = Span{first, first + l - 1}
		first += l - overlap
	}
	return out
}
