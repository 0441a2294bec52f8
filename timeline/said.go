package timeline

import (
	"cmp"
	"slices"
)

// What is said about a study beside its marks: remarks by those who look it
// over, postures kept by name for a series, angles read off the picture.

// Remark is a reviewer's note pinned to a moment or to a phase.
type Remark struct {
	ID int64 // never reused within a study
	// Mark begins the phase that the remark is about; 0 for a remark about the
	// moment At. When that mark is removed the remark stays, at its moment.
	Mark int64
	At   Instant // 0 for a remark about a phase
	By   string  // who wrote it, as they call themselves; may be empty
	Text string
	// Answer is empty until somebody answers; AnswerBy wrote it.
	Answer, AnswerBy string
	Settled          bool
}

// NamedPosture is a posture in words that is kept for a series.
type NamedPosture struct {
	ID    int64
	Name  string // of no other in the study
	Words string
}

// PictureAngle is an angle read off the recording's picture. It is kept with a
// mark and goes when the mark is removed.
type PictureAngle struct {
	ID   int64
	Mark int64
	At   Instant // of the picture
	// Joint is the movement it was read for, by the body model's key, such as
	// "knee_flexion_r"; empty when it was set on none.
	Joint string
	Angle float64 // radians, in the sense of the movement
	// Points holds x to the right and y down, in pixels of the recording: one
	// limb's far end, the joint, the other limb's far end, and where Count is 4
	// a point that tells the plane. Those beyond Count are zero.
	Points [4][2]float64
	Count  int // 3 or 4
}

// When is the moment that a remark stands at: its phase's beginning, or its own.
func (s *Study) When(r Remark) Instant {
	if m, ok := s.Mark(r.Mark); ok {
		return m.At
	}
	return r.At
}

// RemarksByTime lists the remarks in the order of the moments they stand at.
func (s *Study) RemarksByTime() []Remark {
	list := slices.Clone(s.Remarks)
	slices.SortStableFunc(list, func(a, b Remark) int { return cmp.Compare(s.When(a), s.When(b)) })
	return list
}

// Unpin frees what was said from marks that are gone: remarks on their phases
// stay at the moment where each mark stood in before, angles read for them go.
func (s *Study) Unpin(before *Study) {
	at := make(map[int64]Instant, len(before.Marks))
	for _, m := range before.Marks {
		at[m.ID] = m.At
	}
	for _, m := range s.Marks {
		delete(at, m.ID)
	}
	for i := range s.Remarks {
		if stood, gone := at[s.Remarks[i].Mark]; gone {
			s.Remarks[i].Mark, s.Remarks[i].At = 0, stood
		}
	}
	kept := s.Angles[:0:0]
	for _, a := range s.Angles {
		if _, gone := at[a.Mark]; !gone {
			kept = append(kept, a)
		}
	}
	s.Angles = kept
}
