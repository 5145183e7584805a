package report

// WirePiece is one finished board.
type WirePiece struct {
	ID         string      `json:"id"`
	Kind       string      `json:"kind"`
	Step       int         `json:"step"`
	Thickness  float64     `json:"thickness_mm"`
	Face       []WirePoint `json:"face"`
	BackLeft   int         `json:"back_left"`
	BackRight  int         `json:"back_right"`
	FrontRight int         `json:"front_right"`
	FrontLeft  int         `json:"front_left"`
	Solid      WireSolid   `json:"solid"`
	Axes       WireFrame   `json:"frame"`
	LeftEnd    WireEnd     `json:"left_end"`
	RightEnd   WireEnd     `json:"right_end"`
	Figures    []WireNamed `json:"figures"`
	Released   bool        `json:"released"`
	Why        string      `json:"why,omitempty"`
	Template   string      `json:"template,omitempty"`
	Notes      []string    `json:"notes"`
}

// WireBand is a length and the half width of its 95 % band.
type WireBand struct {
	Value     float64 `json:"value_mm"`
	PlusMinus float64 `json:"plus_minus_mm"`
}

// WireNamed is a band with its name.
type WireNamed struct {
	Name string `json:"name"`
	WireBand
}

// WireSolid is a closed polyhedron in the board's frame.
type WireSolid struct {
	Vertices [][3]float64 `json:"vertices_mm"`
	Faces    []WireFacet  `json:"faces"`
	Convex   bool         `json:"convex"`
}

// WireFacet is one flat face of a solid.
type WireFacet struct {
	Part     string     `json:"part"`
	Normal   [3]float64 `json:"normal"`
	Offset   float64    `json:"offset_mm"`
	Vertices []int      `json:"vertices"`
}

// WireFrame is where a board lies in the stair: its origin and the directions
// of its axes.
type WireFrame struct {
	Origin [3]float64 `json:"origin_mm"`
	X      [3]float64 `json:"x"`
	Y      [3]float64 `json:"y"`
	Z      [3]float64 `json:"z"`
}

// WireEnd is one end of a board.
type WireEnd struct {
	Side           string  `json:"side"`
	Gauge          float64 `json:"gauge_rad"`
	GaugePlusMinus float64 `json:"gauge_plus_minus_rad"`
	Bevel          float64 `json:"bevel_rad"`
	Lean           float64 `json:"lean_rad"`
	Fit            float64 `json:"fit_mm"`
}

// WireCard is the card of one board.
type WireCard struct {
	Piece     string      `json:"piece"`
	State     string      `json:"state"`
	Released  bool        `json:"released"`
	Why       string      `json:"why,omitempty"`
	Blank     *WireBlank  `json:"blank,omitempty"`
	Ops       []WireOp    `json:"ops"`
	Checks    []WireNamed `json:"checks"`
	PlusMinus float64     `json:"plus_minus_mm"`
	Turned    []WireTurn  `json:"turned"`
	Proof     WireProof   `json:"proof"`
	Cautions  []string    `json:"cautions"`
	Notes     []string    `json:"notes"`
}

// WireBlank is the board to take.
type WireBlank struct {
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Stock     string  `json:"stock,omitempty"`
}

// WireOp is one cut.
type WireOp struct {
	Verb      string        `json:"verb"`
	Fence     string        `json:"fence"`
	Face      string        `json:"face"`
	NoseToYou bool          `json:"nose_to_you"`
	End       string        `json:"end,omitempty"`
	Hand      string        `json:"hand,omitempty"`
	Gauge     *float64      `json:"gauge_rad,omitempty"`
	Saw       *float64      `json:"saw_rad,omitempty"`
	Arm       string        `json:"arm,omitempty"`
	Bevel     *float64      `json:"bevel_rad,omitempty"`
	Head      string        `json:"head,omitempty"`
	Measures  []WireMeasure `json:"measures"`
}

// WireMeasure is one mark on the show face.
type WireMeasure struct {
	Value float64 `json:"value_mm"`
	Along float64 `json:"along_mm"`
	From  string  `json:"from"`
	Edge  string  `json:"edge"`
	Point string  `json:"point,omitempty"`
}

// WireTurn is the card with the board turned.
type WireTurn struct {
	How     string       `json:"how"`
	Ops     []WireOp     `json:"ops"`
	Changes []WireChange `json:"changes"`
}

// WireChange is what a turned cut does otherwise.
type WireChange struct {
	End      string   `json:"end"`
	What     string   `json:"what"`
	Was      string   `json:"was,omitempty"`
	Now      string   `json:"now,omitempty"`
	WasAngle *float64 `json:"was_rad,omitempty"`
	NowAngle *float64 `json:"now_rad,omitempty"`
}

// WireProof is what the virtual saw found.
type WireProof struct {
	OK           bool     `json:"ok"`
	Worst        *float64 `json:"worst_mm,omitempty"`
	PrintedWorst *float64 `json:"printed_worst_mm,omitempty"`
	Reason       string   `json:"reason,omitempty"`
}

// WireFinding is something the user should know.
type WireFinding struct {
	Rule     string    `json:"rule"`
	Severity string    `json:"severity"`
	Where    WirePlace `json:"where"`
	Title    string    `json:"title"`
	Detail   string    `json:"detail,omitempty"`
	Remedy   string    `json:"remedy,omitempty"`
	Section  string    `json:"section,omitempty"`
	Standing string    `json:"standing,omitempty"`
}

// WirePlace is where a finding belongs.
type WirePlace struct {
	Step    int    `json:"step"`
	Kind    string `json:"kind,omitempty"`
	Reading string `json:"reading,omitempty"`
	Piece   string `json:"piece,omitempty"`
	Field   string `json:"field,omitempty"`
}
