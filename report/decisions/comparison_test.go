package decisions

import (
	"fmt"
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
)

// comparisonPayload is what the tests read from the JSON of a comparison.
type comparisonPayload struct {
	Trials   []comparedTrial `json:"trials"`
	Pairs    []pairRow       `json:"pairs"`
	Controls []controlRow    `json:"differences_from_control"`
	Agreed   []agreementRow  `json:"agreement_on_order"`
	Differed []difference    `json:"what_else_differed"`
	Said     []string        `json:"what_can_be_said"`
	Warnings []string        `json:"warnings"`
}

// compared builds the comparison of hibiscus and reads its JSON back.
func compared(t testing.TB, n *trials.Notebook) (comparisonPayload, string) {
	t.Helper()
	v := Comparison(n, invented.SetOf(t, n), "", quantity.Metric)
	var p comparisonPayload
	drawing.ReadJSON(t, v, &p)
	return p, drawing.AsText(t, v.Document, 100)
}

// The complete series by hand. Means 2, 4, 7 for tartness; tasters' means 4,
// 4.333, 4.667; residuals -2/3 0 2/3, 1/3 1 -4/3, 1/3 -1 1/3: their squares sum
// to 5.3333 with (3-1)(3-1) = 4 degrees of freedom, s = 1.1547. A mean of three
// has s/root 3 = 0.6667, times t(0.975; 4) = 2.7764 (any table of t): ±1.851. The
// smallest difference of two means to be seen is 2.7764 x 1.1547 x root of 2/3 =
// 2.618.
func TestPanelMeansByHand(t *testing.T) {
	p, text := compared(t, invented.Series())
	if len(p.Trials) != 3 {
		t.Fatalf("%d trials", len(p.Trials))
	}
	for i, want := range []struct {
		name  string
		tart  float64
		votes votes
		like  float64
	}{{"plain", 2, votes{3, 0, 0}, 5}, {"single", 4, votes{1, 2, 0}, 6}, {"double", 7, votes{0, 1, 2}, 5}} {
		c := p.Trials[i]
		m := c.Means["tartness"]
		if c.Trial != want.name || c.Votes["tartness"] != want.votes || c.Tasters != 3 || m.N != 3 {
			t.Errorf("%s: votes %+v, %d tasters, %d scores", c.Trial, c.Votes["tartness"], c.Tasters, m.N)
		}
		invented.Near(t, want.name+": tartness", m.Value, want.tart, 1e-9)
		invented.Near(t, want.name+": liking", c.Means["liking"].Value, want.like, 1e-9)
		invented.Near(t, want.name+": low", *m.Low, want.tart-1.851, 5e-4)
		invented.Near(t, want.name+": high", *m.High, want.tart+1.851, 5e-4)
		invented.Near(t, want.name+": level", *m.Level, 0.95, 0)
		invented.Near(t, want.name+": age", *c.AgeDays, 30, 0)
	}
	if !p.Trials[0].Control || *p.Trials[0].Effective != figure.StatedExactly(0) ||
		p.Trials[0].Method != "none (control)" {
		t.Errorf("control %+v", p.Trials[0])
	}
	if !strings.Contains(strings.Join(p.Said, "\n"), "tartness: for one pair alone, a difference below about 2.6 points") {
		t.Errorf("said %q", p.Said)
	}
	for _, want := range []string{"7.0 ±1.9", "3 / 0 / 0", "1 / 2 / 0", "0 / 1 / 2"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the text:\n%s", want, text)
		}
	}
}

// The same with one glass missing. The normal equations of score = trial +
// taster were solved independently; t(0.975; 3) = 3.1824. Without B, who scored
// the single high, the double's plain mean is 7.5 and its adjusted one 7.75.
func TestPanelMeansWithAGlassMissing(t *testing.T) {
	cases := []struct {
		serving, taster string
		mean, half      [3]float64 // plain, single, double
	}{
		{"club/plain", "t2", [3]float64{1.5, 4, 7}, [3]float64{2.92126, 2.20826, 2.20826}},
		{"club/double", "t1", [3]float64{2, 4, 7.75}, [3]float64{1.86273, 1.86273, 2.46416}},
		{"club/single", "t2", [3]float64{2, 5, 7}, [3]float64{1.22492, 1.62042, 1.22492}},
	}
	for _, c := range cases {
		n := invented.Series()
		drop(n, c.serving, c.taster)
		p, _ := compared(t, n)
		for i, trial := range p.Trials {
			what := "without " + c.serving + " of " + c.taster + ", " + trial.Trial
			m := trial.Means["tartness"]
			invented.Near(t, what, m.Value, c.mean[i], 1e-6)
			invented.Near(t, what+": half-width", (*m.High-*m.Low)/2, c.half[i], 1e-4)
			scored := 3
			if "club/"+trial.Trial == c.serving {
				scored = 2
			}
			if trial.Tasters != scored || m.N != scored {
				t.Errorf("%s: %d tasters, %d scores", what, trial.Tasters, m.N)
			}
		}
	}
}

// drop takes the scores of one taster on one serving away.
func drop(n *trials.Notebook, serving, taster string) {
	var kept []trials.Score
	for _, s := range n.Scores {
		if s.ServingID != serving || s.TasterID != taster {
			kept = append(kept, s)
		}
	}
	n.Scores = kept
}

// What was done, by hand: case A of the page on extraction in 12 L, twice as
// much of all; water into the control; 4.96 % vol before.
func TestWhatWasDone(t *testing.T) {
	p, _ := compared(t, invented.Series())
	single, double := p.Trials[1], p.Trials[2]
	invented.Near(t, "single as weighed", single.AsWeighed, 36/12.981614, 1e-3)
	invented.Near(t, "single effective", single.Effective.Value, 30.0895/12.981614, 2e-3)
	invented.Near(t, "double effective", double.Effective.Value, 2*30.0895/13.963228, 2e-3)
	invented.Near(t, "liquid of the control", p.Trials[0].AddedL, 0.75, 0)
	invented.Near(t, "liquid of the double", double.AddedL, 1.963228, 1e-5)
	invented.Near(t, "strength before", *single.ABVBefore, 4.959, 0.006)
	// 4.959 % vol of 12 L in 12.98 L; ABV times volume is kept to 0.004 % vol.
	invented.Near(t, "strength after", single.ABVAfter.Value, 4.959*12/12.981614, 0.006)
	if single.FG != nil || single.PH != nil {
		t.Error("readings before the tea are shown as those of the trial")
	}
	if single.Method != "tea in 3 passes, drained, drained, then squeezed" || single.Brew != "single" {
		t.Errorf("%q of %q", single.Method, single.Brew)
	}
}

// A sealed tasting, however wild its scores, changes no figure and is named as
// not counted; peeked and open ones count and are named.
func TestSealedTastingsAreNotCounted(t *testing.T) {
	before, _ := compared(t, invented.Series())
	n := invented.Series()
	wild := func(batch string) invented.Glass {
		return invented.Glass{Batch: batch, Tart: [3]float64{10, 10, 10}, Vote: [3]int{1, 1, 1}, Liking: [3]float64{1, 1, 1}}
	}
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: invented.Day(33), Blind: true},
		wild("plain"), wild("single"))
	after, text := compared(t, n)
	for i := range before.Trials {
		if a, b := fmt.Sprint(before.Trials[i].Means), fmt.Sprint(after.Trials[i].Means); a == b || len(a) == 0 {
			continue
		}
		x, y := before.Trials[i].Means["tartness"], after.Trials[i].Means["tartness"]
		if x.Value != y.Value || *x.Low != *y.Low || x.N != y.N {
			t.Errorf("%s went from %+v to %+v", before.Trials[i].Trial, x, y)
		}
	}
	for i := range before.Trials {
		if before.Trials[i].Votes["tartness"] != after.Trials[i].Votes["tartness"] ||
			*before.Trials[i].AgeDays != *after.Trials[i].AgeDays {
			t.Errorf("%s: votes or age follow a sealed tasting", before.Trials[i].Trial)
		}
	}
	if len(before.Warnings) != 0 || !drawing.HoldsAll(after.Warnings, "sealed: waiting") ||
		!strings.Contains(text, "not counted, since still sealed: waiting") {
		t.Errorf("warnings before %q, after %q", before.Warnings, after.Warnings)
	}
}

func TestPeekedAndOpenTastingsAreMarked(t *testing.T) {
	n := invented.Series()
	same := invented.Glass{Batch: "single", Tart: [3]float64{4, 5, 3}, Liking: [3]float64{6, 7, 5}}
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "looked"}, At: invented.Day(33), Blind: true,
		PeekedAt: invented.Ptr(invented.Day(33)), ClosedAt: invented.Ptr(invented.Day(34))}, same)
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "seen"}, At: invented.Day(35)}, same)
	p, text := compared(t, n)
	if !drawing.HoldsAll(p.Warnings, "the key was looked at before the end of looked", "not blind: seen") {
		t.Errorf("warnings %q", p.Warnings)
	}
	if !strings.Contains(text, "looked at before the end of looked") || !strings.Contains(text, "not blind: seen") {
		t.Errorf("not in the text:\n%s", text)
	}
	if got := p.Trials[1].Means["tartness"].N; got != 9 {
		t.Errorf("%d scores of the single, want those of three tastings", got)
	}
}

// A beer with the material whose dose cannot be known is named, not shown as a
// control.
func TestUnknownDosesAreNamed(t *testing.T) {
	n := invented.Series()
	invented.Brew(n, "unread")
	n.Batches[len(n.Batches)-1].OG = nil
	invented.Pour(n, "unread", 1)
	p, _ := compared(t, n)
	if len(p.Trials) != 3 || !drawing.HoldsAll(p.Warnings, "unread", "original gravity") {
		t.Errorf("%d trials, warnings %q", len(p.Trials), p.Warnings)
	}
}

// Without any score the table says so, and nothing is invented.
func TestComparisonWithoutScores(t *testing.T) {
	n := invented.Series()
	n.Scores, n.Servings, n.Tastings = nil, nil, nil
	p, text := compared(t, n)
	if !strings.Contains(text, "Nothing has been scored in a closed tasting yet.") || strings.Contains(text, "Votes:") {
		t.Errorf("text\n%s", text)
	}
	if len(p.Trials) != 2 || len(p.Trials[0].Means)+len(p.Trials[0].Votes) != 0 || p.Trials[0].AgeDays != nil {
		t.Errorf("%+v", p.Trials)
	}
}

// One taster on two beers leaves no noise to build an interval from: the means
// stand alone, and a warning says why.
func TestComparisonOfOneTaster(t *testing.T) {
	n := invented.Series()
	for _, serving := range []string{"club/plain", "club/single", "club/double"} {
		drop(n, serving, "t1")
		drop(n, serving, "t2")
	}
	p, _ := compared(t, n)
	for _, c := range p.Trials {
		if m := c.Means["tartness"]; m.Low != nil || m.High != nil || m.N != 1 {
			t.Errorf("%s has the interval %v to %v", c.Trial, m.Low, m.High)
		}
	}
	if len(p.Warnings) == 0 || len(p.Said) != 0 {
		t.Errorf("said %q, warnings %q", p.Said, p.Warnings)
	}
}

// Pairs by hand. The means differ by 2, 5 and 3. Tasters vary less than the
// noise (their mean square is 0.333, the residual one 1.333), so the mixed model
// gives them none and pools: s = root of (0.6667 + 5.3333)/6 = 1. With q(0.95; 3,
// 4) = 5.040 (table of the studentized range) every interval is
// 5.040/root 2 x root of 2/3 = 2.910 each way.
func TestPairsOfTrials(t *testing.T) {
	p, text := compared(t, invented.Series())
	want := map[string]float64{"plain single": 2, "plain double": 5, "double plain": 5, "double single": 3,
		"single double": 3}
	seen := 0
	for _, r := range p.Pairs {
		if r.Attribute != "tartness" {
			continue
		}
		seen++
		d := r.Difference
		invented.Near(t, r.A+" and "+r.B, max(d.Value, -d.Value), want[r.A+" "+r.B], 1e-6)
		invented.Near(t, r.A+" and "+r.B+": half-width", (*d.High-*d.Low)/2, 2.910, 1e-3)
		if apart := max(d.Value, -d.Value) > 2.910; r.Shown != apart {
			t.Errorf("%s and %s: shown %v", r.A, r.B, r.Shown)
		}
	}
	if seen != 3 || !strings.Contains(text, "double less single") || strings.Contains(text, "double less plain") {
		t.Errorf("%d pairs of tartness; neighbours in dose are\n%s", seen, text)
	}
}

// No trial of the comparison is paired with a beer outside it.
func TestPairsStayWithinTheStudy(t *testing.T) {
	n := invented.Series()
	invented.Brew(n, "elder")
	invented.Pour(n, "elder", 1)
	n.Extracts[len(n.Extracts)-1].MaterialKey = "elderflower"
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "mixed"}, At: invented.Day(35), Blind: true,
		ClosedAt: invented.Ptr(invented.Day(36))},
		invented.Glass{Batch: "single", Tart: [3]float64{4, 5, 3}, Liking: [3]float64{6, 7, 5}},
		invented.Glass{Batch: "elder", Tart: [3]float64{1, 0, 2}, Liking: [3]float64{6, 7, 5}})
	p, text := compared(t, n)
	for _, r := range p.Pairs {
		if r.A == "elder" || r.B == "elder" {
			t.Errorf("%+v", r)
		}
	}
	if len(p.Trials) != 3 || strings.Contains(text, "elder") {
		t.Errorf("%d trials\n%s", len(p.Trials), text)
	}
}
