package decisions

import (
	"fmt"
	"testing"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// differed lists what else differed as "what=value: trials; ...".
func differed(t testing.TB, n *trials.Notebook) map[string]string {
	t.Helper()
	got := map[string]string{}
	for _, d := range confounding(invented.SetOf(t, n), quantity.Metric) {
		text := ""
		for _, v := range d.order {
			text += fmt.Sprint(v, d.Groups[v])
		}
		got[d.What] = text
	}
	return got
}

// In the series only the brew differs beside the dose, and the share of liquid:
// 981.6 mL in 12.981614 L are 7.6 %, 1963.2 in 13.963228 are 14.1 %. The control does
// not count.
func TestWhatElseDiffered(t *testing.T) {
	got := differed(t, invented.Series())
	want := map[string]string{"brew": "double[double]single[single]", "liquid added, per cent": "14[double]8[single]"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Each thing that was changed in one trial is named.
func TestWhatElseWasChanged(t *testing.T) {
	cases := []struct {
		what string
		edit func(*trials.Notebook)
		want string
	}{
		{"form", func(n *trials.Notebook) { n.Extracts[1].Form = "cut" }, "crushed[single]cut[double]"},
		{"lot", func(n *trials.Notebook) { n.Extracts[0].Lot, n.Extracts[1].Lot = "H-1", "H-2" }, "H-1[single]H-2[double]"},
		{"temperature", func(n *trials.Notebook) {
			n.Extracts[1].Passes[0].StartC, n.Extracts[1].Passes[0].EndC = 85, invented.Ptr(80.0)
		}, "85 C[double]94 C[single]"},
		{"style", func(n *trials.Notebook) { n.Batches[2].Style = "stout" }, "stout[double]wheat saison[single]"},
		{"stage", func(n *trials.Notebook) { n.Additions[2].Stage = trials.StagePackaging },
			"packaging[double]secondary[single]"},
		{"method", func(n *trials.Notebook) {
			n.Extracts[1].Method = trials.MethodColdTea
			for i := range n.Extracts[1].Passes {
				n.Extracts[1].Passes[i].StartC, n.Extracts[1].Passes[i].EndC = 20, nil
			}
		}, "cold-tea[double]tea[single]"},
		{"age when tasted", func(n *trials.Notebook) {
			n.Batches[2].StartedAt = invented.Day(9)
			n.Batches[2].CreatedAt = invented.Day(9)
		}, "3 weeks[double]4 weeks[single]"},
		{"tasted on", func(n *trials.Notebook) {
			invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "later"}, At: invented.Day(50)},
				invented.Glass{Batch: "double"})
		}, "2026-03-31[single]2026-03-31 and 2026-04-20[double]"},
	}
	for _, c := range cases {
		n := invented.Series()
		c.edit(n)
		if got := differed(t, n)[c.what]; got != c.want {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}

// Trials that differ in nothing that was logged: the table says so.
func TestNothingElseDiffered(t *testing.T) {
	s := differedTable(nil)
	if s.Table != nil || len(s.Paragraphs) != 1 {
		t.Errorf("%+v", s)
	}
}
