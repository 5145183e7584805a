package saw

// Card is what a carpenter takes to the saw for one board. It is read-only
// once returned.
type Card struct {
	Piece string // such as "T07"
	Blank Blank
	// Ops are done in order, with the board lying as each one says.
	Ops       []Op
	Checks    []CheckDim
	PlusMinus float64 // mm: the widest 95 % half band of the lengths on the card

	// Turned are the same cuts made with the board turned: face down, and end
	// for end. Each is proved too.
	Turned []Turn

	Proof Proof

	// Released and Why are the piece's: a proof says that the card makes the
	// piece, a release that the piece is known well enough to cut.
	Released bool
	Why      string

	Cautions []string // about saws and dust, the same on every card
	Notes    []string // about this board and its cuts
}

// Blank is the board to take. Its two long edges are the far edge, named Back,
// and the near edge, named Nose; for a riser these are its bottom and top.
type Blank struct {
	Length, Width, Thickness float64 // mm
	Stock                    string  // as the yard names it; empty: no listed size will do
	// Riser says that the board is a riser, whose left end lies at the right
	// hand when it is face up with its bottom to the fence. A tread with its
	// back to the fence has its left end at the left hand.
	Riser bool
}

// Op is one cut, with the board lying on the saw in the way it says.
//
// A mitre saw is seen from where its user stands: the fence is on the far
// side, the arm swings left or right from square. The angles are radians.
type Op struct {
	Verb  Verb
	Fence Edge // the edge against the fence; a rip measures from it
	Face  Face // which way the show face looks
	// NoseToYou says that the nose (the top of a riser) is on your side, which
	// is so when the back (bottom) is at the fence.
	NoseToYou bool

	End  Hand // the end a crosscut makes, as seen walking up; empty for a rip
	Hand Hand // the hand at which that end lies

	// Gauge is the board's interior angle between the edge at the fence and
	// the end, as a gauge shows it: a quarter turn is square. Saw is what the
	// saw's scale shows: Gauge less a quarter turn, with its sign.
	Gauge, Saw float64
	Arm        Hand    // which way the arm swings; Square when it does not
	Bevel      float64 // tilt of the saw's head from upright, not negative
	Tilt       Hand    // which way the head leans; Square when upright

	// Measures locate the cut: one mark for a crosscut, two for a rip.
	Measures [2]Measure
}

// Verb says what kind of cut an op is.
type Verb string

// The two cuts. A rip runs from mark to mark along the board and makes the edge
// opposite the one at the fence; a crosscut makes an end.
const (
	Rip      Verb = "rip"
	Crosscut Verb = "crosscut"
)

// Edge is one of the board's long edges.
type Edge string

// The long edges: back is a riser's bottom, nose its top.
const (
	Back Edge = "back"
	Nose Edge = "nose"
)

// Face says which way the show face looks.
type Face string

// Face up shows the good face to you.
const (
	Up   Face = "up"
	Down Face = "down"
)

// Hand is left or right; what of, the field says.
type Hand string

// The hands. Square is neither: the arm or head is not moved.
const (
	Left   Hand = "left"
	Right  Hand = "right"
	Square Hand = "square"
)

// Measure is one mark on the show face. It starts from the corner where Edge
// meets the end From. For a crosscut it lies Value from there along Edge; for a
// rip it lies Along along Edge from there, and Value square in from Edge.
type Measure struct {
	Value, Along float64 // mm
	From         Hand    // the board's end as it is at that moment, sawn or not
	Edge         Edge
	Point        Point // crosscut only: what the mark is on the finished end
}

// Point says whether the mark is the end's long or short point on the face.
type Point string

// The points: PointSquare when the end is square and has neither.
const (
	LongPoint   Point = "long point"
	ShortPoint  Point = "short point"
	PointSquare Point = "square"
)

// CheckDim is a dimension to check on the sawn board, mm, with the half width
// of its 95 % band.
type CheckDim struct {
	Name      string
	Value     float64
	PlusMinus float64
}

// Turn is the card with the board turned on the saw.
type Turn struct {
	How     How
	Ops     []Op
	Changes []Change // against the card; what is not named stays
}

// How says how the board is turned from the way its card has it.
type How string

// The two ways. FaceDown rolls the board over with the same edge at the fence;
// EndForEnd turns it round on the table, face still up.
const (
	FaceDown  How = "face down"
	EndForEnd How = "end for end"
)

// Change is one thing that a turned crosscut does otherwise.
type Change struct {
	End  Hand  // which end's cut
	What Field // which field of the op
	// Was and Now are the words; for an angle they are empty and the two
	// numbers count, in radians.
	Was, Now           string
	WasAngle, NowAngle float64
}

// Field names a field of an op that turning can change.
type Field string

// The fields that turning can change.
const (
	FieldHand  Field = "hand"
	FieldArm   Field = "arm"
	FieldTilt  Field = "tilt"
	FieldGauge Field = "gauge"
	FieldSaw   Field = "saw"
	FieldFace  Field = "face"
	FieldFence Field = "fence"
)

// Proof is what the virtual saw found.
type Proof struct {
	OK bool
	// Worst is the largest distance, in mm, between the board that the ops
	// leave and the piece: over the card and its turned versions.
	Worst float64
	// PrintedWorst is the same for the card with its figures rounded as they
	// are printed. The two boards are laid with their left corners at the
	// fence edge together, so an error of length shows in full.
	PrintedWorst float64
	Reason       string // why the card is refused; empty when it is not
}
