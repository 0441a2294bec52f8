package analysis

import (
	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// Grade is how firmly a finding stands.
type Grade string

const (
	// Geometry is the grade of plain geometry: a length is what the pose makes
	// it, as far as the model is right.
	Geometry Grade = "geometry"
	Must     Grade = "must"     // works in every way of holding the posture
	Likely   Grade = "likely"   // works in every near-best way
	May      Grade = "may"      // works in some near-best way
	NotTold  Grade = "not told" // flips under small errors, or the model lacks what would decide it
)

// LengthState is where a muscle stands in its own span.
type LengthState string

const (
	Short LengthState = "short"
	Mid   LengthState = "middle"
	Long  LengthState = "long"
)

// Role is what a muscle does in a phase, as far as it is known.
type Role string

const (
	Working   Role = "working"    // with grade at most May until equilibrium is computed
	DrawnLong Role = "drawn long" // not known to work, near the long end of its span
	Slack     Role = "slack"      // not known to work, near the short end of its span
	Quiet     Role = "quiet"
)

// MuscleFinding is everything computed about one muscle in one posture.
type MuscleFinding struct {
	Muscle body.MuscleID
	Length float64 // m, along the path from origin to insertion
	// Place is the place in the muscle's own span over the ranges of the joints
	// it crosses: 0 at its shortest, 1 at its longest.
	Place float64
	// Fibre is the fibre length relative to the optimal one.
	Fibre float64
	State LengthState
	// FromAnatomical is the change of length from the anatomical position, m,
	// positive when longer.
	FromAnatomical float64
	// FromPrevious is the change from the posture before, m; zero when there is none.
	FromPrevious float64
	Role         Role
	Grade        Grade
	// Bounds of its activation: zero where the posture cannot be held or the
	// best way leaves it out.
	Bounds
	// For names the movement that the muscle may be holding against a load,
	// or that draws it long; -1 when there is none.
	For    body.MovementID
	Toward bool
	// Part is the part it plays among the others, and Parts about which joints,
	// most telling first; "" and empty where that cannot be told. Manner is how
	// long it is while it works; "" when it does not.
	Part    Part
	Parts   []PartIn
	Manner  Manner
	Wrap    body.WrapOutcome // the worst outcome along the path
	Reasons []Reason
}

// Reason is one link of the answer to "why".
type Reason struct {
	Kind     string          // "position", "arm", "length", "load", "cue", "source", "model"
	Movement body.MovementID // for "position", "arm" and "load"; -1 otherwise
	// Value is in rad for a position, m for an arm or a length, N·m for a load,
	// share of capacity for a cue, optimal fibre lengths for a source.
	Value  float64
	Length float64 // m that a position adds to the muscle's length, for "position"
	Text   string  // words of its own, for what the kinds do not cover; usually empty
	Source string  // key of the source of the figures, or ""
}

// GroupFinding is one statement about a functional group, the way a teacher
// speaks: "plantar flexors".
type GroupFinding struct {
	Movement body.MovementID // the group that does this movement
	Toward   bool            // the group that does it toward its first name; else the opposite group
	Role     Role
	Grade    Grade
	Muscles  []body.MuscleID // the members the statement rests on, most important first
	Place    float64         // DrawnLong and Slack: mean place of the members, weighted by PCSA
	// Moment is what gravity and loads ask of the group, N·m, for Working.
	Moment float64
	// Effort is Moment as a share of the most that the group could do here, for Working.
	Effort float64
	// Bounds of Effort, and the members that the position does not tell apart,
	// strongest first; for Working where the posture is held.
	Bounds
	Split   []Span
	Reasons []Reason
}

// Doubt is something about a posture that the reader should know: a position
// past its published range, a misfit of the supports, a wrap that failed.
type Doubt struct {
	Kind   string // "range", "support", "balance", "wrap", "model"
	Text   string // one sentence
	Mend   string // what would mend it; may be empty
	Source string
}

// Caution is a specific caution that the posture calls for.
type Caution struct {
	Key string // "overhead load", "balance on toes"; exports choose the words
	Why string // what in the posture calls for it
}

// JointValue is the value of one movement in a posture, for dials and lists.
type JointValue struct {
	Movement body.MovementID
	Value    float64 // rad
	Stated   bool    // said by the teacher; else from the stance or the model's rhythm
	Past     float64 // rad past the published range, 0 within it
}

// Findings is the analysis of one posture. Slices are never nil.
type Findings struct {
	Posture      body.Posture
	Joints       []JointValue
	Muscles      []MuscleFinding // by MuscleID
	Groups       []GroupFinding  // most important first
	Doubts       []Doubt
	Cautions     []Caution
	Frames       []geom.Frame // of every segment in the world, floor at y = 0
	Coords       []float64    // every coordinate, rad or m
	CentreOfMass geom.Vec     // m
	Effort       Effort       // what holding it asks of the muscles as a whole
	Contacts     []Contact
	Pulls        []Pull // by MuscleID: which end of each would move, and where to
}

// Contact is one patch that rests on something.
type Contact struct {
	Patch string // key
	On    string
	At    geom.Vec // middle of the patch in the world, m
	Gap   float64  // m off the surface, positive when it hangs free
}

// MovementFinding is the change of one muscle over a movement phase.
type MovementFinding struct {
	Muscle body.MuscleID
	Change float64 // m over the phase, positive when it lengthens
	// PlaceFrom and PlaceTo are the places in its own span at both ends.
	PlaceFrom, PlaceTo float64
	// Turns is true when the length passes an extreme on the way, so that the
	// change over the phase is not the whole story.
	Turns bool
	// Peak and Mean are its activation over the phase in the least effort; zero
	// where no position on the way can be held.
	Peak, Mean float64
	// Contraction is what it does while it works; "" when it does not.
	Contraction Contraction
}

// GroupWork is what a functional group that works does over a movement.
type GroupWork struct {
	Movement    body.MovementID
	Toward      bool
	Peak, Mean  float64 // of what the group could do, over the phase
	Contraction Contraction
	Muscles     []body.MuscleID // the members that do it, most first
}

// Movement is the analysis of a phase between two postures.
type Movement struct {
	Muscles []MovementFinding // by MuscleID
	// Groups names the functional groups that lengthen or shorten most, most first.
	Groups []GroupChange
	Joints []JointChange // what moves, most first
	// Work names the functional groups that work on the way, most first.
	Work []GroupWork
	// Quick is true when the movement is quick enough for inertia to count, and
	// inertia is counted. QuickBelow is the duration from which down it does, s.
	Quick      bool
	QuickBelow float64
	// Held of Looked positions on the way, both ends included, can be held;
	// only those count in what is said to work.
	Held, Looked int
	Doubts       []Doubt
}

// GroupChange is how a functional group's length changes over a movement.
type GroupChange struct {
	Movement body.MovementID
	Toward   bool
	Change   float64 // of place, -1 to 1, positive when the group lengthens
	Muscles  []body.MuscleID
}

// JointChange is how far a joint moves over a phase.
type JointChange struct {
	Movement body.MovementID
	From, To float64 // rad
}
