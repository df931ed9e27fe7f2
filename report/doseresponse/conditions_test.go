package doseresponse

import (
	"fmt"
	"slices"
	"testing"

	"hedgerow/report/evidence"
)

// Two known values among the dosed trials with scores are a difference; what is
// not known, what nobody scored and what the control had are none.
func TestDiffering(t *testing.T) {
	days := func(d float64) *float64 { return &d }
	set := func(change func(a, b, control *evidence.Trial)) []Differing {
		a, b, c := trial("1", 2, -1, -1), trial("2", 4, 0, 0), trial("0", 0, -1)
		change(&a, &b, &c)
		return differing(eightfold(a, b, c))
	}
	tests := []struct {
		name   string
		change func(a, b, control *evidence.Trial)
		want   string
	}{
		{"the dose alone", func(_, _, _ *evidence.Trial) {}, "[]"},
		{"lots", func(a, b, _ *evidence.Trial) { a.Lot, b.Lot = "wild", "garden" }, "[{lot [garden wild]}]"},
		{"one lot unknown", func(a, _, _ *evidence.Trial) { a.Lot = "wild" }, "[]"},
		{"sugar", func(a, b, _ *evidence.Trial) {
			a.Conditions, b.Conditions = map[string]string{"sugar": "none"}, map[string]string{"sugar": "10 g/L"}
		}, "[{sugar [10 g/L none]}]"},
		{"sugar of one is not known", func(a, _,
			_ *evidence.Trial) {
			a.Conditions = map[string]string{"sugar": "none"}
		}, "[]"},
		{"sugar in the control", func(a, b, c *evidence.Trial) {
			a.Conditions, b.Conditions = map[string]string{"sugar": "none"}, map[string]string{"sugar": "none"}
			c.Conditions = map[string]string{"sugar": "20 g/L"}
		}, "[]"},
		{"a beer without scores", func(a, b, _ *evidence.Trial) { a.Lot, b.Lot, b.Scores = "wild", "garden", nil }, "[]"},
		{"ways", func(_, b, _ *evidence.Trial) { b.Method = contact }, "[{way [contact tea]}]"},
		{"times of two brews", func(a, b, _ *evidence.Trial) {
			a.Method, a.ContactDays, b.Method, b.ContactDays = contact, days(3), contact, days(7)
		}, "[{time of contact [3.0 days 7.0 days]}]"},
		{"times of one brew", func(a, b, _ *evidence.Trial) {
			a.Method, a.ContactDays, b.Method, b.ContactDays = contact, days(3), contact, days(7)
			a.Group, b.Group = "B", "B"
		}, "[]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := fmt.Sprint(set(tt.change)); got != tt.want {
				t.Errorf("%s, want %s", got, tt.want)
			}
		})
	}
}

// The codes are what a program looks at; the ways alone are no confounding.
func TestConfoundedIsWarnedOf(t *testing.T) {
	a, b := trial("1", 2, -1, -1), trial("2", 4, 0, 0)
	a.Lot, b.Lot, b.Method = "wild", "garden", contact
	answer := mustFit(t, eightfold(a, b), Options{Approximate: true}).Answer()
	want := "not only the dose differs: also lot (garden, wild) and way (contact, tea)"
	if !slices.Contains(texts(answer.Warnings), want) || !slices.Contains(answer.WarningCodes, "confounded") {
		t.Errorf("warnings %q, codes %q", texts(answer.Warnings), answer.WarningCodes)
	}
	a.Lot = b.Lot
	codes := mustFit(t, eightfold(a, b), Options{Approximate: true}).Answer().WarningCodes
	if slices.Contains(codes, "confounded") {
		t.Errorf("codes %q for two ways alone", codes)
	}
}
