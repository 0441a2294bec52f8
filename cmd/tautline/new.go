package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tautline/timeline"
	"tautline/timeline/media"
	"tautline/timeline/store"
	"tautline/viewer"
)

func newCommand() *cobra.Command {
	var title, sex, language string
	var stature, mass float64
	c := &cobra.Command{
		Use:   "new STUDY [RECORDING]",
		Short: "Make a study, of a recording or before there is one",
		Example: `  tautline new warm-up.study warm-up.mp4
  tautline new warm-up.study --stature-m 1.62 --mass-kg 58 --sex female`,
		Args: args("STUDY", "RECORDING"),
	}
	asJSON := jsonFlag(c)
	c.Flags().StringVar(&title, "title", "", "title of the study (default: the file's name)")
	c.Flags().StringVar(&language, "language", "en", "language of titles and notes, as a BCP 47 tag")
	c.Flags().Float64Var(&stature, "stature-m", 0, "stature of the adult to assume, in metres")
	c.Flags().Float64Var(&mass, "mass-kg", 0, "mass of the adult to assume, in kilograms")
	c.Flags().StringVar(&sex, "sex", "", "row of the anthropometric table: male or female")
	_ = c.RegisterFlagCompletionFunc("sex", cobra.FixedCompletions([]string{"female", "male"}, cobra.ShellCompDirectiveNoFileComp))
	c.RunE = func(c *cobra.Command, a []string) error {
		st := timeline.Study{Title: title, Language: language, Person: timeline.Person{StatureM: stature, MassKg: mass, Sex: sex}}
		if st.Title == "" {
			st.Title = strings.TrimSuffix(filepath.Base(a[0]), ".study")
		}
		m, err := timeline.ModelFor(st)
		if err != nil {
			return err
		}
		st.Person = timeline.Person{StatureM: m.Person.Stature, MassKg: m.Person.Mass, Sex: string(m.Person.Sex)}
		if len(a) > 1 {
			if st.Recording, err = viewer.Describe(a[0], a[1]); err != nil {
				return withHint(err, "tautline new %s", file(a[0]))
			}
		}
		s, err := store.Create(c.Context(), a[0], st)
		if err != nil {
			return notMade(err, a[0], "tautline new")
		}
		defer s.Close()
		if *asJSON {
			return printStudy(c, s)
		}
		fmt.Fprintf(c.OutOrStdout(), "%s: %s\nnext: tautline mark add %s 0:05 \"first posture\" --posture \"standing; arms overhead\"\n",
			a[0], line(st.Recording), file(a[0]))
		return s.Close()
	}
	return c
}

// notMade gives a study file that could not be made the hint that makes one
// elsewhere, or opens what is there. command is the line but for the name.
func notMade(err error, path, command string) error {
	switch {
	case errors.Is(err, store.ErrExists):
		return withHint(err, "%s %s", command, file(free(path)))
	case errors.Is(err, store.ErrInvalid):
		return err
	}
	return withHint(fmt.Errorf("%s cannot be made: %w", path, cause(err)), "%s %s", command, file(free(filepath.Base(path))))
}

func recordingCommand() *cobra.Command {
	var find []string
	c := &cobra.Command{
		Use:   "recording STUDY [FILE]",
		Short: "Show, set or find again the recording of a study",
		Long: `Without FILE: says what the study's recording is and whether it is still there,
unchanged. With FILE: makes that the recording. With --find: looks for a moved
or renamed recording, known again by its content, and remembers where it is.
The recording itself is never altered.`,
		Example: `  tautline recording warm-up.study warm-up.mp4
  tautline recording warm-up.study --find ~/Videos`,
		Args: args("STUDY", "FILE"),
	}
	asJSON := jsonFlag(c)
	c.Flags().StringArrayVar(&find, "find", nil, "folder to look in for the moved recording (may be repeated)")
	c.RunE = func(c *cobra.Command, a []string) error {
		s, err := openStudy(c.Context(), a[0])
		if err != nil {
			return err
		}
		defer s.Close()
		st, err := s.Load(c.Context())
		if err != nil {
			return err
		}
		switch {
		case len(a) > 1 && len(find) > 0:
			return wrongLine(c, "say one of FILE and --find")
		case len(a) > 1:
			if st.Recording, err = viewer.Describe(a[0], a[1]); err != nil {
				return withHint(err, "tautline recording STUDY")
			}
			err = s.SetRecording(c.Context(), st.Recording)
		case len(find) > 0:
			if st.Recording == nil {
				return fmt.Errorf("%s has no recording to look for", a[0])
			}
			for _, dir := range find {
				if info, err := os.Stat(dir); err != nil || !info.IsDir() {
					return withHint(fmt.Errorf("%s is not a folder to look in", dir), "tautline recording STUDY --find .")
				}
			}
			var at string
			if at, err = media.Find(st.Recording.Fingerprint, st.Recording.Size, find...); err != nil {
				return err
			}
			if st.Recording, err = viewer.Describe(a[0], at); err != nil {
				return err
			}
			err = s.SetRecording(c.Context(), st.Recording)
		}
		if err != nil {
			return err
		}
		if *asJSON {
			return printStudy(c, s)
		}
		fmt.Fprintln(c.OutOrStdout(), line(st.Recording))
		if p := recordingProblem(a[0], st); p != nil {
			fmt.Fprintln(c.OutOrStdout(), p.Text)
			return errProblems
		}
		return s.Close()
	}
	return c
}

// recordingProblem says what is wrong with a study's recording, or nil.
func recordingProblem(studyPath string, st timeline.Study) *timeline.Problem {
	r := st.Recording
	if r == nil {
		return nil
	}
	at := recordingPath(studyPath, r.Path)
	state, err := media.Compare(at, r.Fingerprint, r.Size)
	text := ""
	switch {
	case err != nil:
		text = fmt.Sprintf("the recording %s cannot be read: %v", at, err)
	case state == media.Missing:
		text = fmt.Sprintf("the recording %s is not there; tautline recording %s --find FOLDER finds it again by its content", at, file(studyPath))
	case state == media.Changed:
		text = fmt.Sprintf("the recording %s is another file than the one that was marked; tautline recording %s %s takes it as it is now", at, file(studyPath), file(at))
	default:
		if _, err := media.Open(at); err != nil {
			text = fmt.Sprintf("the recording cannot be read: %v", err)
		}
	}
	if text == "" {
		return nil
	}
	return &timeline.Problem{Kind: "recording", Text: text}
}
