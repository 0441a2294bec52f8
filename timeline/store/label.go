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
	var said []string
	if d.About != nil {
		said = append(said, describeAbout(d.About.Before, d.About.After))
	}
	if r := d.Recording; r != nil {
		said = append(said, describeRecording(r))
	}
	said = append(said, describeRows(d.Marks, "marks", describeMark)...)
	said = append(said, describeRows(d.Remarks, "remarks", describeRemark)...)
	said = append(said, describeRows(d.Postures, "named postures", describePosture)...)
	said = append(said, describeRows(d.Angles, "picture angles", describeAngle)...)
	if len(said) != 1 {
		return "change the study"
	}
	return said[0]
}

func describeRecording(r *swap[recordingRow]) string {
	switch {
	case r.After == nil:
		return "remove the recording"
	case r.Before == nil:
		return "set the recording"
	}
	return "change the recording"
}

// describeRows says the changes in one table: nothing, one thing or how many.
func describeRows[R any](swaps []swap[R], plural string, single func(before, after *R) string) []string {
	switch len(swaps) {
	case 0:
		return nil
	case 1:
		return []string{single(swaps[0].Before, swaps[0].After)}
	}
	added, removed := 0, 0
	for _, s := range swaps {
		switch {
		case s.Before == nil:
			added++
		case s.After == nil:
			removed++
		}
	}
	verb := "change"
	if added == len(swaps) {
		verb = "add"
	} else if removed == len(swaps) {
		verb = "remove"
	}
	return []string{fmt.Sprintf("%s %d %s", verb, len(swaps), plural)}
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

func describeRemark(before, after *remarkRow) string {
	switch {
	case before == nil:
		return "add remark " + quote(after.Text)
	case after == nil:
		return "remove remark " + quote(before.Text)
	}
	settled := *before
	settled.Settled = after.Settled
	answered := settled
	answered.Answer, answered.AnswerBy = after.Answer, after.AnswerBy
	switch {
	case *after == settled && after.Settled:
		return "settle remark " + quote(before.Text)
	case *after == settled:
		return "open remark " + quote(before.Text) + " again"
	case *after == answered:
		return "answer remark " + quote(before.Text)
	}
	return "change remark " + quote(after.Text)
}

func describePosture(before, after *postureRow) string {
	switch {
	case before == nil:
		return "keep posture " + quote(after.Name)
	case after == nil:
		return "forget posture " + quote(before.Name)
	case before.Words == after.Words:
		return "rename posture " + quote(before.Name) + " to " + quote(after.Name)
	}
	return "change posture " + quote(after.Name)
}

func describeAngle(before, after *angleRow) string {
	switch {
	case before == nil:
		return "keep the picture angle at " + after.At.String()
	case after == nil:
		return "remove the picture angle at " + before.At.String()
	}
	return "change the picture angle at " + after.At.String()
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
