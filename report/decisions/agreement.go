package decisions

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/report/wording"
	"hedgerow/trials/ledger"
)

// agreementRow tells whether the tasters put the trials in one order by an
// attribute, as --json prints it.
type agreementRow struct {
	Attribute   string   `json:"attribute"`
	Tasters     int      `json:"tasters"`            // who scored all of the trials
	Order       []string `json:"trials_low_to_high"` // by mean rank
	W           float64  `json:"kendalls_w"`         // 0 no agreement, 1 full
	P           float64  `json:"p"`
	Exact       bool     `json:"p_is_exact"`
	SmallestP   float64  `json:"smallest_possible_p"`
	Shown       bool     `json:"agreement_shown"`
	LeftTasters []string `json:"left_out_tasters"` // who missed trials that the others scored
	LeftTrials  []string `json:"left_out_trials"`  // that tasters missed
}

// agreements looks for a common order of the trials in every attribute. One
// with fewer than three tasters or trials without gaps is left out.
func agreements(s ledger.TrialSet, attributes []string) []agreementRow {
	rows := []agreementRow{}
	for _, a := range attributes {
		r, err := panel.Friedman(panelScores(s, a))
		// too few scores are no fault of the reader's: the attribute has nothing to say
		if err != nil {
			continue
		}
		rows = append(rows, agreementRow{
			Attribute: wording.WordOf(a), Tasters: r.Tasters, Order: r.Trials, W: r.W, P: r.P, Exact: r.Exact,
			SmallestP: r.SmallestP, Shown: r.P < 1-comparisonLevel,
			LeftTasters: append([]string{}, r.LeftTasters...), LeftTrials: append([]string{}, r.LeftTrials...),
		})
	}
	return rows
}

// sentence says in words what the order of the trials is worth.
func (r agreementRow) sentence() string {
	tasters, several := document.Count(r.Tasters, "taster"), document.Count(len(r.Order), "trial")
	says := fmt.Sprintf("no common order of %s by %s is shown, which is not the same as none", several, tasters)
	if r.Shown {
		says = fmt.Sprintf("%s put %s in a common order, from low to high: %s", tasters, several, orderWords(r.Order))
	}
	p := "p about " + document.PText(r.P)
	if r.P < 0.001 { // PText says "below"
		p = "p " + document.PText(r.P)
	}
	if r.Exact {
		p = "exact p " + document.PText(r.P)
	}
	says += fmt.Sprintf(" (Kendall's W %s, %s", document.Fixed(r.W, 2), p)
	// Three tasters of one mind about three trials reach 0.028 and no less: the
	// reader should know how little could have been shown.
	if r.SmallestP >= 0.001 {
		says += fmt.Sprintf("; %s and %s reach %s at best", tasters, several, document.PText(r.SmallestP))
	}
	says += ")"
	// said always: who was left out may be the one who disagrees
	if left := append(append([]string{}, r.LeftTasters...), r.LeftTrials...); len(left) > 0 {
		says += "; left out for missing scores: " + strings.Join(left, ", ")
	}
	return r.Attribute + ": " + says
}

// orderWords lists trials from low to high, the middle left out where they are many.
func orderWords(names []string) string {
	const most = 6
	if len(names) > most {
		return fmt.Sprintf("%s, .. %s", strings.Join(names[:2], ", "), strings.Join(names[len(names)-2:], ", "))
	}
	return strings.Join(names, ", ")
}
