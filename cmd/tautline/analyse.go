package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"tautline/exports"
	"tautline/timeline"
)

func analyseCommand() *cobra.Command {
	var words, with, against string
	var phase int
	c := &cobra.Command{
		Use:     "analyse [STUDY]",
		Aliases: []string{"analyze"},
		Short:   "Say what each posture does to the muscles: a study, one phase, or a posture alone",
		Example: `  tautline analyse warm-up.study
  tautline analyse warm-up.study --phase 3 --voice technical
  tautline analyse --posture "standing; arms overhead; hands carry 2 kg"
  tautline analyse --posture "standing on toes; arms overhead" --against "heels down"
  tautline analyse warm-up.study --phase 3 --with "palms turned"`,
		Args: args("", "STUDY"),
	}
	asJSON, voice := jsonFlag(c), voiceFlag(c)
	c.Flags().StringVarP(&words, "posture", "p", "", "analyse this posture, with no study; - reads it from standard input")
	c.Flags().IntVar(&phase, "phase", 0, "only this phase, counted from 1")
	c.Flags().StringVar(&with, "with", "", "vary the posture first: \"heels down\", \"with 2 kg\", \"palms turned\"")
	c.Flags().StringVar(&against, "against", "", "say what changes from the posture to this variant or other posture")
	percent := nearBestFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		o, err := options(c, *voice)
		if err != nil {
			return err
		}
		near, err := nearBest(c, *percent)
		if err != nil {
			return err
		}
		out := c.OutOrStdout()
		if words != "" {
			if len(a) > 0 || phase != 0 {
				return wrongLine(c, "--posture stands alone: leave out the study and the phase")
			}
			if words, err = fromStdin(c, words); err != nil {
				return err
			}
			an, reading, f := analysePosture(words, with, near)
			if against != "" {
				return writeAgainst(c, an, reading, f, against, *asJSON, o)
			}
			return writePosture(c, an.Model, reading, f, *asJSON, o)
		}
		if len(a) == 0 {
			return wrongLine(c, "STUDY or --posture is missing")
		}
		if phase == 0 && with+against != "" {
			return wrongLine(c, "--with and --against are about one posture: say --phase or --posture")
		}
		r, err := assessNear(c, a[0], near)
		if err != nil {
			return err
		}
		if phase == 0 {
			if *asJSON {
				return exports.WriteJSON(out, r, o)
			}
			return exports.WriteText(out, r, o)
		}
		i, err := phaseIndex(r, phase, a[0])
		if err != nil {
			return err
		}
		if with+against != "" {
			return varyPhase(c, r, i, with, against, near, *asJSON, o)
		}
		if *asJSON {
			return exports.WritePhaseJSON(out, r, i, o)
		}
		return exports.WritePhase(out, r, i, o)
	}
	return c
}

// phaseIndex checks a phase's number.
func phaseIndex(r *timeline.Report, phase int, path string) (int, error) {
	if phase < 1 || phase > len(r.Phases) {
		return 0, withHint(fmt.Errorf("there is no phase %d: the study has %d", phase, len(r.Phases)), "tautline list %s", file(path))
	}
	return phase - 1, nil
}
