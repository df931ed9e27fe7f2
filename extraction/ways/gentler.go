package ways

import (
	"fmt"
	"slices"

	"hedgerow/extraction"
)

// GentleWay is a change to a steep that gives less astringency beside the same dose of
// what is wanted. How much less is not known well enough to be said: it has a place.
type GentleWay struct {
	// Place counts from 1; ways that the model does not tell apart share one.
	Place int
	// What is the change in words, such as "shorter: 10 min".
	What string
	// Kept says in words how much of the wanted family still comes out.
	Kept string
	// Grade says how sure the place is.
	Grade string
	// Because is what it rests on, Against the evidence that speaks against it.
	Because string
	Against []string
	// Steep is the changed steep.
	Steep extraction.Steep

	times float64 // tannin for each dose of the wanted family, over that of the steep as it is
	rank  int     // of the evidence, 1 the best: settles the order among equal places
}

// gentle is a lever: it alters a copy of a steep and says how, empty where it does not
// apply.
type gentle struct {
	grade, because string
	against        []string
	rank           int
	apply          func(*extraction.Steep) string
	heat           bool // it lowers the temperature
	read           bool // the direction was read of the very lever, not of what it rests on
}

// Evidence against the levers [24 of package extraction].
const (
	againstCoffee = "coffee gave as much caffeine and chlorogenic acid cold as hot"
	againstOak    = "oak tannin after 104 days was higher at 12 C than at 20 C: it decays"
	againstPanel  = "a trained panel did not tell dry-hop times of 0 to 96 h apart, though polyphenols rose"
)

// gentles are tried in this order. Directions are read of tea, horehound, grape and
// citrus leaf; sizes follow from the rates of the families [24 of package extraction].
var gentles = [...]gentle{
	{"direction A (tea), size B", "tannin slows down in the cold more than acid does", []string{againstCoffee}, 1,
		func(s *extraction.Steep) string {
			return cooled(s, 4, 12*60, "cold: 12 h at 4 C, still")
		}, true, false},
	{
		"B",
		"tannin slows down in the cold more than acid does",
		[]string{againstCoffee},
		2,
		func(s *extraction.Steep) string {
			return cooled(s, 20, 2*60, "cool: 2 h at 20 C, still")
		},
		true,
		false,
	},
	{"B", "tannin slows down in the cold more than acid does", nil, 3, func(s *extraction.Steep) string {
		return cooled(s, 65, 10, "at 65 C for 10 min")
	}, true, false},
	{"B", "what comes first is acid and aroma", []string{againstPanel}, 3, pulledEarlier, false, false},
	{"B", "what is left after the first pass is rich in tannin", nil, 4, withoutHotPasses, false, true},
	{"B", "what comes first is acid and aroma", nil, 4, halfAsLong, false, false},
	{"direction A (grape skin), size C", "tannin dissolves best in spirit of 50 to 60 %", nil, 5,
		weakerSpirit, false, true},
	{"C", "only because less of everything comes out", nil, 6, notCut, false, false},
}

// Unsupported is advice against astringency for which nothing was found.
const Unsupported = "not squeezing: no evidence either way for herbs; by the model squeezed liquid is as strong in " +
	"tannin as drained"

// Gentler returns what would give less astringency at the same dose of the wanted
// family, the best place first: colder, shorter, without a second hot pass, pulled
// earlier, in other spirit, whole. Places follow
//
//	times = (tannin/wanted) after / (tannin/wanted) before
//
// by the doses of the model, in steps that it can tell apart; within a step the surer
// evidence comes first. Ways that gain nothing are left out. For coffee colder is none.
// Errors: tannin as the wanted family; those of Run.
func Gentler(s *extraction.Steep, wanted extraction.Class) ([]GentleWay, error) {
	if wanted == extraction.Tannin {
		return nil, extraction.Refuse("ask for acid or aroma", "tannin is what makes it astringent")
	}
	before, err := s.Run()
	if err != nil {
		return nil, err
	}
	var ways []GentleWay
	for _, g := range gentles {
		changed := *s.Unread()
		changed.Passes = slices.Clone(changed.Stages())
		what := g.apply(&changed)
		if what == "" || g.heat && s.Kind == extraction.Bean {
			continue
		}
		after, err := changed.Run()
		if err != nil {
			return nil, err
		}
		w := GentleWay{What: what, Grade: g.grade, Because: g.because, Against: slices.Clone(g.against), Steep: changed,
			rank: g.rank, times: tanninPer(&after, wanted) / tanninPer(&before, wanted)}
		// what was read counts where the model sees next to nothing, unless it sees the contrary
		if w.times < noGentler || g.read && w.times <= 1+1e-9 {
			if g.heat && s.Method.IsDirect() {
				w.Against = append(w.Against, againstOak)
			}
			w.Kept = keptWords(carried(&after, wanted) / carried(&before, wanted))
			ways = append(ways, w)
		}
	}
	givePlaces(ways)
	return ways, nil
}

// noGentler is the ratio from which on a way gains nothing to speak of.
const noGentler = 0.97

// gentleSteps part the ratios into places. Rates are good to a factor of 3 or 4: finer
// steps would be noise. A judgement.
var gentleSteps = []float64{0.45, 0.7, 0.9}

// givePlaces orders the ways and gives them their places.
func givePlaces(ways []GentleWay) {
	step := func(w GentleWay) int {
		i := 0
		for i < len(gentleSteps) && w.times >= gentleSteps[i] {
			i++
		}
		return i
	}
	slices.SortStableFunc(ways, func(a, b GentleWay) int {
		if d := step(a) - step(b); d != 0 {
			return d
		}
		return a.rank - b.rank
	})
	for i := range ways {
		ways[i].Place = i + 1
		if i > 0 && step(ways[i]) == step(ways[i-1]) && ways[i].rank == ways[i-1].rank {
			ways[i].Place = ways[i-1].Place
		}
	}
}

// carried is the dose of a class without its grams and litres: what came out, times
// what the liquid can carry.
func carried(r *extraction.Result, c extraction.Class) float64 {
	return r.Ceiling[c] * r.Yield[c] * r.Survival[c]
}

// tanninPer is tannin for each dose of the wanted class.
func tanninPer(r *extraction.Result, c extraction.Class) float64 {
	return carried(r, extraction.Tannin) / carried(r, c)
}

// keptWords says how much of the wanted family a way leaves.
func keptWords(share float64) string {
	switch {
	case share >= 0.95:
		return "as much"
	case share >= 0.75:
		return "a little less"
	case share >= 0.5:
		return "clearly less"
	}
	return "half or less"
}

// cooled puts every pass at one lower temperature for a time, without stirring.
func cooled(s *extraction.Steep, tempC, minutes float64, what string) string {
	colder := false
	for i := range s.Passes {
		p := &s.Passes[i]
		hottest, _ := s.Ends(p)
		colder = colder || hottest > tempC+5
		p.Curve, p.EndC, p.CoolingPerMin, p.Efficiency, p.Boiling = nil, nil, nil, nil, false
		p.StartC, p.Agitation = &tempC, extraction.Still
		if !s.Method.IsDirect() {
			p.Minutes = minutes
		}
	}
	switch {
	case !colder || s.Method == extraction.Boil || s.Method == extraction.FlameOut || s.Method == extraction.Tincture:
		return "" // wort is as hot as it is; spirit is no tea
	case s.Method.IsDirect() && tempC > 15:
		return ""
	case s.Method.IsDirect():
		return fmt.Sprintf("colder: at %s C", fmt.Sprintf("%.6g", tempC))
	case s.Method == extraction.Tea && tempC <= 20:
		s.Method = extraction.ColdTea
	}
	return what
}

// aDay in minutes.
const aDay = 24 * 60

// pulledEarlier takes a plant out of the fermenter after a day.
func pulledEarlier(s *extraction.Steep) string {
	if s.Method != extraction.Contact || len(s.Passes) != 1 || s.Passes[0].Minutes <= 1.5*aDay ||
		len(s.Passes[0].Curve) > 0 {
		return ""
	}
	s.Passes[0].Minutes = aDay
	return "pulled after 1 day"
}

// withoutHotPasses leaves out the hot passes after the first.
func withoutHotPasses(s *extraction.Steep) string {
	if s.Method.IsDirect() || len(s.Passes) < 2 {
		return ""
	}
	rest := slices.DeleteFunc(slices.Clone(s.Passes[1:]), func(p extraction.Pass) bool {
		hottest, _ := s.Ends(&p)
		return hottest >= extraction.StillHotC
	})
	if len(rest) == len(s.Passes)-1 {
		return ""
	}
	s.Passes = append(s.Passes[:1:1], rest...)
	if len(s.Passes) > 1 {
		return "without a second hot pass"
	}
	return "one pass only, without a second hot one"
}

// halfAsLong halves hot passes.
func halfAsLong(s *extraction.Steep) string {
	longest := 0.0
	for i := range s.Passes {
		p := &s.Passes[i]
		if hottest, _ := s.Ends(p); hottest < extraction.StillHotC || len(p.Curve) > 0 || p.Efficiency != nil {
			return ""
		}
		p.EndC = s.Halfway(p)
		p.Minutes /= 2
		longest = max(longest, p.Minutes)
	}
	if longest < 2 {
		return ""
	}
	return "half as long: " + fmt.Sprintf("%.6g", longest) + " min"
}

// weakerSpirit makes a tincture of 30 % in place of one above 45.
func weakerSpirit(s *extraction.Steep) string {
	if s.Method != extraction.Tincture || s.MeanABVPct() <= 45 {
		return ""
	}
	for i := range s.Passes {
		s.Passes[i].ABVPct = new(30.0)
	}
	return "in spirit of 20 to 40 % vol"
}

// notCut leaves a leaf or flower whole.
func notCut(s *extraction.Steep) string {
	if s.Form != extraction.Cut && s.Form != extraction.Crushed || s.Kind != extraction.LeafFlower {
		return ""
	}
	was := s.Form.String()
	s.Form = extraction.WholeThin
	return "whole in place of " + was
}
