package walk

import (
	"fmt"
	"sort"
)

// sensors fills in the rows of the sensors that work, from the bottom up.
func (m *maker) sensors(latency float64) error {
	var order []int
	for i := range m.zones {
		z := &m.zones[i]
		if may := z.May().within(0, m.n); !z.Removed && may.Len() > 0 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool {
		return m.zones[order[a]].middle() < m.zones[order[b]].middle()
	})
	for at, i := range order {
		z := &m.zones[i]
		sure, may := z.Sure().within(0, m.n), z.May().within(0, m.n)
		row := Sensor{Input: uint8(i), Sure: [2]uint8{1, 0}, May: pair(may)}
		shown := may
		if sure.Len() > 0 {
			row.Sure, shown = pair(sure), sure
		}
		if at == 0 || sure.Has(0) {
			row.End |= EndBottom
		}
		if at == len(order)-1 || sure.Has(m.n) {
			row.End |= EndTop
		}
		c := m.c
		for came, w := range [3]Span{
			CameUnknown: {shown.First - c.AheadDown, shown.Last + c.AheadUp},
			CameBelow:   {shown.First - c.Behind, shown.Last + c.AheadUp},
			CameAbove:   {shown.First - c.AheadDown, shown.Last + c.Behind},
		} {
			w = w.within(0, m.n-1)
			row.Window[came] = pair(Span{min(w.First, m.n-1), max(w.Last, 0)})
		}
		overlap := 0
		if at > 0 {
			below := &m.zones[order[at-1]]
			b := below.Sure()
			overlap = max(0, b.Last-sure.First+1)
			// Only somebody who runs is so fast from where the one before is sure to
			// have seen them, the latency late, to where this one may see them. With
			// fewer steps nobody could be told from those who walk, and the whole
			// flight would be lit for them.
			run := func(steps int) (uint16, error) {
				return m.ticks(max(0, float64(steps)/c.Runner-latency), "the time of a runner")
			}
			var err error
			if row.RunUp, err = run(may.First - b.First); err != nil {
				return err
			}
			// Kept with the lower of the two: who comes from above reaches that.
			if m.t.Sensors[at-1].RunDown, err = run(sure.Last - below.May().within(0, m.n).Last); err != nil {
				return err
			}
		}
		block, err := m.ticks(z.Block, "the lockout of sensor "+z.Name)
		if err != nil {
			return err
		}
		late, err := m.ticks(latency, "the latency")
		if err != nil {
			return err
		}
		if row.Trail, err = m.ticks(z.Hold+latency+float64(overlap+1)/slowPace, "the hold of sensor "+z.Name); err != nil {
			return err
		}
		// One tick because the output is looked at once a tick, and one because
		// counting begins with 1.
		quiet := uint32(block) + uint32(late) + 2
		if quiet+uint32(m.t.Still)*2 > 65535 {
			return fmt.Errorf("the lockout of sensor %s and twice the standing-still time do not fit the tables at %d ms a tick; choose shorter times or a longer tick", z.Name, m.t.TickMS)
		}
		row.Quiet = uint16(quiet)
		m.t.Sensors = append(m.t.Sensors, row)
	}
	return nil
}

// middle returns twice the middle of a zone.
func (z *Zone) middle() int {
	if s := z.Sure(); s.Len() > 0 {
		return s.First + s.Last
	}
	return z.May().First + z.May().Last
}

func pair(s Span) [2]uint8 { return [2]uint8{uint8(s.First), uint8(s.Last)} }
