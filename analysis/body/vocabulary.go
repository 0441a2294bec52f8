package body

import "tautline/analysis/geom"

// MovementID indexes Model.Movements.
type MovementID int

// Movement is one pair of opposite clinical movements at a named joint, as a
// teacher says them and a goniometer reads them: "knee", "flexion" and
// "extension". Its value is in radians, positive toward the first name, zero in
// the anatomical position (for the forearm in mid position, thumb forward).
//
// A movement is what people state; coordinates are what the skeleton has. Most
// movements are one coordinate; some share their angle over several ("trunk
// flexion" over the lumbar and the thoracic spine).
type Movement struct {
	Key                       string // "knee_flexion_r"
	Joint                     string // "knee", as said
	Side                      Side   // Middle movements have their sides in their names: "bend right"
	Toward                    string // "flexion"
	Away                      string // "extension"
	Agents                    string // who does it, toward: "knee flexors"
	Against                   string // who does the opposite: "knee extensors"
	AgentsPlain, AgainstPlain string // the same for plain voice: "back of the thigh", "front of the thigh"
	Plain                     string // plain verb phrase toward: "bending the knee"
	PlainAway                 string
	// Lateral movements belong to the middle and turn toward the right, so that
	// their mirror image is their opposite.
	Lateral bool
	// Girdle movements are the whole arm's and the shoulder blade's: Resolve
	// makes their coordinates by the rhythm, and Shares only tells which
	// coordinates their moment arms are taken about.
	Girdle bool
	Lo, Hi float64 // published range, rad: Lo is negative, the range away; Hi the range toward
	Ranges []Range // every published column, for checking and for the dials
	Shares []Share // how it is made of coordinates
	Source string  // of Lo and Hi
}

// Range is one published range of a movement.
type Range struct {
	Lo, Hi float64 // rad
	Whose  string  // "AAOS", "Boone and Azen 1979, 109 men"
	Source string
}

// Share is the part of a movement's angle that one coordinate takes.
type Share struct {
	Coord  CoordID
	Factor float64
	Source string
}

// Patch is a place of the body that can rest on, push against or hang from
// something.
type Patch struct {
	Key     string // "heel_r"
	Name    string // "right heel"
	Word    string // "heel", as said
	Side    Side
	Segment SegmentID
	Points  []geom.Vec // m, the corners or ends of the patch in the segment's frame
	Normal  geom.Vec   // unit, out of the body, in the segment's frame
	Source  string
}

// Surface words that a patch can meet.
const (
	Floor = "floor"
	Seat  = "seat"
	Wall  = "wall"
	Bar   = "bar"
)

// Stance is a named way of being supported: positions that hold unless stated
// otherwise, and the patches that rest on something.
type Stance struct {
	Key       string // "standing_on_toes"
	Name      string // "standing on toes", canonical
	Positions []Position
	Supports  []Support
	Source    string
}

// Posture is one posture state as it was said, against one model's vocabulary.
// The zero Posture is the anatomical position with nothing said about support.
type Posture struct {
	Stance    string // key of a Stance, or ""
	Positions []Position
	Supports  []Support
	Loads     []Load
	Cues      []Cue
	Hanging   Arms // said to hang straight down, whichever way the trunk leans
}

// Arms tells one arm from the other.
type Arms struct{ Right, Left bool }

// Of tells whether the arm of a side is meant.
func (a Arms) Of(s Side) bool { return s == Right && a.Right || s == Left && a.Left }

// With gives the arms with that of a side in or out.
func (a Arms) With(s Side, in bool) Arms {
	switch s {
	case Right:
		a.Right = in
	case Left:
		a.Left = in
	}
	return a
}

// Position is one stated joint position.
type Position struct {
	Movement MovementID
	Value    float64 // rad, positive toward the movement's first name
}

// Support is one patch that rests on something.
type Support struct {
	Patch string // key of a Patch
	On    string // Floor, Seat, Wall or Bar
}

// LoadKind tells a mass from a force.
type LoadKind string

const (
	Carry LoadKind = "carry" // a mass
	Push  LoadKind = "push"  // the body part presses outward with this force; the world presses back
	Pull  LoadKind = "pull"  // the body part draws toward itself with this force
)

// Load is a mass carried, or a push or pull, at one named place of the body.
type Load struct {
	Kind      LoadKind
	Patch     string  // key of the Patch that carries it: "palm_r"
	Mass      float64 // kg, for Carry
	Force     float64 // N, for Push and Pull
	Direction string  // "up", "down", "forward", "backward", "right", "left"; empty for Carry
}

// CueKind is a kind of effort that the teacher asks for.
type CueKind string

const (
	PullIn   CueKind = "pull"      // hold a joint actively toward the way it already points
	Brace    CueKind = "brace"     // both sides of a joint work
	PushAway CueKind = "push away" // at a contact
	DrawIn   CueKind = "pull in"   // at a contact
)

// Cue is an effort that position alone does not show.
type Cue struct {
	Kind      CueKind
	Movement  MovementID // for PullIn and Brace; -1 otherwise
	Toward    bool       // PullIn: toward the movement's first name
	Patch     string     // for PushAway and DrawIn; "" otherwise
	Intensity float64    // share of capacity: lightly 0.1, firmly 0.3, strongly 0.6
}
