package main

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// jsonNumberCmd compares a number in the JSON of the last standard output:
//
//	jsonnum PATH OP VALUE [TOL]
//
// PATH is keys and indexes joined by dots, such as rows.0.volume_l; a last
// step "length" is the length of a list. OP is ==, !=, <, <=, > or >=; TOL widens
// == on both sides.
func jsonNumberCmd(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 3 || len(args) > 4 {
		ts.Fatalf("usage: jsonnum PATH OP VALUE [TOL]")
	}
	got, ok := lookUp(ts, args[0]).(float64)
	if !ok {
		ts.Fatalf("%s is %v, not a number", args[0], lookUp(ts, args[0]))
	}
	want, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	tolerance := 0.0
	if len(args) == 4 {
		tolerance, err = strconv.ParseFloat(args[3], 64)
		ts.Check(err)
	}
	holds := map[string]bool{
		"==": math.Abs(got-want) <= tolerance, "!=": got != want,
		"<": got < want, "<=": got <= want, ">": got > want, ">=": got >= want,
	}
	ok, known := holds[args[1]]
	if !known {
		ts.Fatalf("unknown comparison %q", args[1])
	}
	if ok == neg {
		ts.Fatalf("%s is %.10g, want (negated: %v) %s", args[0], got, neg, strings.Join(args[1:], " "))
	}
}

// jsonTextCmd matches a value in the JSON of the last standard output, as JSON
// text, against a pattern:
//
//	jsontext PATH PATTERN
func jsonTextCmd(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: jsontext PATH PATTERN")
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	ts.Check(enc.Encode(lookUp(ts, args[0])))
	text := strings.TrimSpace(b.String())
	re, err := regexp.Compile(args[1])
	ts.Check(err)
	if re.MatchString(text) == neg {
		ts.Fatalf("%s is %s, want (negated: %v) %s", args[0], text, neg, args[1])
	}
}

// jsonKeysCmd demands the exact set of keys of an object in the JSON of the
// last standard output, or at least those after "some", and that all of them are
// snake_case:
//
//	jsonkeys PATH [some] KEY...
func jsonKeysCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: jsonkeys PATH [some] KEY...")
	}
	object, ok := lookUp(ts, args[0]).(map[string]any)
	if !ok {
		ts.Fatalf("%s is not an object", args[0])
	}
	var got []string
	for k := range object {
		if !snakeCase.MatchString(k) {
			ts.Fatalf("key %q is not snake_case", k)
		}
		got = append(got, k)
	}
	want := slices.Clone(args[1:])
	if want[0] == "some" {
		want = want[1:]
		got = slices.DeleteFunc(got, func(k string) bool { return !slices.Contains(want, k) })
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		ts.Fatalf("keys of %s are\n%s\nwant\n%s", args[0], strings.Join(got, " "), strings.Join(want, " "))
	}
}

var snakeCase = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// lookUp finds a value in the JSON of the last standard output, which must be
// one JSON value and nothing else.
func lookUp(ts *testscript.TestScript, path string) any {
	return jsonAt(ts, ts.ReadFile("stdout"), path)
}

// jsonAt finds a value in a JSON text.
func jsonAt(ts *testscript.TestScript, text, path string) any {
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		ts.Fatalf("standard output is not JSON: %v", err)
	}
	if path == "." {
		return v
	}
	for step := range strings.SplitSeq(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[step]
			if !ok {
				ts.Fatalf("%s: there is no key %q", path, step)
			}
			v = next
		case []any:
			if step == "length" {
				v = float64(len(x))
				continue
			}
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(x) {
				ts.Fatalf("%s: there is no element %q in a list of %d", path, step, len(x))
			}
			v = x[i]
		default:
			ts.Fatalf("%s: %q leads into %v", path, step, v)
		}
	}
	return v
}
