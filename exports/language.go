package exports

import (
	"regexp"
	"strings"

	"tautline/timeline"
)

// The sentences of every export are English; a study's titles and notes are in
// its own language. Files that name a language name the one that their text has,
// so that a voice that reads them aloud is not misled.

// titleLanguage is the language of titles that stand alone, as a BCP 47 tag.
func titleLanguage(r *timeline.Report, o Options) string {
	if o.TitleGroups {
		return sentenceLanguage(r)
	}
	if !languageTag.MatchString(r.Study.Language) {
		return "und"
	}
	return r.Study.Language
}

// sentenceLanguage is the language of our sentences: the study's own kind of
// English where it is English.
func sentenceLanguage(r *timeline.Report) string {
	if tag := r.Study.Language; languageTag.MatchString(tag) && english(tag) {
		return tag
	}
	return "en"
}

// english reports whether a tag means English of some kind.
func english(tag string) bool {
	primary, _, _ := strings.Cut(tag, "-")
	return strings.EqualFold(primary, "en")
}

var languageTag = regexp.MustCompile(`^[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*$`)

// foreign says that the sentences are not in the study's language.
func foreign(r *timeline.Report) []string {
	if tag := r.Study.Language; tag != "" && !english(tag) {
		return []string{"the sentences are in English; the study's own language, " + cleanLine(tag) + ", is that of its titles"}
	}
	return nil
}
