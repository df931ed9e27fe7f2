package decisions

import (
	"time"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// Given is the suggestion that a view gives, to be kept and told again; false for
// another view.
func Given(v document.View, at time.Time, volumeL float64) (trials.Suggestion, bool) {
	p, ok := v.Payload.(suggestPayload)
	if !ok {
		return trials.Suggestion{}, false
	}
	s := trials.Suggestion{MaterialKey: p.Material, At: at, Text: firstSentence(v.Document), Verdict: string(p.Verdict),
		Method: p.Reference}
	if p.Next.DoseGPerL > 0 {
		s.DoseGPerL = &p.Next.DoseGPerL
	}
	if volumeL > 0 {
		s.VolumeL = &volumeL
	}
	return s, true
}

// firstSentence is the first line of running text: the decision.
func firstSentence(d document.Document) string {
	for _, s := range d.Sections {
		if len(s.Paragraphs) > 0 {
			return s.Paragraphs[0]
		}
	}
	return d.Title
}
