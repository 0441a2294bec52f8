package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"tautline/analysis/geom"
	"tautline/analysis/posture"
	"tautline/timeline"
	"tautline/timeline/store"
)

// studyJSON is what list --json prints.
type studyJSON struct {
	Title     string         `json:"title"`
	Language  string         `json:"language"`
	StatureM  float64        `json:"stature_m"`
	MassKg    float64        `json:"mass_kg"`
	Sex       string         `json:"sex"`
	Revision  int64          `json:"revision"`
	Recording *recordingJSON `json:"recording"`
	Marks     []markJSON     `json:"marks"`
	Remarks   []remarkJSON   `json:"remarks"`
	Postures  []postureJSON  `json:"named_postures"`
	Angles    []angleJSON    `json:"picture_angles"`
}

type postureJSON struct {
	ID    int64  `json:"id"`
	Name  string `json:"name"`
	Words string `json:"posture"`
}

type angleJSON struct {
	ID       int64        `json:"id"`
	Mark     int64        `json:"mark"`
	AtMS     int64        `json:"at_ms"`
	Joint    string       `json:"joint"`
	AngleDeg float64      `json:"angle_deg"`
	PointsPx [][2]float64 `json:"points_px"`
}

type recordingJSON struct {
	Path        string  `json:"path"`
	Kind        string  `json:"kind"`
	DurationMS  int64   `json:"duration_ms"`
	Frames      int     `json:"frames"`
	FrameRate   float64 `json:"frame_rate"`
	Variable    bool    `json:"variable_frame_rate"`
	Fingerprint string  `json:"fingerprint"`
}

type markJSON struct {
	ID        int64         `json:"id"`
	AtMS      int64         `json:"at_ms"`
	Title     string        `json:"title"`
	Words     string        `json:"posture"`
	Canonical string        `json:"canonical"`
	Unknown   []unknownJSON `json:"not_understood"`
	Note      string        `json:"note"`
}

type unknownJSON struct {
	From int      `json:"from_byte"`
	To   int      `json:"to_byte"`
	Text string   `json:"text"`
	Why  string   `json:"why"`
	Near []string `json:"near"`
}

func listCommand() *cobra.Command {
	c := &cobra.Command{Use: "list STUDY", Short: "List the marks and phases of a study", Args: args("STUDY", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		st, err := readStudy(c.Context(), a[0])
		if err != nil {
			return err
		}
		if *asJSON {
			r, err := studyRecord(st)
			if err != nil {
				return err
			}
			return printJSON(c.OutOrStdout(), r)
		}
		fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n\n", st.Title, line(st.Recording))
		w := tabwriter.NewWriter(c.OutOrStdout(), 0, 0, 2, ' ', 0)
		fmt.Fprintln(w, "mark\tfrom\tto\tkind\ttitle\tposture")
		for _, p := range st.Phases() {
			kind, words := "movement", p.Mark.Words
			if p.Hold() {
				kind = "hold"
			}
			if words == "" {
				words = "(the posture so far)"
			}
			fmt.Fprintf(w, "%d\t%s\t%s\t%s\t%s\t%s\n", p.Mark.ID, p.From.Short(), p.To.Short(), kind, cell(p.Mark.Title, 32), cell(words, 60))
		}
		if err := w.Flush(); err != nil {
			return err
		}
		for i, r := range st.RemarksByTime() {
			if i == 0 {
				fmt.Fprintln(c.OutOrStdout())
			}
			printRemark(c.OutOrStdout(), remarkRecord(&st, r))
		}
		return nil
	}
	return c
}

// cell fits a text into one cell of a table.
func cell(s string, most int) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// printStudy prints an open study as list --json does.
func printStudy(c *cobra.Command, s *store.Store) error {
	st, err := s.Load(c.Context())
	if err != nil {
		return err
	}
	r, err := studyRecord(st)
	if err != nil {
		return err
	}
	return printJSON(c.OutOrStdout(), r)
}

func studyRecord(st timeline.Study) (studyJSON, error) {
	m, err := timeline.ModelFor(st)
	if err != nil {
		return studyJSON{}, err
	}
	r := studyJSON{Title: st.Title, Language: st.Language, StatureM: m.Person.Stature, MassKg: m.Person.Mass,
		Sex: string(m.Person.Sex), Revision: st.Revision, Marks: []markJSON{},
		Remarks: []remarkJSON{}, Postures: []postureJSON{}, Angles: []angleJSON{}}
	if rec := st.Recording; rec != nil {
		r.Recording = &recordingJSON{rec.Path, rec.Kind, int64(rec.Duration), rec.Frames, rec.FrameRate, rec.Variable, rec.Fingerprint}
	}
	for _, mk := range st.Marks {
		r.Marks = append(r.Marks, markRecord(mk, posture.Read(m, mk.Words)))
	}
	for _, x := range st.RemarksByTime() {
		r.Remarks = append(r.Remarks, remarkRecord(&st, x))
	}
	for _, p := range st.Postures {
		r.Postures = append(r.Postures, postureJSON(p))
	}
	for _, a := range st.Angles {
		r.Angles = append(r.Angles, angleJSON{a.ID, a.Mark, int64(a.At), a.Joint, geom.Degrees(a.Angle), slices.Clone(a.Points[:a.Count])})
	}
	return r, nil
}

func markRecord(m timeline.Mark, r posture.Reading) markJSON {
	j := markJSON{ID: m.ID, AtMS: int64(m.At), Title: m.Title, Words: m.Words, Note: m.Note, Unknown: []unknownJSON{}}
	if m.Words != "" {
		j.Canonical = r.Canonical
	}
	for _, u := range r.Unknown {
		j.Unknown = append(j.Unknown, unknownJSON{u.From, u.To, u.Text, u.Why, append([]string{}, u.Near...)})
	}
	return j
}

func joinWords(words []string) string { return strings.Join(words, ", ") }
