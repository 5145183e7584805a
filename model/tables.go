package model

// Tables are the published and trade values a solve needs beside the job. They
// ship with the program; a job's own instruments live in the job.
type Tables struct {
	Codes  []RuleTable
	Stock  Stock
	Lights LightTables  // of the light bars
	Senses SensorTables // of the motion sensors and of those who walk past
	Goods  Goods
	Wood   WoodTable
	Looks  FinishTable // what pictures show wood, paint and light in
	Labour Labour
}

// Code returns the rule table called id.
func (t Tables) Code(id string) (RuleTable, bool) {
	for _, c := range t.Codes {
		if c.ID == id {
			return c, true
		}
	}
	return RuleTable{}, false
}

// RuleTable is one published code or guidance, as far as it concerns stairs.
type RuleTable struct {
	ID      string
	Title   string
	Edition string
	Place   string // where it is used
	Note    string
	Classes []RuleClass // classes of stair; empty when the code has one
	Limits  []Limit
}

// RuleClass is a class of stair within a code, such as a private stair.
type RuleClass struct{ ID, Title string }

// Limit is one published limit. Lo and Hi are in Unit; which of them counts
// follows from Op.
type Limit struct {
	ID       string
	Quantity string // the publication's quantity in words
	Measure  string // what the program compares, such as "rise"; empty: shown only
	Op       string // max, min, range, eq, ratio_max, count_min, sphere_below, text, bool
	Lo, Hi   float64
	Unit     string
	Section  string
	Standing Standing
	Note     string
	Classes  []string // classes it applies to; empty means all
	// ExemptGoing waives the limit on a tread whose going, in Unit, is at least
	// this; 0 waives nothing.
	ExemptGoing float64
}

// AppliesTo says whether the limit holds for the class of stair.
func (l Limit) AppliesTo(class string) bool {
	if len(l.Classes) == 0 || class == "" {
		return true
	}
	for _, c := range l.Classes {
		if c == class {
			return true
		}
	}
	return false
}

// Stock is what boards can be bought in.
type Stock struct {
	TreadThicknesses []StockSize
	TreadLengths     []StockSize
	TreadDepths      []StockSize
	RiserLengths     []StockSize
	RiserHeights     []StockSize
	LandingDepths    []StockSize
}

// StockSize is a size boards are sold in, with the name the yard gives it.
type StockSize struct {
	Size     Length
	Name     string
	Units    Units // the system in whose yards it is common
	Standing Standing
}
