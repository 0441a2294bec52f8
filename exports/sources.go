package exports

import (
	"cmp"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
)

// sources collects the keys that a document refers to.
type sources struct {
	model *body.Model
	keys  map[string]bool
}

func newSources(m *body.Model) *sources { return &sources{m, map[string]bool{}} }

func (s *sources) add(key string) {
	if key != "" {
		s.keys[key] = true
	}
}

func (s *sources) addReasons(reasons []analysis.Reason) {
	for _, r := range reasons {
		s.add(r.Source)
	}
}

// addFindings adds what the statements of one posture rest on: the reasons of
// the groups and of their muscles, and the doubts.
func (s *sources) addFindings(f *analysis.Findings) {
	for _, g := range f.Groups {
		s.addReasons(g.Reasons)
	}
	for _, mf := range f.Muscles {
		if mf.Role != analysis.Quiet {
			s.addReasons(mf.Reasons)
		}
	}
	for _, d := range f.Doubts {
		s.add(d.Source)
	}
}

// used gives the sources that were added, by key. A key that the model does not
// know is given as it is: better an odd line than a lost source.
func (s *sources) used() []body.Source {
	list := []body.Source{}
	for key := range s.keys {
		source, ok := s.model.Sources[key]
		if !ok {
			source = body.Source{Key: key, Text: "a source that the body model does not list", Grade: "unknown"}
		}
		list = append(list, source)
	}
	slices.SortFunc(list, func(a, b body.Source) int { return cmp.Compare(a.Key, b.Key) })
	return list
}
