package main

import (
	"github.com/spf13/cobra"

	"tautline/exports"
)

// exportFlags adds the choices that only export has, and returns what puts them
// into options.
func exportFlags(c *cobra.Command) func(*exports.Options) {
	groups := c.Flags().Bool("title-groups", false, "let the titles of chapters say what works and what is drawn long")
	length := c.Flags().Int("title-length", exports.TitleLength, "greatest length of a chapter's title, in characters")
	share := c.Flags().Bool("share", false, "stand at the top of the picture, clear of captions of your own at its bottom")
	return func(o *exports.Options) {
		o.TitleGroups, o.Title, o.Share = *groups, *length, *share
	}
}
