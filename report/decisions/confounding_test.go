package decisions

import (
	"fmt"
	"strings"
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

// Trials that differ in nothing that was logged: the table says so, but not of
// one trial, which there is nothing to set beside.
func TestNothingElseDiffered(t *testing.T) {
	s := differedTable(nil, 2)
	if s.Table != nil || len(s.Paragraphs) != 1 || !strings.Contains(s.Paragraphs[0], "in dose alone") {
		t.Errorf("%+v", s)
	}
	if s := differedTable(nil, 1); strings.Contains(s.Paragraphs[0], "in dose alone") {
		t.Errorf("%+v", s)
	}
}

// Another plant, sugar and juice in some of the beers are named with their
// amounts. By hand: 90 g of raspberry and 120 g of sugar in 12 L of beer, 1.96 L of
// tea and some 0.17 L of what was added, 6.4 and 8.5 g/L; half a litre of juice in
// 13.5 L, 37 mL/L. What all the beers have alike is not named.
func TestWhatElseWasInTheBeer(t *testing.T) {
	n := invented.Series()
	put := func(batch string, change func(*trials.Addition)) {
		a := trials.Addition{Record: trials.Record{ID: fmt.Sprint("more", len(n.Additions))}, At: invented.Day(12),
			Stage: trials.StageSecondary}
		a.Name = a.ID
		for _, b := range n.Batches {
			if b.Name == batch {
				a.BatchID = b.ID
			}
		}
		change(&a)
		n.Additions = append(n.Additions, a)
	}
	put("double", func(a *trials.Addition) {
		a.MaterialKey, a.Method, a.Form, a.MassG = "raspberry", trials.MethodContact, "frozen", invented.Ptr(90.0)
		a.Minutes = invented.Ptr(3 * 24 * 60.0)
	})
	for _, both := range []string{"single", "double"} {
		put(both, func(a *trials.Addition) { a.LiquidKind, a.LiquidMassG = "dextrose", invented.Ptr(70.0) })
	}
	put("double", func(a *trials.Addition) { a.LiquidKind, a.LiquidMassG = "sugar", invented.Ptr(120.0) })
	put("single", func(a *trials.Addition) {
		a.LiquidKind, a.VolumeL, a.Plato = "juice", invented.Ptr(0.5), invented.Ptr(12.0)
	})
	got := differed(t, n)
	for what, want := range map[string]string{"raspberry": "6.4 g/L[double]none[single]",
		"sugar": "8.5 g/L[double]none[single]", "juice": "37 mL/L[single]none[double]", "dextrose": ""} {
		if got[what] != want {
			t.Errorf("%s: %q, want %q", what, got[what], want)
		}
	}
	_, text := suggested(t, n)
	if !strings.Contains(text, "not only the dose differs: also juice (37 mL/L, none) and raspberry") {
		t.Errorf("the suggestion does not name it:\n%s", text)
	}
}
