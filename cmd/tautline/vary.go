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

// nearBestFlag lets a person choose how much more than the best a near-best way
// of holding a posture may cost.
func nearBestFlag(c *cobra.Command) *int {
	return c.Flags().Int("near-best", 10, "percent more than the best that the muscles around a joint may spend in a near-best way")
}

// nearBest checks the flag, and says so where it is not the usual.
func nearBest(c *cobra.Command, percent int) (float64, error) {
	if percent < 1 || percent > 100 {
		return 0, wrongLine(c, "--near-best is a percentage from 1 to 100")
	}
	if c.Flags().Changed("near-best") {
		fmt.Fprintf(c.ErrOrStderr(), "note: near-best ways may spend %d %% more than the best around a joint\n", percent)
	}
	return 1 + float64(percent)/100, nil
}

// analyser prepares a model with a near-best share of its own.
func analyser(m *body.Model, near float64) *analysis.Analyser {
	an := analysis.New(m)
	an.NearBest = near
	return an
}

// analysePosture analyses words alone, for the reference adult; with is a
// variant of them, or nothing.
func analysePosture(words, with string, near float64) (*analysis.Analyser, posture.Reading, *analysis.Findings) {
	an := analyser(body.Adult(), near)
	reading := varied(an.Model, posture.Read(an.Model, words), with)
	return an, reading, an.Analyse(reading.Posture, nil)
}

// varied puts a variant over a reading. What was not understood of either stays
// told.
func varied(m *body.Model, r posture.Reading, with string) posture.Reading {
	if with == "" {
		return r
	}
	v := posture.Vary(m, r.Posture, with)
	v.Unknown = append(append([]posture.Unknown{}, r.Unknown...), v.Unknown...)
	return v
}

// other reads what a posture is compared with: a posture of its own when the
// words say a stance and more, else a variant of the posture.
func other(m *body.Model, base posture.Reading, words string) posture.Reading {
	alone := posture.Read(m, words)
	p := alone.Posture
	if p.Stance != "" && len(p.Positions)+len(p.Supports)+len(p.Loads)+len(p.Cues) > 0 || p.Stance != "" && p.Hanging != (body.Arms{}) {
		return alone
	}
	return posture.Vary(m, base.Posture, words)
}

// writeAgainst compares a posture with another and writes what changes.
func writeAgainst(c *cobra.Command, an *analysis.Analyser, base posture.Reading, f *analysis.Findings, words string, asJSON bool, o exports.Options) error {
	to := other(an.Model, base, words)
	v := an.Compare(f, an.Analyse(to.Posture, f))
	write := exports.WriteVariation
	if asJSON {
		write = exports.WriteVariationJSON
	}
	err := write(c.OutOrStdout(), an.Model, &base, &to, v, o)
	if err == nil && len(base.Unknown)+len(to.Unknown) > 0 {
		return errProblems
	}
	return err
}

// varyPhase analyses one phase of a study again: as a variant, against another
// posture, or both.
func varyPhase(c *cobra.Command, r *timeline.Report, i int, with, against string, near float64, asJSON bool, o exports.Options) error {
	an := analyser(r.Model, near)
	base := varied(r.Model, r.Phases[i].Reading, with)
	f := an.Analyse(base.Posture, nil)
	if against != "" {
		return writeAgainst(c, an, base, f, against, asJSON, o)
	}
	return writePosture(c, an.Model, base, f, asJSON, o)
}

// writePosture writes the analysis of a posture that belongs to no phase.
func writePosture(c *cobra.Command, m *body.Model, reading posture.Reading, f *analysis.Findings, asJSON bool, o exports.Options) error {
	write := exports.WriteAnalysis
	if asJSON {
		write = exports.WritePostureJSON
	}
	err := write(c.OutOrStdout(), m, &reading, f, o)
	if err == nil && len(reading.Unknown) > 0 {
		return errProblems
	}
	return err
}
