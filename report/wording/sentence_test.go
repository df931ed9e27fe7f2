package wording

import (
	"testing"
	"time"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// One plain sentence for each thing that can happen. The words are judged, the
// figures are those of the record.
func TestSentences(t *testing.T) {
	n := invented.Series()
	rec := func(name string) trials.Record { return trials.Record{Name: name} }
	week := 7.0 * 24 * 60
	direct := func(method string, edit func(*trials.Addition)) *trials.Addition {
		a := trials.Addition{Record: rec("x.a1"), MaterialKey: "heather", Method: method, Form: "cut",
			MassG: invented.Ptr(40.0)}
		edit(&a)
		return &a
	}
	liquid := func(kind string, edit func(*trials.Addition)) *trials.Addition {
		a := trials.Addition{Record: rec("x.a1"), LiquidKind: kind}
		edit(&a)
		return &a
	}
	none := func(*trials.Addition) {}
	poured := time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC) // after every pass
	addition := func(a *trials.Addition) ledger.Event {
		return ledger.Event{Kind: ledger.EventAddition, Addition: a}
	}
	cases := []struct {
		event ledger.Event
		want  string
	}{
		{ledger.Event{Kind: ledger.EventStart, Batch: trials.Batch{VolumeL: 12, OG: invented.Ptr(1.048)}},
			"started: 12 L at OG 1.048"},
		{ledger.Event{Kind: ledger.EventStart, Batch: trials.Batch{VolumeL: 0.5}}, "started: 500 mL"},
		{ledger.Event{Kind: ledger.EventChild, Batch: trials.Batch{Record: rec("jar-1"), VolumeL: 2}},
			"split off into jar-1: 2 L"},
		{ledger.Event{Kind: ledger.EventSplit, Child: &trials.Batch{Record: rec("jar-1"), VolumeL: 2}},
			"2 L split off into jar-1"},
		{ledger.Event{Kind: ledger.EventLoss, Loss: &trials.Loss{Kind: trials.LossTrub, VolumeL: 0.5,
			Note: "much yeast"}}, "500 mL lost (trub); much yeast"},
		{ledger.Event{Kind: ledger.EventLoss, Loss: &trials.Loss{Kind: trials.LossEvaporation, VolumeL: 1}},
			"1 L of water evaporated"},
		{ledger.Event{Kind: ledger.EventPackage, Package: &trials.Packaging{Note: "20 bottles"}}, "packaged; 20 bottles"},
		{ledger.Event{Kind: ledger.EventNote, Note: &trials.BatchNote{Text: "smells of moor"}}, "smells of moor"},
		{ledger.Event{Kind: ledger.EventRemoval, Addition: direct(trials.MethodContact, none)},
			"heather stays behind with the beer it holds"},
		{ledger.Event{Kind: ledger.EventReading,
			Reading: &trials.Reading{SG: invented.Ptr(1.0095), SampleTempC: invented.Ptr(25.0), PH: invented.Ptr(4.2),
				VolumeL: invented.Ptr(11.5), Note: "hazy"}},
			"read gravity 1.0095 in a sample at 25 C, pH 4.20, 11.5 L measured, hazy"},
		{ledger.Event{Kind: ledger.EventReading, Reading: &trials.Reading{BeerTempC: invented.Ptr(19.0)}},
			"read beer at 19 C"},
		{addition(&trials.Addition{At: poured, ExtractID: invented.Ptr("tea-single")}),
			"36 g hibiscus, crushed, tea in 3 passes, drained, drained, then squeezed; all of it poured in"},
		{addition(&trials.Addition{At: poured, ExtractID: invented.Ptr("tea-single"), PouredL: invented.Ptr(0.3),
			Note: "no citrus yet"}), "36 g hibiscus, crushed, tea in 3 passes, drained, drained, then squeezed; 300 mL of it " +
			"poured in; no citrus yet"},
		{addition(&trials.Addition{ExtractID: invented.Ptr("gone")}), "an extract that is no longer there"},
		{addition(direct(trials.MethodBoil, func(a *trials.Addition) { a.Minutes = invented.Ptr(15.0) })),
			"40 g heather, cut, boiled for 15 min"},
		{addition(direct(trials.MethodFlameOut, none)), "40 g heather, cut, in the hot wort after the boil"},
		{addition(direct(trials.MethodContact, func(a *trials.Addition) { a.InBag, a.Minutes = true, &week })),
			"40 g heather, cut, in the fermenter in a bag for 7 d"},
		{addition(direct(trials.MethodContact, none)), "40 g heather, cut, in the fermenter, left in"},
		{addition(direct(trials.MethodPuree, func(a *trials.Addition) { a.Form = "" })), "40 g heather, puree"},
		{addition(liquid("water", func(a *trials.Addition) {
			a.VolumeL, a.VolumeTempC = invented.Ptr(0.6),
				invented.Ptr(80.0)
		})), "600 mL water, measured at 80 C"},
		{addition(liquid("spirit", func(a *trials.Addition) {
			a.VolumeL, a.StrengthPct, a.SolidsGPerL = invented.Ptr(0.25), invented.Ptr(60.0), invented.Ptr(10.0)
		})), "250 mL spirit, 60 % vol, 10 g/L dissolved"},
		{addition(liquid("juice", func(a *trials.Addition) {
			a.VolumeL, a.Plato = invented.Ptr(1.0),
				invented.Ptr(12.0)
		})), "1 L juice, 12.0 P"},
		{addition(liquid("maple syrup", func(a *trials.Addition) { a.LiquidMassG = invented.Ptr(500.0) })),
			"500 g maple syrup"},
	}
	for _, c := range cases {
		if got := EventSentence(n, c.event, quantity.Metric); got != c.want {
			t.Errorf("%s: %q, want %q", c.event.Kind, got, c.want)
		}
	}
}

// US units: 12 L are 3.17 US gal, 36 g are 1.27 oz, 94 C is 201.2 F (exact
// factors: 3.785411784 L, 28.349523125 g).
func TestSentencesInUSUnits(t *testing.T) {
	n := invented.Series()
	if got := EventSentence(n, ledger.Event{Kind: ledger.EventStart, Batch: trials.Batch{VolumeL: 12}},
		quantity.USUnits); got != "started: 3.17 US gal" {
		t.Error(got)
	}
	x := n.Extracts[0]
	x.Passes = x.Passes[:1]
	if got := ExtractSentence(x, quantity.USUnits); got != "1.27 oz hibiscus, crushed, tea: 15.2 US fl oz, 201.2 F "+
		"falling to 176 F, 30 min, stirred, drained" {
		t.Error(got)
	}
}

func TestSentencesOfExtracts(t *testing.T) {
	pass := trials.Pass{VolumeL: 0.4, StartC: 4, Minutes: 720, Separation: trials.SeparationDrained}
	cases := []struct {
		x    trials.Extract
		want string
	}{
		{trials.Extract{MaterialKey: "heather", MassG: 40, Method: trials.MethodColdTea, Form: "cut"},
			"40 g heather, cut, cold tea, not steeped yet"},
		{trials.Extract{MaterialKey: "heather", MassG: 40, Method: trials.MethodColdTea, Passes: []trials.Pass{pass}},
			"40 g heather, cold tea: 400 mL, 4 C, 12 h, drained"},
		{trials.Extract{MaterialKey: "heather", MassG: 2000, Method: trials.MethodTincture,
			SpiritPct: invented.Ptr(40.0), Passes: []trials.Pass{pass, pass}},
			"2 kg heather, tincture in 40 % spirit in 2 passes, drained"},
	}
	for _, c := range cases {
		if got := ExtractSentence(c.x, quantity.Metric); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	warmed := trials.Pass{VolumeL: 1, StartC: 20, EndC: invented.Ptr(60.0), Minutes: 30, InBag: true,
		Separation: trials.SeparationPressed, RecoveredL: invented.Ptr(0.8)}
	if got := PassWords(warmed, quantity.Metric); got != "1 L, 20 C rising to 60 C, 30 min, in a bag, pressed, 800 "+
		"mL came out" {
		t.Error(got)
	}
}
