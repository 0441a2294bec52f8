package analysis_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// The tables of what has been measured of muscles in postures: how they are read
// and what they may hold.

// measuredRows reads a table of published activity.
func measuredRows(t *testing.T, file string, columns ...string) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/published/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], columns) || len(rows) < 2 {
		t.Fatalf("%s has the columns %v, expected %v", file, rows[0], columns)
	}
	return rows[1:]
}

var (
	activityColumns = []string{"posture", "muscle_or_group", "side", "expect", "known", "source", "conditions", "note"}
	orderColumns    = []string{"more_in", "more", "more_side", "than_in", "than", "than_side", "known", "source", "conditions", "note"}
	waysOfKnowing   = []string{"published", "second-hand", "memory", "derived"}
)

// muscles gives the muscles of "a+b" on the sides asked for; none when the name
// is a group's.
func muscles(t *testing.T, name, side string) (ids []body.MuscleID) {
	t.Helper()
	if isGroup(name) {
		return nil
	}
	for _, s := range sides(side) {
		for _, key := range strings.Split(name, "+") {
			id, ok := whole.Model.Muscle(key + map[string]string{"right": "_r", "left": "_l"}[s])
			if !ok {
				t.Fatalf("there is no muscle or group %q", key)
			}
			ids = append(ids, id)
		}
	}
	return ids
}

func sides(side string) []string {
	if side == "both" {
		return []string{"right", "left"}
	}
	return []string{side}
}

func isGroup(name string) bool {
	return slices.ContainsFunc(whole.Model.Movements, func(mv body.Movement) bool { return mv.Agents == name || mv.Against == name })
}

// The tables themselves: known words, a source on every row, postures that are
// understood to the last word, names that exist, nothing said twice.
func TestActivityTablesAreWellFormed(t *testing.T) {
	known := map[string]int{}
	rows := map[string]bool{}
	read := func(words string) {
		t.Helper()
		if rd := posture.Read(whole.Model, words); len(rd.Unknown) > 0 {
			t.Errorf("%q: not understood: %q", words, rd.Unknown[0].Text)
		}
	}
	row := func(key, way, source string) {
		t.Helper()
		known[way]++
		if !slices.Contains(waysOfKnowing, way) || source == "" {
			t.Errorf("%s: known by %q from %q", key, way, source)
		}
		if rows[key] {
			t.Errorf("%s is said twice", key)
		}
		rows[key] = true
	}
	name := func(name, side string) {
		t.Helper()
		if isGroup(name) {
			if !slices.ContainsFunc(whole.Model.Movements, func(mv body.Movement) bool {
				return (mv.Agents == name || mv.Against == name) && (side == "") == (mv.Side == body.Middle)
			}) {
				t.Errorf("the %s have the side %q", name, side)
			}
			return
		}
		muscles(t, name, side)
	}
	for _, r := range measuredRows(t, "activity.csv", activityColumns...) {
		read(r[0])
		row(strings.Join(r[:4], ", "), r[4], r[5])
		name(r[1], r[2])
		if !slices.Contains([]string{"working", "possible", "silent", "long", "undecided"}, r[3]) {
			t.Errorf("%v: expected %q", r[:3], r[3])
		}
		if r[3] == "undecided" && isGroup(r[1]) {
			t.Errorf("%v: only single muscles can be undecided", r[:3])
		}
	}
	for _, r := range measuredRows(t, "activity_order.csv", orderColumns...) {
		read(r[0])
		read(r[3])
		row(strings.Join(r[:6], ", "), r[6], r[7])
		name(r[1], r[2])
		name(r[4], r[5])
	}
	if known["published"] <= known["memory"] {
		t.Errorf("more rows from memory than published: %v", known)
	}
}
