package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"tautline/analysis/posture"
	"tautline/timeline"
	"tautline/timeline/store"
)

func markCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "mark",
		Short: "Add, move, retitle and remove marks, and change their postures",
		Long: `A mark is a moment of the recording with a title and the posture at that moment.
Times are written as people do: 83.4, 1:23.4, 0:01:23.400, or a frame: #2085.
A posture left out means: the posture so far.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return wrongLine(c, "add, move, title, posture or remove is missing")
		},
	}
	c.AddCommand(markAdd(), markMove(), markTitle(), markPosture(), markRemove())
	return c
}

func markAdd() *cobra.Command {
	var words, note string
	c := &cobra.Command{
		Use:   "add STUDY TIME TITLE",
		Short: "Add a mark",
		Example: `  tautline mark add warm-up.study 0:12.4 "overhead reach" \
    --posture "standing on toes; arms overhead; palms up; look up slightly"`,
		Args: args("STUDY TIME TITLE", ""),
	}
	asJSON := jsonFlag(c)
	c.Flags().StringVarP(&words, "posture", "p", "", "the posture at this moment in words; - reads it from standard input")
	c.Flags().StringVar(&note, "note", "", "a note for yourself")
	c.RunE = func(c *cobra.Command, a []string) error {
		words, err := fromStdin(c, words)
		if err != nil {
			return err
		}
		return changeMarks(c, a[0], asJSON, func(ctx context.Context, s *store.Store, st timeline.Study) (timeline.Mark, string, error) {
			at, err := timeline.ParseInstant(a[1], frames(st, a[0]))
			if err != nil {
				return timeline.Mark{}, "", err
			}
			m, err := s.AddMark(ctx, timeline.Mark{At: at, Title: a[2], Words: words, Note: note})
			return m, "added", err
		})
	}
	return c
}

func markMove() *cobra.Command {
	c := &cobra.Command{Use: "move STUDY MARK TIME", Short: "Move a mark to another time", Args: args("STUDY MARK TIME", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		return changeMarks(c, a[0], asJSON, func(ctx context.Context, s *store.Store, st timeline.Study) (timeline.Mark, string, error) {
			id, err := markID(a[1])
			if err != nil {
				return timeline.Mark{}, "", err
			}
			at, err := timeline.ParseInstant(a[2], frames(st, a[0]))
			if err != nil {
				return timeline.Mark{}, "", err
			}
			m, err := s.ChangeMark(ctx, id, func(m *timeline.Mark) error { m.At = at; return nil })
			return m, "moved", err
		})
	}
	return c
}

func markTitle() *cobra.Command {
	c := &cobra.Command{Use: "title STUDY MARK TITLE", Aliases: []string{"retitle"}, Short: "Give a mark another title", Args: args("STUDY MARK TITLE", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		return editMark(c, a, asJSON, "retitled", func(m *timeline.Mark, text string) { m.Title = text })
	}
	return c
}

func markPosture() *cobra.Command {
	c := &cobra.Command{
		Use:   "posture STUDY MARK WORDS",
		Short: "Change the posture at a mark; - reads it from standard input",
		Args:  args("STUDY MARK WORDS", ""),
	}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		return editMark(c, a, asJSON, "changed", func(m *timeline.Mark, text string) { m.Words = text })
	}
	return c
}

func markRemove() *cobra.Command {
	c := &cobra.Command{Use: "remove STUDY MARK", Short: "Remove a mark", Args: args("STUDY MARK", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		return changeMarks(c, a[0], asJSON, func(ctx context.Context, s *store.Store, _ timeline.Study) (timeline.Mark, string, error) {
			id, err := markID(a[1])
			if err != nil {
				return timeline.Mark{}, "", err
			}
			m, err := s.RemoveMark(ctx, id)
			return m, "removed", err
		})
	}
	return c
}

// editMark changes one text of a mark.
func editMark(c *cobra.Command, a []string, asJSON *bool, done string, edit func(*timeline.Mark, string)) error {
	text, err := fromStdin(c, a[2])
	if err != nil {
		return err
	}
	return changeMarks(c, a[0], asJSON, func(ctx context.Context, s *store.Store, _ timeline.Study) (timeline.Mark, string, error) {
		id, err := markID(a[1])
		if err != nil {
			return timeline.Mark{}, "", err
		}
		m, err := s.ChangeMark(ctx, id, func(m *timeline.Mark) error { edit(m, text); return nil })
		return m, done, err
	})
}

// changeMarks opens a study, makes one change and prints the mark it was about
// with what was understood of its posture.
func changeMarks(c *cobra.Command, path string, asJSON *bool, change func(context.Context, *store.Store, timeline.Study) (timeline.Mark, string, error)) error {
	s, err := openStudy(c.Context(), path)
	if err != nil {
		return err
	}
	defer s.Close()
	st, err := s.Load(c.Context())
	if err != nil {
		return err
	}
	m, done, err := change(c.Context(), s, st)
	if err != nil {
		return err
	}
	if err := s.Close(); err != nil {
		return err
	}
	model, err := timeline.ModelFor(st)
	if err != nil {
		return err
	}
	reading := posture.Read(model, m.Words)
	out := c.OutOrStdout()
	if *asJSON {
		return printJSON(out, markRecord(m, reading))
	}
	fmt.Fprintf(out, "%s mark %d at %s: %s\n", done, m.ID, m.At.Short(), m.Title)
	if m.Words != "" {
		fmt.Fprintf(out, "understood: %s\n", reading.Canonical)
	}
	for _, u := range reading.Unknown {
		fmt.Fprintf(out, "not understood, characters %d to %d: %q: %s\n", u.From+1, u.To, u.Text, u.Why)
		if len(u.Near) > 0 {
			fmt.Fprintf(out, "  near: %s\n", joinWords(u.Near))
		}
	}
	return nil
}

func markID(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, &lineError{fmt.Sprintf("%q is not the number of a mark", text), "tautline list STUDY"}
	}
	return id, nil
}
