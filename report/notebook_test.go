package report

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

func ptr[T any](v T) *T { return &v }

// day is a moment of an invented series.
func day(d int) time.Time { return time.Date(2026, 3, 1+d, 12, 0, 0, 0, time.UTC) }

// brew is one batch of the series: 12 L at 1.048, at 1.010 on day 10. Its id is
// its name.
func brew(n *trials.Notebook, name string) {
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: name, Name: name, CreatedAt: day(0)}, Kind: trials.KindBatch, StartedAt: day(0), VolumeL: 12, OG: ptr(1.048), IBU: ptr(20.0), Style: "wheat saison"})
	n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{ID: name + ".r1", Name: name + ".r1"}, BatchID: name, At: day(10), SG: ptr(1.010), VolumeL: ptr(12.0)})
}

// pour puts k times the tea of case A of the reference page on extraction into a
// batch: 28 g at 10 % water, two passes of 400 mL at equilibrium, 749.6 mL.
func pour(n *trials.Notebook, batch string, k float64) {
	pass := trials.Pass{VolumeL: 0.4 * k, StartC: 96, EndC: ptr(80.0), Minutes: 30, Agitation: "stirred", Separation: trials.SeparationDrained}
	second := pass
	second.Separation = trials.SeparationSqueezed
	x := trials.Extract{Record: trials.Record{ID: "tea-" + batch, Name: "tea-" + batch}, MadeAt: day(11), MaterialKey: "hibiscus", Method: trials.MethodTea, Form: "crushed", MassG: 28 * k, MoisturePct: ptr(10.0), Passes: []trials.Pass{pass, second}}
	n.Extracts = append(n.Extracts, x)
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: batch + ".a1", Name: batch + ".a1"}, BatchID: batch, At: day(11), Stage: trials.StageSecondary, ExtractID: &x.ID})
}

// glass is what three tasters said of one beer: intensities of tartness, votes,
// likings; NaN is not scored.
type glass struct {
	batch   string
	tart    [3]float64
	vote    [3]int
	liking  [3]float64
	skipped int // taster who did not score it, from 1; 0 for none
}

// serve enters a tasting with the scores of tasters A, B and C.
func serve(n *trials.Notebook, g trials.Tasting, glasses ...glass) {
	g.ID, g.Attributes = g.Name, []string{"tartness"}
	n.Tastings = append(n.Tastings, g)
	for i, v := range glasses {
		serving := trials.Serving{ID: g.Name + "/" + v.batch, TastingID: g.ID, BatchID: v.batch, Code: fmt.Sprint(417 + 111*i)}
		n.Servings = append(n.Servings, serving)
		for k := range 3 {
			if v.skipped == k+1 {
				continue
			}
			base := trials.Score{TastingID: g.ID, ServingID: serving.ID, TasterID: fmt.Sprint("t", k), At: g.At}
			tart, overall := base, base
			tart.ID, tart.Attribute, tart.Intensity, tart.Vote = fmt.Sprint(serving.ID, k, "t"), "tartness", ptr(v.tart[k]), ptr(v.vote[k])
			overall.ID, overall.Attribute, overall.Liking = fmt.Sprint(serving.ID, k, "l"), trials.Overall, ptr(v.liking[k])
			n.Scores = append(n.Scores, tart, overall)
		}
	}
}

// series is an invented series with a closed tasting:
//
//	tartness   A  B  C   mean      votes      liking
//	plain      1  2  3   2         - - -      5 5 5
//	single     4  5  3   4         - = =      6 7 5
//	double     7  6  8   7         = + +      5 6 4
func series() *trials.Notebook {
	n := &trials.Notebook{Now: day(60)}
	for k, name := range []string{"Taster A", "Taster B", "Taster C"} {
		n.Tasters = append(n.Tasters, trials.Taster{Record: trials.Record{ID: fmt.Sprint("t", k), Name: name}})
	}
	brew(n, "plain")
	brew(n, "single")
	brew(n, "double")
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "plain.a1", Name: "plain.a1"}, BatchID: "plain", At: day(11), Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(0.75)})
	pour(n, "single", 1)
	pour(n, "double", 2)
	serve(n, trials.Tasting{Record: trials.Record{Name: "club"}, At: day(30), Blind: true, ClosedAt: ptr(day(31))},
		glass{batch: "double", tart: [3]float64{7, 6, 8}, vote: [3]int{0, 1, 1}, liking: [3]float64{5, 6, 4}},
		glass{batch: "plain", tart: [3]float64{1, 2, 3}, vote: [3]int{-1, -1, -1}, liking: [3]float64{5, 5, 5}},
		glass{batch: "single", tart: [3]float64{4, 5, 3}, vote: [3]int{-1, 0, 0}, liking: [3]float64{6, 7, 5}})
	n.Claims = []trials.Claim{{Record: trials.Record{ID: "q", Name: "hibiscus.q1"}, MaterialKey: "hibiscus", AsWritten: "2 to 4 g/L", Basis: trials.BasisDry, LowGPerL: ptr(2.0), HighGPerL: ptr(4.0), Source: "a friend"}}
	return n
}

// setOf gathers the trials of hibiscus.
func setOf(t testing.TB, n *trials.Notebook) ledger.TrialSet {
	t.Helper()
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	m, err := materials.Find("hibiscus")
	if err != nil {
		t.Fatal(err)
	}
	s, err := ledger.Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// near fails unless got is within tolerance of want.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6f, want %.6f within %g", what, got, want, tolerance)
	}
}

// jsonOf is what a JSON reader sees of a view.
func jsonOf(t testing.TB, v View) string {
	t.Helper()
	return drawn(t, func(b *strings.Builder) error { return WriteJSON(b, v.Payload) })
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

// checkView draws a view in every format and fails on whatever no reader should
// meet.
func checkView(t testing.TB, name string, v View) {
	t.Helper()
	checkPayload(t, name, reflect.ValueOf(v.Payload))
	jsonOf(t, v)
	for _, text := range []string{asText(t, v.Document, 80), asMarkdown(t, v.Document), asCSV(t, v.Document)} {
		checkClean(t, name, text)
		for _, bad := range []string{"NaN", "Inf", "<nil>", "%!", "[]", "+Inf", "e+0", "unknown taster"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s shows %q:\n%s", name, bad, text)
			}
		}
	}
}

// readJSON reads what a view prints as JSON.
func readJSON(t testing.TB, v View, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(jsonOf(t, v)), into); err != nil {
		t.Fatal(err)
	}
}
