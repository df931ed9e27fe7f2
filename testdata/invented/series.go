// Package invented makes the invented notebooks that the tests of views share.
package invented

import (
	"fmt"
	"math"
	"testing"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

func Ptr[T any](v T) *T { return &v }

// Day is a moment of an invented series.
func Day(d int) time.Time { return time.Date(2026, 3, 1+d, 12, 0, 0, 0, time.UTC) }

// Brew is one batch of the series: 12 L at 1.048, at 1.010 on day 10. Its id is
// its name.
func Brew(n *trials.Notebook, name string) {
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: name, Name: name, CreatedAt: Day(0)},
		Kind: trials.KindBatch, StartedAt: Day(0), VolumeL: 12, OG: Ptr(1.048), IBU: Ptr(20.0), Style: "wheat saison"})
	n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{ID: name + ".r1", Name: name + ".r1"},
		BatchID: name, At: Day(10), SG: Ptr(1.010), VolumeL: Ptr(12.0)})
}

// Pour puts k times the tea of case A of the reference page on extraction into a
// batch: 36 g of hibiscus at 10 % water, passes of 450 and 350 mL drained and one of
// 250 mL squeezed, at equilibrium: 981.614 mL with 30.0895 g, own water and the volume
// of what dissolves counted.
func Pour(n *trials.Notebook, batch string, k float64) {
	pass := func(volumeL float64, by string) trials.Pass {
		return trials.Pass{VolumeL: volumeL * k, StartC: 94, EndC: Ptr(80.0), Minutes: 30, Agitation: "stirred",
			Separation: by}
	}
	x := trials.Extract{Record: trials.Record{ID: "tea-" + batch, Name: "tea-" + batch}, MadeAt: Day(11),
		MaterialKey: "hibiscus", Method: trials.MethodTea, Form: "crushed", MassG: 36 * k, MoisturePct: Ptr(10.0),
		Passes: []trials.Pass{pass(0.45, trials.SeparationDrained), pass(0.35, trials.SeparationDrained),
			pass(0.25, trials.SeparationSqueezed)}}
	n.Extracts = append(n.Extracts, x)
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: batch + ".a1", Name: batch + ".a1"},
		BatchID: batch, At: Day(11), Stage: trials.StageSecondary, ExtractID: &x.ID})
}

// glass is what three tasters said of one beer: intensities of tartness, votes,
// likings; NaN is not scored.
type Glass struct {
	Batch   string
	Tart    [3]float64
	Vote    [3]int
	Liking  [3]float64
	skipped int // taster who did not score it, from 1; 0 for none
}

// Serve enters a tasting with the scores of tasters A, B and C.
func Serve(n *trials.Notebook, g trials.Tasting, glasses ...Glass) {
	g.ID, g.Attributes = g.Name, []string{"tartness"}
	n.Tastings = append(n.Tastings, g)
	for i, v := range glasses {
		serving := trials.Serving{ID: g.Name + "/" + v.Batch, TastingID: g.ID, BatchID: v.Batch,
			Code: fmt.Sprint(417 + 111*i)}
		n.Servings = append(n.Servings, serving)
		for k := range 3 {
			if v.skipped == k+1 {
				continue
			}
			base := trials.Score{TastingID: g.ID, ServingID: serving.ID, TasterID: fmt.Sprint("t", k), At: g.At}
			tart, overall := base, base
			tart.ID, tart.Attribute, tart.Intensity, tart.Vote = fmt.Sprint(serving.ID, k,
				"t"), "tartness", Ptr(v.Tart[k]), Ptr(v.Vote[k])
			overall.ID, overall.Attribute, overall.Liking = fmt.Sprint(serving.ID, k, "l"), trials.Overall, Ptr(v.Liking[k])
			n.Scores = append(n.Scores, tart, overall)
		}
	}
}

// Series is an invented series with a closed tasting:
//
//	tartness   A  B  C   mean      votes      liking
//	plain      1  2  3   2         - - -      5 5 5
//	single     4  5  3   4         - = =      6 7 5
//	double     7  6  8   7         = + +      5 6 4
func Series() *trials.Notebook {
	n := &trials.Notebook{Now: Day(60)}
	for k, name := range []string{"Taster A", "Taster B", "Taster C"} {
		n.Tasters = append(n.Tasters, trials.Taster{Record: trials.Record{ID: fmt.Sprint("t", k), Name: name}})
	}
	Brew(n, "plain")
	Brew(n, "single")
	Brew(n, "double")
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "plain.a1", Name: "plain.a1"},
		BatchID: "plain", At: Day(11), Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: Ptr(0.75)})
	Pour(n, "single", 1)
	Pour(n, "double", 2)
	Serve(n, trials.Tasting{Record: trials.Record{Name: "club"}, At: Day(30), Blind: true, ClosedAt: Ptr(Day(31))},
		Glass{Batch: "double", Tart: [3]float64{7, 6, 8}, Vote: [3]int{0, 1, 1}, Liking: [3]float64{5, 6, 4}},
		Glass{Batch: "plain", Tart: [3]float64{1, 2, 3}, Vote: [3]int{-1, -1, -1}, Liking: [3]float64{5, 5, 5}},
		Glass{Batch: "single", Tart: [3]float64{4, 5, 3}, Vote: [3]int{-1, 0, 0}, Liking: [3]float64{6, 7, 5}})
	n.Claims = []trials.Claim{{Record: trials.Record{ID: "q", Name: "hibiscus.q1"}, MaterialKey: "hibiscus",
		AsWritten: "2 to 4 g/L", Basis: trials.BasisDry, LowGPerL: Ptr(2.0), HighGPerL: Ptr(4.0), Source: "a friend"}}
	return n
}

// Near fails unless got is within tolerance of want.
func Near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6f, want %.6f within %g", what, got, want, tolerance)
	}
}

// Widest is a notebook with a bit of everything.
func Widest() *trials.Notebook {
	n := Series()
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: "jar", Name: "jar-1", CreatedAt: Day(20)},
		ParentID: Ptr("single"), Kind: trials.KindJar, StartedAt: Day(20), VolumeL: 2},
		trials.Batch{Record: trials.Record{ID: "bare", Name: "bare"}, Kind: trials.KindBatch, StartedAt: Day(0), VolumeL: 5})
	week := 7.0 * 24 * 60
	n.Additions = append(n.Additions,
		trials.Addition{Record: trials.Record{ID: "d2", Name: "double.a2"}, BatchID: "double", At: Day(12),
			Stage: trials.StageSecondary, MaterialKey: "raspberry", Method: trials.MethodContact, Form: "frozen",
			MassG: Ptr(1500.0), Minutes: &week},
		trials.Addition{Record: trials.Record{ID: "d3", Name: "double.a3"}, BatchID: "double", At: Day(20),
			Stage: trials.StageSecondary, LiquidKind: "spirit", VolumeL: Ptr(0.2), StrengthPct: Ptr(40.0)},
		trials.Addition{Record: trials.Record{ID: "d4", Name: "double.a4"}, BatchID: "double", At: Day(21),
			Stage: trials.StagePackaging, LiquidKind: "sugar", LiquidMassG: Ptr(80.0)})
	n.Losses = []trials.Loss{{Record: trials.Record{ID: "l", Name: "single.l1"}, BatchID: "single", At: Day(15),
		Kind: trials.LossTrub, VolumeL: 0.5, Note: "yeast"}}
	n.Packagings = []trials.Packaging{{Record: trials.Record{ID: "p", Name: "double.p1"}, BatchID: "double", At: Day(22)}}
	n.BatchNotes = []trials.BatchNote{{Record: trials.Record{ID: "bn", Name: "plain.n1"}, BatchID: "plain", At: Day(12),
		Text: Hostile}}
	n.TasterNotes = []trials.TasterNote{{ID: "tn", TastingID: "club", ServingID: "club/single", TasterID: "t0",
		Text: Hostile}}
	n.Extracts = append(n.Extracts, trials.Extract{Record: trials.Record{ID: "raw", Name: "not-steeped"},
		MadeAt: Day(2), MaterialKey: "heather", Method: trials.MethodTea, Form: "cut", MassG: 20})
	Serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: Day(40), Blind: true, Note: Hostile},
		Glass{Batch: "single", Tart: [3]float64{9, 9, 9}, Vote: [3]int{1, 1, 1}, Liking: [3]float64{1, 1, 1}},
		Glass{Batch: "jar", Tart: [3]float64{9, 9, 9}, Vote: [3]int{1, 1, 1}, Liking: [3]float64{1, 1, 1}})
	return n
}

// hostile is what a pasted note may hold: colours, a bell, a carriage return
// that hides what went before, eight-bit controls, an override of the writing
// direction.
const Hostile = "\x1b[31mred\x1b[0m\a \rgone\x00 \u009b31m \u202eback\u202c \x7f\ttab"

// SetOf gathers the trials of hibiscus.
func SetOf(t testing.TB, n *trials.Notebook) ledger.TrialSet {
	t.Helper()
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	m, err := materials.Find("hibiscus")
	if err != nil {
		t.Fatal(err)
	}
	s, err := ledger.Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
