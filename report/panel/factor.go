package panel

import (
	"fmt"
	"math"
)

// factor is a list of labels turned into numbers: of[i] is the level of
// observation i, names[l] the label of level l, in order of first appearance.
type factor struct {
	names []string
	of    []int
}

// newFactor numbers the labels of n observations.
func newFactor(n int, label func(i int) string) factor {
	names, of := number(n, label)
	return factor{names: names, of: of}
}

// number lists the different values of n observations in order of first
// appearance, and the place in that list of each observation. Observations
// mostly come in rounds, the same values in the same order or one value many
// times over, so the value that followed the last one before is tried first:
// a look at a string costs much less than a look into a map.
func number[T comparable](n int, value func(i int) T) (levels []T, of []int) {
	of = make([]int, n)
	place := make(map[T]int)
	var after []int // what followed each level last time, at first itself
	last := 0
	for i := range of {
		v := value(i)
		var l int
		known := i > 0
		if known {
			l = after[last]
			known = levels[l] == v
		}
		if !known {
			l, known = place[v]
		}
		if !known {
			l = len(levels)
			place[v] = l
			levels, after = append(levels, v), append(after, l)
		}
		after[last], of[i], last = l, l, l
	}
	return levels, of
}

// levels is the number of different labels.
func (f factor) levels() int { return len(f.names) }

// find returns the level of a label.
func (f factor) find(name string) (int, bool) {
	for l, have := range f.names {
		if have == name {
			return l, true
		}
	}
	return 0, false
}

// scoreSet is checked scores with their labels turned into numbers.
type scoreSet struct {
	trials, tasters factor
	y               []float64
}

// newScoreSet numbers the trials and tasters of the scores.
func newScoreSet(scores []Score) (scoreSet, error) {
	if err := checkScores(scores); err != nil {
		return scoreSet{}, err
	}
	s := scoreSet{
		trials:  newFactor(len(scores), func(i int) string { return scores[i].Trial }),
		tasters: newFactor(len(scores), func(i int) string { return scores[i].Taster }),
		y:       make([]float64, len(scores)),
	}
	for i, score := range scores {
		s.y[i] = score.Value
	}
	return s, nil
}

// cells is the table of mean scores, tasters by trials, of scores without gaps.
func (s scoreSet) cells() [][]float64 {
	sum, n := grid(s.tasters.levels(), s.trials.levels()), grid(s.tasters.levels(), s.trials.levels())
	for i, v := range s.y {
		sum[s.tasters.of[i]][s.trials.of[i]] += v
		n[s.tasters.of[i]][s.trials.of[i]]++
	}
	for i := range sum {
		for j := range sum[i] {
			sum[i][j] /= n[i][j]
		}
	}
	return sum
}

// grid is a table of zeros, its rows in one piece of memory.
func grid(rows, cols int) [][]float64 {
	all := make([]float64, rows*cols)
	table := make([][]float64, rows)
	for i := range table {
		table[i] = all[i*cols : (i+1)*cols : (i+1)*cols]
	}
	return table
}

// plain tells whether x is an input that can be calculated with: a number, and
// not so large that its square loses the others (no taste, dose or count is).
func plain(x float64) bool { return math.Abs(x) <= 1e12 }

// checkLevel refuses a confidence level that is not a share between 0 and 1.
func checkLevel(level float64) error {
	if !(level > 0 && level < 1) {
		return fmt.Errorf("confidence level %v: give a share above 0 and below 1, for instance 0.95", level)
	}
	return nil
}

// plural returns "1 taster" or "3 tasters".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
