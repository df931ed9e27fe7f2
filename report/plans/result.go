package plans

import (
	"fmt"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// vesselResult is a vessel as it was planned and as it was done.
type vesselResult struct {
	Number    int            `json:"number"`
	Trial     string         `json:"trial"` // name of the trial
	Aim       float64        `json:"aim_g_per_l"`
	Effective *figure.Stated `json:"effective_dose_g_per_l"` // null where the beer's original gravity is not known
	What      []string       `json:"what_went_in"`
}

// PlanResult shows what was done with a plan: what went into each vessel and the
// dose that came of it, beside the dose wanted.
func PlanResult(n *trials.Notebook, p trials.Plan, u quantity.Units) (document.View, error) {
	if p.Kind == trials.PlanTaste {
		return tasteResult(n, p, u)
	}
	t := document.Table{Columns: []document.Column{{Title: "no.", Right: true}, {Title: "logged as", Wrap: true},
		{Title: "wanted\ng/L", Right: true}, {Title: "dose\ng/L", Right: true}, {Title: "what went in", Wrap: true}}}
	list := []vesselResult{}
	for _, v := range p.Design.Vessels {
		r := vesselResult{Number: v.Number, Trial: v.Name, Aim: v.AimGPerL, Effective: vesselDose(n, p, v),
			What: vesselContents(n, v, u)}
		list = append(list, r)
		dose := "-"
		if r.Effective != nil {
			dose = document.SignificantRange(*r.Effective)
		}
		what := "beer alone"
		if len(r.What) > 0 {
			what = joined(r.What)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(r.Number), r.Trial, document.Significant(r.Aim, 2), dose, what})
	}
	sec := document.Section{Table: &t, Notes: []string{"dose: effective grams per litre with its 95 % interval, from " +
		"what was logged"}}
	if p.DoneAt != nil {
		sec.Paragraphs = []string{"Done on " + wording.DateText(*p.DoneAt) + "."}
	}
	if p.ExtractID != nil {
		if x, ok := n.ExtractByID(*p.ExtractID); ok {
			sec.Paragraphs = append(sec.Paragraphs, "Extract "+x.Name+": "+wording.ExtractSentence(x, u)+".")
		}
	}
	return document.View{Document: document.Document{Title: "Plan " + p.Name + ", as done",
		Sections: []document.Section{sec}}, Payload: struct {
		Plan     string         `json:"plan"`
		DoneAt   *time.Time     `json:"done_at"`
		Vessels  []vesselResult `json:"vessels"`
		Warnings []string       `json:"warnings"`
	}{p.Name, p.DoneAt, list, []string{}}}, nil
}

// joined joins sentences.
func joined(list []string) string {
	text := list[0]
	for _, more := range list[1:] {
		text += "; " + more
	}
	return text
}

// vesselDose is the effective dose of the plan's material in a vessel.
func vesselDose(n *trials.Notebook, p trials.Plan, v trials.Vessel) *figure.Stated {
	b, ok := n.BatchByID(v.BatchID)
	if !ok {
		return nil
	}
	l, err := ledger.Of(n, b)
	if err != nil {
		return nil
	}
	// nothing of the material went in, so the dose is known and is none
	dose := figure.StatedExactly(0)
	out := &dose
	for _, d := range l.Doses {
		if d.MaterialKey == p.MaterialKey {
			out = wording.EstimateView(d.GPerL[p.Design.Class])
		}
	}
	return out
}

// vesselContents says what went into a vessel, in short.
func vesselContents(n *trials.Notebook, v trials.Vessel, u quantity.Units) []string {
	list := []string{}
	for _, a := range n.Additions {
		if a.BatchID != v.BatchID {
			continue
		}
		switch {
		// the extract is told above the table: here its name is enough
		case a.ExtractID != nil && a.PouredL != nil:
			x, _ := n.ExtractByID(*a.ExtractID)
			list = append(list, wording.VolumeText(*a.PouredL, u)+" "+x.Name)
		default:
			list = append(list, wording.AdditionSentence(n, a, u))
		}
	}
	return list
}
