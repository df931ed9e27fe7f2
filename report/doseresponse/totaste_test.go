package doseresponse

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"

	"pgregory.net/rapid"
)

// series builds one series of a taster in steps of x1.25; a dose of 0 is not noted.
func series(who string, extract evidence.Extract, dir evidence.Direction, right, much float64) evidence.ToTaste {
	l := evidence.ToTaste{Taster: who, Tasting: "E", Extract: extract, Direction: dir}
	if right > 0 {
		l.RightGPerL = &right
	}
	if much > 0 {
		l.TooMuchGPerL = &much
	}
	return l
}

// drawSeries draws one series with at least one note.
func drawSeries(t *rapid.T) evidence.ToTaste {
	right := math.Exp(rapid.Float64Range(-1, 1).Draw(t, "right"))
	much := right * math.Exp(rapid.Float64Range(0.1, 1.5).Draw(t, "wide"))
	l := series(rapid.SampledFrom([]string{"A", "B", "Z"}).Draw(t, "who"),
		rapid.SampledFrom([]evidence.Extract{evidence.Used, evidence.Other}).Draw(t, "extract"),
		rapid.SampledFrom([]evidence.Direction{evidence.Up, evidence.Down}).Draw(t, "dir"), right, much)
	l.Method = rapid.SampledFrom([]string{"", "tea", "hot tea"}).Draw(t, "method")
	step := rapid.Float64Range(1.05, 3).Draw(t, "step")
	l.StepFactor = &step
	if !rapid.Bool().Draw(t, "stopped") {
		return l
	}
	// stopped short of the end that would have come last
	if l.Direction == evidence.Up {
		l.StoppedAtGPerL, l.TooMuchGPerL = l.TooMuchGPerL, nil
	} else {
		l.StoppedAtGPerL, l.RightGPerL = l.RightGPerL, nil
	}
	return l
}

// A noted is one end of "just right" on the relative ln scale: where it was noted, or
// beyond which it lies.
type noted struct{ x, end, beyond, up float64 }

// noteChance returns the density of a note, or the chance that it lies beyond, as
// the documentation of the field has it: with the steps of x1.25 that are common.
func noteChance(n noted, kappa, c, right, step, habit float64) float64 {
	sd := math.Sqrt(0.6*math.Pow(1.81/kappa, 2) + 0.01 + math.Pow(math.Log(1.25)/2, 2)/3)
	mean := right + n.end*c - step + n.up*habit
	if n.beyond == 0 {
		return normalDensity(n.x-mean, sd)
	}
	return 0.5 * math.Erfc(n.beyond*(n.x-mean)/sd/math.Sqrt2)
}

// Series of three tasters, one of them stopped short, with the votes on a brew or
// without: the quantiles of psi against draws from the prior weighed by their
// likelihood, which need no mode.
func TestToTasteAgainstPriorDraws(t *testing.T) {
	half := 0.5 * math.Log(1.25)
	origin := math.Log(8) / 2
	for _, tt := range []struct {
		name    string
		extract evidence.Extract
		stepSD  float64
		votes   []int
	}{
		{"other", evidence.Other, 0.4, nil},
		{"used", evidence.Used, 0.2, nil},
		{"used, then a brew", evidence.Used, 0.2, []int{-1, -1, 0}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := eightfold()
			s.DosedToTaste = []evidence.ToTaste{
				series("A", tt.extract, evidence.Up, 0.9, 1.9),
				series("B", tt.extract, evidence.Down, 1.0, 2.4),
				series("C", tt.extract, evidence.Up, 1.4, 0),
			}
			stop := 2.2
			s.DosedToTaste[2].StoppedAtGPerL = &stop
			ln := func(d float64) float64 { return math.Log(d) - origin }
			notes := [][]noted{
				{{ln(0.9) - half, -1, 0, 1}, {ln(1.9) - half, 1, 0, 1}},
				{{ln(1.0) + half, -1, 0, -1}, {ln(2.4) + half, 1, 0, -1}},
				{{ln(1.4) - half, -1, 0, 1}, {ln(2.2), 1, 1, 1}},
			}
			if tt.votes != nil {
				tr := unmarked(trial("1", 1.4, tt.votes...))
				tr.Method = ""
				s.Trials = append(s.Trials, tr)
			}
			want := tastePriorDraws(notes, tt.stepSD, tt.votes, ln(1.4), 150000)
			var got [3]float64
			for seed := range fits {
				q := mustFit(t, s, Options{Seed: uint64(seed + 1)}).psiQ
				got[0], got[1], got[2] = got[0]+q.low/fits, got[1]+q.mid/fits, got[2]+q.high/fits
			}
			for i, g := range got {
				if math.Abs(g-want[i]) > 0.04 {
					t.Errorf("point %d: %.3f, prior draws %.3f", i, g, want[i])
				}
			}
		})
	}
}

// tastePriorDraws returns the 5, 50 and 95 % points of psi for the notes of each
// taster and the votes of the same tasters on one brew at x.
func tastePriorDraws(notes [][]noted, stepSD float64, votes []int, x float64, n int) []float64 {
	rng := rand.New(rand.NewPCG(5, 5))
	all := shapes()
	psi, s := make([]float64, n), &field.Sample{Weight: make([]float64, n)}
	var total float64
	for i := range n {
		shape := all[rng.IntN(len(all))]
		shape.weight *= float64(len(all))
		tau := pick(rng, offsetSDs())
		kappa, c := shape.kappa, shape.c
		// where votes ignore the dose the notes do not
		if votes != nil && rng.Float64() < 0.03/1.03 {
			shape, tau = flat(), 0.45
			shape.weight, kappa, c = 1, 3.5, 0.45
		}
		theta := pick(rng, claimSDs(math.Sqrt(math.Log(8)*math.Log(8)/12+0.09))) * rng.NormFloat64()
		step, habit, brew := stepSD*rng.NormFloat64(), -0.12+0.12*rng.NormFloat64(), 0.18*rng.NormFloat64()
		w := shape.weight
		psi[i] = theta
		for j, own := range notes {
			u := tau * rng.NormFloat64()
			psi[i] += u / float64(len(notes))
			for _, o := range own {
				w *= noteChance(o, kappa, c, theta+u, step, habit)
			}
			if votes != nil {
				w *= voteChance(votes[j], shape.kappa, shape.c, x+brew-theta-u)
			}
		}
		s.Weight[i] = w
		total += w
	}
	for i := range s.Weight {
		s.Weight[i] /= total
	}
	return s.Points(psi, field.Order(psi), 0.05, 0.5, 0.95)
}

// At one node without censoring everything is Gaussian: two notes of one taster have
// a mean of variance s^2/2 about psi + habit - step, so that with the prior variances
// S^2 + tau^2 of psi, 0.2^2 of the step of the used extract and 0.12^2 of the habit
//
//	E psi = m V/(V + s^2/2 + 0.2^2 + 0.12^2),  V = S^2 + tau^2,  m = mean of x -/+ c + 0.12
func TestNotesAreRegression(t *testing.T) {
	s := eightfold()
	s.DosedToTaste = []evidence.ToTaste{series("A", evidence.Used, evidence.Up, 1.2, 3)}
	prob, err := problemOf(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := field.NewField(prob)
	right := 0.7
	n := field.Families([]field.PriorPart{{LnPrior: field.LnPrior{Sd: right}, Weight: 1}},
		[]field.Weighted{{Value: 0.45, Weight: 1}}, false)[0][0]
	f.At(n)
	f.FindMode()
	got := f.Mode[0] + f.Mode[f.Own+prob.Theta]
	s2 := 0.6*math.Pow(1.81/n.Kappa, 2) + 0.01 + math.Pow(math.Log(1.25)/2, 2)/3
	m := (math.Log(1.2)+math.Log(3))/2 - math.Log(1.25)/2 - math.Log(8)/2 + 0.12
	v := right*right + 0.45*0.45
	if want := m * v / (v + s2/2 + 0.04 + 0.0144); math.Abs(got-want) > 1e-3 {
		t.Errorf("psi = %.4f, by hand %.4f", got, want)
	}
}

// An evening with doses twice as high is answered twice as high, and what was noted
// on the way down mirrors what was noted on the way up.
func TestToTasteMirrored(t *testing.T) {
	s, m := eightfold(), eightfold()
	s.DosedToTaste = []evidence.ToTaste{series("A", evidence.Other, evidence.Up, 1.2, 3),
		series("B", evidence.Other, evidence.Down, 1.5, 0)}
	for _, l := range s.DosedToTaste {
		o := evidence.ToTaste{Taster: l.Taster, Extract: l.Extract, Direction: evidence.Down}
		if l.Direction == evidence.Down {
			o.Direction = evidence.Up
		}
		if l.RightGPerL != nil {
			d := 8 / *l.RightGPerL
			o.TooMuchGPerL = &d
		}
		if l.TooMuchGPerL != nil {
			d := 8 / *l.TooMuchGPerL
			o.RightGPerL = &d
		}
		m.DosedToTaste = append(m.DosedToTaste, o)
	}
	a, b := mustFit(t, s, Options{Approximate: true}), mustFit(t, m, Options{Approximate: true})
	if math.Abs(a.psiQ.mid+b.psiQ.mid) > 0.03 {
		t.Errorf("right ln dose %.3f, mirrored %.3f", a.psiQ.mid, b.psiQ.mid)
	}
}

// The extract that is used tells more than another, a second series down more than
// one up, and tasters who only dosed to taste are of the panel.
func TestToTasteTells(t *testing.T) {
	width := func(extract evidence.Extract, down bool) float64 {
		s := eightfold()
		for i, who := range []string{"A", "B", "C", "D"} {
			d := 1 + 0.1*float64(i)
			s.DosedToTaste = append(s.DosedToTaste, series(who, extract, evidence.Up, d, 2*d))
			if down {
				s.DosedToTaste = append(s.DosedToTaste, series(who, extract, evidence.Down, d, 2*d))
			}
		}
		p := mustFit(t, s, Options{})
		if got := len(p.Tasters()); got != 4 {
			t.Errorf("%d tasters, want 4", got)
		}
		return p.psiSD
	}
	other, used, both := width(evidence.Other, false), width(evidence.Used, false), width(evidence.Used, true)
	if !(other > used && used > both) {
		t.Errorf("SD with another extract %.3f, with the used one %.3f, up and down %.3f", other, used, both)
	}
}

// The step from the glass to the packaged beer is learnt from what the beer was
// called: at the dose that was noted as right it is too much for all.
func TestUsedStepIsLearnt(t *testing.T) {
	s := eightfold()
	for i, who := range []string{"A", "B", "C", "D"} {
		d := 2 + 0.1*float64(i)
		s.DosedToTaste = append(s.DosedToTaste, series(who, evidence.Used, evidence.Up, d, 2*d),
			series(who, evidence.Used, evidence.Down, d, 2*d))
	}
	for k, d := range []float64{2.9, 3} {
		tr := trial(string(rune('1'+k)), d, 1, 1, 1, 1)
		tr.Method = ""
		s.Trials = append(s.Trials, tr)
	}
	p := mustFit(t, s, Options{})
	mean, sd := p.draws.Moments(p.draws.Number(2*len(p.prob.Tasters) + p.prob.Used))
	// the beer tastes of more than the glass did, so in the glass the step is below 0
	if mean > -0.1 || sd > 0.19 {
		t.Errorf("step %.3f, SD %.3f, before it was 0 and %.2f", mean, sd, field.UsedSDLn)
	}
}

// Without claims the doses noted as right stand for where to look.
func TestToTasteWithoutClaims(t *testing.T) {
	s := evidence.Study{ID: "s", DosedToTaste: []evidence.ToTaste{series("A", evidence.Other, evidence.Up, 2, 4)}}
	p := mustFit(t, s, Options{})
	if d := p.NextDose().DoseGPerL; d < 2 || d > 4 {
		t.Errorf("next %.2f g/L of an evening that was right from 2 to 4", d)
	}
	if slices.Contains(codesOf(p.warnings()), noScoresCode) {
		t.Error("an evening of dosing to taste counts as no scores")
	}
	s.DosedToTaste[0].RightGPerL, s.DosedToTaste[0].TooMuchGPerL = nil, nil
	if _, err := Fit(s, Options{}); err != evidence.ErrNotEnough {
		t.Errorf("err = %v for a series without a note", err)
	}
}

// Who votes at random is not trusted with a dropper either.
func TestToTasteDistrusted(t *testing.T) {
	s := evidence.Study{ID: "s", ClaimsGPerL: [][2]float64{{1, 8}}}
	s.DosedToTaste = []evidence.ToTaste{series("A", evidence.Other, evidence.Up, 2, 4)}
	p := mustFit(t, s, Options{})
	distrust(p.prob, []float64{0.7})
	if p.prob.NoteTrust[0] > 0.31 {
		t.Errorf("notes are trusted by %.2f", p.prob.NoteTrust[0])
	}
}
