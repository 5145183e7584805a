package model

// WoodTable is how woods move, and between what seasons.
type WoodTable struct {
	Species []Species
	Seasons []Season
}

// Species is one wood. Radial and Tangential are coefficients of dimensional
// change for each percent of moisture content, valid from 6 to 14 percent; the
// shrinkages are percent of the green size, green to ovendry, 0 when not known.
type Species struct {
	ID                 string
	Name               string
	Radial, Tangential float64
	RadialStanding     Standing
	TangentialStanding Standing
	ShrinkRadial       float64
	ShrinkTangential   float64
	ShrinkStanding     Standing
	Note               string
}

// Season is the air that the treads live in. Humidity is relative, 0 to 1,
// Temperature degrees Celsius.
type Season struct {
	ID          string
	Name        string
	Humidity    float64
	Temperature float64
	Standing    Standing
	Note        string
}

// ByID returns the species called id.
func (w WoodTable) ByID(id string) (Species, bool) {
	for _, s := range w.Species {
		if s.ID == id {
			return s, true
		}
	}
	return Species{}, false
}

// Season returns the season called id.
func (w WoodTable) Season(id string) (Season, bool) {
	for _, s := range w.Seasons {
		if s.ID == id {
			return s, true
		}
	}
	return Season{}, false
}
