package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A number about the human body stands in a table with its source, or does not
// stand. No program can tell such a number from another, so this gate works from
// the other end. In the numeric core every number must be one of
//
//   - plain arithmetic: whole numbers up to ten, a half, powers of ten (units
//     and rounding), half and whole turns in degrees, bits of a number's format,
//     whole numbers past a million (mixing, counting: no size of a body);
//   - a bound that a table's cell is read within, which guards against slips of
//     the pen and shapes no result;
//   - a size of memory, written as a shift;
//   - a number that is named in choices below, with what it is instead.
//
// Elsewhere, where most numbers are layout, time and tolerances (and in the
// solver, which knows nothing of bodies), only those written with three figures
// and a decimal point are looked at: measurements look like that.

// choice is a number of ours in code: the constant, or the function or variable
// that holds it, and what it is, since it is not about the body.
type choice struct{ file, name, what string }

var choices = []choice{
	{"analysis/body/load_skeleton.go", "segments", "slips of the pen: a segment too short, shares that do not make a whole"},
	{"analysis/body/load_vocabulary.go", "patches", "slips of the pen: a normal that is not of unit length"},
	{"analysis/body/table.go", "limit", "slips of the pen: a point farther out than any could be"},
	{"analysis/cautions.go", "overheadFrom", "where a caution begins: our choice, on the careful side"},
	{"analysis/cautions.go", "bendFrom", "where a caution begins: our choice, on the careful side"},
	{"analysis/cautions.go", "wristFrom", "where a caution begins: our choice, on the careful side"},
	{"analysis/cautions.go", "neckShare", "where a caution begins: our choice, on the careful side"},
	{"analysis/cautions.go", "effortMoment", "where a caution begins: our choice, on the careful side"},
	{"analysis/contraction.go", "leastTravel", "how small a change counts as holding still"},
	{"analysis/contraction.go", "bothWays", "how large a share is worth naming"},
	{"analysis/doubts.go", "leastGap", "how large a misfit is worth telling"},
	{"analysis/doubts.go", "leastDip", "how large a misfit is worth telling"},
	{"analysis/doubts_effort.go", "missingAlike", "how small a difference between the sides is none"},
	{"analysis/effort.go", "nearBest", "what counts as near the best: the design's tenth"},
	{"analysis/effort.go", "leastActive", "what counts as quiet"},
	{"analysis/effort.go", "groupActive", "what counts as a group's work"},
	{"analysis/equilibrium.go", "leastStray", "error that a passive moment is priced at"},
	{"analysis/solve/interior.go", "insideKeep", "step of the search"},
	{"analysis/group.go", "leastShare", "how small a share is worth naming"},
	{"analysis/length.go", "longPlace", "what counts as long: a share of the span"},
	{"analysis/length.go", "shortPlace", "what counts as short: a share of the span"},
	{"analysis/length.go", "leastChange", "how small a change is worth naming"},
	{"analysis/length.go", "longFibre", "what counts as stretched: a ratio to optimal"},
	{"analysis/length.go", "leastContribution", "how small a part of a change is worth naming"},
	{"analysis/loads.go", "gravity", "standard gravity, by definition; of the Earth, not the body"},
	{"analysis/movement.go", "ease", "the coefficients of the smooth step of fifth degree"},
	{"analysis/movement.go", "leastPlaceChange", "how small a change is worth naming"},
	{"analysis/movement_effort.go", "stillRests", "how large a misfit still counts as resting"},
	{"analysis/movement_effort.go", "mostLean", "where one way of moving is given up for another"},
	{"analysis/variation.go", "leastEffortChange", "how small a change is worth naming"},
	{"analysis/variation.go", "leastPlaceVaried", "how small a change is worth naming"},
	{"analysis/pose/path.go", "arc", "how finely a path over a surface is drawn"},
	{"analysis/pose/rest.go", "placeSteps", "the most iterations"},
	{"analysis/pose/rest.go", "softBelow", "where the numbers of a fit are let go"},
	{"analysis/posture/near.go", "maxNear", "how much is looked at for near words"},
	{"analysis/posture/near.go", "longestNear", "how much is looked at for near words"},
	{"analysis/posture/fail.go", "most", "how much of a text is quoted"},
	{"analysis/pull.go", "same", "how small a difference is none"},
	{"analysis/pull.go", "least", "how short a line is too short to draw"},
	{"analysis/roles.go", "speaksFor", "how large a share speaks for a group"},
	{"analysis/span.go", "span", "where a search for the ends of a span begins"},
	{"analysis/swing.go", "swingStep", "the step of a difference quotient"},
	{"analysis/swing.go", "swings", "the coefficients of the smooth step's derivatives"},
	{"analysis/trial.go", "massSlip", "how large an error is tried"},
	{"analysis/trial.go", "slip", "keeps two series of signs apart"},
	{"analysis/variation.go", "leastEffortChange", "how small a change is worth naming"},
	{"analysis/variation.go", "leastPlaceVaried", "how small a change is worth naming"},
	{"analysis/work.go", "firmness", "the order in which findings are told"},
	{"exports/handout.go", "paperA4", "a size of paper, by its standard"},
	{"exports/wording_effort.go", "standardGravity", "standard gravity, by definition; of the Earth, not the body"},
	{"exports/wording_effort.go", "torque", "where rounding drops a decimal"},
	{"viewer/state.go", "mostTurn", "the most that a page may send"},
	{"viewer/state.go", "mostMass", "the most that a page may send"},
	{"viewer/state.go", "mostForce", "the most that a page may send"},
}

// plainNumber tells plain arithmetic.
func plainNumber(lit *ast.BasicLit) bool {
	if lit.Kind == token.INT {
		v, err := strconv.ParseInt(lit.Value, 0, 64)
		if err == nil && (v <= 10 || v == 180 || v == 360 || v > 1_000_000) {
			return true
		}
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(lit.Value, "_", ""), 64)
	if err != nil {
		return false
	}
	if v == math.Trunc(v) && v <= 2 || v == 0.5 {
		return true
	}
	exp := math.Round(math.Log10(v))
	return math.Abs(v-math.Pow(10, exp)) <= 1e-12*v // a power of ten
}

// figures counts the significant figures of a decimal fraction as written; 0 for
// whole numbers and powers of ten.
func figures(lit *ast.BasicLit) int {
	mantissa, _, _ := strings.Cut(strings.ToLower(lit.Value), "e")
	if lit.Kind != token.FLOAT || !strings.Contains(mantissa, ".") {
		return 0
	}
	digits := strings.TrimLeft(strings.ReplaceAll(mantissa, ".", ""), "0")
	return len(digits)
}

// number is one literal that is not plain, and where it stands.
type number struct {
	place, value, name string
}

// bounds are the calls whose numbers shape no result: reading a cell within
// bounds, the bits of a format, a length of text.
var bounds = regexp.MustCompile(`^(number|vec|ParseFloat|ParseInt|FormatFloat|AppendFloat|NewReader)$`)

// numbersIn lists the numbers of a file that core code may not hold unnamed, or
// for other code only measurements.
func numbersIn(name string, source []byte, core bool) ([]number, error) {
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, name, source, 0)
	if err != nil {
		return nil, err
	}
	var found []number
	var visit func(n ast.Node, in string)
	visit = func(n ast.Node, in string) {
		ast.Inspect(n, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.FuncDecl:
				if in == "" && x.Body != nil {
					visit(x.Body, x.Name.Name)
					return false
				}
			case *ast.ValueSpec:
				for i, v := range x.Values {
					visit(v, x.Names[min(i, len(x.Names)-1)].Name)
				}
				return false
			case *ast.CallExpr:
				called := ""
				switch fun := x.Fun.(type) {
				case *ast.Ident:
					called = fun.Name
				case *ast.SelectorExpr:
					called = fun.Sel.Name
				}
				return !core || !bounds.MatchString(called)
			case *ast.BinaryExpr:
				if x.Op == token.SHL || x.Op == token.SHR {
					return false
				}
			case *ast.IndexExpr, *ast.SliceExpr:
				return !core
			case *ast.BasicLit:
				if x.Kind != token.INT && x.Kind != token.FLOAT {
					return true
				}
				if core && !plainNumber(x) || !core && figures(x) >= 3 {
					found = append(found, number{files.Position(x.Pos()).String(), x.Value, in})
				}
			}
			return true
		})
	}
	visit(f, "")
	return found, nil
}

// numberProblems holds a file to the rule and marks the choices that it used.
func numberProblems(name string, source []byte, used map[choice]bool) (problems []string) {
	core := strings.HasPrefix(name, "analysis/") && !strings.HasPrefix(name, "analysis/solve/")
	found, err := numbersIn(name, source, core)
	if err != nil {
		return []string{err.Error()}
	}
	for _, n := range found {
		i := slices.IndexFunc(choices, func(c choice) bool { return c.file == name && c.name == n.name })
		if i < 0 {
			problems = append(problems, fmt.Sprintf("%s: %s: a number about the body belongs in a table with its source; any other is named, with what it is, in this test (%q)", n.place, n.value, n.name))
			continue
		}
		used[choices[i]] = true
	}
	return problems
}

func TestNoNumberOfTheBodyStandsInCode(t *testing.T) {
	used := map[choice]bool{}
	for name, b := range read(t, ".go") {
		if strings.HasSuffix(name, "_test.go") || strings.HasPrefix(name, "testdata/") {
			continue
		}
		for _, p := range numberProblems(name, b, used) {
			t.Error(p)
		}
	}
	for _, c := range choices {
		if !used[c] {
			t.Errorf("the choice %s %s is not there any more", c.file, c.name)
		}
	}
}

func TestAPlantedNumberOfTheBodyIsNoticed(t *testing.T) {
	for source, want := range map[string]int{
		"const thighShare = 0.1416":                      1,
		"var knee = geom.Deg(135)":                       1,
		"func f(h float64) float64 { return 0.53 * h }":  1,
		"var lever = []float64{0.047, 0.041}":            2,
		"const pcsa = 4.6e-4":                            1,
		"func f(x float64) float64 { return x*180/3e0 }": 1,
		"func f(x float64) float64 { return x/1000 }":    0,
		"var v = r.number(\"mass\", 0.001, 0.6)":         0,
		"const most = 64 << 10":                          0,
		"const tolerance = 1e-9":                         0,
	} {
		if got := numberProblems("analysis/pose/planted.go", []byte("package pose\n"+source), map[choice]bool{}); len(got) != want {
			t.Errorf("%s: %d problems, expected %d: %v", source, len(got), want, got)
		}
	}
	if got := numberProblems("exports/planted.go", []byte("package exports\nconst stature, inset = 1.755, 0.04"), map[choice]bool{}); len(got) != 1 {
		t.Errorf("outside the core: %v", got)
	}
}
