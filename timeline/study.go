// Package timeline is what the teacher said, and when: a study with its
// recording, its marks and the phases between them. Assess joins it with the
// body model into one immutable report that every face reads.
//
// The package holds values only: no file, no database, no clock.
package timeline

import (
	"cmp"
	"slices"
)

// Study is one recording with its marks and everything said about it. It is a
// plain value: the store reads it whole and writes its changes one by one.
type Study struct {
	ID       string // 32 hex digits, chosen when the study is made
	Title    string
	Language string // BCP 47, "en" unless said
	Person   Person
	// Recording is nil for a study that exists before its recording.
	Recording *Recording
	Marks     []Mark         // by time, then by ID
	Remarks   []Remark       // in the order in which they were made
	Postures  []NamedPosture // in the order in which they were made
	Angles    []PictureAngle // in the order in which they were made
	Revision  int64          // grows by one with every change, undo and redo included
}

// Person is whose body the analysis assumes: a generic adult of this size.
type Person struct {
	StatureM float64
	MassKg   float64
	Sex      string // "male" or "female"
}

// Recording is what a study remembers of its video or audio file.
type Recording struct {
	Path        string // as last seen; relative to the study file where it can be
	Fingerprint string // of the content; finds the file again when it has moved
	Size        int64  // bytes
	Duration    Instant
	Kind        string  // "video" or "audio"
	FrameRate   float64 // frames per second, nominal; 0 when there are none
	Variable    bool    // the frame rate is not constant
	Frames      int     // number of frames, 0 for audio
	Width       int     // pixels
	Height      int
}

// Mark is a moment in the recording with a title and a posture state.
type Mark struct {
	ID    int64   // never reused within a study
	At    Instant // from the recording's time zero
	Title string
	// Words is the posture as it was typed. Empty means: the posture so far.
	Words string
	Note  string
}

// Sort puts marks in the order of time; marks at the same time keep the order
// in which they were made.
func (s *Study) Sort() {
	slices.SortStableFunc(s.Marks, func(a, b Mark) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.ID, b.ID))
	})
}

// Mark returns the mark with this ID.
func (s *Study) Mark(id int64) (Mark, bool) {
	for _, m := range s.Marks {
		if m.ID == id {
			return m, true
		}
	}
	return Mark{}, false
}

// End is where the last phase ends: the recording's end, or for a study without
// one ten seconds after the last mark, and never before the last mark.
func (s *Study) End() Instant {
	var last Instant
	for _, m := range s.Marks {
		last = max(last, m.At)
	}
	if s.Recording == nil {
		if len(s.Marks) == 0 {
			return 0
		}
		return last + withoutRecording
	}
	return max(last, s.Recording.Duration)
}

// withoutRecording is how long the last phase lasts when nothing says so.
const withoutRecording Instant = 10_000

// Phase is the stretch from one mark to the next; the last runs to the end.
type Phase struct {
	Number   int // from 1
	Mark     Mark
	Next     *Mark // nil for the last phase
	From, To Instant
	// Words and NextWords are the postures at both ends, with "the posture so
	// far" filled in. Equal words make a hold whatever the reader finds in them.
	Words, NextWords string
}

// Hold reports whether both ends have the same words.
func (p Phase) Hold() bool { return p.Words == p.NextWords }

// Phases cuts the study at its marks, in whatever order they stand. It is total:
// marks at the same time give phases of no length, marks past the end a last
// phase of none. The result is never nil.
func (s *Study) Phases() []Phase {
	sorted := Study{Marks: slices.Clone(s.Marks)}
	sorted.Sort()
	marks := sorted.Marks
	words, end := "", s.End()
	phases := make([]Phase, len(marks))
	for i, m := range marks {
		if m.Words != "" {
			words = m.Words
		}
		p := Phase{Number: i + 1, Mark: m, From: m.At, To: end, Words: words, NextWords: words}
		if i+1 < len(marks) {
			next := marks[i+1]
			p.Next, p.To = &next, next.At
			if next.Words != "" {
				p.NextWords = next.Words
			}
		}
		phases[i] = p
	}
	return phases
}

// PhaseAt returns the index of the phase that holds t, or -1 before the first.
// Where marks share a time the last of them holds it; so does the last phase
// whatever comes after its end.
func PhaseAt(phases []Phase, t Instant) int {
	found := -1
	for i, p := range phases {
		if p.From <= t {
			found = i
		}
	}
	return found
}
