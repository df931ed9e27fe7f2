package field

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"hedgerow/report/evidence"
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
	UsualAge        = 30.0 // days, of a beer whose age is not known, when no other is
	OldestAge       = 182.0
	ContactMethod   = "contact" // the only method in which the plant stays in the beer
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
	Age0, drink    float64 // days
	Oldest         float64 // age tasted, days
	Contact0       float64 // days, 0 when no beer was tasted by contact time
	lots           []string
	slow           bool    // the taste hardly fades
	Fade, Contact  int     // indices among the shared numbers, -1 when nothing depends on them
	Later          float64 // weeks that the beer is drunk after age0
	agesDiffer     bool
	contactsDiffer bool
}

// newTimes reads ages, contact times and lots off a study.
func newTimes(s evidence.Study) times {
	t := times{Age0: UsualAge, Fade: -1, Contact: -1, slow: HardlyFades(s.Attribute)}
	var ages, own []float64
	lots := map[string]bool{}
	for _, tr := range s.Trials {
		if !tr.Informs() {
			continue
		}
		if tr.DaysOld != nil && tr.Kind != evidence.Glass {
			ages = append(ages, min(*tr.DaysOld, OldestAge))
			// what others drank when says nothing of when one's own is drunk
			if tr.Own() {
				own = append(own, min(*tr.DaysOld, OldestAge))
				t.Oldest = max(t.Oldest, *tr.DaysOld)
			}
		}
		if tr.Lot != "" {
			lots[tr.Lot] = true
		}
	}
	if len(own) == 0 {
		own = slices.Clone(ages)
	}
	if len(own) > 0 {
		slices.Sort(own)
		t.Age0 = own[(len(own)-1)/2]
		t.agesDiffer = slices.ContainsFunc(ages, func(a float64) bool { return a != t.Age0 })
	}
	t.drink = t.Age0
	if s.DrinkAtDays != nil {
		t.drink = min(*s.DrinkAtDays, OldestAge)
	}
	t.Later = (t.drink - t.Age0) / 7
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
func (t *times) setContact(s evidence.Study) {
	var days []float64
	most := 0
	for _, tr := range s.Trials {
		if !tr.Informs() || !Timed(tr) {
			continue
		}
		days = append(days, *tr.ContactDays)
		_, right, _ := tr.Votes()
		if right > most || (right == most && right > 0 && *tr.ContactDays < t.Contact0) {
			most, t.Contact0 = right, *tr.ContactDays
		}
	}
	if len(days) == 0 {
		return
	}
	slices.Sort(days)
	t.contactsDiffer = days[0] != days[len(days)-1]
	if most == 0 {
		t.Contact0 = days[(len(days)-1)/2]
	}
}

// Timed reports whether the time that the plant was in the beer is known.
func Timed(t evidence.Trial) bool {
	return t.Method == ContactMethod && t.Kind != evidence.Glass && t.ContactDays != nil && *t.ContactDays > 0
}

// HardlyFades reports whether one of the words of an attribute begins like a taste
// that hardly fades; aroma, flavour and all unnamed do.
func HardlyFades(attribute string) bool {
	slow := []string{"bitter", "sweet", "sour", "tart", "acid", "colo", "astring", "heat", "hot", "warm", "harsh", "body"}
	words := strings.FieldsFunc(strings.ToLower(attribute), func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.ContainsFunc(words, func(w string) bool {
		return slices.ContainsFunc(slow, func(s string) bool { return strings.HasPrefix(w, s) })
	})
}

// AgeOf returns the age of a beer in days as the fade counts it.
func (t *times) AgeOf(tr evidence.Trial) float64 {
	if tr.DaysOld == nil || tr.Kind == evidence.Glass {
		return t.Age0
	}
	return min(*tr.DaysOld, OldestAge)
}

// numberTimes gives fade, contact and lots their indices where something depends
// on them.
func (l *layout) numberTimes() {
	for _, lot := range l.lots {
		l.number(wanted{"lot " + lot, LnPrior{0, lotSDLn}})
	}
	if l.agesDiffer || l.Later != 0 {
		prior := LnPrior{fadePerWeek, fadePerWeekSD}
		if l.slow {
			prior = LnPrior{slowPerWeek, slowPerWeekSD}
		}
		l.Fade = l.number(wanted{"fade", prior})
	}
	if l.contactsDiffer {
		l.Contact = l.number(wanted{"contact", LnPrior{contactPower, contactPowerSD}})
	}
}

// shiftByTime adds lot, age and time in the beer to what moves a trial.
func (l *layout) shiftByTime(term *TrialTerm, t evidence.Trial) {
	if k, ok := l.known["lot "+t.Lot]; ok {
		term.shift(k, 1)
	}
	if by := -(l.AgeOf(t) - l.Age0) / 7; l.Fade >= 0 && math.Abs(by) > leastMultiplier {
		term.shift(l.Fade, by)
	}
	if l.Contact >= 0 && Timed(t) {
		if by := math.Log(*t.ContactDays / l.Contact0); math.Abs(by) > leastMultiplier {
			term.shift(l.Contact, by)
		}
	}
}

// DrunkLater returns by how much more ln dose a beer needs that is drunk at the age
// asked for, not at age0, under a latent vector.
func (p *Problem) DrunkLater(v []float64) float64 {
	if p.Fade < 0 {
		return 0
	}
	return p.Later * v[2*len(p.Tasters)+p.Fade]
}

// Right returns the right ln dose of a beer that is drunk at the age asked for.
func (p *Problem) Right(v []float64) float64 {
	return v[2*len(p.Tasters)+p.Theta] + p.DrunkLater(v)
}

// RightOf returns the right ln dose of taster j for a beer that is drunk at the age
// asked for.
func (p *Problem) RightOf(v []float64, j int) float64 { return p.Right(v) + v[2*j] }
