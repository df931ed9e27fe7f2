package decisions

import (
	"slices"
	"strings"
	"testing"

	"hedgerow/testdata/invented"
)

// R 4.2.2, friedman.test of wine (Randall 1989), the mean of two bottles a judge
// and treatment, and of the runners (Hollander and Wolfe 1973): chi-squared over
// 9 judges and 3 degrees of freedom is W; W of the runners is given.
func TestAgreementOfOpenData(t *testing.T) {
	cases := []struct {
		file, response, treatment, block string
		w                                float64
		tasters                          int
		low, high                        string
	}{
		{"wine.csv", "rating", "treatment", "judge", 19.814814814815 / 27, 9, "cold plain", "warm skins"},
		{"friedman.csv", "time", "method", "player", 0.2532467532468, 22, "WideAngle", ""},
	}
	for _, c := range cases {
		rows := agreements(scoredSet(t, c.file, c.response, c.treatment, c.block, ""), []string{"bitterness"})
		if len(rows) != 1 {
			t.Fatalf("%s: %+v", c.file, rows)
		}
		r := rows[0]
		invented.Near(t, c.file+" W", r.W, c.w, 1e-9)
		if r.Tasters != c.tasters || !r.Shown || r.Order[0] != c.low || c.high != "" && r.Order[len(r.Order)-1] != c.high {
			t.Errorf("%s: %+v", c.file, r)
		}
	}
}

// The invented series has three tasters and three beers: full agreement is one
// of 36 orders (p 0.028, by counting). Tartness is ranked 1 2 3 twice and, with
// a tie, 1.5 1.5 3: one of 6 x 3 arrangements is as clear.
func TestAgreementSaysWhatFewTastersCanShow(t *testing.T) {
	n := invented.Series()
	p, _ := compared(t, n)
	const none = "tartness: no common order of 3 trials by 3 tasters is shown, which is not the same as none " +
		"(Kendall's W 0.94, exact p 0.056; 3 tasters and 3 trials reach 0.028 at best)"
	if said := strings.Join(p.Said, "\n"); !strings.Contains(said, none) {
		t.Errorf("said %s", said)
	}
	for i := range n.Scores {
		if sc := &n.Scores[i]; sc.ServingID == "club/single" && sc.TasterID == "t2" && sc.Intensity != nil {
			*sc.Intensity = 3.5
		}
	}
	p, _ = compared(t, n)
	const full = "tartness: 3 tasters put 3 trials in a common order, from low to high: plain, single, double " +
		"(Kendall's W 1.00, exact p 0.028; 3 tasters and 3 trials reach 0.028 at best)"
	if said := strings.Join(p.Said, "\n"); !strings.Contains(said, full) {
		t.Errorf("said %s", said)
	}
}

// In the wine with gaps judges 1 and 5 have no cold plain left and judge 7 has no
// cold skins: they are left out and named. In the series a missing score leaves two
// trials or two tasters, and nothing is said.
func TestAgreementNeedsCompleteScores(t *testing.T) {
	s := scoredSet(t, "wine_gaps.csv", "rating", "treatment", "judge", "")
	rows := agreements(s, []string{"bitterness", "haze"})
	if len(rows) != 1 {
		t.Fatalf("%+v", rows)
	}
	r := rows[0]
	left := slices.Sorted(slices.Values(r.LeftTasters))
	if !slices.Equal(left, []string{"1", "5",
		"7"}) || len(r.LeftTrials) != 0 || r.Tasters != 6 || !strings.Contains(r.sentence(),
		"left out for missing scores: ") {
		t.Errorf("%+v: %s", r, r.sentence())
	}
	n := invented.Series()
	n.Scores = n.Scores[1:] // one tartness
	if rows := agreements(invented.SetOf(t, n), []string{"tartness"}); len(rows) != 0 {
		t.Errorf("%+v", rows)
	}
}
