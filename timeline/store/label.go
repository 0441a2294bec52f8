package store

import (
	"fmt"
)

// titleShown is how many characters of a title a label repeats.
const titleShown = 60

// orLabel is the caller's label, or one made from the change.
func orLabel(label string, d *delta) string {
	if label != "" {
		return label
	}
	return describe(d)
}

// describe says a change in a few plain words, as they stand after "undo: ".
func describe(d *delta) string {
	kinds := 0
	for _, changed := range []bool{d.About != nil, d.Recording != nil, len(d.Marks) > 0} {
		if changed {
			kinds++
		}
	}
	switch {
	case kinds != 1:
		return "change the study"
	case d.About != nil:
		return describeAbout(d.About.Before, d.About.After)
	case d.Recording != nil && d.Recording.After == nil:
		return "remove the recording"
	case d.Recording != nil && d.Recording.Before == nil:
		return "set the recording"
	case d.Recording != nil:
		return "change the recording"
	case len(d.Marks) == 1:
		return describeMark(d.Marks[0].Before, d.Marks[0].After)
	}
	return describeMarks(d.Marks)
}

func describeAbout(before, after *aboutRow) string {
	title, language, person := *before, *before, *before
	title.Title, language.Language, person.Person = after.Title, after.Language, after.Person
	switch *after {
	case title:
		return "retitle the study " + quote(after.Title)
	case language:
		return "set the language to " + after.Language
	case person:
		return "change the person"
	}
	return "change what the study says of itself"
}

func describeMark(before, after *markRow) string {
	switch {
	case before == nil:
		return "add " + name(after) + " at " + after.At.String()
	case after == nil:
		return "remove " + name(before) + " at " + before.At.String()
	}
	moved, retitled, said, noted := *before, *before, *before, *before
	moved.At, retitled.Title, said.Words, noted.Note = after.At, after.Title, after.Words, after.Note
	switch *after {
	case moved:
		return "move " + name(before) + " to " + after.At.String()
	case retitled:
		return "retitle " + name(before) + " as " + quote(after.Title)
	case said:
		return "change the posture of " + name(before)
	case noted:
		return "change the note of " + name(before)
	}
	return "change " + name(after)
}

func describeMarks(marks []swap[markRow]) string {
	added, removed := 0, 0
	for _, m := range marks {
		switch {
		case m.Before == nil:
			added++
		case m.After == nil:
			removed++
		}
	}
	verb := "change"
	if added == len(marks) {
		verb = "add"
	} else if removed == len(marks) {
		verb = "remove"
	}
	return fmt.Sprintf("%s %d marks", verb, len(marks))
}

// name is how a label speaks of a mark: by title, or by number without one.
func name(m *markRow) string {
	if m.Title == "" {
		return fmt.Sprintf("mark %d", m.ID)
	}
	return "mark " + quote(m.Title)
}

// quote puts a title in quotation marks as it is, shortened when long.
func quote(title string) string {
	if r := []rune(title); len(r) > titleShown {
		title = string(r[:titleShown-1]) + "…"
	}
	return `"` + title + `"`
}
