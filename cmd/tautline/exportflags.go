package main

import (
	"net/url"

	"github.com/spf13/cobra"

	"tautline/exports"
)

// exportFlags adds the choices that only export has, and returns what puts them
// into options.
func exportFlags(c *cobra.Command) func(*exports.Options) error {
	groups := c.Flags().Bool("title-groups", false, "let the titles of chapters say what works and what is drawn long")
	length := c.Flags().Int("title-length", exports.TitleLength, "greatest length of a chapter's title, in characters")
	share := c.Flags().Bool("share", false, "stand at the top of the picture, clear of captions of your own at its bottom")
	guard := c.Flags().Bool("guard-cells", false, "put an apostrophe before texts in tables that a spreadsheet would take for formulas")
	link := c.Flags().Bool("link-recording", false, "let the review page play the recording, which must lie beside it")
	address := c.Flags().String("url", "", "where the recording is published, for files that point into it")
	names := c.Flags().String("names", string(exports.English), "muscles' names: english or latin, which brings the technical voice with it")
	limits := map[string]*float64{}
	for _, l := range exports.PaceLimits() {
		limits[l.Name] = c.Flags().Float64("caption-"+l.Name, l.Default(), l.Help+" ("+l.Source+")")
	}
	return func(o *exports.Options) error {
		var err error
		if o.Names, err = exports.ParseNames(*names); err != nil {
			return wrongLine(c, "--names is %q, expected english or latin", *names)
		}
		if o.Names == exports.Latin {
			if c.Flags().Changed("voice") && o.Voice != exports.Technical {
				return wrongLine(c, "--names latin goes with --voice technical")
			}
			o.Voice = exports.Technical
		}
		for _, l := range exports.PaceLimits() {
			if flag := "caption-" + l.Name; c.Flags().Changed(flag) {
				if err := l.Set(&o.Pace, *limits[l.Name]); err != nil {
					return wrongLine(c, "--%s: %v", flag, err)
				}
			}
		}
		if u, err := url.Parse(*address); *address != "" && (err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" || u.Fragment != "") {
			return wrongLine(c, "--url is %q, expected an address like https://example.org/warm-up", *address)
		}
		o.TitleGroups, o.Title, o.Share, o.GuardCells, o.URL, o.LinkRecording = *groups, *length, *share, *guard, *address, *link
		return nil
	}
}
