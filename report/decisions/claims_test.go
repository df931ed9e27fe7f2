package decisions

import (
	"strings"
	"testing"

	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// A claim wholly under or over the interval of the right dose is below or above;
// one that touches it is within. "Up to" has no lower end.
func TestJudge(t *testing.T) {
	set := ledger.TrialSet{Class: 0} // no trial: 0.85 of what is advised reaches the beer
	right := figure.StatedBetween(2, 1.9, 3.8, 0.9)
	for _, c := range []struct {
		low, high *float64
		perTea    bool
		want      string
	}{
		{invented.Ptr(1.0), invented.Ptr(1.9), false, judgedBelow},
		{invented.Ptr(1.0), invented.Ptr(2.3), false, judgedWithin},
		{invented.Ptr(2.5), invented.Ptr(3.0), false, judgedWithin},
		{invented.Ptr(3.9), invented.Ptr(9.0), false, judgedWithin},
		{invented.Ptr(4.6), invented.Ptr(9.0), false, judgedAbove}, {nil, invented.Ptr(1.0), false, judgedBelow},
		{nil, invented.Ptr(9.0), false, judgedWithin},
		{nil, nil, false, ""}, {invented.Ptr(1.0), invented.Ptr(1.0), true, ""},
	} {
		got := judge(set, trials.Claim{LowGPerL: c.low, HighGPerL: c.high, PerTea: c.perTea, Basis: trials.BasisDry}, &right)
		if got.Judgment != c.want {
			t.Errorf("%v to %v: %q, want %q", c.low, c.high, got.Judgment, c.want)
		}
	}
	if got := judge(set, trials.Claim{LowGPerL: invented.Ptr(1.0), HighGPerL: invented.Ptr(1.0)},
		nil); got.Judgment != "" {
		t.Errorf("nothing tasted: %q", got.Judgment)
	}
}

// The claims of the invented series: single at 2.3 g/L was just right for two of
// three, double at 4.3 too much for two of three.
func TestJudgedClaims(t *testing.T) {
	n := invented.Series()
	n.Claims = append(n.Claims,
		trials.Claim{Record: trials.Record{ID: "q2", Name: "hibiscus.q2"}, MaterialKey: "hibiscus",
			AsWritten: "a handful", Source: invented.Hostile},
		trials.Claim{Record: trials.Record{ID: "q3", Name: "hibiscus.q3"}, MaterialKey: "hibiscus",
			AsWritten: "200 g/L", LowGPerL: invented.Ptr(200.0), HighGPerL: invented.Ptr(200.0)})
	v, err := JudgedClaims(n, invented.SetOf(t, n), "")
	if err != nil {
		t.Fatal(err)
	}
	drawing.CheckView(t, "claims", v)
	text := drawing.AsText(t, v.Document, 80)
	for _, want := range []string{"just right", "hibiscus.q2 has no weight", "above", "within", "single  ", "double  "} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if _, err := JudgedClaims(n, invented.SetOf(t, n), "salty"); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("an attribute that was not scored: %v", err)
	}
	n.Scores = nil
	v, err = JudgedClaims(n, invented.SetOf(t, n), "")
	if err != nil || !strings.Contains(drawing.JsonOf(t, v), `"right_dose_g_per_l": null`) {
		t.Errorf("nothing scored: %v", err)
	}
	n.Claims = nil
	if v, err = JudgedClaims(n, invented.SetOf(t, n), ""); err != nil ||
		!strings.Contains(drawing.AsText(t, v.Document, 80), "There is no claim on hibiscus yet") {
		t.Errorf("no claim: %v", err)
	}
}

// Equal factors are equal steps on the axis, and nothing falls off it.
func TestAxis(t *testing.T) {
	a := axis{1, 16}
	last := -1
	for _, v := range []float64{1, 2, 4, 8, 15.99} {
		c := a.column(v)
		if last >= 0 && (c-last < axisWidth/4-1 || c-last > axisWidth/4+1) {
			t.Errorf("%g stands at %d, the one before at %d", v, c, last)
		}
		last = c
	}
	if a.column(0.001) != 0 || a.column(1e6) != axisWidth-1 {
		t.Error("a dose falls off the axis")
	}
	if len(a.head()) != axisWidth || len(a.span(invented.Ptr(2.0), invented.Ptr(4.0), '=')) != axisWidth ||
		len(a.span(nil, invented.Ptr(4.0), '=')) != axisWidth {
		t.Error("a line of the axis has another width")
	}
}

// The claims stand in one line, a single dose without a range.
func TestClaimsLine(t *testing.T) {
	want := "claimed, on the effective scale: 1.2, 2.4 to 3.9 g/L"
	if got := claimsLine([][2]float64{{1.2, 1.2}, {2.4, 3.9}}); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
