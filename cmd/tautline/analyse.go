package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
	"tautline/exports"
	"tautline/timeline"
)

func analyseCommand() *cobra.Command {
	var words string
	var phase int
	c := &cobra.Command{
		Use:     "analyse [STUDY]",
		Aliases: []string{"analyze"},
		Short:   "Say what each posture does to the muscles: a study, one phase, or a posture alone",
		Example: `  tautline analyse warm-up.study
  tautline analyse warm-up.study --phase 3 --voice technical
  tautline analyse --posture "standing; arms overhead; hands carry 2 kg"`,
		Args: args("", "STUDY"),
	}
	asJSON, voice := jsonFlag(c), voiceFlag(c)
	c.Flags().StringVarP(&words, "posture", "p", "", "analyse this posture, with no study; - reads it from standard input")
	c.Flags().IntVar(&phase, "phase", 0, "only this phase, counted from 1")
	c.RunE = func(c *cobra.Command, a []string) error {
		o, err := options(c, *voice)
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
			m, reading, f := analysePosture(words)
			if *asJSON {
				err = exports.WritePostureJSON(out, m, &reading, f, o)
			} else {
				err = exports.WriteAnalysis(out, m, &reading, f, o)
			}
			if err == nil && len(reading.Unknown) > 0 {
				return errProblems
			}
			return err
		}
		if len(a) == 0 {
			return wrongLine(c, "STUDY or --posture is missing")
		}
		r, err := assess(c, a[0])
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
		if *asJSON {
			return exports.WritePhaseJSON(out, r, i, o)
		}
		return exports.WritePhase(out, r, i, o)
	}
	return c
}

// analysePosture analyses words alone, for the reference adult.
func analysePosture(words string) (*body.Model, posture.Reading, *analysis.Findings) {
	m := body.Adult()
	reading := posture.Read(m, words)
	return m, reading, analysis.New(m).Analyse(reading.Posture, nil)
}

// phaseIndex checks a phase's number.
func phaseIndex(r *timeline.Report, phase int, path string) (int, error) {
	if phase < 1 || phase > len(r.Phases) {
		return 0, withHint(fmt.Errorf("there is no phase %d: the study has %d", phase, len(r.Phases)), "tautline list %s", file(path))
	}
	return phase - 1, nil
}
