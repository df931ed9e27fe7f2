package panel

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"hedgerow/trials/figure"

	"gonum.org/v1/gonum/stat/distuv"
)

// Score is one number that a taster gave a trial. A taster may score a trial
// more than once (repeats) or not at all.
type Score struct {
	Taster string  // who scored; never empty
	Trial  string  // what was scored; never empty
	Value  float64 // on any scale, the same for all
}

// trialMean is the mean score of one trial.
type trialMean struct {
	Trial   string  // as given in the scores
	Tasters int     // different people who scored it
	Scores  int     // scores, repeats included
	Raw     float64 // plain mean of its scores
	Mean    float64 // mean adjusted for who scored it
	Low     float64 // lower end of the interval of Mean, valid if OK
	High    float64 // upper end, valid if OK
	OK      bool    // an interval could be given
	Group   int     // trials of different groups share no taster, directly or through others, and cannot be compared
}

// tasterLevel says how high a taster scores beside the others.
type tasterLevel struct {
	Taster string  // as given in the scores
	Scores int     // scores given, repeats included
	Offset float64 // mean level above the average taster of the same group, trials allowed for
	Group  int     // as trialMean.Group
}

// Adjustment is the result of Adjusted.
type Adjustment struct {
	Level      float64       // confidence level of every interval, as a share
	Trials     []trialMean   // in order of first appearance
	Tasters    []tasterLevel // in order of first appearance
	Groups     int           // connected groups of trials; 1 when everything can be compared
	ResidualSD float64       // standard deviation of a score around trial + taster; 0 if DF is 0
	DF         int           // residual degrees of freedom
	// SmallestSeen is the smallest difference between two trials that could
	// have stood out at this level; valid if SmallestOK.
	SmallestSeen float64
	SmallestOK   bool     // there is noise to measure and a pair to compare
	Warnings     []string // what the numbers cannot say, in words

	fit      *trialFit
	interval bool // there is noise to build intervals from
}

// Adjusted returns the mean of each trial, adjusted for the level of the
// tasters who scored it, from the two-way fit by least squares
//
//	score = trial + taster + error
//
// without interaction [1]. The adjusted mean is the trial's effect plus the
// average of the taster effects, every taster counted once, so a trial that
// only a strict taster scored is not punished for it. Missing cells and
// repeats are allowed; with complete scores the adjusted and raw means agree.
// The interval is mean ± t(df) SE with SE from the residual standard
// deviation, for just these tasters: it says nothing about other people.
//
// Minimum: one score. An interval needs residual degrees of freedom, scores
// minus trials minus tasters plus groups above zero, hence two tasters with
// two trials each, or repeats; without them OK is false and a warning says so.
// Trials that no chain of tasters links are put in different groups; they are
// averaged over the tasters of their own group only.
//
// Errors: no scores, an empty name, a value that is not finite, a level
// outside 0 to 1, more than 2000 trials and as many tasters at once.
func Adjusted(scores []Score, level float64) (*Adjustment, error) {
	if err := checkLevel(level); err != nil {
		return nil, err
	}
	set, err := newScoreSet(scores)
	if err != nil {
		return nil, err
	}
	fit, err := newTrialFit(set)
	if err != nil {
		return nil, err
	}
	a := &Adjustment{Level: level, Groups: fit.pieces, DF: fit.df, fit: fit}
	a.ResidualSD, a.interval = fit.sigma()
	// an SD of rounding would give intervals of no width: the surest of answers from no noise at all
	if a.interval && fit.exact(set.y) {
		a.ResidualSD, a.interval = 0, false
	}
	a.listTrials()
	a.listTasters()
	a.SmallestSeen, a.SmallestOK = a.smallest()
	a.warn()
	return a, nil
}

// checkScores refuses scores that cannot be calculated with.
func checkScores(scores []Score) error {
	if len(scores) == 0 {
		return fmt.Errorf("no scores: give at least one score with its taster and trial")
	}
	for i, s := range scores {
		switch {
		case s.Taster == "":
			return fmt.Errorf("score %d of trial %q has no taster: name who gave it", i+1, s.Trial)
		case s.Trial == "":
			return fmt.Errorf("score %d by taster %q has no trial: name what was tasted", i+1, s.Taster)
		case !plain(s.Value):
			return fmt.Errorf("score %v by taster %q for trial %q: give a plain number or leave it out",
				s.Value, s.Taster, s.Trial)
		}
	}
	return nil
}

// The interval is for these tasters: their levels are taken as fixed, so it
// holds the noise of single scores only. MixedModel gives the wider one for
// people like them.

// quantile is the two-sided t factor of the intervals.
func (a *Adjustment) quantile() float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(a.DF)}.Quantile(0.5 + a.Level/2)
}

// listTrials fills one line per trial.
func (a *Adjustment) listTrials() {
	tasters := a.fit.tastersOf()
	var t float64
	if a.interval {
		t = a.quantile()
	}
	for k, name := range a.fit.trials.names {
		n, sum := a.fit.sums(k)
		m := trialMean{Trial: name, Tasters: tasters[k], Scores: int(n), Raw: sum / n, Mean: a.fit.mean(k),
			Group: a.fit.piece(k)}
		// never left at 0, which a caller that forgets OK would print as a limit
		m.Low, m.High = m.Mean, m.Mean
		if a.interval {
			half := t * a.ResidualSD * math.Sqrt(a.fit.variance(k))
			m.Low, m.High, m.OK = m.Mean-half, m.Mean+half, true
		}
		a.Trials = append(a.Trials, m)
	}
}

// listTasters fills one line per taster.
func (a *Adjustment) listTasters() {
	count := make([]int, a.fit.tasters.levels())
	group := make([]int, len(count))
	for i, p := range a.fit.tasters.of {
		count[p]++
		group[p] = a.fit.piece(a.fit.trials.of[i])
	}
	for k, name := range a.fit.tasters.names {
		a.Tasters = append(a.Tasters, tasterLevel{Taster: name, Scores: count[k], Offset: a.fit.tasterEffect(k),
			Group: group[k]})
	}
}

// searched bounds the trials whose pairs are gone through for SmallestSeen.
const searched = 100

// smallest is t times the smallest standard error of a difference between two
// trials: the least significant difference of the best compared pair. With
// more than 100 trials only the 100 with most scores are searched.
func (a *Adjustment) smallest() (float64, bool) {
	if !a.interval {
		return 0, false
	}
	order := make([]int, len(a.Trials))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(x, y int) bool { return a.Trials[order[x]].Scores > a.Trials[order[y]].Scores })
	// the best compared pair is mostly among the most scored; a thousand trials have half a million pairs
	order = order[:min(len(order), searched)]
	best := a.fit.bestPair(order)
	// no two trials of one group: a difference between groups has no standard error
	if !figure.Finite(best) {
		return 0, false
	}
	return a.quantile() * a.ResidualSD * math.Sqrt(best), true
}

// warn puts in words what the numbers cannot say.
func (a *Adjustment) warn() {
	add := func(format string, args ...any) { a.Warnings = append(a.Warnings, fmt.Sprintf(format, args...)) }
	if len(a.Tasters) == 1 {
		add("one taster: every mean is that of %s alone and says nothing about other people", a.Tasters[0].Taster)
	}
	if len(a.Trials) == 1 {
		add("one trial: there is nothing to compare it with")
	}
	switch {
	case a.DF <= 0:
		add("no interval: %s by %s leave no scores over to measure the noise; taste again, or have more people taste",
			plural(len(a.fit.trials.of), "score"), plural(len(a.Tasters), "taster"))
	case !a.interval:
		add("no interval: the scores fit trial + taster exactly, so they show no noise to measure; with few scores this " +
			"is chance, not certainty")
	// t at 3 degrees is 3.2 against 2 with many: half as wide again
	case a.DF < 4:
		add("only %s of freedom are left to measure the noise: the intervals are very wide", plural(a.DF, "degree"))
	}
	if a.Groups > 1 {
		add("%d groups of trials share no taster and cannot be compared with each other: %s", a.Groups, a.groupList())
	}
}

// groupList names the trials of each group, at most a handful.
func (a *Adjustment) groupList() string {
	const shown = 6
	names := make([][]string, a.Groups)
	for _, t := range a.Trials {
		names[t.Group] = append(names[t.Group], t.Trial)
	}
	var parts []string
	for _, g := range names[:min(len(names), shown)] {
		text := strings.Join(g[:min(len(g), shown)], ", ")
		if len(g) > shown {
			text += fmt.Sprintf(" and %d more", len(g)-shown)
		}
		parts = append(parts, text)
	}
	if len(names) > shown {
		parts = append(parts, fmt.Sprintf("and %d more groups", len(names)-shown))
	}
	return strings.Join(parts, " | ")
}
