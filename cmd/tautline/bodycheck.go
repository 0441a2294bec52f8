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
func checkTables(c *cobra.Command, a []string) error {
	fsys := body.Tables()
	where := "the built-in tables"
	if len(a) > 0 {
		where = a[0]
		if info, err := os.Stat(where); err != nil || !info.IsDir() {
			return withHint(fmt.Errorf("%s is not a folder of tables", where), "tautline body check")
		}
		fsys = os.DirFS(where)
	}
	out := c.OutOrStdout()
	m, err := body.LoadTables(fsys)
	var bad *body.TableError
	if errors.As(err, &bad) {
		for _, p := range bad.Problems {
			fmt.Fprintln(out, p)
		}
		fmt.Fprintf(out, "%d problems in %s\n", len(bad.Problems), where)
		return errProblems
	}
	if err != nil {
		return err
	}
	unused := m.UnusedSources()
	for _, key := range unused {
		fmt.Fprintf(out, "sources.csv: source %q is used by no row\n", key)
	}
	fmt.Fprintf(out, "%s: sound; %d muscle parts a side, %d sources, tables %s\n", where, len(m.Muscles)/2, len(m.Sources), m.Version)
	if len(unused) > 0 {
		return errProblems
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
