package evenings

import (
	"cmp"
	"fmt"
	"slices"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// cup is a cup to be labelled as --json prints it.
type cup struct {
	Code  string `json:"code"`  // to be written under the cup
	Batch string `json:"batch"` // the beer that goes in
}

// Alone tells how one person sets up, shuffles and scores a tasting without seeing what
// is in a cup. The codes are no secret: what is not known is where they stand.
func Alone(n *trials.Notebook, v trials.Evening, remarks []string) document.View {
	t := v.Tasting
	cups := []cup{}
	for _, s := range v.Servings {
		b, _ := n.BatchByID(s.BatchID)
		cups = append(cups, cup{s.Code, b.Name})
	}
	slices.SortFunc(cups, func(a, b cup) int {
		return cmp.Or(cmp.Compare(a.Batch, b.Batch), cmp.Compare(a.Code, b.Code))
	})
	table := document.Table{Columns: []document.Column{{Title: "under the cup"}, {Title: "beer in it", Wrap: true}}}
	for _, c := range cups {
		table.Rows = append(table.Rows, []string{c.Code, c.Batch})
	}
	taster := ".."
	if len(v.Tasters) > 0 {
		taster = fmt.Sprintf("%q", v.Tasters[0].Name)
	}
	steps := []string{
		fmt.Sprintf("Take %d cups that look alike from above, and write a code under each.", len(cups)),
		"Pour: the same amount, at the same temperature, into each cup the beer of its code.",
		"Turn the tray and move the cups with closed eyes until you have lost every one of them: twenty moves and more. " +
			"If somebody is near, let them do it while you look away.",
		fmt.Sprintf("Set them in a row. The cup on the left stands at place 1, the last at %d.", len(cups)),
		"Taste from the left and score each cup by its place, 1, 2, 3 ..:\n" +
			fmt.Sprintf("hedgerow tasting score %s --taster %s", t.Name, taster),
		"When all is scored, turn the cups over and say which code stood where:\n" +
			fmt.Sprintf("hedgerow tasting places %s 1=.. 2=..", t.Name),
	}
	walk := document.Table{Columns: []document.Column{{Title: "step", Right: true}, {Title: "what to do", Wrap: true}}}
	for i, s := range steps {
		walk.Rows = append(walk.Rows, []string{fmt.Sprint(i + 1), s})
	}
	return document.View{
		Document: document.Document{Title: "Tasting " + t.Name + ", alone and blind by shuffling",
			Sections: []document.Section{{Table: &table}, {Table: &walk}}},
		Payload: struct {
			Tasting  string   `json:"tasting"`
			Cups     []cup    `json:"cups"`
			Steps    []string `json:"steps"`
			Warnings []string `json:"warnings"`
		}{t.Name, cups, steps, append([]string{}, remarks...)},
	}
}
