package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// TakenOut shows what taking a plant out of a batch did: the beer that it kept.
func TakenOut(n *trials.Notebook, l ledger.Ledger, a trials.Addition, u quantity.Units, told []string) document.View {
	at := 0
	for i, s := range l.Steps {
		if s.Name == a.Name && s.Kind == ledger.EventRemoval {
			at = i
		}
	}
	step, before := l.Steps[at], l.Steps[max(at-1, 0)]
	kept := before.State().VolumeL.Value - step.State().VolumeL.Value
	liquid := "beer"
	if a.InWort() {
		liquid = "wort"
	}
	left := wording.StateView(step.State()).VolumeL
	said := wording.EventSentence(n, step.Event, u) + ": it keeps " + wording.VolumeText(kept, u) + " of the " +
		liquid + "; " + wording.VolumeEstimate(left, u) + " " + wording.VolumeUnit(u) + " are left, as strong as before"
	return document.View{
		Document: document.Document{Sections: []document.Section{{Paragraphs: []string{said + "."}}}},
		Payload: struct {
			Saved    trials.Addition `json:"saved"`
			KeptL    float64         `json:"kept_l"`
			After    wording.State   `json:"after"`
			Warnings []string        `json:"warnings"`
		}{a, kept, wording.StateView(step.State()), append([]string{}, told...)},
	}
}
