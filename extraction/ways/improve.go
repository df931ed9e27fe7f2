package ways

import (
	"fmt"
	"slices"

	"hedgerow/extraction"
	"hedgerow/trials/figure"
)

// Gain is what one change to a steep would do.
type Gain struct {
	// What is the change in words, such as "squeeze every pass".
	What string
	// Ratio is the effective dose after over before, with its 80 % interval;
	// Level is 0 when there was no dose before.
	Ratio figure.Estimate
	// P is the probability that the dose rises.
	P float64
	// DoseGPerL is the effective dose after, at the default figures.
	DoseGPerL float64
	// ExtraML is the liquid that it adds to the beer, mL.
	ExtraML float64
	// ExtraMinutes is the time that it adds.
	ExtraMinutes float64
	// Steep is the changed steep.
	Steep extraction.Steep
}

// change is a way to get more out: it alters a copy of a steep and reports
// whether it applies.
type change struct {
	what  string
	apply func(*extraction.Steep) bool
}

// changes are tried in this order.
var changes = [...]change{
	{"another pass like the last, squeezed", addPass},
	{"squeeze every pass", squeezeAll},
	{"crush it", crush},
	{"twice as long", twiceAsLong},
	{"10 C hotter", hotter},
	{"stir throughout", stir},
	{"loose, not in a bag", unbag},
}

// Improve returns what each change that applies would gain in the effective
// dose of a class, most first: another pass, squeezing, crushing, longer,
// hotter, stirring, no bag. All figures are drawn once for the steep as it is
// and for all changes, so that the intervals are those of the change alone. A
// mix that pours in a part of the extract keeps that share. It errs as Doubt
// does.
func Improve(s *extraction.Steep, class extraction.Class, m extraction.Mix, draws extraction.Draws) ([]Gain, error) {
	s = s.Unread()
	base, point, err := atShare(s, m, nil)
	if err != nil {
		return nil, err
	}
	candidates := []extraction.Candidate{base}
	var gains []Gain
	for _, c := range changes {
		changed := s.Copied()
		if !c.apply(&changed) {
			continue
		}
		candidateAfter, after, err := atShare(&changed, m, &point.Share)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.what, err)
		}
		if c.what == changes[1].what && after.AddedL <= point.AddedL {
			continue // what was measured when drained is already better than squeezing by default
		}
		candidates = append(candidates, candidateAfter)
		gains = append(gains, Gain{What: c.what, DoseGPerL: after.EffectiveGPerL[class],
			ExtraML: (after.AddedL - point.AddedL) * 1000, ExtraMinutes: minutes(&changed) - minutes(s), Steep: changed})
	}
	if err := rate(class, gains, candidates, point.EffectiveGPerL[class], draws); err != nil {
		return nil, err
	}
	slices.SortStableFunc(gains, func(a, b Gain) int { return compareDown(a.Ratio.Value, b.Ratio.Value) })
	return gains, nil
}

// compareDown orders larger values first.
func compareDown(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

// atShare prepares a steep whose extract is poured in by a share of it; nil
// takes the mix as it stands. A change that makes more extract would otherwise
// look like a loss, with the old volume poured from a larger jug.
func atShare(s *extraction.Steep, m extraction.Mix, share *float64) (extraction.Candidate, extraction.Dose, error) {
	r, err := s.Run()
	if err != nil {
		return extraction.Candidate{}, extraction.Dose{}, err
	}
	if share != nil && m.AddedML != nil {
		m.AddedML = new((r.ExtractML + m.TopUpML) * *share)
	}
	d, err := r.Dose(m)
	if err != nil {
		return extraction.Candidate{}, extraction.Dose{}, err
	}
	c, err := extraction.NewCandidate(s, m)
	return c, d, err
}

// rate fills in ratio and probability of every gain; candidate 0 is the steep as
// it is. Unlike Compare, agitation is drawn once for all of them too: it is the
// same brewer at the same pot.
func rate(class extraction.Class, gains []Gain, candidates []extraction.Candidate, before float64,
	draws extraction.Draws) error {
	samples, err := extraction.Together(class, candidates, draws, true)
	if err != nil {
		return err
	}
	for i := range gains {
		var ratios []float64
		for j, old := range samples[0] {
			// from nothing to something is no ratio; a draw without a dose before says nothing of the gain
			if old > 0 {
				ratios = append(ratios, samples[i+1][j]/old)
			}
		}
		gains[i].settle(ratios, before)
	}
	return nil
}

// settle turns ratios into the interval and the probability of a gain. Equal
// doses count half, so a change that does nothing has a probability of 0.5. Without
// any dose before there is no ratio: its Level stays 0.
func (g *Gain) settle(ratios []float64, before float64) {
	if before <= 0 || len(ratios) < 2 {
		if g.DoseGPerL > 0 {
			g.P = 1
		}
		return
	}
	for _, r := range ratios {
		switch {
		case r > 1:
			g.P++
		case r == 1:
			g.P += 0.5
		}
	}
	g.P /= float64(len(ratios))
	g.Ratio = extraction.NewBand(g.DoseGPerL/before, ratios).At80
}

// minutes returns the time of all passes as logged.
func minutes(s *extraction.Steep) float64 {
	total := 0.0
	for _, p := range s.Stages() {
		total += logged(&p)
	}
	return total
}

// logged returns the time of a pass.
func logged(p *extraction.Pass) float64 {
	if n := len(p.Curve); n > 0 {
		return p.Curve[n-1].Minutes - p.Curve[0].Minutes
	}
	return p.Minutes
}

// unmeasured clears what was measured at the end of a pass.
func unmeasured(p *extraction.Pass) {
	p.RecoveredML, p.RecoveredTempC, p.HeldML, p.SpentG = nil, nil, nil, nil
}
