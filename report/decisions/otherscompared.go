package decisions

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// othersCompared is what a comparison shows of other brewers.
type othersCompared struct {
	Trials []otherTrialRow            // theirs, by brewer and dose
	Answer *doseresponse.AnswerOthers // what they say of the right dose; nil where nothing can be said
}

// otherTrialRow is a trial of another brewer as --json prints it.
type otherTrialRow struct {
	Brewer    string         `json:"brewer"`
	Trial     string         `json:"trial"`                  // name of the trial
	Effective *figure.Stated `json:"effective_dose_g_per_l"` // null where it is not known
	Method    string         `json:"method"`                 // as the own trials say it
	Tasters   int            `json:"tasters"`                // who scored the attribute
	Votes     votes          `json:"votes"`                  // on the attribute
}

// compareOthers lists the trials of other brewers, apart from one's own, with what they
// say of the right dose.
func compareOthers(n *trials.Notebook, s ledger.TrialSet, attribute string) (othersCompared, []document.Section,
	error) {
	out := othersCompared{Trials: []otherTrialRow{}}
	sets, err := s.OfOthers()
	if err != nil || len(sets) == 0 {
		return out, nil, err
	}
	t := document.Table{Columns: []document.Column{{Title: "brewer", Wrap: true}, {Title: "trial", Wrap: true},
		{Title: "effective\ng/L", Right: true}, {Title: "how", Wrap: true}, {Title: "n", Right: true},
		{Title: "little", Right: true}, {Title: "right", Right: true}, {Title: "much", Right: true}}}
	for _, o := range sets {
		for _, r := range otherRows(o, attribute) {
			out.Trials = append(out.Trials, r)
			effective := "-"
			if r.Effective != nil {
				effective = document.SignificantRange(*r.Effective)
			}
			t.Rows = append(t.Rows, []string{r.Brewer, r.Trial, effective, r.Method, fmt.Sprint(r.Tasters),
				fmt.Sprint(r.Votes.TooLittle), fmt.Sprint(r.Votes.Right), fmt.Sprint(r.Votes.TooMuch)})
		}
	}
	heading := "What other brewers made"
	if attribute != "" {
		heading += ", with their votes on " + attribute
	}
	sections := []document.Section{{Heading: heading, Table: &t,
		Notes: []string{"no trials of your panel: they are in none of the means and differences; n: number of tasters"}}}
	materials, err := n.Catalogue()
	if err != nil {
		return out, sections, err
	}
	// as a suggestion has it: two figures for one dose would puzzle
	known, _ := remembered(n, materials, s)
	p, err := Fitted(n, s, SuggestRequest{}, attribute, known)
	if err != nil {
		return out, sections, nil // neither claims nor scores: the table is all there is
	}
	a := p.Answer()
	out.Answer = a.Others
	return out, append(sections, *othersSection(a)), nil
}

// otherRows are the dosed trials of one other brewer.
func otherRows(o ledger.OtherTrials, attribute string) []otherTrialRow {
	var rows []otherTrialRow
	for i, scores := range studies.ByTrial(o.TrialSet) {
		t := o.Trials[i]
		if t.Control {
			continue
		}
		r := otherTrialRow{Brewer: o.Brewer, Trial: t.Name(), Effective: wording.EstimateView(t.Effective),
			Method: methodOfTrial(t)}
		people := map[string]bool{}
		for _, sc := range scores {
			if sc.Attribute != attribute {
				continue
			}
			people[sc.TasterID] = true
			if sc.Vote != nil {
				r.Votes.count(*sc.Vote)
			}
		}
		r.Tasters = len(people)
		rows = append(rows, r)
	}
	return rows
}
