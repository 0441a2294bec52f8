package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
	"tautline/exports"
)

func explainCommand() *cobra.Command {
	var words, muscle, joint string
	var phase int
	c := &cobra.Command{
		Use:   "explain [STUDY]",
		Short: "Say why: one muscle or joint in one phase, down to figures and sources",
		Example: `  tautline explain warm-up.study --phase 3 --muscle "right latissimus dorsi"
  tautline explain --posture "standing on toes" --joint ankle`,
		Args: args("", "STUDY"),
	}
	voice := voiceFlag(c)
	asJSON := jsonFlag(c)
	c.Flags().IntVar(&phase, "phase", 1, "the phase, counted from 1")
	c.Flags().StringVarP(&words, "posture", "p", "", "a posture alone instead of a study")
	c.Flags().StringVarP(&muscle, "muscle", "m", "", "name or key of a muscle")
	c.Flags().StringVar(&joint, "joint", "", "name of a joint")
	_ = c.RegisterFlagCompletionFunc("muscle", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return muscleKeys(body.Adult()), cobra.ShellCompDirectiveNoFileComp
	})
	percent := nearBestFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		o, err := options(c, *voice)
		if err != nil {
			return err
		}
		if (muscle == "") == (joint == "") {
			return wrongLine(c, "say one of --muscle and --joint")
		}
		near, err := nearBest(c, *percent)
		if err != nil {
			return err
		}
		var m *body.Model
		var f *analysis.Findings
		switch {
		case words != "" && len(a) == 0:
			if words, err = fromStdin(c, words); err != nil {
				return err
			}
			an, reading, found := analysePosture(words, "", near)
			m, f = an.Model, found
			tellUnknown(c, reading)
		case words == "" && len(a) == 1:
			r, err := assessNear(c, a[0], near)
			if err != nil {
				return err
			}
			i, err := phaseIndex(r, phase, a[0])
			if err != nil {
				return err
			}
			m, f = r.Model, r.Phases[i].Findings
		default:
			return wrongLine(c, "say one of STUDY and --posture")
		}
		if muscle != "" {
			id, err := findMuscle(m, muscle)
			if err != nil {
				return err
			}
			if *asJSON {
				return exports.WriteExplainJSON(c.OutOrStdout(), m, f, []body.MuscleID{id}, nil, o)
			}
			return exports.WriteExplainMuscle(c.OutOrStdout(), m, f, id, o)
		}
		ids, err := findJoint(m, joint)
		if err != nil {
			return err
		}
		if *asJSON {
			return exports.WriteExplainJSON(c.OutOrStdout(), m, f, nil, ids, o)
		}
		return exports.WriteExplainJoint(c.OutOrStdout(), m, f, ids, o)
	}
	return c
}

// tellUnknown notes what was not understood of a posture, where a command goes
// on without it.
func tellUnknown(c *cobra.Command, r posture.Reading) {
	for _, u := range r.Unknown {
		near := ""
		if len(u.Near) > 0 {
			near = "; near: " + joinWords(u.Near)
		}
		fmt.Fprintf(c.ErrOrStderr(), "note: not understood, characters %d to %d: %q: %s%s\n", u.From+1, u.To, u.Text, u.Why, near)
	}
}

// findMuscle finds a muscle by key or by any of its names, with or without a
// side (right, when none is said). Near names are part of the error.
func findMuscle(m *body.Model, text string) (body.MuscleID, error) {
	want := fold(text)
	for _, side := range []string{"", "right "} {
		for i := range m.Muscles {
			mu := &m.Muscles[i]
			for _, name := range []string{mu.Key, body.Bare(mu.Key), mu.Name, mu.Plain, mu.Latin} {
				if fold(name) == fold(side+want) || mu.Side == body.Right && fold(name) == want {
					return body.MuscleID(i), nil
				}
			}
		}
	}
	names := []string{}
	for i := range m.Muscles {
		if m.Muscles[i].Side == body.Right {
			names = append(names, body.Bare(m.Muscles[i].Key))
		}
	}
	return 0, withHint(fmt.Errorf("no muscle is called %q; near: %s", text, strings.Join(nearest(want, names, 3), ", ")), "tautline body muscles")
}

// findJoint finds the movements of a joint by its name, on the side that is
// said or on both.
func findJoint(m *body.Model, text string) ([]body.MovementID, error) {
	want := fold(text)
	var ids []body.MovementID
	names := []string{}
	for i := range m.Movements {
		mv := &m.Movements[i]
		if joint := fold(mv.Joint); want == joint || want == fold(mv.Side.String()+" "+mv.Joint) || want == fold(mv.Key) {
			ids = append(ids, body.MovementID(i))
		}
		names = append(names, mv.Joint)
	}
	if len(ids) == 0 {
		return nil, withHint(fmt.Errorf("no joint is called %q; near: %s", text, strings.Join(nearest(want, names, 3), ", ")), "tautline body joints")
	}
	return ids, nil
}

func muscleKeys(m *body.Model) []string {
	var keys []string
	for _, mu := range m.Muscles {
		keys = append(keys, mu.Key+"\t"+mu.Name)
	}
	return keys
}
