package main

import (
	"context"
	"fmt"
	"io"
	"os/user"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tautline/timeline"
	"tautline/timeline/store"
)

// remarkJSON is what the remark commands and list print with --json.
type remarkJSON struct {
	ID       int64  `json:"id"`
	AtMS     int64  `json:"at_ms"`
	Mark     int64  `json:"mark"` // 0 for a remark about a moment
	By       string `json:"by"`
	Text     string `json:"text"`
	Answer   string `json:"answer"`
	AnswerBy string `json:"answer_by"`
	Settled  bool   `json:"settled"`
}

func remarkCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "remark",
		Short: "Add, list, answer, settle and remove reviewers' remarks",
		Long: `A remark is a reviewer's note pinned to a moment of the recording or to a phase.
Somebody answers it, and it is settled. Phases are named by their mark's number.`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return wrongLine(c, "add, list, answer, settle or remove is missing")
		},
	}
	c.AddCommand(remarkAdd(), remarkList(), remarkAnswer(), remarkSettle(), remarkRemove())
	return c
}

func remarkAdd() *cobra.Command {
	var by string
	var phase int64
	c := &cobra.Command{
		Use:   "add STUDY TIME TEXT",
		Short: "Pin a remark to a moment, or with --phase to the phase of a mark",
		Example: `  tautline remark add warm-up.study 0:13 "Are the ribs down here?" --by Ana
  tautline remark add warm-up.study --phase 3 "Hold this one longer."`,
		Args: func(c *cobra.Command, a []string) error {
			if c.Flags().Changed("phase") {
				return args("STUDY TEXT", "")(c, a)
			}
			return args("STUDY TIME TEXT", "")(c, a)
		},
	}
	asJSON := jsonFlag(c)
	byFlag(c, &by)
	c.Flags().Int64Var(&phase, "phase", 0, "the mark that begins the phase it is about, instead of TIME")
	c.RunE = func(c *cobra.Command, a []string) error {
		text, err := fromStdin(c, a[len(a)-1])
		if err != nil {
			return err
		}
		return changeRemark(c, a[0], asJSON, "added", func(ctx context.Context, s *store.Store, st timeline.Study) (timeline.Remark, error) {
			r := timeline.Remark{By: by, Text: text}
			if c.Flags().Changed("phase") {
				if r.Mark, err = markID(strconv.FormatInt(phase, 10)); err != nil {
					return r, err
				}
			} else if r.At, err = timeline.ParseInstant(a[1], frames(st, a[0])); err != nil {
				return r, err
			}
			return s.AddRemark(ctx, r)
		})
	}
	return c
}

func remarkList() *cobra.Command {
	var open bool
	c := &cobra.Command{Use: "list STUDY", Short: "List the remarks in the order of time", Args: args("STUDY", "")}
	asJSON := jsonFlag(c)
	c.Flags().BoolVar(&open, "open", false, "only those that are not settled")
	c.RunE = func(c *cobra.Command, a []string) error {
		st, err := readStudy(c.Context(), a[0])
		if err != nil {
			return err
		}
		list := []remarkJSON{}
		for _, r := range st.RemarksByTime() {
			if !open || !r.Settled {
				list = append(list, remarkRecord(&st, r))
			}
		}
		if *asJSON {
			return printJSON(c.OutOrStdout(), list)
		}
		for _, r := range list {
			printRemark(c.OutOrStdout(), r)
		}
		if len(list) == 0 {
			fmt.Fprintln(c.OutOrStdout(), "no remarks")
		}
		return nil
	}
	return c
}

func remarkAnswer() *cobra.Command {
	var by string
	var settle bool
	c := &cobra.Command{Use: "answer STUDY REMARK TEXT", Short: "Answer a remark", Args: args("STUDY REMARK TEXT", "")}
	asJSON := jsonFlag(c)
	byFlag(c, &by)
	c.Flags().BoolVar(&settle, "settle", false, "settle it with this answer")
	c.RunE = func(c *cobra.Command, a []string) error {
		text, err := fromStdin(c, a[2])
		if err != nil {
			return err
		}
		return editRemark(c, a, asJSON, "answered", func(r *timeline.Remark) {
			r.Answer, r.AnswerBy, r.Settled = text, by, r.Settled || settle
		})
	}
	return c
}

func remarkSettle() *cobra.Command {
	var again bool
	c := &cobra.Command{Use: "settle STUDY REMARK", Short: "Settle a remark, or open it again", Args: args("STUDY REMARK", "")}
	asJSON := jsonFlag(c)
	c.Flags().BoolVar(&again, "open", false, "open it again")
	c.RunE = func(c *cobra.Command, a []string) error {
		done := "settled"
		if again {
			done = "opened"
		}
		return editRemark(c, a, asJSON, done, func(r *timeline.Remark) { r.Settled = !again })
	}
	return c
}

func remarkRemove() *cobra.Command {
	c := &cobra.Command{Use: "remove STUDY REMARK", Short: "Remove a remark", Args: args("STUDY REMARK", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		return changeRemark(c, a[0], asJSON, "removed", func(ctx context.Context, s *store.Store, _ timeline.Study) (timeline.Remark, error) {
			id, err := remarkID(a[1])
			if err != nil {
				return timeline.Remark{}, err
			}
			return s.RemoveRemark(ctx, id)
		})
	}
	return c
}

func editRemark(c *cobra.Command, a []string, asJSON *bool, done string, edit func(*timeline.Remark)) error {
	return changeRemark(c, a[0], asJSON, done, func(ctx context.Context, s *store.Store, _ timeline.Study) (timeline.Remark, error) {
		id, err := remarkID(a[1])
		if err != nil {
			return timeline.Remark{}, err
		}
		return s.ChangeRemark(ctx, id, func(r *timeline.Remark) error { edit(r); return nil })
	})
}

// changeRemark opens a study, makes one change and prints the remark.
func changeRemark(c *cobra.Command, path string, asJSON *bool, done string, change func(context.Context, *store.Store, timeline.Study) (timeline.Remark, error)) error {
	s, err := openStudy(c.Context(), path)
	if err != nil {
		return err
	}
	defer s.Close()
	st, err := s.Load(c.Context())
	if err != nil {
		return err
	}
	r, err := change(c.Context(), s, st)
	if err != nil {
		return err
	}
	if err := s.Close(); err != nil {
		return err
	}
	out := c.OutOrStdout()
	if *asJSON {
		return printJSON(out, remarkRecord(&st, r))
	}
	fmt.Fprintf(out, "%s ", done)
	printRemark(out, remarkRecord(&st, r))
	return nil
}

func printRemark(out io.Writer, r remarkJSON) {
	state := ""
	if r.Settled {
		state = ", settled"
	}
	fmt.Fprintf(out, "remark %d at %s%s%s: %s\n", r.ID, timeline.Instant(r.AtMS).Short(), signed(r.By), state, oneLine(r.Text))
	if r.Answer != "" {
		fmt.Fprintf(out, "  answer%s: %s\n", signed(r.AnswerBy), oneLine(r.Answer))
	}
}

func signed(by string) string {
	if by == "" {
		return ""
	}
	return " by " + by
}

func remarkRecord(st *timeline.Study, r timeline.Remark) remarkJSON {
	return remarkJSON{r.ID, int64(st.When(r)), r.Mark, r.By, r.Text, r.Answer, r.AnswerBy, r.Settled}
}

func remarkID(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, &lineError{fmt.Sprintf("%q is not the number of a remark", text), "tautline remark list STUDY"}
	}
	return id, nil
}

// byFlag adds --by, which is whoever is signed in to this computer unless said.
func byFlag(c *cobra.Command, by *string) {
	name := ""
	if u, err := user.Current(); err == nil {
		name = strings.TrimSpace(u.Name)
		if name == "" {
			name = u.Username
		}
	}
	c.Flags().StringVar(by, "by", name, "who writes it")
}
