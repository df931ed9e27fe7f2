package panel

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// unreadable names the first exported number in a result that is not finite.
func unreadable(path string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Sprint(path, " = ", x)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return unreadable(path, v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			if bad := unreadable(fmt.Sprintf("%s[%d]", path, i), v.Index(i)); bad != "" {
				return bad
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				if bad := unreadable(path+"."+field.Name, v.Field(i)); bad != "" {
					return bad
				}
			}
		}
	}
	return ""
}

// Whatever the scores, what comes out can be shown: no NaN, no infinity.
func TestResultsReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scores := drawScores(t)
		scale := math.Pow(10, float64(rapid.IntRange(-9, 9).Draw(t, "scale")))
		var points []AssayPoint
		for i := range scores {
			scores[i].Value *= scale
			dose := float64(scores[i].Trial[1]-'0') * scale
			points = append(points, AssayPoint{Sample: scores[i].Taster, Dose: dose, Y: scores[i].Value})
		}
		show := func(name string, result any, err error) {
			if err != nil {
				return
			}
			if bad := unreadable(name, reflect.ValueOf(result)); bad != "" {
				t.Fatalf("%s from %v", bad, scores)
			}
		}
		adjusted, err := Adjusted(scores, 0.95)
		show("Adjusted", adjusted, err)
		table, err := TasterTable(scores, 0.95)
		show("TasterTable", table, err)
		ranks, err := Friedman(scores)
		show("Friedman", ranks, err)
		if mixed, err := MixedModel(scores, 0.95); err == nil {
			show("MixedModel", mixed, nil)
			pairs, err := mixed.Tukey()
			show("Tukey", pairs, err)
			control, _, err := mixed.Dunnett(mixed.Names[0])
			show("Dunnett", control, err)
		}
		potency, err := RelativePotency(points, scores[0].Taster, 0.95)
		show("RelativePotency", potency, err)
	})
}
