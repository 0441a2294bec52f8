package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// checkJSON asserts the shape of a JSON file: json FILE PATH:KIND[=VALUE]...
//
// PATH is names and numbers with dots; * stands for every element of a list,
// which must have some; the empty path is the whole. KIND is string, number,
// bool, list, object, empty (a list of none) or null. A VALUE is compared as it
// would be written in JSON, a string without its quotation marks. The file must
// hold one value and nothing else, and null nowhere that was not asked for:
// scripts in other languages trip over a list that is null. ?NAME says that
// fields of this name may be null: a figure that does not exist.
func checkJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: json FILE PATH:KIND[=VALUE]...")
	}
	d := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	d.UseNumber()
	var v any
	ts.Check(d.Decode(&v))
	if err := d.Decode(new(any)); !errors.Is(err, io.EOF) {
		ts.Fatalf("there is more after the JSON value")
	}
	allowed := map[string]bool{}
	for _, want := range args[1:] {
		if name, ok := strings.CutPrefix(want, "?"); ok {
			allowed[name] = true
			continue
		}
		path, kind, ok := strings.Cut(want, ":")
		if !ok {
			ts.Fatalf("%q is not PATH:KIND", want)
		}
		if kind == "null" {
			allowed[path] = true
		}
		kind, value, valued := strings.Cut(kind, "=")
		ts.Check(shape(v, strings.FieldsFunc(path, func(r rune) bool { return r == '.' }), kind, value, valued, path))
	}
	if at := firstNull(v, "", allowed); at != "" {
		ts.Fatalf("%s is null", at)
	}
}

// shape checks one path, element by element where it says *.
func shape(v any, path []string, kind, value string, valued bool, whole string) error {
	if len(path) == 0 {
		if got := jsonKind(v); got != kind && !(kind == "list" && got == "empty") {
			return fmt.Errorf("%s is %s, expected %s", whole, got, kind)
		}
		if valued && fmt.Sprint(v) != value {
			return fmt.Errorf("%s is %v, expected %s", whole, v, value)
		}
		return nil
	}
	switch x := v.(type) {
	case map[string]any:
		inner, ok := x[path[0]]
		if !ok {
			return fmt.Errorf("%s: there is no %q", whole, path[0])
		}
		return shape(inner, path[1:], kind, value, valued, whole)
	case []any:
		if path[0] != "*" {
			i, err := strconv.Atoi(path[0])
			if err != nil || i < 0 || i >= len(x) {
				return fmt.Errorf("%s: a list of %d has no %q", whole, len(x), path[0])
			}
			return shape(x[i], path[1:], kind, value, valued, whole)
		}
		if len(x) == 0 {
			return fmt.Errorf("%s: the list is empty", whole)
		}
		for _, inner := range x {
			if err := shape(inner, path[1:], kind, value, valued, whole); err != nil {
				return err
			}
		}
		return nil
	}
	return fmt.Errorf("%s: %q is looked for in %s", whole, path[0], jsonKind(v))
}

func jsonKind(v any) string {
	switch x := v.(type) {
	case nil:
		return "null"
	case bool:
		return "bool"
	case string:
		return "string"
	case json.Number:
		return "number"
	case []any:
		if len(x) == 0 {
			return "empty"
		}
		return "list"
	}
	return "object"
}

// firstNull gives the path of a null, or "", but for paths and names allowed.
func firstNull(v any, at string, allowed map[string]bool) string {
	join := func(name string) string { return strings.TrimPrefix(at+"."+name, ".") }
	switch x := v.(type) {
	case map[string]any:
		for _, name := range sortedKeys(x) {
			if x[name] == nil && !allowed[name] && !allowed[join(name)] {
				return join(name)
			}
			if found := firstNull(x[name], join(name), allowed); found != "" {
				return found
			}
		}
	case []any:
		for i, inner := range x {
			if inner == nil {
				return join(strconv.Itoa(i))
			}
			if found := firstNull(inner, join(strconv.Itoa(i)), allowed); found != "" {
				return found
			}
		}
	}
	return ""
}
