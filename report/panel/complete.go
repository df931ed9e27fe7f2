package panel

import (
	"cmp"
	"slices"
)

// gaps tells which tasters by trials have no score, and which of both are kept.
type gaps struct {
	set             scoreSet
	scored          [][]bool // tasters by trials
	tasters, trials []int    // kept, by name
}

// completeScores leaves out tasters and trials until every taster kept has
// scored every trial kept. Each round drops whichever misses the largest share
// of its scores, so that the fewest scores are lost; of equals a taster goes
// before a trial, and then the later name, so that the order of the scores
// decides nothing.
func completeScores(scores []Score) (kept []Score, leftTasters, leftTrials []string, err error) {
	set, err := newScoreSet(scores)
	if err != nil {
		return nil, nil, nil, err
	}
	g := gaps{set: set, scored: make([][]bool, set.tasters.levels()), tasters: set.tasters.byName(),
		trials: set.trials.byName()}
	for i := range g.scored {
		g.scored[i] = make([]bool, set.trials.levels())
	}
	for i := range scores {
		g.scored[set.tasters.of[i]][set.trials.of[i]] = true
	}
	for {
		taster, tasterMiss := worst(g.tasters, g.trials, func(a, b int) bool { return g.scored[a][b] })
		trial, trialMiss := worst(g.trials, g.tasters, func(b, a int) bool { return g.scored[a][b] })
		switch {
		case tasterMiss == 0:
			return g.kept(scores), leftTasters, leftTrials, nil
		// a taster before a trial: the answer is about the trials, which one would rather keep
		case tasterMiss >= trialMiss:
			leftTasters = append(leftTasters, set.tasters.names[g.tasters[taster]])
			g.tasters = slices.Delete(g.tasters, taster, taster+1)
		default:
			leftTrials = append(leftTrials, set.trials.names[g.trials[trial]])
			g.trials = slices.Delete(g.trials, trial, trial+1)
		}
	}
}

// worst finds the place in list of the level that misses the largest share of
// the others, the last of equals.
func worst(list, others []int, scored func(level, other int) bool) (place int, share float64) {
	for i, level := range list {
		missing := 0
		for _, o := range others {
			if !scored(level, o) {
				missing++
			}
		}
		if s := float64(missing) / float64(len(others)); s >= share {
			place, share = i, s
		}
	}
	return place, share
}

// kept returns the scores of the tasters and trials kept.
func (g gaps) kept(scores []Score) []Score {
	taster, trial := make([]bool, g.set.tasters.levels()), make([]bool, g.set.trials.levels())
	for _, l := range g.tasters {
		taster[l] = true
	}
	for _, l := range g.trials {
		trial[l] = true
	}
	var list []Score
	for i, s := range scores {
		if taster[g.set.tasters.of[i]] && trial[g.set.trials.of[i]] {
			list = append(list, s)
		}
	}
	return list
}

// byName lists the levels of a factor in the order of their names.
func (f factor) byName() []int {
	list := make([]int, f.levels())
	for i := range list {
		list[i] = i
	}
	slices.SortFunc(list, func(a, b int) int { return cmp.Compare(f.names[a], f.names[b]) })
	return list
}
