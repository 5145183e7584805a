package stock

// Electric is what stands over the goods for light bars and sensors, and
// ElectricCaution is what stands with them wherever they are listed.
const (
	Electric        = "For the light bars and sensors"
	ElectricCaution = "A licensed electrician does the mains side and connects the supply; buy a listed one. Every branch has its fuse, and the local rules come first. Amounts are those of the wiring schedule; no price is listed for these: ask."
)

// All returns the rows of the yard and behind them those for the light bars and
// sensors.
func (p *Plan) All() []Row {
	return append(p.Rows[:len(p.Rows):len(p.Rows)], p.Electric...)
}
