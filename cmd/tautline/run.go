package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"tautline/exports"
)

// version is what every exported file carries.
const version = "0.1.0"

// run is the whole program but for the process around it. It returns the exit
// code: 0 done, 1 failed or problems found, 2 a wrong command line.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	c, err := root.ExecuteContextC(ctx)
	return outcome(stderr, c, args, err)
}

// newRoot builds the tree of commands.
func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "tautline",
		Short: "Say the postures in a recording of movement and see what each asks of the muscles",
		Long: `tautline is for people who teach movement on video. Mark moments in your own
recording, say the posture at each in ordinary clinical words, and get for every
phase what each muscle's length does and what may have to work, with sources and
honest doubt: on a page while scrubbing, and as captions, chapters and notes.

For teaching: estimates from a generic adult model, not a measurement of anyone.`,
		Version:       version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = false
	root.SetVersionTemplate("tautline {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		what, _, _ := strings.Cut(err.Error(), ": strconv.")
		return wrongLine(c, "%s", what)
	})
	root.AddCommand(demoCommand(), newCommand(), recordingCommand(), markCommand(), remarkCommand(), listCommand(), analyseCommand(),
		explainCommand(), checkCommand(), exportCommand(), figureCommand(), seriesCommand(), viewCommand(), undoCommand(), redoCommand(), copyCommand(), bodyCommand())
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "help":
			c.Run, c.RunE = nil, help
		case "completion":
			c.Args, c.RunE = noArgs, func(c *cobra.Command, _ []string) error { return c.Help() }
		}
	}
	completeStudies(root)
	return root
}

// help prints a command's help, and refuses words that are no command.
func help(c *cobra.Command, a []string) error {
	about, rest, err := c.Root().Find(a)
	if err != nil {
		return wrongLine(c.Root(), "%v", err)
	}
	if len(rest) > 0 {
		return noArgs(about, rest)
	}
	about.InitDefaultHelpFlag()
	about.InitDefaultVersionFlag()
	return about.Help()
}

// completeStudies lets a shell offer study files where a command takes one.
func completeStudies(c *cobra.Command) {
	for _, sub := range c.Commands() {
		completeStudies(sub)
	}
	_, takes, _ := strings.Cut(c.Use, " ")
	if c.ValidArgsFunction != nil || !strings.HasPrefix(strings.TrimPrefix(takes, "["), "STUDY") {
		return
	}
	c.ValidArgsFunction = func(c *cobra.Command, a []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(a) == 0 {
			return []string{"study"}, cobra.ShellCompDirectiveFilterFileExt
		}
		return nil, cobra.ShellCompDirectiveDefault
	}
}

// wrongLine is an error of the command line itself: exit code 2.
func wrongLine(c *cobra.Command, format string, a ...any) error {
	return &lineError{what: fmt.Sprintf(format, a...), try: c.CommandPath() + " --help"}
}

// lineError says what is wrong with a command line and what would work.
type lineError struct{ what, try string }

func (e *lineError) Error() string { return e.what }

// args makes cobra's positional checks say what is missing by name. names are
// the needed ones; extra those that may be left out ("..." for any number).
func args(names, extra string) cobra.PositionalArgs {
	need, more := strings.Fields(names), strings.Fields(extra)
	return func(c *cobra.Command, a []string) error {
		if len(a) < len(need) {
			return wrongLine(c, "%s is missing", need[len(a)])
		}
		for i, name := range append(need[:len(need):len(need)], more...) {
			if i < len(a) && a[i] == "" && paths[name] {
				return wrongLine(c, "%s is empty", name)
			}
		}
		if open := len(more) > 0 && strings.HasSuffix(more[len(more)-1], "..."); !open && len(a) > len(need)+len(more) {
			return wrongLine(c, "%q is one argument too many", a[len(need)+len(more)])
		}
		return nil
	}
}

// paths are the arguments that name a file or folder and so cannot be empty.
var paths = map[string]bool{"STUDY": true, "NEW": true, "RECORDING": true, "FILE": true, "FOLDER": true}

// noArgs refuses a word that is not a command, with near ones.
func noArgs(c *cobra.Command, a []string) error {
	if len(a) == 0 {
		return nil
	}
	c.SuggestionsMinimumDistance = 2
	e := &lineError{what: fmt.Sprintf("%q is not a command of %s", a[0], c.CommandPath()), try: c.CommandPath() + " --help"}
	if s := c.SuggestionsFor(a[0]); len(s) > 0 {
		e.what += "; did you mean " + strings.Join(s, " or ") + "?"
		e.try = c.CommandPath() + " " + s[0] + " --help"
	}
	return e
}

// jsonFlag adds --json.
func jsonFlag(c *cobra.Command) *bool {
	return c.Flags().Bool("json", false, "print as JSON for scripts")
}

// voiceFlag adds --voice.
func voiceFlag(c *cobra.Command) *string {
	v := c.Flags().String("voice", string(exports.Plain), "plain or technical words")
	_ = c.RegisterFlagCompletionFunc("voice", cobra.FixedCompletions([]string{"plain", "technical"}, cobra.ShellCompDirectiveNoFileComp))
	return v
}

// options makes export options of the voice that was chosen.
func options(c *cobra.Command, voice string) (exports.Options, error) {
	if voice != string(exports.Plain) && voice != string(exports.Technical) {
		return exports.Options{}, wrongLine(c, "--voice is %q, expected plain or technical", voice)
	}
	return exports.Options{Tool: version, Voice: exports.Voice(voice), Warn: func(s string) { fmt.Fprintln(c.ErrOrStderr(), "note:", s) }}, nil
}

// printJSON writes one value as indented JSON.
func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// fromStdin replaces "-" by what standard input holds.
func fromStdin(c *cobra.Command, text string) (string, error) {
	if text != "-" {
		return text, nil
	}
	const most = 1 << 20
	b, err := io.ReadAll(io.LimitReader(c.InOrStdin(), most+1))
	if err != nil {
		return "", fmt.Errorf("standard input cannot be read: %w", err)
	}
	if len(b) > most {
		return "", fmt.Errorf("standard input is longer than %d bytes", most)
	}
	if text = strings.TrimSpace(string(b)); text == "" {
		return "", errors.New("standard input is empty")
	}
	return text, nil
}
