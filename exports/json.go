package exports

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
	"tautline/timeline"
)

// ReportFormat and PostureFormat name the two JSON documents and the version of
// their shape. The number grows when a key changes its meaning or goes.
const (
	ReportFormat  = "tautline report 1"
	PostureFormat = "tautline posture 1"
)

// head is what both documents begin with.
type head struct {
	Format string      `json:"format"` // the document's name and version
	Tool   string      `json:"tool"`   // what wrote it
	Model  ModelRecord `json:"model"`
	Care   []string    `json:"care"` // to be shown with anything that is made of this
}

// ModelRecord says whose body the figures are of, and what the keys in the rest
// of the document stand for.
type ModelRecord struct {
	Version   string           `json:"version"`
	StatureM  Number           `json:"stature_m"`
	MassKg    Number           `json:"mass_kg"`
	Sex       string           `json:"sex"`
	Muscles   []MuscleNames    `json:"muscles"`
	Movements []MovementRanges `json:"movements"`
}

// MuscleNames is what a muscle is called.
type MuscleNames struct {
	Key    string `json:"key"`
	Name   string `json:"name"`
	Plain  string `json:"plain"`
	Latin  string `json:"latin"`
	Side   string `json:"side"` // "right", "left" or ""
	Region string `json:"region"`
}

// MovementRanges is what a movement is called and how far it goes.
type MovementRanges struct {
	Key    string `json:"key"`
	Joint  string `json:"joint"`
	Side   string `json:"side"`
	Toward string `json:"toward"` // positive values
	Away   string `json:"away"`   // negative values
	LoDeg  Number `json:"lo_deg"`
	HiDeg  Number `json:"hi_deg"`
}

// StudyRecord is a study without its marks: each phase holds its own.
type StudyRecord struct {
	ID        string           `json:"id"`
	Title     string           `json:"title"`
	Language  string           `json:"language"`
	Revision  int64            `json:"revision"`
	Recording *RecordingRecord `json:"recording"` // null before there is one
}

// RecordingRecord is what the study remembers of its recording. The path stays
// out: it is about the maker's machine, not about the study.
type RecordingRecord struct {
	Fingerprint string `json:"fingerprint"`
	Kind        string `json:"kind"`
	DurationMs  int64  `json:"duration_ms"`
	FrameRate   Number `json:"frame_rate"`
	Variable    bool   `json:"variable_frame_rate"`
	Width       int    `json:"width_px"`
	Height      int    `json:"height_px"`
}

// ReportDocument is the whole document.
type ReportDocument struct {
	head
	Study    StudyRecord     `json:"study"`
	Phases   []PhaseRecord   `json:"phases"`
	Problems []ProblemRecord `json:"problems"`
	Sources  []SourceRecord  `json:"sources"` // everything that the phases refer to
}

func newHead(format string, m *body.Model, o Options) head {
	model := ModelRecord{
		Version: m.Version, StatureM: Number(m.Person.Stature), MassKg: Number(m.Person.Mass), Sex: string(m.Person.Sex),
		Muscles: make([]MuscleNames, len(m.Muscles)), Movements: make([]MovementRanges, len(m.Movements)),
	}
	for i := range m.Muscles {
		mu := &m.Muscles[i]
		model.Muscles[i] = MuscleNames{mu.Key, mu.Name, mu.Plain, mu.Latin, mu.Side.String(), mu.Region}
	}
	for i := range m.Movements {
		mv := &m.Movements[i]
		model.Movements[i] = MovementRanges{mv.Key, mv.Joint, mv.Side.String(), mv.Toward, mv.Away, deg(mv.Lo), deg(mv.Hi)}
	}
	return head{Format: format, Tool: o.tool(), Care: CareText(), Model: model}
}

// WriteJSON writes the whole report, one phase a line, so that a long study
// never stands in memory twice and two versions of it compare line by line.
func WriteJSON(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	j := &jsonWriter{b: bufio.NewWriterSize(w, 1<<16)}
	top := newHead(ReportFormat, r.Model, o)
	study := StudyRecord{r.Study.ID, r.Study.Title, r.Study.Language, r.Study.Revision, nil}
	if rec := r.Study.Recording; rec != nil {
		study.Recording = &RecordingRecord{rec.Fingerprint, rec.Kind, int64(rec.Duration), Number(rec.FrameRate), rec.Variable, rec.Width, rec.Height}
	}
	problems := make([]ProblemRecord, len(r.Problems))
	for i, p := range r.Problems {
		problems[i] = ProblemRecord{p.Kind, p.Mark, int64(p.At), p.Text, p.Doubt}
	}
	used := newSources(r.Model)
	j.raw("{\n")
	j.member("format", top.Format)
	j.member("tool", top.Tool)
	j.member("model", top.Model)
	j.member("care", top.Care)
	j.member("study", study)
	j.raw(`"phases": [`)
	for i := range r.Phases {
		p := &r.Phases[i]
		if p.Findings != nil {
			used.addFindings(p.Findings)
		}
		if i > 0 {
			j.raw(",")
		}
		j.raw("\n")
		j.value(RecordPhase(r.Model, p, o.Voice))
	}
	j.raw("\n],\n")
	j.member("problems", problems)
	j.raw(`"sources": `)
	j.value(sourceRecords(used))
	j.raw("\n}\n")
	return j.end()
}

// WritePostureJSON writes the analysis of a posture that belongs to no study.
func WritePostureJSON(w io.Writer, m *body.Model, reading *posture.Reading, f *analysis.Findings, o Options) error {
	o = o.withDefaults()
	used := newSources(m)
	used.addFindings(f)
	return encode(w, struct {
		head
		Analysis PostureRecord  `json:"analysis"`
		Sources  []SourceRecord `json:"sources"`
	}{newHead(PostureFormat, m, o), RecordPosture(m, reading, f, o.Voice), sourceRecords(used)})
}

// WritePhaseJSON writes one phase of a report as a document of its own.
func WritePhaseJSON(w io.Writer, r *timeline.Report, index int, o Options) error {
	o = o.withDefaults()
	p := &r.Phases[index]
	used := newSources(r.Model)
	if p.Findings != nil {
		used.addFindings(p.Findings)
	}
	return encode(w, struct {
		head
		Phase   PhaseRecord    `json:"phase"`
		Sources []SourceRecord `json:"sources"`
	}{newHead(ReportFormat, r.Model, o), RecordPhase(r.Model, p, o.Voice), sourceRecords(used)})
}

func sourceRecords(s *sources) []SourceRecord {
	list := []SourceRecord{}
	for _, source := range s.used() {
		list = append(list, SourceRecord(source))
	}
	return list
}

// encode writes one value, indented.
func encode(w io.Writer, value any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(value)
}

// jsonWriter writes JSON piece by piece and remembers the first error.
type jsonWriter struct {
	b   *bufio.Writer
	err error
}

func (j *jsonWriter) raw(s string) { j.b.WriteString(s) }

func (j *jsonWriter) value(v any) {
	text, err := json.Marshal(v)
	if err != nil && j.err == nil {
		j.err = fmt.Errorf("a report that JSON cannot hold: %w", err)
	}
	j.b.Write(text)
}

func (j *jsonWriter) member(key string, v any) {
	j.raw(`"` + key + `": `)
	j.value(v)
	j.raw(",\n")
}

func (j *jsonWriter) end() error {
	if err := j.b.Flush(); err != nil {
		return err
	}
	return j.err
}
