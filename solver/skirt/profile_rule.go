package skirt

import (
	"fmt"
	"strings"

	"risewright/model"
)

// millimetres in each unit that rule tables use for nosings.
const inch = 25.4

// CheckProfile compares the leading edge of a nosing with the limits that a
// rule table sets on its radius and bevel, and returns a finding for each that
// it exceeds. Limits are found by their ids, which end in nosing.radius,
// nosing.bevel or nosing.edge. A limit is never more than Outside: the local
// official decides.
func CheckProfile(p Profile, thickness float64, table model.RuleTable, class string) []model.Finding {
	if why := p.Validate(thickness); why != "" {
		return []model.Finding{{Rule: "skirt.profile", Severity: model.Block, Title: "the nosing's profile cannot be used",
			Detail: why, Remedy: "choose a plain shape, or trace the nosing again"}}
	}
	edge := p.Edge(thickness)
	var out []model.Finding
	for _, l := range table.Limits {
		if !l.AppliesTo(class) {
			continue
		}
		scale := 1.0
		switch l.Unit {
		case "mm":
		case "in":
			scale = inch
		default:
			continue
		}
		lo, hi := l.Lo*scale, l.Hi*scale
		if l.Op == "max" {
			lo = 0
		} else if l.Op != "range" {
			continue
		}
		radius := strings.HasSuffix(l.ID, ".nosing.radius") || strings.HasSuffix(l.ID, ".nosing.edge")
		bevel := strings.HasSuffix(l.ID, ".nosing.bevel") || strings.HasSuffix(l.ID, ".nosing.edge")
		judge := func(what string, v float64) {
			// a hundredth of a millimetre is below any spindle cutter
			if v <= hi+0.01 && v >= lo-0.01 {
				return
			}
			side, limit := "more than", hi
			if v < lo {
				side, limit = "less than", lo
			}
			detail := fmt.Sprintf("the %s is %.1f mm, %s %.1f mm", what, v, side, limit)
			if edge.Rough > 0.3 {
				detail += fmt.Sprintf("; the tracing is no circle, its points lie up to %.1f mm off", edge.Rough)
			}
			severity := model.Outside
			if l.Standing == model.Memory {
				severity = model.Advice
			}
			out = append(out, model.Finding{
				Rule: l.ID, Severity: severity, Where: model.Place{Field: "overlay.nosing"},
				Title:  fmt.Sprintf("nosing: its %s is %s the limit", what, side),
				Detail: detail, Remedy: "choose another profile, and ask the local official",
				Section: l.Section, Standing: l.Standing,
			})
		}
		switch {
		case radius && edge.Radius > 0:
			judge("radius", edge.Radius)
		case bevel && edge.Bevel > 0:
			judge("bevel", edge.Bevel)
		case radius && bevel && lo > 0: // a square edge where some rounding is asked for
			judge("radius or bevel", 0)
		}
	}
	return out
}
