package main

import (
	"errors"
	"fmt"
	"os"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"tautline/analysis/body"
)

// checkTables loads a set of tables and prints every problem by place.
func checkTables(c *cobra.Command, a []string, asJSON bool) error {
	fsys := body.Tables()
	where := "the built-in tables"
	if len(a) > 0 {
		where = a[0]
		if info, err := os.Stat(where); err != nil || !info.IsDir() {
			return withHint(fmt.Errorf("%s is not a folder of tables", where), "tautline body check")
		}
		fsys = os.DirFS(where)
	}
	out, problems := c.OutOrStdout(), []string{}
	m, err := body.LoadTables(fsys)
	var bad *body.TableError
	switch {
	case errors.As(err, &bad):
		for _, p := range bad.Problems {
			problems = append(problems, fmt.Sprint(p))
		}
	case err != nil:
		return err
	default:
		for _, key := range m.UnusedSources() {
			problems = append(problems, fmt.Sprintf("sources.csv: source %q is used by no row", key))
		}
	}
	if asJSON {
		if err := printJSON(out, problems); err != nil {
			return err
		}
	} else {
		for _, p := range problems {
			fmt.Fprintln(out, p)
		}
	}
	switch {
	case len(problems) > 0:
		if !asJSON {
			fmt.Fprintf(out, "%d problems in %s\n", len(problems), where)
		}
		return errProblems
	case !asJSON:
		fmt.Fprintf(out, "%s: sound; %d muscle parts a side, %d sources, tables %s\n", where, len(m.Muscles)/2, len(m.Sources), m.Version)
	}
	return nil
}

// actions lists a muscle's standard actions in words.
func actions(m *body.Model, mu body.Muscle) string {
	var list []string
	for _, x := range mu.Actions {
		mv := m.Movements[x.Movement]
		word := mv.Toward
		if !x.Toward {
			word = mv.Away
		}
		if !x.Main {
			word += " (weak)"
		}
		list = append(list, mv.Joint+" "+word)
	}
	return strings.Join(list, "; ")
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
