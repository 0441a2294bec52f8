package exports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

// TestSchemaIsMadeFromTheRecords: keys, types and descriptions are those of the
// code, so that no record changes without the published schema.
func TestSchemaIsMadeFromTheRecords(t *testing.T) {
	want := reportSchema(t)
	if *update {
		if err := os.WriteFile("report.schema.json", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if want != ReportSchema {
		t.Errorf("the records have changed; if a key changed its meaning or went, count up ReportFormat, then run with -update:\n%s", firstChange(ReportSchema, want))
	}
}

// TestSchemaRefusesWhatIsNotAReport: a schema that takes everything says nothing.
func TestSchemaRefusesWhatIsNotAReport(t *testing.T) {
	var good bytes.Buffer
	if err := WriteJSON(&good, sampleStudies()["one mark"], Options{Tool: "1.2.3"}); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	files := []string{write("schema.json", ReportSchema), write("good.json", good.String())}
	changes := map[string][2]string{
		"another format":   {`"format": "tautline report 1"`, `"format": "tautline report 2"`},
		"a key too many":   {`"number":1,`, `"number":1,"more":2,`},
		"a key too few":    {`"number":1,`, ``},
		"an unknown grade": {`"grade":"geometry"`, `"grade":"sure"`},
		"text for time":    {`"from_ms":2000`, `"from_ms":"0:02"`},
		"half a time":      {`"from_ms":2000`, `"from_ms":2000.5`},
		"a null list":      {`"problems": [`, `"problems": null, "x": [`},
	}
	for what, change := range changes {
		bad := strings.Replace(good.String(), change[0], change[1], 1)
		if bad == good.String() {
			t.Fatalf("%s: nothing was changed", what)
		}
		files = append(files, write(what, bad))
	}
	var problems []string
	peer.Read(t, &problems, "schema.mjs", files...)
	for _, p := range problems {
		if strings.HasPrefix(p, "good.json") || strings.HasPrefix(p, "schema.json") {
			t.Errorf("a good report is refused: %s", p)
		}
	}
	for what := range changes {
		if !slices.ContainsFunc(problems, func(p string) bool { return strings.HasPrefix(p, what+" ") }) {
			t.Errorf("%s is taken", what)
		}
	}
}

// members is a JSON object whose keys keep their order.
type members []struct {
	key   string
	value any
}

func (m *members) add(key string, value any) {
	*m = append(*m, struct {
		key   string
		value any
	}{key, value})
}

func (m members) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, e := range m {
		key, _ := json.Marshal(e.key)
		value, err := json.Marshal(e.value)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%c%s:%s", "{,"[min(i, 1)], key, value)
	}
	if len(m) == 0 {
		b.WriteByte('{')
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// enumerated are the strings that take few values: by the name of their field,
// the type in the analysis that lists them, and whether they may be empty.
var enumerated = map[string]struct {
	of    string
	empty bool
}{
	"Grade": {"Grade", false}, "Role": {"Role", false}, "State": {"LengthState", false}, "Part": {"Part", true},
	"Contraction": {"Contraction", true}, "Manner": {"Manner", true}, "HeldBy": {"HeldBy", false}, "Side": {"side", true},
}

// schemer makes a schema from types and their comments.
type schemer struct {
	docs   map[string]string   // of types and of "Type.Field"
	values map[string][]string // of string constants, by type
	defs   members
	done   map[string]bool
}

// reportSchema gives the schema of ReportDocument.
func reportSchema(t *testing.T) string {
	s := &schemer{docs: map[string]string{}, values: map[string][]string{}, done: map[string]bool{}}
	s.read(t, ".")
	s.read(t, filepath.Join("..", "analysis"))
	s.values["side"] = []string{"right", "left"}
	s.object(reflect.TypeFor[ReportDocument]())
	var top members
	top.add("$schema", "https://json-schema.org/draft/2020-12/schema")
	top.add("$id", "urn:"+strings.ReplaceAll(ReportFormat, " ", ":"))
	top.add("title", ReportFormat)
	top.add("description", "Everything that was computed about a study. Lengths are in millimetres, angles in degrees, times in milliseconds from the recording's time zero. "+
		"Place is 0 at a muscle's shortest and 1 at its longest over the ranges of its joints. Axes are forward, up, right.")
	top.add("$ref", "#/$defs/ReportDocument")
	top.add("$defs", s.defs)
	text, err := json.MarshalIndent(top, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text) + "\n"
}

// read collects comments and constants of a folder.
func (s *schemer) read(t *testing.T, dir string) {
	names, _ := filepath.Glob(filepath.Join(dir, "*.go"))
	files := token.NewFileSet()
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(files, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok {
				for _, spec := range g.Specs {
					s.spec(g, spec)
				}
			}
		}
	}
}

func (s *schemer) spec(g *ast.GenDecl, spec ast.Spec) {
	switch spec := spec.(type) {
	case *ast.TypeSpec:
		s.docs[spec.Name.Name] = line(g.Doc)
		if st, ok := spec.Type.(*ast.StructType); ok {
			for _, f := range st.Fields.List {
				for _, n := range f.Names {
					s.docs[spec.Name.Name+"."+n.Name] = strings.TrimSpace(line(f.Doc) + " " + line(f.Comment))
				}
			}
		}
	case *ast.ValueSpec:
		if of, ok := spec.Type.(*ast.Ident); ok && g.Tok == token.CONST && len(spec.Values) == 1 {
			if v, ok := spec.Values[0].(*ast.BasicLit); ok && v.Kind == token.STRING {
				s.values[of.Name] = append(s.values[of.Name], strings.Trim(v.Value, `"`))
			}
		}
	}
}

// line is a comment in one line.
func line(c *ast.CommentGroup) string { return strings.Join(strings.Fields(c.Text()), " ") }

// object defines a type once and gives the reference to it.
func (s *schemer) object(of reflect.Type) members {
	var ref members
	name := of.Name()
	ref.add("$ref", "#/$defs/"+name)
	if s.done[name] {
		return ref
	}
	s.done[name] = true
	at := len(s.defs)
	s.defs.add(name, nil)
	properties, required := s.fields(of)
	var o members
	o.add("description", upperFirst(strings.TrimPrefix(s.docs[name], name+" is ")))
	o.add("type", "object")
	o.add("required", required)
	o.add("unevaluatedProperties", false)
	o.add("properties", properties)
	s.defs[at].value = o
	return ref
}

// fields lists the properties of a type, those of embedded types among them.
func (s *schemer) fields(of reflect.Type) (properties members, required []string) {
	for i := range of.NumField() {
		f := of.Field(i)
		if f.Anonymous {
			p, r := s.fields(f.Type)
			properties, required = append(properties, p...), append(required, r...)
			continue
		}
		key := f.Tag.Get("json")
		schema := s.value(f.Type)
		switch {
		case key == "format":
			schema = members{}
			schema.add("const", ReportFormat)
		case f.Type.Kind() == reflect.String && f.Name == "Kind" && of.Name() == "SaidRecord":
			schema.add("enum", s.values["Kind"])
		case f.Type.Kind() == reflect.String && enumerated[f.Name].of != "" && of.Name() != "SourceRecord":
			e := enumerated[f.Name]
			list := slices.Clone(s.values[e.of])
			if e.empty {
				list = append(list, "")
			}
			schema.add("enum", list)
		case key == "near_best_hi":
			schema = orNull(schema)
		}
		if doc := s.docs[of.Name()+"."+f.Name]; doc != "" {
			described := members{}
			described.add("description", doc)
			schema = append(described, schema...)
		}
		properties.add(key, schema)
		required = append(required, key)
	}
	return properties, required
}

// value gives the schema of one type.
func (s *schemer) value(of reflect.Type) members {
	var m members
	switch {
	case of.Kind() == reflect.Pointer:
		return orNull(s.value(of.Elem()))
	case of.Kind() == reflect.Struct:
		return s.object(of)
	case of.Kind() == reflect.Slice || of.Kind() == reflect.Array:
		m.add("type", "array")
		m.add("items", s.value(of.Elem()))
		if of.Kind() == reflect.Array {
			m.add("minItems", of.Len())
			m.add("maxItems", of.Len())
		}
	case of.Kind() == reflect.String:
		m.add("type", "string")
	case of.Kind() == reflect.Bool:
		m.add("type", "boolean")
	case of.Kind() == reflect.Float64:
		m.add("type", "number")
	case reflect.Zero(of).CanInt():
		m.add("type", "integer")
	default:
		panic("no schema for " + of.String())
	}
	return m
}

func orNull(schema members) members {
	var null, m members
	null.add("type", "null")
	m.add("anyOf", []members{schema, null})
	return m
}
