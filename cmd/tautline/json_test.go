package main

import (
	"testing"

	"github.com/spf13/cobra"
)

// TestEveryCommandThatPrintsSpeaksJSON: nothing that a person can read here is
// closed to a script.
func TestEveryCommandThatPrintsSpeaksJSON(t *testing.T) {
	n := 0
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c.Name() == "help" || c.Name() == "completion" {
			return
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
		if c.HasParent() && c.Name() != "mark" && c.Name() != "remark" { // these alone only say what is missing
			n++
			if c.Flags().Lookup("json") == nil {
				t.Errorf("%s has no --json", c.CommandPath())
			}
		}
	}
	walk(newRoot())
	if n < 25 {
		t.Errorf("only %d commands were found", n)
	}
}
