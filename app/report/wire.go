package report

// The JSON of an answer. A number's unit stands at the end of its name: _mm or
// _rad; a number without one is a count, a ratio or an index counted from 0,
// but steps, which count from 1 at the bottom. assets.AnswerSchema says what
// each is. A pointer is left out when the figure is infinite or unknown.

// Wire is the whole answer.
type Wire struct {
	Format   int          `json:"risewright_answer"` // see WireFormat
	Program  string       `json:"program"`
	Job      WireJob      `json:"job"`
	Blocked  bool         `json:"blocked"`
	Released int          `json:"released"`
	Survey   *WireSurvey  `json:"survey,omitempty"`
	BuildUp  *WireBuildUp `json:"build_up,omitempty"`
	Mending  WireMending  `json:"mending"`
	Pieces   []WirePiece  `json:"pieces"`
	Cards    []WireCard   `json:"cards"`
	// Balusters are the bars that stand on treads, from the bottom up.
	Balusters []WireBaluster `json:"balusters"`
	Findings  []WireFinding  `json:"findings"`
	// Lit is how much of the flight lights for who walks it.
	Lit *WireLit `json:"lit,omitempty"`
}

// WireLit is how many bars light while one adult walks at a usual pace, on the
// average from the first nose line to the last.
type WireLit struct {
	Bars int        `json:"bars"`
	Up   WireSpread `json:"up"`
	Down WireSpread `json:"down"`
}

// WireSpread counts bars that are brighter than dim, and those that are just dim.
type WireSpread struct {
	Bright float64 `json:"bright"`
	Dim    float64 `json:"dim"`
}

// WireFormat is the version of the answer's JSON. It goes up when a field is
// dropped or given another meaning.
const WireFormat = 1

// WireJob says which job is answered.
type WireJob struct {
	ID            string  `json:"id"`
	Name          string  `json:"name"`
	Place         string  `json:"place"`
	Units         string  `json:"units"`
	Code          string  `json:"code"`
	CodeClass     string  `json:"code_class"`
	Revision      int     `json:"revision"`
	NewestReading string  `json:"newest_reading,omitempty"`
	Steps         int     `json:"steps"`
	Tolerance     float64 `json:"tolerance_mm"`
}

// WireLength is a length and one standard deviation of it.
type WireLength struct {
	Value  float64 `json:"value_mm"`
	Spread float64 `json:"spread_mm"`
}

// WireRatio is a slope, rise over run, and one standard deviation of it.
type WireRatio struct {
	Value  float64 `json:"value"`
	Spread float64 `json:"spread"`
}

// WireAngle is an angle and one standard deviation of it.
type WireAngle struct {
	Value  float64 `json:"value_rad"`
	Spread float64 `json:"spread_rad"`
}

// WireSides is a length at the left and at the right.
type WireSides struct {
	Left  WireLength `json:"left"`
	Right WireLength `json:"right"`
}

// WireQuantity is a figure in the unit that Unit names.
type WireQuantity struct {
	Unit   string  `json:"unit"`
	Value  float64 `json:"value"`
	Spread float64 `json:"spread"`
}

// WirePoint is a point in plan.
type WirePoint struct {
	X float64 `json:"x_mm"`
	Y float64 `json:"y_mm"`
}

// WireSurvey is the estimate.
type WireSurvey struct {
	Status     string         `json:"status"`
	Iterations int            `json:"iterations"`
	Objective  float64        `json:"objective"`
	Critical   *float64       `json:"critical,omitempty"`
	Steps      []WireStep     `json:"steps"`
	Checks     []WireCheck    `json:"checks"`
	Conflicts  []WireConflict `json:"conflicts"`
}

// WireStep is the estimate of one step.
type WireStep struct {
	Step       int          `json:"step"`
	Corners    []WirePoint  `json:"corners"`
	FrontLeft  int          `json:"front_left"`
	FrontRight int          `json:"front_right"`
	BackRight  int          `json:"back_right"`
	BackLeft   int          `json:"back_left"`
	TopLeft    float64      `json:"top_left_mm"`
	TopRight   float64      `json:"top_right_mm"`
	Fall       float64      `json:"fall"`
	LeanLeft   float64      `json:"lean_left_rad"`
	LeanRight  float64      `json:"lean_right_rad"`
	Unknowns   []string     `json:"unknowns"`
	Covariance [][]float64  `json:"covariance"`
	Cross      [][]float64  `json:"covariance_with_step_below,omitempty"`
	Readiness  string       `json:"readiness"`
	Why        string       `json:"why,omitempty"`
	Next       []WireNext   `json:"next"`
	Figures    []WireFigure `json:"figures"`
}

// WireNext is a reading that would help.
type WireNext struct {
	Kind       string  `json:"kind"`
	Instrument string  `json:"instrument"`
	Now        float64 `json:"now_mm"`
	After      float64 `json:"after_mm"`
}

// WireFigure is the most likely value of a kind of reading.
type WireFigure struct {
	Kind string `json:"kind"`
	WireQuantity
}

// WireCheck is the verdict on one reading.
type WireCheck struct {
	Reading    string   `json:"reading"`
	Step       int      `json:"step"`
	Kind       string   `json:"kind"`
	Used       bool     `json:"used"`
	Unit       string   `json:"unit"`
	Value      float64  `json:"value"`
	Adjusted   float64  `json:"adjusted"`
	Residual   float64  `json:"residual"`
	Spread     float64  `json:"spread"`
	Redundancy float64  `json:"redundancy"`
	Normal     float64  `json:"normalised_residual"`
	Smallest   *float64 `json:"smallest_found,omitempty"`
}

// WireConflict is one or two readings of which one is wrong.
type WireConflict struct {
	Suspects  []WireSuspect `json:"suspects"`
	Remaining int           `json:"remaining"`
}

// WireSuspect is a reading that may be wrong.
type WireSuspect struct {
	Reading     string  `json:"reading"`
	Step        int     `json:"step"`
	Kind        string  `json:"kind"`
	Unit        string  `json:"unit"`
	Normal      float64 `json:"normalised_residual"`
	Without     float64 `json:"without"`
	Spread      float64 `json:"spread"`
	Explanation string  `json:"explanation,omitempty"`
	Mended      float64 `json:"mended"`
}

// WireBuildUp is the flight before and after the overlay.
type WireBuildUp struct {
	FloorBottom      float64            `json:"floor_bottom_mm"`
	FloorTop         float64            `json:"floor_top_mm"`
	FlightRiseBefore WireLength         `json:"flight_rise_before"`
	FlightRiseAfter  WireLength         `json:"flight_rise_after"`
	FlightGoing      WireLength         `json:"flight_going"`
	MeanRise         float64            `json:"mean_rise_mm"`
	MeanGoing        float64            `json:"mean_going_mm"`
	SlopeLength      float64            `json:"slope_length_mm"`
	Pitch            WireAngle          `json:"pitch"`
	RiseBefore       WireUniformity     `json:"rise_before"`
	RiseAfter        WireUniformity     `json:"rise_after"`
	GoingBefore      WireUniformity     `json:"going_before"`
	GoingAfter       WireUniformity     `json:"going_after"`
	Nosing           WireUniformity     `json:"nosing"`
	Runs             []WireRun          `json:"runs"`
	Steps            []WireRise         `json:"steps"`
	Headroom         []WireHeightChange `json:"headroom"`
	Rail             []WireHeightChange `json:"rail"`
	Doors            []WireDoor         `json:"doors"`
}

// WireUniformity tells how alike the members of a flight are.
type WireUniformity struct {
	Count        int         `json:"count"`
	Largest      WireExtreme `json:"largest"`
	Smallest     WireExtreme `json:"smallest"`
	Difference   WireLength  `json:"difference"`
	Adjacent     WireLength  `json:"adjacent"`
	AdjacentStep int         `json:"adjacent_step"`
	AdjacentSide string      `json:"adjacent_side"`
}

// WireExtreme is a member of a flight and where it stands.
type WireExtreme struct {
	Step int    `json:"step"`
	Side string `json:"side"`
	WireLength
}

// WireRise is the build-up of one step.
type WireRise struct {
	Step             int        `json:"step"`
	OldTop           WireSides  `json:"old_top"`
	NewTop           WireSides  `json:"new_top"`
	RiseBefore       WireSides  `json:"rise_before"`
	RiseAfter        WireSides  `json:"rise_after"`
	GoingBefore      *WireSides `json:"going_before,omitempty"`
	GoingAfter       *WireSides `json:"going_after,omitempty"`
	Tapered          bool       `json:"tapered"`
	Packing          WireSides  `json:"packing"`
	Shim             WireSides  `json:"shim"`
	Room             bool       `json:"room"`
	Across           WireLength `json:"across"`
	Fall             WireRatio  `json:"fall"`
	Slope            WireRatio  `json:"slope"`
	Nosing           float64    `json:"nosing_mm"`
	Surveyed         WireSides  `json:"surveyed_nosing"`
	Forward          float64    `json:"forward_mm"`
	Width            WireLength `json:"width"`
	TwoRisePlusGoing WireLength `json:"two_rise_plus_going"`
	// Winder and Landing are there for a tapered tread and for a landing between
	// flights.
	Winder  *WireWinder  `json:"winder,omitempty"`
	Landing *WireLanding `json:"landing,omitempty"`
}

// WireRun is one flight between floors and landings.
type WireRun struct {
	First       int            `json:"first_riser"`
	Last        int            `json:"last_riser"`
	Foot        float64        `json:"foot_mm"`
	Rise        WireLength     `json:"rise"`
	Pitch       WireAngle      `json:"pitch"`
	RiseBefore  WireUniformity `json:"rise_before"`
	RiseAfter   WireUniformity `json:"rise_after"`
	GoingBefore WireUniformity `json:"going_before"`
	GoingAfter  WireUniformity `json:"going_after"`
	Nosing      WireUniformity `json:"nosing"`
}

// WireWinder is a tapered tread.
type WireWinder struct {
	Inner  string     `json:"inner_side"`
	Width  float64    `json:"width_mm"`
	Narrow WireLength `json:"going_narrow"`
	Middle WireLength `json:"going_middle"`
}

// WireLanding is the room on a landing between two flights.
type WireLanding struct {
	Depth  WireLength `json:"depth"`
	Width  float64    `json:"width_mm"`
	Served float64    `json:"served_mm"`
}

// WireBaluster is one bar and what is cut off its bottom.
type WireBaluster struct {
	Number int        `json:"number"`
	Step   int        `json:"step"`
	Side   string     `json:"side"`
	Behind float64    `json:"behind_nose_mm"`
	Foot   [3]float64 `json:"foot_mm"`
	Old    *float64   `json:"old_length_mm,omitempty"`
	Cut    float64    `json:"cut_mm"`
	New    *float64   `json:"new_length_mm,omitempty"`
	Rake   float64    `json:"rake_rad"`
}

// WireHeightChange is a headroom or a handrail before and after.
type WireHeightChange struct {
	ID       string     `json:"id"`
	Step     int        `json:"step"`
	Before   WireLength `json:"before"`
	After    WireLength `json:"after"`
	Raised   float64    `json:"raised_mm"`
	Advanced float64    `json:"advanced_mm"`
}

// WireDoor is a door's gap before and after.
type WireDoor struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Top      bool    `json:"top"`
	Before   float64 `json:"before_mm"`
	After    float64 `json:"after_mm"`
	Undercut float64 `json:"undercut_mm"`
}

// WireMending is what would bring the rises within the limits.
type WireMending struct {
	Status   string       `json:"status"`
	Why      string       `json:"why,omitempty"`
	Limits   WireLimits   `json:"limits"`
	Remedies []WireRemedy `json:"remedies"`
}

// WireLimits is what the code asks of rises.
type WireLimits struct {
	Least    *float64 `json:"least_mm,omitempty"`
	Most     *float64 `json:"most_mm,omitempty"`
	Spread   *float64 `json:"difference_mm,omitempty"`
	Adjacent *float64 `json:"adjacent_mm,omitempty"`
	Rules    []string `json:"rules"`
	Memory   bool     `json:"from_memory"`
}

// WireRemedy is one way to mend the rises.
type WireRemedy struct {
	Title  string         `json:"title"`
	Detail string         `json:"detail,omitempty"`
	Cost   float64        `json:"cost"`
	Bottom float64        `json:"raise_bottom_mm"`
	Top    float64        `json:"raise_top_mm"`
	Board  *float64       `json:"board_mm,omitempty"`
	Treads []WireTread    `json:"treads"`
	After  WireUniformity `json:"rise_after"`
}

// WireTread is packing added under a tread, or taken away.
type WireTread struct {
	Step  int     `json:"step"`
	By    float64 `json:"by_mm"`
	Plane float64 `json:"plane_mm"`
}
