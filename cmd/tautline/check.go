package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"tautline/timeline"
	"tautline/timeline/store"
)

// problemJSON is one line of check --json.
type problemJSON struct {
	Kind  string `json:"kind"`
	Mark  int64  `json:"mark"`
	AtMS  int64  `json:"at_ms"`
	Text  string `json:"text"`
	Doubt bool   `json:"doubt"`
}

func checkCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "check STUDY",
		Short: "Say what is wrong or doubtful in a study",
		Long: `Looks for words that were not understood, positions past their published range,
marks past the end or at the same time, supports that do not meet, postures that
would fall, a recording that is missing, changed or cannot be read, and damage to
the file itself. Ends with 1 when something is wrong, with 0 when things are
only doubtful.`,
		Args: args("STUDY", ""),
	}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		problems, err := checkStudy(c, a[0])
		if err != nil {
			return err
		}
		out := c.OutOrStdout()
		wrong := 0
		list := []problemJSON{}
		for _, p := range problems {
			list = append(list, problemJSON{p.Kind, p.Mark, int64(p.At), p.Text, p.Doubt})
			if !p.Doubt {
				wrong++
			}
			if !*asJSON {
				grade := "wrong"
				if p.Doubt {
					grade = "doubtful"
				}
				fmt.Fprintf(out, "%s: %s: %s\n", grade, p.Kind, p.Text)
			}
		}
		if *asJSON {
			if err := printJSON(out, list); err != nil {
				return err
			}
		} else {
			fmt.Fprintf(out, "%d wrong, %d doubtful\n", wrong, len(list)-wrong)
		}
		if wrong > 0 {
			return errProblems
		}
		return nil
	}
	return c
}

// checkStudy collects the file's own state, the report's problems and the
// recording's.
func checkStudy(c *cobra.Command, path string) ([]timeline.Problem, error) {
	s, err := store.OpenReadOnly(c.Context(), path)
	if errors.Is(err, store.ErrDamaged) {
		return []timeline.Problem{{Kind: "file", Text: err.Error()}}, nil
	}
	if err != nil {
		return nil, missing(err, path)
	}
	defer s.Close()
	broken, err := s.Check(c.Context())
	if err != nil {
		return nil, err
	}
	var problems []timeline.Problem
	for _, b := range broken {
		problems = append(problems, timeline.Problem{Kind: "file", Text: b})
	}
	st, err := s.Load(c.Context())
	if err != nil {
		return nil, err
	}
	r, err := assessStudy(c, st)
	if err != nil {
		return nil, err
	}
	problems = append(problems, r.Problems...)
	if p := recordingProblem(path, st); p != nil {
		problems = append(problems, *p)
	}
	return problems, nil
}
