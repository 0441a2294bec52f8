package body_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"tautline/analysis/body"
)

// builtIn copies the built-in tables so that a test can break them.
func builtIn(t testing.TB) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(body.Tables(), "*.csv")
	if err != nil || len(names) < 10 {
		t.Fatalf("%d tables found: %v", len(names), err)
	}
	for _, n := range names {
		b, err := fs.ReadFile(body.Tables(), n)
		if err != nil {
			t.Fatal(err)
		}
		files[n] = &fstest.MapFile{Data: b}
	}
	return files
}

// problems loads tables and returns what is wrong with them, a line each.
func problems(t testing.TB, files fs.FS) []string {
	t.Helper()
	_, err := body.LoadTables(files)
	if err == nil {
		return nil
	}
	var bad *body.TableError
	if !errors.As(err, &bad) {
		t.Fatalf("the error is a %T, expected a *TableError", err)
	}
	return strings.Split(err.Error(), "\n")
}

func TestBuiltInTablesAreSound(t *testing.T) {
	if p := problems(t, body.Tables()); p != nil {
		t.Fatalf("problems:\n%s", strings.Join(p, "\n"))
	}
	m := body.Adult()
	if unused := m.UnusedSources(); len(unused) > 0 {
		t.Errorf("sources that no row names: %s", strings.Join(unused, ", "))
	}
	for _, mu := range m.Muscles {
		if mu.Mirror == mu.Mirror && m.Muscles[mu.Mirror].Side == mu.Side {
			t.Errorf("%s is mirrored by %s", mu.Key, m.Muscles[mu.Mirror].Key)
		}
		if len(mu.Actions) == 0 && !mu.Passive {
			t.Errorf("%s has no standard action", mu.Key)
		}
	}
}

// broken lists ways to break one table. Each is told by file, line and column
// with words that a person can act on.
var broken = []struct {
	name, file, old, new string
	want                 string // part of one of the problems
}{
	{"missing source key", "segments.csv", "thigh,thigh,right,thigh,0,0,0,0,-420,0,skeleton_estimate", "thigh,thigh,right,thigh,0,0,0,0,-420,0,", "source: is empty"},
	{"unknown source", "joints.csv", "86,0,0,0,hinges,bell_1989", "86,0,0,0,hinges,bell_1998", `source: "bell_1998" is not in sources.csv`},
	{"unknown grade", "sources.csv", "convention,derived,", "convention,certain,", `grade: "certain", expected one of published`},
	{"source twice", "sources.csv", "convention,derived,", "isb,derived,x\nconvention,derived,", `source: "isb" stands twice`},
	{"unknown segment as parent", "joints.csv", "knee,knee,right,thigh,shank", "knee,knee,right,tigh,shank", `parent: there is no segment "tigh"`},
	{"unknown segment as child", "joints.csv", "knee,knee,right,thigh,shank", "knee,knee,right,thigh,shin", `child: there is no segment "shin"`},
	{"a segment hung twice", "joints.csv", "ankle,ankle,right,shank,talus", "ankle,ankle,right,shank,shank", "already hangs from"},
	{"cycle", "joints.csv", "knee,knee,right,thigh,shank", "knee,knee,right,foot,shank", "stands before its parent"},
	{"joint without coordinate", "coordinates.csv", "knee_flexion,knee flexion,knee,", "knee_flexion,knee flexion,nee,", `there is no joint "nee"`},
	{"axis not of length one", "coordinates.csv", "hip_flexion,hip flexion,hip,no,0,0,1", "hip_flexion,hip flexion,hip,no,0,0.5,1", "the axis has length 1.118"},
	{"empty range", "coordinates.csv", "hip_adduction,hip adduction,hip,no,1,0,0,0,-45,30", "hip_adduction,hip adduction,hip,no,1,0,0,0,45,30", "the range is empty: 45 to 30"},
	{"coordinate twice", "coordinates.csv", "knee_rotation,tibial", "knee_flexion,tibial", `coordinate: "knee_flexion_r" stands twice`},
	{"not a number", "rhythm.csv", "90,25,7", "90,25°,7", `upward_rotation_deg: "25°" is not a number`},
	{"NaN", "rhythm.csv", "90,25,7", "90,NaN,7", `"NaN" is not a number`},
	{"rhythm out of order", "rhythm.csv", "90,25,7", "30,25,7", "does not rise from row to row"},
	{"metres for millimetres", "segments.csv", "shank,shank,right,shank,0,0,0,0,-430,0", "shank,shank,right,shank,0,0,0,0,-0.43,0", "the segment is 0.43 mm long: is the unit right?"},
	{"metres as micrometres", "segments.csv", "shank,shank,right,shank,0,0,0,0,-430,0", "shank,shank,right,shank,0,0,0,0,-430000,0", "is outside -1200 to 1200: is the unit right?"},
	{"segment without length", "segments.csv", "shank,shank,right,shank,0,0,0,0,-430,0", "shank,shank,right,shank,0,0,0,0,0,0", "the segment has no length"},
	{"mass fractions that do not add up", "anthropometry.csv", "thigh,male,0.1416", "thigh,male,0.2416", "the mass fractions for male add to 1.2000"},
	{"impossible inertia", "anthropometry.csv", "head,male,0.0694,0.5976,0.362", "head,male,0.0694,0.5976,0.962", "no rigid body has these three radii"},
	{"anthropometric row twice", "anthropometry.csv", "foot,female,", "foot,male,", `"foot" stands twice for male`},
	{"wrong header", "person.csv", "item,value,source", "item,amount,source", `header is "item,amount,source", expected "item,value,source"`},
	{"missing item", "person.csv", "reference_mass_kg", "reference_weight_kg", `has no row "reference_mass_kg"`},
	{"too many cells", "person.csv", "reference_mass_kg,73,de_leva_1996", "reference_mass_kg,73,de_leva_1996,extra", "4 cells, expected 3"},
	{"open quotation mark", "person.csv", "reference_mass_kg,73", "\"reference_mass_kg,73", "person.csv:"},
	{"blanks at the ends", "movements.csv", "knee_flexion,knee,right", "knee_flexion, knee,right", "has blanks at its ends"},
	{"movement of an unknown coordinate", "movements.csv", "knee_flexion:1", "knee_bend:1", "expected a coordinate, a colon and a factor"},
	{"range of an unknown movement", "ranges.csv", "knee_flexion,AAOS", "knee_bend,AAOS", `there is no movement "knee_bend"`},
	{"stance with an unknown patch", "stances.csv", "standing,standing,support,both:heel,floor", "standing,standing,support,both:heal,floor", `there is no patch "heal_r"`},
	{"stance on an unknown surface", "stances.csv", "standing,standing,support,both:heel,floor", "standing,standing,support,both:heel,grass", `"grass", expected one of floor`},
	{"normal without direction", "patches.csv", "sit_bone,sit bone,right,pelvis,-32,-95,58,", "sit_bone,sit bone,right,pelvis,-32,-95,58,9", ""},
	{"a muscle of an unknown region", "lower_limb_muscles.csv", ",leg,", ",calf,", `region: "calf", expected one of`},
	{"an area in the wrong unit", "lower_limb_muscles.csv", "soleus,soleus,musculus soleus,deep calf,leg,", "soleus,soleus,musculus soleus,deep calf,leg,51", "is outside 0.02 to 80: is the unit right?"},
	{"a path of an unknown muscle", "lower_limb_paths.csv", "\nsoleus,1,", "\nsoleous,1,", `there is no muscle "soleous"`},
	{"path nodes out of order", "lower_limb_paths.csv", "\nsoleus,2,", "\nsoleus,3,", "nodes stand in the order of the path"},
	{"an unknown surface", "lower_limb_surfaces.csv", "\n", "\nghost,attic,sphere,0,0,0,0,0,0,20,convention\n", `there is no segment "attic"`},
	{"an action of an unknown movement", "lower_limb_actions.csv", "soleus,ankle_dorsiflexion", "soleus,ankle_flexion", `there is no movement "ankle_flexion"`},
	{"a muscle twice", "lower_limb_muscles.csv", "\nsoleus,", "\nplantaris,", `muscle: "plantaris_r" stands twice`},
}

func TestBrokenTablesAreRefusedByPlace(t *testing.T) {
	for _, c := range broken {
		t.Run(c.name, func(t *testing.T) {
			files := builtIn(t)
			text := string(files[c.file].Data)
			if !strings.Contains(text, c.old) {
				t.Fatalf("%s does not hold %q: the fixture is stale", c.file, c.old)
			}
			files[c.file] = &fstest.MapFile{Data: []byte(strings.Replace(text, c.old, c.new, 1))}
			got := problems(t, files)
			if len(got) == 0 {
				t.Fatalf("a broken %s was taken", c.file)
			}
			for _, p := range got {
				if c.want != "" && strings.Contains(p, c.want) || c.want == "" && strings.HasPrefix(p, c.file) {
					return
				}
			}
			t.Errorf("none of the problems says %q:\n%s", c.want, strings.Join(got, "\n"))
		})
	}
}

func TestEveryProblemIsToldAtOnceInOrder(t *testing.T) {
	files := builtIn(t)
	for _, c := range broken {
		if c.name == "not a number" || c.name == "unknown source" || c.name == "movement of an unknown coordinate" {
			files[c.file] = &fstest.MapFile{Data: []byte(strings.Replace(string(files[c.file].Data), c.old, c.new, 1))}
		}
	}
	all := strings.Join(problems(t, files), "\n")
	last := -1
	for _, want := range []string{"joints.csv:", "movements.csv:", "rhythm.csv:"} {
		at := strings.Index(all, want)
		if at <= last {
			t.Fatalf("%s is missing or out of order in:\n%s", want, all)
		}
		last = at
	}
}

func TestAMissingTableIsToldWithTheRest(t *testing.T) {
	files := builtIn(t)
	delete(files, "ranges.csv")
	if all := strings.Join(problems(t, files), "\n"); !strings.Contains(all, "ranges.csv: cannot be read") {
		t.Errorf("got:\n%s", all)
	}
}

func FuzzLoadTables(f *testing.F) {
	names := []string{"segments.csv", "joints.csv", "coordinates.csv", "movements.csv", "stances.csv", "patches.csv", "lower_limb_paths.csv", "lower_limb_surfaces.csv"}
	for i := range names {
		f.Add(uint8(i), "")
		f.Add(uint8(i), "a,b\n\"")
	}
	for _, c := range broken {
		for i, n := range names {
			if n == c.file {
				f.Add(uint8(i), c.new)
			}
		}
	}
	whole := builtIn(f)
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		files := fstest.MapFS{}
		for n, file := range whole {
			files[n] = file
		}
		name := names[int(which)%len(names)]
		// Once as the whole file, once as rows behind the real header.
		header, _, _ := strings.Cut(string(whole[name].Data), "\n")
		for _, content := range []string{text, header + "\n" + text} {
			files[name] = &fstest.MapFile{Data: []byte(content)}
			m, err := body.LoadTables(files)
			if (m == nil) == (err == nil) {
				t.Fatal("a model and an error, or neither")
			}
		}
	})
}
