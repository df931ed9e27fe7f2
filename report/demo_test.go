package report

import (
	"strings"
	"testing"

	"hedgerow/report/decisions"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials/quantity"
)

// The demo says that it is invented, in text and in JSON, and tells the
// answer first.
func TestDemoIsMarkedAsInvented(t *testing.T) {
	n := invented.Series()
	set := invented.SetOf(t, n)
	next, err := decisions.Suggest(n, set, decisions.SuggestRequest{VolumeL: 12})
	if err != nil {
		t.Fatal(err)
	}
	v := Demo("demo.db", "tartness", set, DemoViews{ledgerOf(t, n, "single", quantity.Metric),
		decisions.Comparison(n, set, "", quantity.Metric), next}, quantity.Metric)
	text := drawing.AsText(t, v.Document, 80)
	at := -1
	for _, want := range []string{"invented series", "Nothing of this happened", "The answer: Next for hibiscus",
		"How it came about", "double", "demo.db"} {
		i := strings.Index(text, want)
		if i <= at {
			t.Errorf("%q is missing or out of order in\n%s", want, text)
		}
		at = i
	}
	var p struct {
		Invented bool     `json:"invented"`
		Warnings []string `json:"warnings"`
	}
	drawing.ReadJSON(t, v, &p)
	if !p.Invented || !drawing.HoldsAll(p.Warnings, "invented") {
		t.Errorf("%+v", p)
	}
	drawing.CheckView(t, "demo", v)
}
