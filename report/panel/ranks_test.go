package panel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// tableScores turns rows of tasters by trials into scores.
func tableScores(rows [][]float64) []Score {
	var scores []Score
	for i, row := range rows {
		for j, v := range row {
			scores = append(scores, Score{fmt.Sprint("T", i), fmt.Sprint("b", j), v})
		}
	}
	return scores
}

// R 4.2.2 friedman.test on the same matrix, with ties.
func TestFriedmanTies(t *testing.T) {
	r, err := Friedman(tableScores([][]float64{{1, 2, 2, 4}, {3, 1, 2, 2}, {1, 1, 3, 4}, {2, 3, 1, 4}, {1, 2, 2, 2}}))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "chi2", r.chi2, 5.09302325581, 1e-10)
	near(t, "p", r.chiSquared, 0.165110884322, 1e-10)
}

// Exact chances by counting, as in the tables of [5]: three tasters in full
// agreement on three trials 1/36; four tasters on three trials, rank sums 4 8
// 12 (chi2 8) 6/6^4 = 1/216 and rank sums 5 7 12 (chi2 6.5) or clearer .0417.
func TestFriedmanExact(t *testing.T) {
	agree := []float64{1, 2, 3}
	cases := []struct {
		rows [][]float64
		chi2 float64
		want float64
		tol  float64
	}{
		{[][]float64{agree, agree, agree}, 6, 1.0 / 36, 1e-12},
		{[][]float64{agree, agree, agree, agree}, 8, 1.0 / 216, 1e-12},
		{[][]float64{agree, agree, agree, {2, 1, 3}}, 6.5, 0.0417, 5e-5},
	}
	for _, c := range cases {
		r, err := Friedman(tableScores(c.rows))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "chi2", r.chi2, c.chi2, 1e-12)
		near(t, "exact p", r.P, c.want, c.tol)
	}
}

// Every arrangement gone through one by one agrees with the stepwise count.
func TestFriedmanExactByListing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 4).Draw(t, "n")
		rows := make([][]float64, n)
		for i := range rows {
			rows[i] = make([]float64, 3)
			for j := range rows[i] {
				rows[i][j] = float64(rapid.IntRange(0, 3).Draw(t, "v"))
			}
		}
		r, err := Friedman(tableScores(rows))
		if err != nil {
			return
		}
		orders := [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}
		total := int(math.Pow(6, float64(n)))
		ranks, _ := rankRows(rows)
		reached := 0
		for code := range total {
			var sum [3]float64
			for i, c := 0, code; i < n; i, c = i+1, c/6 {
				rank := ranks[i]
				for j, o := range orders[c%6] {
					sum[j] += rank[o]
				}
			}
			var spread, own float64
			for j, s := range sum {
				spread += (s - 2*float64(n)) * (s - 2*float64(n))
				d := float64(n) * (r.MeanRank[j] - 2)
				own += d * d
			}
			if spread >= own-1e-9 {
				reached++
			}
		}
		if want := float64(reached) / float64(total); math.Abs(r.P-want) > 1e-12 {
			t.Fatalf("%v: exact p %v, listing gives %v", rows, r.P, want)
		}
	})
}

// Only the order within a taster counts.
func TestFriedmanKeepsOrderOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := rapid.IntRange(3, 5).Draw(t, "n"), rapid.IntRange(3, 5).Draw(t, "k")
		rows, bent := make([][]float64, n), make([][]float64, n)
		for i := range rows {
			for range k {
				v := float64(rapid.IntRange(0, 5).Draw(t, "v"))
				rows[i] = append(rows[i], v)
				bent[i] = append(bent[i], math.Exp(v)+float64(10*i))
			}
		}
		a, err := Friedman(tableScores(rows))
		if err != nil {
			return
		}
		b, err := Friedman(tableScores(bent))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.chi2-b.chi2) > 1e-9 || a.W < -1e-12 || a.W > 1+1e-12 {
			t.Fatalf("chi2 %v and %v, W %v", a.chi2, b.chi2, a.W)
		}
	})
}

// By counting: k! orders for each taster but the first, of which one agrees.
func TestFriedmanSaysHowSmallPCanBe(t *testing.T) {
	agree := []float64{2, 7, 9}
	r, err := Friedman(tableScores([][]float64{agree, agree, agree}))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "smallest p", r.SmallestP, 1.0/36, 1e-12)
	near(t, "p", r.P, r.SmallestP, 1e-12)
	if !r.Exact || r.Tasters != 3 || !slices.Equal(r.Trials, []string{"b0", "b1", "b2"}) {
		t.Errorf("%+v", r)
	}
	long := []float64{1, 2, 3, 4, 5, 6, 7}
	if r, err = Friedman(tableScores([][]float64{long, long, long})); err != nil || r.Exact || r.P != r.chiSquared {
		t.Errorf("3 x 7: %+v, %v; want the p of chi-squared", r, err)
	}
}

func TestFriedmanRefuses(t *testing.T) {
	cases := map[string][]Score{
		"2 tasters and 3 trials": tableScores([][]float64{{1, 2, 3}, {1, 3, 2}}),
		"3 tasters and 2 trials": tableScores([][]float64{{1, 2}, {1, 3}, {2, 1}}),
		"alike":                  tableScores([][]float64{{1, 1, 1}, {2, 2, 2}, {5, 5, 5}}),
		"no scores":              nil,
	}
	for says, scores := range cases {
		if _, err := Friedman(scores); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: error %v", says, err)
		}
	}
}

// A taster who missed one of three trials is left out of five; a trial that one
// of three tasters missed is left out of four. What is left gives what it gives
// alone, in any order of the scores.
func TestFriedmanLeavesGapsOut(t *testing.T) {
	tall := tableScores([][]float64{{1, 5, 9}, {2, 4, 6}, {1, 2, 3}, {3, 2, 5}, {7, 8, 1}})
	wide := tableScores([][]float64{{1, 5, 9, 4}, {2, 4, 6, 1}, {1, 2, 3, 9}})
	square := tableScores([][]float64{{1, 5, 9, 4}, {2, 4, 6, 1}, {1, 2, 3, 9}, {4, 6, 5, 7}})
	five := append(append([]Score{}, square...), Score{"T4", "b0", 2}, Score{"T4", "b1", 1}, Score{"T4", "b2", 8},
		Score{"T4", "b3", 9})
	cases := []struct {
		scores, alone   []Score
		tasters, trials []string
	}{
		{tall[:14], tall[:12], []string{"T4"}, nil},
		// Taster and trial miss the same share: the taster goes.
		{slices.Delete(slices.Clone(square), 14, 15), square[:12], []string{"T3"}, nil},
		// Two tasters miss the same share: both go, the later name first.
		{slices.Delete(slices.Delete(slices.Clone(five), 13, 14), 4, 5),
			slices.Concat(five[:4], five[8:12], five[16:]), []string{"T3", "T1"}, nil},
		{wide[:11], tableScores([][]float64{{1, 5, 9}, {2, 4, 6}, {1, 2, 3}}), nil, []string{"b3"}},
	}
	for _, c := range cases {
		want, err := Friedman(c.alone)
		if err != nil {
			t.Fatal(err)
		}
		for range len(c.scores) {
			c.scores = append(c.scores[1:len(c.scores):len(c.scores)], c.scores[0])
			got, err := Friedman(c.scores)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.LeftTasters, c.tasters) || !slices.Equal(got.LeftTrials, c.trials) ||
				got.Tasters != want.Tasters {
				t.Fatalf("left out %q and %q", got.LeftTasters, got.LeftTrials)
			}
			near(t, "p", got.P, want.P, 1e-12)
			near(t, "W", got.W, want.W, 1e-12)
		}
	}
}

func BenchmarkFriedman(b *testing.B) {
	for _, n := range []int{4, 10, 100, 1000, 20000} {
		rows := make([][]float64, n)
		for i := range rows {
			for j := range 5 {
				rows[i] = append(rows[i], float64((i*7+j*j*3+i*j)%11+j))
			}
		}
		scores := tableScores(rows)
		b.Run(fmt.Sprintf("%dtasters_5trials", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Friedman(scores); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
