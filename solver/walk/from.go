package walk

import (
	"risewright/model"
	"risewright/solver/sensing"
)

// ZonesOf returns the zones of a job's sensors for the rules, in the order of the
// job: input i is the job's sensor i. Senses are the tables behind the sensors.
// One that sees nothing, or is of no class in the table, counts as taken away.
func ZonesOf(job *model.Job, zones []sensing.Zone, senses model.SensorTables) []Zone {
	senses = senses.With(job.Sensing.Own)
	out := make([]Zone, len(job.Sensing.Sensors))
	for i := range out {
		out[i] = Zone{Name: job.Sensing.Sensors[i].Name, First: 1, MayFirst: 1, Removed: true}
	}
	for i := range zones {
		z := &zones[i]
		if z.Sensor < 0 || z.Sensor >= len(out) || !z.Settled() {
			continue
		}
		class, ok := senses.Class(job.Sensing.Sensors[z.Sensor].Class)
		may := z.May
		for _, k := range z.Stray { // may be seen there too
			if may.Len() == 0 {
				may = sensing.Span{First: k, Last: k}
			}
			may = sensing.Span{First: min(may.First, k), Last: max(may.Last, k)}
		}
		if !ok || may.Len() == 0 {
			continue
		}
		out[z.Sensor] = Zone{
			Name: z.Name, First: z.Sure.First, Last: z.Sure.Last, MayFirst: may.First, MayLast: may.Last,
			Hold: class.HoldLeast.Value, Block: class.Block.Value, WarmUp: class.WarmUp.Value, Latency: class.Latency.Value,
		}
	}
	return out
}
