// Package drawing draws views for tests, and fails on whatever no reader should
// meet in one.
package drawing

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"hedgerow/report/document"
)

// JsonOf is what a JSON reader sees of a view.
func JsonOf(t testing.TB, v document.View) string {
	t.Helper()
	return Drawn(t, func(b *strings.Builder) error { return document.WriteJSON(b, v.Payload) })
}

// checkPayload fails on a list or map that would be printed as null, and on a
// figure that is no ordinary number.
func checkPayload(t testing.TB, path string, v reflect.Value) {
	t.Helper()
	if v.IsValid() && v.Type().Implements(reflect.TypeFor[json.Marshaler]()) {
		return // writes itself, and is tested where it does
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			checkPayload(t, path, v.Elem())
		}
	case reflect.Slice, reflect.Map:
		if v.IsNil() {
			t.Errorf("%s is null where a list is due", path)
		}
		if v.Kind() == reflect.Map {
			for _, k := range v.MapKeys() {
				checkPayload(t, path+"."+k.String(), v.MapIndex(k))
			}
			return
		}
		for i := range v.Len() {
			checkPayload(t, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() && !f.Anonymous || strings.Contains(f.Tag.Get("json"), "omitempty") && v.Field(i).IsZero() {
				continue
			}
			checkPayload(t, path+"."+f.Name, v.Field(i))
		}
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %g", path, x)
		}
	}
}

// CheckView draws a view in every format and fails on whatever no reader should
// meet.
func CheckView(t testing.TB, name string, v document.View) {
	t.Helper()
	checkPayload(t, name, reflect.ValueOf(v.Payload))
	JsonOf(t, v)
	for _, text := range []string{AsText(t, v.Document, 80), AsMarkdown(t, v.Document), AsCSV(t, v.Document)} {
		CheckClean(t, name, text)
		for _, bad := range []string{"NaN", "Inf", "<nil>", "%!", "[]", "+Inf", "e+0", "unknown taster"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s shows %q:\n%s", name, bad, text)
			}
		}
	}
}

// ReadJSON reads what a view prints as JSON.
func ReadJSON(t testing.TB, v document.View, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(JsonOf(t, v)), into); err != nil {
		t.Fatal(err)
	}
}

// Drawn draws a document with one of the writers.
func Drawn(t testing.TB, write func(*strings.Builder) error) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// AsText draws for a terminal of that width.
func AsText(t testing.TB, d document.Document, width int) string {
	t.Helper()
	return Drawn(t, func(b *strings.Builder) error { return document.WriteText(b, d, document.Style{Width: width}) })
}

// CheckClean fails on any character that could steer a terminal.
func CheckClean(t testing.TB, what, text string) {
	t.Helper()
	for _, r := range text {
		switch {
		case r == '\n':
		case r < 0x20, r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 &&
			r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x2028, r == 0x2029:
			t.Errorf("%s has the character %U: %q", what, r, text)
			return
		}
	}
}

// AsMarkdown and asCSV draw a document.
func AsMarkdown(t testing.TB, d document.Document) string {
	t.Helper()
	return Drawn(t, func(b *strings.Builder) error { return document.WriteMarkdown(b, d) })
}

func AsCSV(t testing.TB, d document.Document) string {
	t.Helper()
	return Drawn(t, func(b *strings.Builder) error { return document.WriteCSV(b, d) })
}

// HoldsAll reports whether each phrase is in one of the lines.
func HoldsAll(lines []string, phrases ...string) bool {
	all := strings.Join(lines, "\n")
	for _, p := range phrases {
		if !strings.Contains(all, p) {
			return false
		}
	}
	return true
}
