package panel

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// TasterView says how one taster uses the scale and follows the others.
type TasterView struct {
	Taster   string  // as given in the scores
	Scores   int     // scores given, repeats included
	Offset   float64 // mean level above the average taster, trials allowed for
	Residual float64 // root mean square of the scores around trial + taster
	// Slope is the change of the taster's scores per unit of the others': above
	// 1 a taster who uses more of the scale. Valid if CompareOK.
	Slope float64
	// Agreement is the correlation with the mean of the others over the trials,
	// -1 to 1. Valid if CompareOK.
	Agreement float64
	CompareOK bool     // three or more trials shared with others, not all alike
	Compared  int      // trials that both the taster and others scored
	Repeats   noise    // from the taster's own repeats
	Remarks   []string // what is odd about the scores, in words
}

// noise is a standard deviation from repeated scores of one trial by one taster.
type noise struct {
	SD   float64 // score units, valid if OK
	DF   int     // repeats beyond the first
	Low  float64 // limits from the chi-squared distribution at the level asked
	High float64 // valid if OK
	OK   bool    // DF is above zero
}

// TasterTable returns one line per taster, in order of first appearance. The
// fit is that of Adjusted; Slope and Agreement set the taster's own mean of
// each trial against the mean of the others there, with their levels taken
// off. Remarks point at constant scores and at agreement under 0.2 over five
// or more trials (a rule of thumb, no source): such a taster may have tasted
// something else, or guessed.
//
// Minimum: two tasters and three trials for Slope and Agreement.
//
// Errors: as Adjusted.
func TasterTable(scores []Score, level float64) ([]TasterView, error) {
	a, err := Adjusted(scores, level)
	if err != nil {
		return nil, err
	}
	views := make([]TasterView, len(a.Tasters))
	low, high := make([]float64, len(views)), make([]float64, len(views))
	for p := range views {
		low[p], high[p] = math.Inf(1), math.Inf(-1)
	}
	for i, s := range scores {
		p, k := a.fit.tasters.of[i], a.fit.trials.of[i]
		e := s.Value - a.fit.mean(k) - a.Tasters[p].Offset
		views[p].Residual += e * e
		low[p], high[p] = math.Min(low[p], s.Value), math.Max(high[p], s.Value)
	}
	own := ownMeans(a, scores)
	repeats := a.fit.repeats()
	for p, t := range a.Tasters {
		v := &views[p]
		v.Taster, v.Scores, v.Offset = t.Taster, t.Scores, t.Offset
		v.Residual = math.Sqrt(v.Residual / float64(t.Scores))
		v.compare(own, p)
		v.Repeats = newNoise(repeats.ss[p], repeats.df[p], level)
		v.remark(low[p], high[p], len(a.Tasters))
	}
	return views, nil
}

// trialSums hold, per trial and taster, the sum and number of level-free
// scores; only occupied cells.
type trialSums struct {
	trial []map[int]*[2]float64 // taster -> sum, n
	total [][2]float64
}

func ownMeans(a *Adjustment, scores []Score) trialSums {
	t := trialSums{trial: make([]map[int]*[2]float64, len(a.Trials)), total: make([][2]float64, len(a.Trials))}
	for i, s := range scores {
		p, k := a.fit.tasters.of[i], a.fit.trials.of[i]
		if t.trial[k] == nil {
			t.trial[k] = make(map[int]*[2]float64)
		}
		c := t.trial[k][p]
		if c == nil {
			c = new([2]float64)
			t.trial[k][p] = c
		}
		// without the level: who happened to join a trial would else move what others are compared with
		free := s.Value - a.Tasters[p].Offset
		c[0] += free
		c[1]++
		t.total[k][0] += free
		t.total[k][1]++
	}
	return t
}

// compare sets the taster's trial means against those of the others.
func (v *TasterView) compare(t trialSums, taster int) {
	var own, others []float64
	for k, cells := range t.trial {
		c := cells[taster]
		// nobody else scored it: there is nothing to compare with
		if c == nil || t.total[k][1] == c[1] {
			continue
		}
		own = append(own, c[0]/c[1])
		others = append(others, (t.total[k][0]-c[0])/(t.total[k][1]-c[1]))
	}
	v.Compared = len(own)
	// a line through two points agrees with anything
	if len(own) < 3 || stat.Variance(own, nil) == 0 || stat.Variance(others, nil) == 0 {
		return
	}
	v.Agreement = stat.Correlation(own, others, nil)
	_, v.Slope = stat.LinearRegression(others, own, nil, false)
	v.CompareOK = figure.Finite(v.Agreement) && figure.Finite(v.Slope)
}

// remark points at scores that say little.
func (v *TasterView) remark(low, high float64, tasters int) {
	// two equal scores are no habit
	if v.Scores > 2 && low == high {
		v.Remarks = append(v.Remarks, fmt.Sprintf("gave %v every time", low))
	}
	// of two tasters who differ neither is the odd one; over few trials a low correlation is common by chance
	if v.CompareOK && v.Compared >= 5 && v.Agreement < 0.2 && tasters > 2 {
		v.Remarks = append(v.Remarks, "does not follow the others")
	}
}

// squares are sums of squares within cells, per taster.
type squares struct {
	ss []float64
	df []int
}

// repeats gathers what repeats of one taster on one trial differ by.
func (s scoreSet) repeats() squares {
	type cellKey struct{ taster, trial int }
	sum, n := make(map[cellKey]float64), make(map[cellKey]float64)
	for i, v := range s.y {
		k := cellKey{s.tasters.of[i], s.trials.of[i]}
		sum[k] += v
		n[k]++
	}
	r := squares{ss: make([]float64, s.tasters.levels()), df: make([]int, s.tasters.levels())}
	seen := make(map[cellKey]bool)
	for i, v := range s.y {
		k := cellKey{s.tasters.of[i], s.trials.of[i]}
		d := v - sum[k]/n[k]
		r.ss[k.taster] += d * d
		if seen[k] {
			r.df[k.taster]++
		}
		seen[k] = true
	}
	return r
}

// newNoise turns a sum of squares into a standard deviation with limits.
func newNoise(ss float64, df int, level float64) noise {
	n := noise{DF: df}
	if df < 1 {
		return n
	}
	chi := distuv.ChiSquared{K: float64(df)}
	n.SD = math.Sqrt(ss / float64(df))
	n.Low = math.Sqrt(ss / chi.Quantile(0.5+level/2))
	n.High = math.Sqrt(ss / chi.Quantile(0.5-level/2))
	n.OK = true
	return n
}

// RepeatNoise returns the noise of one score from all repeats: the pooled
// standard deviation of scores that one taster gave one trial more than once,
// a hidden repeat in the flight or a second evening. It is the yardstick for
// differences between trials and needs no model.
//
// Minimum: one repeat; OK is false without. From one repeat the limits span a
// factor of 70.
//
// Errors: as Adjusted.
func RepeatNoise(scores []Score, level float64) (noise, error) {
	if err := checkLevel(level); err != nil {
		return noise{}, err
	}
	set, err := newScoreSet(scores)
	if err != nil {
		return noise{}, err
	}
	r := set.repeats()
	var ss float64
	df := 0
	for p := range r.ss {
		ss += r.ss[p]
		df += r.df[p]
	}
	return newNoise(ss, df, level), nil
}
