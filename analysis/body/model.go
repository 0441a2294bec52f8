// Package body is the body model: segments, joints, coordinates, muscles and
// the vocabulary of positions, supports, loads and cues.
//
// Everything about the body that does not move is one immutable Model, built
// once from the tables and checked once; everything that moves is computed
// from it elsewhere. Every number comes from tables/*.csv, with a source key on
// its row.
//
// Frames follow the ISB: X forward, Y up, Z to the right, each segment's axes
// parallel to the world's in the anatomical position. The tables describe the
// right side of a reference adult; the left side is the mirror image and other
// statures are scaled. Lengths are in metres, masses in kilograms, angles in
// radians; tables carry mm, cm2 and degrees with the unit in the column name.
package body

import "tautline/analysis/geom"

// Side tells which half of the body a thing belongs to.
type Side int8

const (
	Middle Side = 0
	Right  Side = 1
	Left   Side = -1
)

// String gives "right", "left" or "".
func (s Side) String() string {
	switch s {
	case Right:
		return "right"
	case Left:
		return "left"
	}
	return ""
}

// Suffix gives "_r", "_l" or "", the ending of keys.
func (s Side) Suffix() string {
	switch s {
	case Right:
		return "_r"
	case Left:
		return "_l"
	}
	return ""
}

// SegmentID, JointID, CoordID, MuscleID and SurfaceID index the slices of a
// Model. They hold for the one model they came from.
type (
	SegmentID int
	JointID   int
	CoordID   int
	MuscleID  int
	SurfaceID int
)

// Ground is the segment index of the world itself.
const Ground SegmentID = -1

// Model is one adult body, complete and immutable. Slices are indexed by the
// IDs above; segments stand before the segments that hang from them.
type Model struct {
	Person    Person
	Segments  []Segment
	Joints    []Joint
	Coords    []Coordinate
	Muscles   []Muscle
	Surfaces  []Surface
	Movements []Movement
	Stances   []Stance
	Patches   []Patch
	Girdle    Rhythm
	Bend      []BendShare // how a forward bend is shared, from upright on
	// SpecificTension is the greatest isometric stress of every muscle, N/m2.
	SpecificTension float64
	Friction        float64 // between a supporting patch and what it rests on
	Passive         map[MovementID][]Passive
	PassiveCurves   []PassiveCurve
	Held            []Held
	Soft            []float64 // by CoordID: what soft tissue gives either way before any muscle works, N·m
	Ribs            []RibPoint
	Sources         map[string]Source
	Version         string // of the tables: a short hash of every table's bytes

	index             *index
	anthropometry     map[SegmentID]anthropometry
	smallest, largest Person
	passiveWithin     passiveSpan
	unused            []string // keys of sources that no row names
}

// Person is whose body it is.
type Person struct {
	Stature float64 // m
	Mass    float64 // kg
	Sex     Sex
}

// Sex chooses the column of the anthropometric table.
type Sex string

const (
	Male   Sex = "male"
	Female Sex = "female"
)

// Segment is one rigid part.
type Segment struct {
	Key    string // "thigh_r"
	Name   string // "right thigh"
	Side   Side
	Mass   float64   // kg, zero for parts whose mass another segment carries
	Centre geom.Vec  // centre of mass in the segment's frame, m
	Gyr    geom.Vec  // radii of gyration about the frame's axes through Centre, m
	Joint  JointID   // the joint that hangs it from its parent
	Parent SegmentID // Ground for the pelvis
	// From and To are the end points, m in the segment's frame, that the
	// published fractions of Centre and Gyr run between; Length is their distance.
	From, To geom.Vec
	Length   float64
	Source   string
}

// Joint hangs one segment from another by up to six coordinates.
type Joint struct {
	Key           string
	Name          string
	Side          Side
	Parent, Child SegmentID
	InParent      geom.Vec // the joint's centre in the parent's frame, m
	InChild       geom.Vec // the same point in the child's frame, m
	First, Count  CoordID  // its coordinates are First .. First+Count-1, applied in that order
	Ball          bool     // the three coordinates are a rotation vector, not a sequence of hinges
	Source        string
}

// Coordinate is one freedom of a joint.
type Coordinate struct {
	Key    string // "knee_flexion_r"
	Name   string // "right knee flexion"
	Joint  JointID
	Side   Side
	Slide  bool     // a length [m] instead of an angle [rad]
	Axis   geom.Vec // unit; in the joint's frame after the coordinates before it; positive turns toward the named movement
	Offset float64  // what is added to the value before turning, rad: where the anatomical position lies
	Lo, Hi float64  // the range the geometry is checked over, rad or m
	Source string
}

// Muscle is one muscle part with its path and architecture.
type Muscle struct {
	Key       string // "gastrocnemius_medial_r"
	Name      string // English: "right gastrocnemius, medial head"
	Latin     string
	Plain     string // "right inner calf"
	Side      Side
	Region    string // "leg", "thigh", "hip", "trunk", "neck", "shoulder girdle", "shoulder", "arm", "forearm", "hand", "foot"
	Mirror    MuscleID
	PCSA      float64 // m2
	Fibre     float64 // optimal fibre length, m
	Pennation float64 // rad at optimal length
	// AnatomicalFibre is the fibre length in the anatomical position relative
	// to the optimal one.
	AnatomicalFibre   float64
	Passive           bool // a sheet or band that pulls only when stretched
	Path              []Node
	Origin, Insertion string // attachments in words
	Nerve             string
	Actions           []Action
	Note              string // a disputed or variable action, in a sentence; empty for most
	Source            string // of the architecture
	PathSource        string
}

// Node is one element of a path: a point fixed in a segment or, when Wrap is
// true, a surface that the stretch between the neighbouring points goes over.
type Node struct {
	Segment SegmentID
	At      geom.Vec // m, in the segment's frame; for a wrap, the side point (see Surface)
	Wrap    bool
	Surface SurfaceID
}

// Surface is a wrapping surface fixed in a segment.
type Surface struct {
	Key     string
	Segment SegmentID
	Shape   SurfaceShape
	Centre  geom.Vec // m
	Axis    geom.Vec // unit, cylinder only
	Radius  float64  // m
	Source  string
}

// SurfaceShape names the kind of a Surface.
type SurfaceShape string

const (
	Sphere   SurfaceShape = "sphere"
	Cylinder SurfaceShape = "cylinder" // endless along its axis
)

// Action is one standard textbook action of a muscle.
type Action struct {
	Movement MovementID
	Toward   bool // toward the movement's first name ("flexion"), else its opposite
	Main     bool // a main action; the others are weak or depend on posture
	Source   string
	Note     string
}

// Source is one row of the table of sources.
type Source struct {
	Key   string
	Text  string
	Grade string // "published", "second-hand", "derived", "from memory", "estimate"
}
