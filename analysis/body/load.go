package body

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"math"
	"sort"
	"strings"
	"sync"

	"tautline/analysis/geom"
)

//go:embed tables/*.csv
var embedded embed.FS

// Tables returns the built-in tables, one CSV file each.
func Tables() fs.FS {
	sub, err := fs.Sub(embedded, "tables")
	if err != nil {
		panic(err)
	}
	return sub
}

// regions are the prefixes of the muscle tables, one set of files each.
var regions = []string{"lower_limb", "upper_limb", "trunk"}

// loader carries what is being built and the problems found on the way.
type loader struct {
	fsys     fs.FS
	m        *Model
	problems []Problem
	numbers  map[string]float64 // person.csv
	used     map[string]bool    // source keys that some row names
	refMass  map[SegmentID]anthropometry
}

// LoadTables builds the reference adult from a set of tables. Every problem of every
// table is reported at once, by place, as a *TableError.
func LoadTables(fsys fs.FS) (*Model, error) {
	l := &loader{
		fsys:    fsys,
		m:       &Model{Sources: map[string]Source{}, index: newIndex()},
		numbers: map[string]float64{},
		used:    map[string]bool{},
		refMass: map[SegmentID]anthropometry{},
	}
	l.sources()
	l.person()
	l.segments()
	l.joints()
	l.coordinates()
	l.tree()
	l.rhythm()
	l.movements()
	l.patches()
	l.stances()
	l.passive()
	l.held()
	l.soft()
	l.passiveCurves()
	l.ribs()
	for _, region := range regions {
		l.surfaces(region)
		l.muscles(region)
		l.paths(region)
		l.actions(region)
	}
	l.whole()
	if len(l.problems) > 0 {
		sort.SliceStable(l.problems, func(i, j int) bool {
			a, b := l.problems[i], l.problems[j]
			if a.File != b.File {
				return a.File < b.File
			}
			return a.Line < b.Line
		})
		return nil, &TableError{l.problems}
	}
	for key := range l.m.Sources {
		if !l.used[key] {
			l.m.unused = append(l.m.unused, key)
		}
	}
	sort.Strings(l.m.unused)
	l.m.Version = version(fsys)
	l.m.Person = Person{l.numbers["reference_stature_m"], l.numbers["reference_mass_kg"], Male}
	l.m.Friction = l.numbers["friction"]
	l.m.SpecificTension = l.numbers["specific_tension_n_per_cm2"] * 1e4
	l.m.passiveWithin = passiveSpan{-l.numbers["passive_dorsiflexion_most_deg"], l.numbers["passive_plantarflexion_most_deg"],
		l.numbers["passive_knee_flexion_most_deg"], -l.numbers["passive_hip_extension_most_deg"], l.numbers["passive_hip_flexion_most_deg"]}
	l.m.smallest = Person{l.numbers["smallest_stature_m"], l.numbers["smallest_mass_kg"], ""}
	l.m.largest = Person{l.numbers["largest_stature_m"], l.numbers["largest_mass_kg"], ""}
	return l.m, nil
}

var builtIn = sync.OnceValue(func() *Model {
	m, err := LoadTables(Tables())
	if err != nil {
		panic("body: the built-in tables are broken:\n" + err.Error())
	}
	return m
})

// Adult returns the built-in reference adult. It is built once and shared;
// nothing may change it.
func Adult() *Model { return builtIn() }

// version hashes every table, in the order of names.
func version(fsys fs.FS) string {
	names, _ := fs.Glob(fsys, "*.csv")
	h := sha256.New()
	for _, n := range names {
		b, _ := fs.ReadFile(fsys, n)
		fmt.Fprintf(h, "%s %d\n", n, len(b))
		h.Write(b)
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}

func (l *loader) table(file string, columns ...string) *table {
	return readTable(l.fsys, file, &l.problems, columns...)
}

// source reads the source cell of a row and remembers that it is used.
func (l *loader) source(r row) string {
	key := r.word("source")
	if _, ok := l.m.Sources[key]; !ok && key != "" {
		r.bad("source", "%q is not in sources.csv", key)
	}
	l.used[key] = true
	return key
}

// once reports a key that was seen before.
func once[T any](r row, column, key string, seen map[string]T) bool {
	if _, dup := seen[key]; dup {
		r.bad(column, "%q stands twice", key)
		return false
	}
	return true
}

// sidesOf gives the sides that a row stands for.
func sidesOf(r row) []Side {
	if r.oneOf("side", "middle", "right") == "middle" {
		return []Side{Middle}
	}
	return []Side{Right, Left}
}

// segment finds the segment that a right-hand row means on one side: a sided
// segment of that side, or a middle one.
func (l *loader) segment(r row, column string, s Side) (SegmentID, bool) {
	key := r.word(column)
	if id, ok := l.m.index.segments[key]; ok {
		return id, true
	}
	if id, ok := l.m.index.segments[key+s.Suffix()]; ok && s != Middle {
		return id, true
	}
	r.bad(column, "there is no segment %q", key)
	return 0, false
}

// mirrored gives a point or direction of a right-hand row on one side.
func mirrored(v geom.Vec, s Side) geom.Vec {
	if s == Left {
		return v.Mirror()
	}
	return v
}

func (l *loader) sources() {
	t := l.table("sources.csv", "source", "grade", "text")
	for _, r := range t.rows {
		key := r.word("source")
		if once(r, "source", key, l.m.Sources) {
			l.m.Sources[key] = Source{key, r.word("text"), r.oneOf("grade", "published", "second-hand", "derived", "from memory", "estimate")}
		}
	}
}

func (l *loader) person() {
	t := l.table("person.csv", "item", "value", "source")
	for _, r := range t.rows {
		item := r.word("item")
		if once(r, "item", item, l.numbers) {
			l.numbers[item] = r.number("value", 0, 1000)
		}
		l.source(r)
	}
	for _, item := range []string{"reference_stature_m", "reference_mass_kg", "smallest_stature_m", "largest_stature_m", "smallest_mass_kg", "largest_mass_kg", "scapular_plane_deg", "specific_tension_n_per_cm2", "friction",
		"passive_dorsiflexion_most_deg", "passive_plantarflexion_most_deg", "passive_knee_flexion_most_deg", "passive_hip_extension_most_deg", "passive_hip_flexion_most_deg"} {
		if _, ok := l.numbers[item]; !ok {
			t.add(0, 0, "has no row %q", item)
		}
	}
}

func (l *loader) rhythm() {
	t := l.table("rhythm.csv", "elevation_deg", "upward_rotation_deg", "posterior_tilt_deg", "internal_rotation_deg",
		"clavicle_elevation_deg", "clavicle_retraction_deg", "clavicle_rotation_deg", "source")
	last := -1.0
	for _, r := range t.rows {
		deg := func(column string) float64 { return geom.Deg(r.number(column, -90, 180)) }
		row := RhythmRow{
			Elevation: deg("elevation_deg"), UpwardRotation: deg("upward_rotation_deg"), PosteriorTilt: deg("posterior_tilt_deg"),
			InternalRotation: deg("internal_rotation_deg"), ClavicleElevation: deg("clavicle_elevation_deg"),
			ClavicleRetraction: deg("clavicle_retraction_deg"), ClavicleRotation: deg("clavicle_rotation_deg"), Source: l.source(r),
		}
		if row.Elevation <= last {
			r.bad("elevation_deg", "does not rise from row to row")
		}
		last = row.Elevation
		l.m.Girdle.Rows = append(l.m.Girdle.Rows, row)
	}
	if len(t.rows) < 2 {
		t.add(0, 0, "needs at least two rows")
		l.m.Girdle.Rows = []RhythmRow{{}, {Elevation: math.Pi}}
	}
	l.m.Girdle.PlaneAngle = geom.Deg(l.numbers["scapular_plane_deg"])
}

// whole checks what concerns all tables together.
func (l *loader) whole() {
	for _, key := range girdleKeys.movements {
		if _, ok := l.m.index.movements[key+"_r"]; !ok {
			l.add("movements.csv", "has no row %q", key)
		}
	}
	for _, key := range girdleKeys.coords {
		if _, ok := l.m.index.coords[key+"_r"]; !ok {
			l.add("coordinates.csv", "has no row %q for the right side", key)
		}
	}
	l.checkMuscles()
}

// add reports a problem with a whole file.
func (l *loader) add(file, format string, a ...any) {
	(&table{file: file, problems: &l.problems}).add(0, 0, format, a...)
}

// list cuts a cell of several items at semicolons.
func list(s string) []string {
	if s == "" {
		return nil
	}
	parts := strings.Split(s, ";")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}
