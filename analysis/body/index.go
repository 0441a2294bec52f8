package body

import "strings"

// index finds things by key.
type index struct {
	segments  map[string]SegmentID
	coords    map[string]CoordID
	muscles   map[string]MuscleID
	surfaces  map[string]SurfaceID
	movements map[string]MovementID
	stances   map[string]int
	patches   map[string]int
}

func newIndex() *index {
	return &index{
		map[string]SegmentID{}, map[string]CoordID{}, map[string]MuscleID{}, map[string]SurfaceID{},
		map[string]MovementID{}, map[string]int{}, map[string]int{},
	}
}

// Segment finds a segment by key ("thigh_r").
func (m *Model) Segment(key string) (SegmentID, bool) { id, ok := m.index.segments[key]; return id, ok }

// Coord finds a coordinate by key ("knee_flexion_r").
func (m *Model) Coord(key string) (CoordID, bool) { id, ok := m.index.coords[key]; return id, ok }

// Muscle finds a muscle by key ("soleus_r").
func (m *Model) Muscle(key string) (MuscleID, bool) { id, ok := m.index.muscles[key]; return id, ok }

// Movement finds a movement by key ("knee_flexion_r").
func (m *Model) Movement(key string) (MovementID, bool) {
	id, ok := m.index.movements[key]
	return id, ok
}

// Stance finds a stance by key ("standing_on_toes").
func (m *Model) Stance(key string) (*Stance, bool) {
	i, ok := m.index.stances[key]
	if !ok {
		return nil, false
	}
	return &m.Stances[i], true
}

// Patch finds a patch by key ("heel_r").
func (m *Model) Patch(key string) (*Patch, bool) {
	i, ok := m.index.patches[key]
	if !ok {
		return nil, false
	}
	return &m.Patches[i], true
}

// MustCoord is Coord for keys that the code itself relies on: a table without
// one of them does not load, so a miss is a bug and panics.
func (m *Model) MustCoord(key string) CoordID {
	id, ok := m.index.coords[key]
	if !ok {
		panic("body: no coordinate " + key)
	}
	return id
}

// MustMovement is Movement for keys that the code itself relies on.
func (m *Model) MustMovement(key string) MovementID {
	id, ok := m.index.movements[key]
	if !ok {
		panic("body: no movement " + key)
	}
	return id
}

// sided names a thing of the right-hand tables on one side: keys get a suffix
// and names a word in front.
func sided(key, name string, s Side) (string, string) {
	if s == Middle {
		return key, name
	}
	return key + s.Suffix(), s.String() + " " + name
}

// Bare strips a side's suffix from a key.
func Bare(key string) string {
	return strings.TrimSuffix(strings.TrimSuffix(key, "_r"), "_l")
}

// UnusedSources lists the keys of sources that no row of any table names.
func (m *Model) UnusedSources() []string { return m.unused }
