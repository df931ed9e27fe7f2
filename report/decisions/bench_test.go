package decisions

import (
	"fmt"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// club is a series of 50 trials in ten evenings with 8 tasters, who score
// tartness with a vote, and liking: 800 answers.
func club() *trials.Notebook {
	n := &trials.Notebook{Now: invented.Day(60)}
	for k := range 8 {
		n.Tasters = append(n.Tasters, trials.Taster{Record: trials.Record{ID: fmt.Sprint("t", k),
			Name: fmt.Sprint("Taster ", string(rune('A'+k)))}})
	}
	for i := range 50 {
		name := fmt.Sprintf("trial-%02d", i)
		invented.Brew(n, name)
		if i > 0 {
			invented.Pour(n, name, float64(i)/12)
		}
	}
	for evening := range 10 {
		g := trials.Tasting{Record: trials.Record{ID: fmt.Sprint("g", evening), Name: fmt.Sprint("evening-", evening)},
			At: invented.Day(30 + evening), Attributes: []string{"tartness"}, Blind: true,
			ClosedAt: invented.Ptr(invented.Day(50))}
		n.Tastings = append(n.Tastings, g)
		for i := range 5 {
			batch := 10*i + evening
			serving := trials.Serving{ID: fmt.Sprintf("%s/%d", g.ID, batch), TastingID: g.ID,
				BatchID: fmt.Sprintf("trial-%02d", batch), Code: fmt.Sprint(417 + 111*i)}
			n.Servings = append(n.Servings, serving)
			for k := range 8 {
				n.Scores = append(n.Scores, answersOf(serving, k, batch)...)
			}
		}
	}
	return n
}

// answersOf are what one taster says of a beer: more with the dose, tasters
// apart by up to a point.
func answersOf(s trials.Serving, taster, batch int) []trials.Score {
	base := trials.Score{TastingID: s.TastingID, ServingID: s.ID, TasterID: fmt.Sprint("t", taster)}
	tart := float64(batch)/6 + float64(taster%3)/2
	vote := 0
	if tart < 3 {
		vote = -1
	}
	if tart > 6 {
		vote = 1
	}
	a, b := base, base
	a.ID, a.Attribute, a.Intensity, a.Vote = fmt.Sprint(s.ID, taster, "t"), "tartness", invented.Ptr(min(tart, 10)), &vote
	b.ID, b.Attribute, b.Liking = fmt.Sprint(s.ID, taster, "l"), trials.Overall, invented.Ptr(float64(7-2*vote*vote))
	return []trials.Score{a, b}
}

// The comparison of 50 trials with 8 tasters, its trial set given: fits, pairs,
// tasters and tables.
func BenchmarkComparisonOf50Trials(b *testing.B) {
	n := club()
	s := invented.SetOf(b, n)
	if len(s.Trials) != 50 || len(s.Scores) != 800 {
		b.Fatal(len(s.Trials), len(s.Scores))
	}
	b.ReportAllocs()
	for b.Loop() {
		Comparison(n, s, "", quantity.Metric)
	}
}

// The suggestion from the same set.
func BenchmarkSuggestionOf50Trials(b *testing.B) {
	n := club()
	s := invented.SetOf(b, n)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Suggest(n, s, SuggestRequest{VolumeL: 12}); err != nil {
			b.Fatal(err)
		}
	}
}

// Drawing the comparison for a terminal.
func BenchmarkDrawComparison(b *testing.B) {
	n := club()
	d := Comparison(n, invented.SetOf(b, n), "", quantity.Metric).Document
	b.ReportAllocs()
	for b.Loop() {
		var out strings.Builder
		if err := document.WriteText(&out, d, document.Style{Width: 80}); err != nil {
			b.Fatal(err)
		}
	}
}
