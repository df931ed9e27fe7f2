package steeps

import (
	"math"
	"testing"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// The course of a plant and the account work from one temperature: at any day and with
// any temperatures read, the share of aroma that has come out is the same in both, to
// the little by which the strength of the beer is taken apart (5 % vol in the account).
func TestCourseAndAccountAgree(t *testing.T) {
	start := time.Date(2026, 3, 11, 12, 0, 0, 0, time.UTC)
	a := trials.Addition{Record: trials.Record{ID: "a", Name: "b.a1"}, BatchID: "b", At: start,
		Stage:       trials.StageSecondary,
		MaterialKey: "coriander-seed", Method: trials.MethodContact, Form: "whole", MassG: ptr(20.0), MoisturePct: ptr(10.0)}
	read := func(day int, tempC float64) trials.Reading {
		return trials.Reading{BatchID: "b", At: start.AddDate(0, 0, day), BeerTempC: &tempC}
	}
	for name, readings := range map[string][]trials.Reading{"none": nil, "cold": {read(-1, 4)},
		"warmed": {read(2, 18), read(-1, 4)}} {
		for _, days := range []int{1, 3, 7} {
			n := &trials.Notebook{Now: start.AddDate(0, 0, days), Additions: []trials.Addition{a}, Readings: readings}
			materials, err := n.Catalogue()
			if err != nil {
				t.Fatal(err)
			}
			y, err := putIn(n, materials, a)
			if err != nil {
				t.Fatal(err)
			}
			c, err := CourseOf(n, materials, a, "aroma", 5)
			if err != nil {
				t.Fatal(err)
			}
			// 0.75 of aroma is what beer can carry (the page on plants in the batch, section 5)
			if got := y.Grams[extraction.Aroma].Value / (20 * 0.75); math.Abs(got-c.Pull.Given) > 0.005 {
				t.Errorf("%s, day %d: %.4f in the account, %.4f in the course", name, days, got, c.Pull.Given)
			}
		}
	}
}

// A jar is as cold as the beer that it was filled from: with the temperature read in
// the parent before the split a plant in the jar gives what it gives with the same
// reading in the jar itself. What was read in the parent after the split is of other
// beer, and a reading of the jar ends what the parent was read at.
func TestJarKnowsTheTemperatureOfItsParent(t *testing.T) {
	start := time.Date(2026, 3, 11, 12, 0, 0, 0, time.UTC)
	parent := trials.Batch{Record: trials.Record{ID: "p", Name: "moor"}, StartedAt: start.AddDate(0, 0, -10)}
	jar := trials.Batch{Record: trials.Record{ID: "b", Name: "moor-1"}, ParentID: ptr("p"), StartedAt: start}
	a := trials.Addition{Record: trials.Record{ID: "a", Name: "moor-1.a1"}, BatchID: "b", At: start,
		Stage: trials.StageSecondary, MaterialKey: "coriander-seed", Method: trials.MethodContact, Form: "whole",
		MassG: ptr(20.0), MoisturePct: ptr(10.0)}
	read := func(batch string, day int, tempC float64) trials.Reading {
		return trials.Reading{BatchID: batch, At: start.AddDate(0, 0, day), BeerTempC: &tempC}
	}
	aroma := func(readings ...trials.Reading) float64 {
		n := &trials.Notebook{Now: start.AddDate(0, 0, 3), Batches: []trials.Batch{parent, jar},
			Additions: []trials.Addition{a}, Readings: readings}
		materials, err := n.Catalogue()
		if err != nil {
			t.Fatal(err)
		}
		y, err := putIn(n, materials, a)
		if err != nil {
			t.Fatal(err)
		}
		return y.Grams[extraction.Aroma].Value
	}
	cold := aroma(read("b", 0, 4))
	near(t, "read in the parent", aroma(read("p", -2, 4)), cold, 1e-9)
	near(t, "read in the parent after the split", aroma(read("p", -2, 4), read("p", 1, 30)), cold, 1e-9)
	near(t, "read in both", aroma(read("p", -2, 25), read("b", 0, 4)), cold, 1e-9)
	if warm := aroma(); warm < 1.2*cold {
		t.Errorf("without a reading %.4g g, in the cold %.4g g: the reading counts for nothing", warm, cold)
	}
}
