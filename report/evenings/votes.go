package evenings

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/plot"
	"hedgerow/trials"
)

// votesSection counts the votes on each beer and taste, for a page that draws them; nil
// where nobody voted. On a terminal the table of scores has them.
func votesSection(t trials.Tasting, scores []scoreRow) *document.Section {
	counts := map[[2]string]*[3]int{}
	var beers []string
	for _, s := range scores {
		if s.Vote == nil {
			continue
		}
		key := [2]string{s.Batch, s.Attribute}
		if counts[key] == nil {
			counts[key] = &[3]int{}
		}
		counts[key][slices.Index(trials.VoteWords[:], *s.Vote)]++
		if !slices.Contains(beers, s.Batch) {
			beers = append(beers, s.Batch)
		}
	}
	if len(beers) == 0 {
		return nil
	}
	slices.Sort(beers)
	table := document.Table{Columns: []document.Column{{Title: "taste and beer", Wrap: true},
		{Title: "too little", Right: true, Ballot: plot.TooLittle},
		{Title: "just right", Right: true, Ballot: plot.JustRight}, {Title: "too much", Right: true, Ballot: plot.TooMuch}}}
	for _, a := range t.Attributes {
		for _, b := range beers {
			if c := counts[[2]string{b, a}]; c != nil {
				table.Rows = append(table.Rows, []string{strings.TrimSpace(a + ", " + b), fmt.Sprint(c[0]), fmt.Sprint(c[1]),
					fmt.Sprint(c[2])})
			}
		}
	}
	return &document.Section{Heading: "Votes", Side: "One mark is one vote.", Paper: true, Table: &table}
}
