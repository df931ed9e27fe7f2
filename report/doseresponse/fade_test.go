package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// aged sets the age of a trial and the brew that it is of.
func aged(t evidence.Trial, days float64, brew string) evidence.Trial {
	t.DaysOld, t.Group = &days, brew
	return t
}

// A beer that was right when young and too little when old has faded: drunk young
// it is brewed again, drunk old it needs more, the later the more. How much is
// bounded by the half-lives of 3 to 25 weeks that aroma can have.
func TestFadeMovesTheDose(t *testing.T) {
	s := eightfold(aged(trial("young", 2.8, 0, 0, 0, 0), 31, "B"), aged(trial("old", 2.8, -1, -1, -1, -1), 122, "B"))
	s.Attribute = "aroma"
	var doses []float64
	for _, drink := range []float64{31, 100} {
		s.DrinkAtDays = &drink
		p := mustFit(t, s, Options{})
		f, ok := p.fade()
		if !ok || f.HalfLifeWeeks == nil || *f.HalfLifeWeeks < 3 || *f.HalfLifeWeeks > 25 || f.DrinkAtDays != drink {
			t.Fatalf("drunk at %g days: %+v %v", drink, f, ok)
		}
		if f.At90 <= f.At30 || f.Oldest != 122 {
			t.Errorf("%+v", f)
		}
		doses = append(doses, p.NextDose().DoseGPerL)
		// the two doses at 30 days are of one posterior, whatever the age asked for
		if math.Abs(math.Log(f.At30/2.8)) > math.Log(1.25) {
			t.Errorf("at 30 days %.2f g/L, tasted right at 31 with 2.8", f.At30)
		}
	}
	if doses[0] < 2.2 || doses[0] > 3.6 || doses[1] < 1.4*doses[0] {
		t.Errorf("doses %.2f", doses)
	}
}

// Beers of one age, or of none, say nothing of fade, and bitterness hardly fades.
func TestWhatDoesNotFade(t *testing.T) {
	s := eightfold(aged(trial("1", 2, -1, -1), 30, "A"), aged(trial("2", 4, 1, 0), 30, "B"))
	if f, ok := mustFit(t, s, Options{}).fade(); ok {
		t.Errorf("one age: %+v", f)
	}
	for name, slow := range map[string]bool{"bitterness": true, "mouth heat": true, "Sourness": true, "colour": true,
		"aroma": false, "floral": false, "": false, "hay": false} {
		if field.HardlyFades(name) != slow {
			t.Errorf("%q: %v", name, !slow)
		}
	}
}

// One brew with the plant in it: too little on day 3, right on day 7, too much on
// day 14. By these votes it is pulled between the days that were not right, and at the
// dose at hand.
func TestPull(t *testing.T) {
	timed := func(id string, days float64, votes ...int) evidence.Trial {
		tr := trial(id, 4, votes...)
		tr.Method, tr.Group, tr.ContactDays = field.ContactMethod, "B", &days
		return tr
	}
	s := eightfold(timed("1", 3, -1, -1, -1, -1), timed("2", 7, 0, 0, 0, 0), timed("3", 14, 1, 1, 1, 1))
	p := mustFit(t, s, Options{})
	q, ok := p.pullAt()
	if !ok || q.Days.Low == nil || q.Days.Value <= 4 || q.Days.Value >= 11 || *q.Days.Low >= q.Days.Value ||
		*q.Days.High <= q.Days.Value {
		t.Fatalf("pull %+v %v", q, ok)
	}
	if d := p.NextDose().DoseGPerL; d < 4/1.3 || d > 4*1.3 {
		t.Errorf("next %.2f g/L, right at 4 after 7 days", d)
	}
	if q, ok := mustFit(t, eightfold(timed("1", 3, -1, -1), timed("2", 7, -1, -1)), Options{}).pullAt(); ok {
		t.Errorf("all too little: %+v", q)
	}
	if q, ok := mustFit(t, eightfold(trial("1", 4, 0, 0)), Options{}).pullAt(); ok {
		t.Errorf("no time: %+v", q)
	}
}

// Two lots widen what the doses say of each other; one lot does not.
func TestLots(t *testing.T) {
	of := func(t evidence.Trial, lot string) evidence.Trial { t.Lot = lot; return t }
	sd := func(a, b string) float64 {
		return mustFit(t, eightfold(of(trial("1", 2, -1, -1, -1, -1), a), of(trial("2", 4, 0, 0, 0, 0), b)), Options{}).psiSD
	}
	if none, one, two := sd("", ""), sd("x", "x"), sd("x", "y"); one != none || two <= none {
		t.Errorf("SD %.3f without lots, %.3f with one, %.3f with two", none, one, two)
	}
}

// An old beer of a higher dose that tastes of less has faded: its intensities are
// not called falling, and those of young beers that do fall still are.
func TestFoldComparesBeersOfOneAge(t *testing.T) {
	young := marked(trial("1", 2, -1, -1, 0, -1), 6, 6, 7, 6)
	strong := marked(trial("2", 6, 0, -1, 0, 0), 3, 2, 3, 3)
	for _, tt := range []struct {
		days   float64
		folded bool
	}{{30, true}, {45, true}, {120, false}} {
		s := eightfold(aged(young, 28, "A"), aged(strong, tt.days, "B"))
		if got := mustFit(t, s, Options{Approximate: true}).prob.Folded; got != tt.folded {
			t.Errorf("tasted at 28 and %g days: folded %v", tt.days, got)
		}
	}
}

// A beer that was tasted on two days was weighed once and is poured once more, as old as
// it is: by hand, one potency with an SD of sqrt(0.18^2 + 0.24^2) = 0.30.
func TestOneBeerOnTwoDays(t *testing.T) {
	a, b := aged(trial("1", 3, 0, 0), 30, "A"), aged(trial("2", 3, -1, 0), 90, "A")
	a.DoseSDLn, b.DoseSDLn = 0.24, 0.24
	c := aged(trial("3", 4, 0, 1), 30, "A")
	c.Kind, c.DoseSDLn = evidence.Jar, 0.26
	d := aged(trial("4", 4, 0, 1), 90, "A")
	d.Kind, d.DoseSDLn = evidence.Jar, 0.26
	p := mustFit(t, eightfold(a, b, c, d), Options{Approximate: true})
	again := p.repeatable()
	if len(again) != 2 {
		t.Fatalf("%d beers to pour again, want 2", len(again))
	}
	for _, term := range again {
		if days := *p.study.Trials[term.Index].DaysOld; days != 90 {
			t.Errorf("poured as it was at %g days", days)
		}
	}
	// brew, the error that the stronger jar has beyond it, alpha, theta, fade
	if p.prob.Shared != 5 {
		t.Errorf("%d shared numbers, want 5", p.prob.Shared)
	}
}

// A beer that was right for four of five at 95 days may not be brewed again for a beer
// drunk at 90 days where other beers of its own method, tasted young, put the best dose a
// third higher: they bracket it, and only another method's votes must not move a beer.
func TestOwnMethodBracketsAtAnotherAge(t *testing.T) {
	at := func(id string, dose, days float64, method, group string, votes ...int) evidence.Trial {
		return with(spoken(id, dose, votes...), func(t *evidence.Trial) {
			t.DaysOld, t.Method, t.Group = &days, method, group
		})
	}
	drink := 90.0
	s := eightfold(at("a", 2.4, 42, "tea", "A", 0, 0, 0, -1, 0), at("a@95d", 2.4, 95, "tea", "A", 0, 0, 0, -1, 0),
		at("b", 3.1, 43, "tea", "B", 0, 0, 0, 0, 0), at("c", 4.6, 42, "tea", "C", 0, 1, 0, 1, 1),
		at("d", 2.7, 43, "cold tea", "B", -1, 0, -1, 0, 0))
	s.DrinkAtDays = &drink
	p := mustFit(t, s, Options{})
	if d := p.NextDose().DoseGPerL; p.verdict() == Repeat && d == 2.4 {
		t.Errorf("brew %.1f g/L again, though the right dose is %.2f", d, p.RightDose().Value)
	}
	if off := math.Abs(p.relative(2.4) - p.best); off < math.Log(againFactor) || off > math.Log(againFarther) {
		t.Errorf("the best dose %.2f does not put the rule to the test", p.dose(p.best))
	}
}
