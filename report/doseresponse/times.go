package doseresponse

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// Priors of what time and lot do to the effective ln dose, all judgement but for
// what is said beside them.
const (
	fadePerWeek     = 0.06 // loss of aroma and flavour: half-lives of 4 to 12 weeks are 0.17 to 0.06
	fadePerWeekSD   = 0.07
	slowPerWeek     = 0.01 // of what hardly fades: bitter, sweet, tart, colour, astringent, hot
	slowPerWeekSD   = 0.03
	contactPower    = 0.5 // gain per ln of the time in the beer: diffusion gives the root of time at first, 0 at the end
	contactPowerSD  = 0.3
	lotSDLn         = 0.25 // potency of a plant or harvest, where lots differ
	usualAge        = 30.0 // days, of a beer whose age is not known, when no other is
	oldestAge       = 182.0
	contactMethod   = "contact" // the only method in which the plant stays in the beer
	leastMultiplier = 1e-9
)

// times is what age, time in the beer and lot do to the doses of a study,
//
//	e = .. + l_lot - f (age - age0)/7 + s ln(contact/contact0)
//
// Claims hold at age0, the lower median of the ages of the brewed trials: were they
// to hold at the age asked for, they would pull the fade to nothing. Doses for
// another age follow from f afterwards (later).
type times struct {
	age0, drink    float64 // days
	oldest         float64 // age tasted, days
	contact0       float64 // days, 0 when no beer was tasted by contact time
	lots           []string
	slow           bool    // the taste hardly fades
	fade, contact  int     // indices among the shared numbers, -1 when nothing depends on them
	later          float64 // weeks that the beer is drunk after age0
	agesDiffer     bool
	contactsDiffer bool
}

// newTimes reads ages, contact times and lots off a study.
func newTimes(s Study) times {
	t := times{age0: usualAge, fade: -1, contact: -1, slow: hardlyFades(s.Attribute)}
	var ages []float64
	lots := map[string]bool{}
	for _, tr := range s.Trials {
		if !tr.informs() {
			continue
		}
		if tr.DaysOld != nil && tr.Kind != glass {
			ages = append(ages, min(*tr.DaysOld, oldestAge))
			t.oldest = max(t.oldest, *tr.DaysOld)
		}
		if tr.Lot != "" {
			lots[tr.Lot] = true
		}
	}
	if len(ages) > 0 {
		slices.Sort(ages)
		t.age0 = ages[(len(ages)-1)/2]
		t.agesDiffer = ages[0] != ages[len(ages)-1]
	}
	t.drink = t.age0
	if s.DrinkAtDays != nil {
		t.drink = min(*s.DrinkAtDays, oldestAge)
	}
	t.later = (t.drink - t.age0) / 7
	if len(lots) > 1 {
		for lot := range lots {
			t.lots = append(t.lots, lot)
		}
		slices.Sort(t.lots)
	}
	t.setContact(s)
	return t
}

// setContact chooses the contact time that doses are for: that of the trial with
// the most votes of "just right", of equals the shortest; without votes of right
// the lower median.
func (t *times) setContact(s Study) {
	var days []float64
	most := 0
	for _, tr := range s.Trials {
		if !tr.informs() || !tr.timed() {
			continue
		}
		days = append(days, *tr.ContactDays)
		_, right, _ := tr.votes()
		if right > most || (right == most && right > 0 && *tr.ContactDays < t.contact0) {
			most, t.contact0 = right, *tr.ContactDays
		}
	}
	if len(days) == 0 {
		return
	}
	slices.Sort(days)
	t.contactsDiffer = days[0] != days[len(days)-1]
	if most == 0 {
		t.contact0 = days[(len(days)-1)/2]
	}
}

// timed reports whether the time that the plant was in the beer is known.
func (t Trial) timed() bool {
	return t.Method == contactMethod && t.Kind != glass && t.ContactDays != nil && *t.ContactDays > 0
}

// hardlyFades reports whether one of the words of an attribute begins like a taste
// that hardly fades; aroma, flavour and all unnamed do.
func hardlyFades(attribute string) bool {
	slow := []string{"bitter", "sweet", "sour", "tart", "acid", "colo", "astring", "heat", "hot", "warm", "harsh", "body"}
	words := strings.FieldsFunc(strings.ToLower(attribute), func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.ContainsFunc(words, func(w string) bool {
		return slices.ContainsFunc(slow, func(s string) bool { return strings.HasPrefix(w, s) })
	})
}

// ageOf returns the age of a beer in days as the fade counts it.
func (t *times) ageOf(tr Trial) float64 {
	if tr.DaysOld == nil || tr.Kind == glass {
		return t.age0
	}
	return min(*tr.DaysOld, oldestAge)
}

// numberTimes gives fade, contact and lots their indices where something depends
// on them.
func (l *layout) numberTimes() {
	for _, lot := range l.lots {
		l.number(wanted{"lot " + lot, lnPrior{0, lotSDLn}})
	}
	if l.agesDiffer || l.later != 0 {
		prior := lnPrior{fadePerWeek, fadePerWeekSD}
		if l.slow {
			prior = lnPrior{slowPerWeek, slowPerWeekSD}
		}
		l.fade = l.number(wanted{"fade", prior})
	}
	if l.contactsDiffer {
		l.contact = l.number(wanted{"contact", lnPrior{contactPower, contactPowerSD}})
	}
}

// shiftByTime adds lot, age and time in the beer to what moves a trial.
func (l *layout) shiftByTime(term *trialTerm, t Trial) {
	if k, ok := l.known["lot "+t.Lot]; ok {
		term.shift(k, 1)
	}
	if by := -(l.ageOf(t) - l.age0) / 7; l.fade >= 0 && math.Abs(by) > leastMultiplier {
		term.shift(l.fade, by)
	}
	if l.contact >= 0 && t.timed() {
		if by := math.Log(*t.ContactDays / l.contact0); math.Abs(by) > leastMultiplier {
			term.shift(l.contact, by)
		}
	}
}

// drunkLater returns by how much more ln dose a beer needs that is drunk at the age
// asked for, not at age0, under a latent vector.
func (p *problem) drunkLater(v []float64) float64 {
	if p.fade < 0 {
		return 0
	}
	return p.later * v[2*len(p.tasters)+p.fade]
}

// right returns the right ln dose of a beer that is drunk at the age asked for.
func (p *problem) right(v []float64) float64 {
	return v[2*len(p.tasters)+p.theta] + p.drunkLater(v)
}
