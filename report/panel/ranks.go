package panel

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// ranking is the result of Friedman: do the tasters put the trials in a common
// order, and how far do they agree on it.
type ranking struct {
	P           float64   // chance of so much agreement among tasters who rank at random
	Exact       bool      // P counts all rankings; else it is of chi-squared, rough for few tasters
	SmallestP   float64   // smallest exact p that so few tasters and trials can reach without ties
	W           float64   // Kendall's coefficient of concordance, 0 none to 1 all alike
	Tasters     int       // who scored all of the trials
	Trials      []string  // from the lowest mean rank to the highest
	MeanRank    []float64 // of the trials, 1 is the lowest score
	LeftTasters []string  // left out, since they did not score all of the trials
	LeftTrials  []string  // left out, since not all of the tasters scored them

	chi2       float64 // tie-corrected
	chiSquared float64 // p from the chi-squared distribution
}

// Friedman tests that the tasters' scores carry no common order of the trials
// [5]. Each taster's mean scores are ranked, ties sharing their mean rank:
//
//	chi2 = 12 sum (R_j - n(k+1)/2)^2 / (n k (k+1) - sum (t^3 - t)/(k-1))
//	W    = chi2 / (n (k-1))
//
// n tasters, k trials, R_j rank sums, t sizes of the tie groups; W is Kendall's
// coefficient [6]. Only the order within a taster counts, so it suits tasters
// who use the scale very differently. The exact P counts all rankings that the
// observed ties allow, where that is quick. The test needs every score of every
// taster: tasters and trials with gaps are left out, as few as completeScores
// can, and named.
//
// Minimum: three tasters and three trials without gaps; with fewer even full
// agreement says little (two of each are of one mind half of the time).
//
// Errors: as Adjusted; too few tasters or trials; every taster ranks all alike.
func Friedman(scores []Score) (*ranking, error) {
	kept, leftTasters, leftTrials, err := completeScores(scores)
	if err != nil {
		return nil, err
	}
	set, err := newScoreSet(kept)
	if err != nil {
		return nil, err
	}
	const least = 3
	table := set.cells()
	n, k := len(table), set.trials.levels()
	if n < least || k < least {
		return nil, fmt.Errorf("%s and %s without gaps: an agreement in order needs three or more of each",
			plural(n, "taster"), plural(k, "trial"))
	}
	ranks, ties := rankRows(table)
	r := &ranking{Tasters: n, Trials: set.trials.names, LeftTasters: leftTasters, LeftTrials: leftTrials}
	chi2, ok := r.statistic(ranks, ties)
	if !ok {
		return nil, fmt.Errorf("every taster scores all trials alike: there is no order to test")
	}
	r.chi2 = chi2
	r.chiSquared = distuv.ChiSquared{K: float64(k - 1)}.Survival(chi2)
	r.W = chi2 / (float64(n) * float64(k-1))
	// all but the first taster must follow it: (1/k!)^(n-1)
	r.SmallestP = math.Exp(-float64(n-1) * logFactorial(k))
	if r.P, r.Exact = exactFriedman(ranks); !r.Exact {
		r.P = r.chiSquared
	}
	r.sort()
	return r, nil
}

// sort puts the trials in the order of their mean ranks, then of their names.
func (r *ranking) sort() {
	order := make([]int, len(r.Trials))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.MeanRank[a], r.MeanRank[b]), cmp.Compare(r.Trials[a], r.Trials[b]))
	})
	names, ranks := make([]string, len(order)), make([]float64, len(order))
	for i, o := range order {
		names[i], ranks[i] = r.Trials[o], r.MeanRank[o]
	}
	r.Trials, r.MeanRank = names, ranks
}

// statistic fills the mean ranks and returns the tie-corrected chi-squared;
// ties is the sum of t^3 - t over all groups of t equal values.
func (r *ranking) statistic(ranks [][]float64, ties float64) (float64, bool) {
	n, k := float64(len(ranks)), float64(len(ranks[0]))
	r.MeanRank = make([]float64, len(ranks[0]))
	// Ranks are halves, so their sums are exact.
	for _, row := range ranks {
		for j, v := range row {
			r.MeanRank[j] += v
		}
	}
	var top float64
	for j, sum := range r.MeanRank {
		d := sum - n*(k+1)/2
		top += 12 * d * d
		r.MeanRank[j] = sum / n
	}
	bottom := n*k*(k+1) - ties/(k-1)
	// all ties: the two terms cancel, to rounding
	if bottom < 1e-9 {
		return 0, false
	}
	return top / bottom, true
}

// rankRows ranks each row and adds up t^3 - t over the groups of t equal values.
func rankRows(table [][]float64) (ranks [][]float64, ties float64) {
	cols := len(table[0])
	ranks = grid(len(table), cols)
	order := make([]int, cols)
	for i, row := range table {
		ties += midRanks(row, order, ranks[i])
	}
	return ranks, ties
}

// midRanks fills in ranks from 1 for the lowest, equal values sharing the mean
// of their ranks, and returns the sum of t^3 - t over groups of t equal
// values. It sorts in order, which is overwritten.
func midRanks(x []float64, order []int, rank []float64) (ties float64) {
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		for _, o := range order[i:j] {
			rank[o] = float64(i+j+1) / 2
		}
		t := float64(j - i)
		ties += t*t*t - t
		i = j
	}
	return ties
}

// logFactorial is ln k!.
func logFactorial(k int) float64 {
	l, _ := math.Lgamma(float64(k + 1))
	return l
}

// rankSums is a vector of doubled rank sums, whole numbers even with ties.
type rankSums [6]int

// exactFriedman is the share of all arrangements of each taster's own ranks
// whose spread of rank sums is at least the observed one. It adds one taster at
// a time to the distribution of the rank sums; ok is false, at once, where that
// distribution would grow too large.
func exactFriedman(ranks [][]float64) (p float64, ok bool) {
	k := len(ranks[0])
	if !countable(len(ranks), k) {
		return 0, false
	}
	var observed, first rankSums
	for i, row := range ranks {
		for j, v := range row {
			// doubled, since ties share half ranks and whole numbers compare exactly
			observed[j] += int(2 * v)
			if i == 0 {
				first[j] = int(2 * v)
			}
		}
	}
	// Relabelling the trials changes nothing, so one taster may stay put.
	chance := map[rankSums]float64{first: 1}
	for _, row := range ranks[1:] {
		all := arrangements(row)
		next := make(map[rankSums]float64, len(chance))
		for _, s := range sortedSums(chance) {
			for _, a := range all {
				t := s
				for j := range k {
					t[j] += a[j]
				}
				next[t] += chance[s] / float64(len(all))
			}
		}
		chance = next
	}
	least := observed.spread(k, len(ranks))
	for _, s := range sortedSums(chance) {
		if s.spread(k, len(ranks)) >= least {
			p += chance[s]
		}
	}
	return min(p, 1), true
}

// sortedSums lists the vectors in a fixed order, so that adding their chances
// gives the same last digit from run to run.
func sortedSums(chance map[rankSums]float64) []rankSums {
	return slices.SortedFunc(maps.Keys(chance), func(a, b rankSums) int { return slices.Compare(a[:], b[:]) })
}

// countable bounds the additions that exactFriedman needs for n tasters and k
// trials: k! for every vector of rank sums, and those number at most one for
// each combination of k-1 sums between i and i k, nor more than (k!)^i.
func countable(n, k int) bool {
	const most = 400_000 // some milliseconds
	if k > len(rankSums{}) {
		return false
	}
	orders := math.Exp(logFactorial(k))
	vectors, work := 1.0, 0.0
	for i := 1; i < n && work <= most; i++ {
		work += vectors * orders
		vectors = math.Min(vectors*orders, math.Pow(float64(i*(k-1)+1), float64(k-1)))
	}
	return work <= most
}

// spread is the sum of squared deviations of k doubled rank sums of n tasters.
func (s rankSums) spread(k, n int) int {
	var sum int
	for _, v := range s[:k] {
		d := v - n*(k+1)
		sum += d * d
	}
	return sum
}

// arrangements lists every order of the doubled ranks, repeats included.
func arrangements(row []float64) []rankSums {
	var list []rankSums
	var current rankSums
	for j, v := range row {
		current[j] = int(2 * v)
	}
	var permute func(from int)
	permute = func(from int) {
		if from == len(row) {
			list = append(list, current)
			return
		}
		for i := from; i < len(row); i++ {
			current[from], current[i] = current[i], current[from]
			permute(from + 1)
			current[from], current[i] = current[i], current[from]
		}
	}
	permute(0)
	return list
}
