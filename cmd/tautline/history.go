package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"tautline/timeline/store"
)

func undoCommand() *cobra.Command {
	return historyCommand("undo", "Take back the last change, whoever made it", "undone", (*store.Store).Undo)
}

func redoCommand() *cobra.Command {
	return historyCommand("redo", "Make the change again that undo took back", "redone", (*store.Store).Redo)
}

func historyCommand(name, short, done string, step func(*store.Store, context.Context) (string, error)) *cobra.Command {
	c := &cobra.Command{Use: name + " STUDY", Short: short, Args: args("STUDY", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		s, err := openStudy(c.Context(), a[0])
		if err != nil {
			return err
		}
		defer s.Close()
		label, err := step(s, c.Context())
		if err != nil {
			return err
		}
		if err := s.Close(); err != nil {
			return err
		}
		if *asJSON {
			return printJSON(c.OutOrStdout(), map[string]string{done: label})
		}
		fmt.Fprintf(c.OutOrStdout(), "%s: %s\n", done, label)
		return nil
	}
	return c
}

func copyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "copy STUDY NEW",
		Short: "Copy a study, complete even while it is open elsewhere",
		Args:  args("STUDY NEW", ""),
	}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error {
		s, err := store.OpenReadOnly(c.Context(), a[0])
		if err != nil {
			return missing(err, a[0])
		}
		defer s.Close()
		if err := s.Copy(c.Context(), a[1]); err != nil {
			return notMade(err, a[1], "tautline copy "+file(a[0]))
		}
		if *asJSON {
			return printJSON(c.OutOrStdout(), map[string]string{"study": a[0], "copy": a[1]})
		}
		fmt.Fprintf(c.OutOrStdout(), "%s: a complete copy of %s\n", a[1], a[0])
		return nil
	}
	return c
}
