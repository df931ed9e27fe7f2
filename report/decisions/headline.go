package decisions

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
)

// headlineWidth is the width that every line of a headline keeps to: it is read
// first, on a terminal.
const headlineWidth = 80

// A headline is an answer that is put into three lines: what to do, what to know
// before doing it, and what would teach most. Beside the answer it knows what a
// notebook adds.
type headline struct {
	doseresponse.Answer
	weigh   string      // "38 g in 10 L" for the next dose; "" outside a notebook
	beside  *otherTaste // another taste that is too strong at the right dose
	settled bool        // no trial would narrow the dose by much
	target  *float64    // intensity that is aimed at in place of just right
	dropper bool        // an evening of dosing to taste teaches more than coded glasses
}

// otherTaste is another taste of the same beers with its window.
type otherTaste struct {
	name   string
	window doseresponse.Window
}

// headlineOf returns an answer in one to three sentences of at most 80 characters,
// the decision first.
func headlineOf(a doseresponse.Answer) []string { return headline{Answer: a}.lines() }

// lines are the lines of the headline.
func (h headline) lines() []string {
	if f := h.Facts.Falling; f != nil {
		return h.falls(*f)
	}
	switch h.Verdict {
	case doseresponse.Retaste:
		return h.retaste()
	case doseresponse.TwoOf:
		return h.camps()
	case doseresponse.Drop:
		return h.drop()
	case doseresponse.Change:
		if h.Facts.Disliked {
			return h.change()
		}
	}
	var list []string
	switch {
	case len(h.Camps) == 2:
		return h.camps()
	case h.PullAtDays != nil:
		list = []string{h.pull(), h.mind()}
	case h.other() != nil:
		list = h.conflict(*h.other())
	case h.Verdict == doseresponse.Bench:
		return h.bench()
	default:
		list = []string{h.decision(), h.mind()}
	}
	return append(list, h.next())
}

// fitting returns the first of some ways to say one thing that fits the width, the
// last if none does.
func fitting(ways ...string) string {
	for _, w := range ways {
		if utf8.RuneCountInString(w) <= headlineWidth {
			return w
		}
	}
	return ways[len(ways)-1]
}

// grams prints a dose with two digits; it is rounded first, or 0.996 would be 1.00.
func grams(d float64) string { return document.Significant(Rounded(d), 2) }

// dose names the next dose: what to weigh for it, that it is an effective dose, and
// its interval if asked. The grams go first: they are not the dose times the litres.
func (h headline) dose(span bool) string {
	text := grams(h.Next.DoseGPerL) + " g/L effective"
	if h.weigh != "" {
		text = h.weigh + ", " + text
	}
	if span && h.RightDose.Low != nil {
		text += " (" + grams(*h.RightDose.Low) + " to " + grams(*h.RightDose.High) + ")"
	}
	return text
}

// decision is the first line where the dose is the answer.
func (h headline) decision() string {
	bare := grams(h.Next.DoseGPerL) + " g/L"
	if h.weigh != "" {
		bare = h.weigh
	}
	switch h.Verdict {
	case doseresponse.Settled:
		return fitting("Settled: "+h.dose(false)+". No further trial is worth its batch.",
			"Settled: "+bare+". No further trial is worth its batch.")
	case doseresponse.Repeat:
		votes := fmt.Sprintf(" again: it was right for %d of %d.", h.Facts.Again[0], h.Facts.Again[1])
		if h.aged() {
			votes = fmt.Sprintf(" again if it is drunk at about %.0f days.", h.Fade.DrinkAtDays)
		}
		return fitting("Brew "+h.dose(false)+votes, "Brew "+bare+votes)
	}
	if h.aged() {
		return h.forAge()
	}
	if h.target != nil {
		aim := " for an intensity of " + document.Significant(*h.target, 2) + "."
		return fitting("Try "+h.dose(true)+aim, "Try "+h.dose(false)+aim, "Try "+bare+aim)
	}
	both, right := ": expect "+h.expected(true)+".", ": expect "+h.expected(false)+"."
	return fitting("Try "+h.dose(true)+both, "Try "+h.dose(false)+both, "Try "+h.dose(true)+right,
		"Try "+h.dose(false)+right, "Try "+bare+right)
}

// farBeyondDays is how far past the oldest tasting a dose is no longer named: the
// fade is a straight line that nobody has seen there.
const farBeyondDays = 56

// aged reports whether the age at which the beer is drunk belongs in the headline.
func (h headline) aged() bool { return h.Fade != nil && h.Facts.AgeMatters }

// forAge is the first line for a beer that is drunk at an age that matters.
func (h headline) forAge() string {
	f := h.Fade
	if f.OldestDays > 0 && f.DrinkAtDays > f.OldestDays+farBeyondDays && h.RightDose.Low != nil {
		return fmt.Sprintf("%s to %s g/L for a beer drunk at %.0f days: none was tasted past %.0f.",
			grams(*h.RightDose.Low), grams(*h.RightDose.High), f.DrinkAtDays, f.OldestDays)
	}
	age := fmt.Sprintf(" for a beer drunk at about %.0f days", f.DrinkAtDays)
	right := ": expect " + h.expected(false) + "."
	bare := "Try " + cmp.Or(h.weigh, grams(h.Next.DoseGPerL)+" g/L") + age
	return fitting("Try "+h.dose(false)+age+right, "Try "+h.dose(false)+age+".", bare+right, bare+".")
}

// expected says which share of the votes to expect just right, and if asked the
// larger of the other two.
func (h headline) expected(both bool) string {
	s := document.Shares(h.Next.PTooLittle, h.Next.PRight, h.Next.PTooMuch)
	text := fmt.Sprintf("%d %% just right", s[1])
	switch {
	case !both:
		return text
	case s[0] >= s[2]:
		return text + fmt.Sprintf(", %d %% too little", s[0])
	}
	return text + fmt.Sprintf(", %d %% too much", s[2])
}

// mind is the second line: the first that holds of what puts the answer in doubt,
// else how sure it is.
func (h headline) mind() string {
	f := h.Facts
	switch {
	case len(f.Differs) > 0:
		return notOnlyTheDose(f.Differs)
	case f.Side < 0:
		return fmt.Sprintf("Every vote so far said too little, up to %s g/L: the upper end is a guess.",
			grams(f.HighTried))
	case f.Side > 0:
		return fmt.Sprintf("Every vote so far said too much, down to %s g/L: the lower end is a guess.",
			grams(f.LowTried))
	case h.NearRight != nil && !*h.NearRight && *h.PLikedThis < 0.5:
		return "What was not liked was far from the right dose: it tells little of the plant."
	case h.PAnyDoseLiked != nil && *h.PAnyDoseLiked < 0.5:
		return fmt.Sprintf("The chance that it is liked as wished at its right dose is %s.",
			document.Chance(*h.PAnyDoseLiked))
	case h.aged():
		return h.fading()
	case !f.Scored && h.fromOthers():
		return h.tastedElsewhere()
	case !f.Scored:
		return "No beer has been scored yet: this rests on advice alone."
	case h.movedByOthers():
		return h.withoutOthers()
	}
	if h.target != nil {
		return fmt.Sprintf("%s sure that the panel scores it within a point of %s.",
			document.Capital(document.Chance(h.PNearBest)), document.Significant(*h.target, 2))
	}
	sure := document.Capital(document.Chance(h.PNearBest))
	sure += " sure that it gets nine tenths of the best share of just right"
	return fitting(sure+" there is.", sure+".")
}

// notOnlyTheDose names what else differed, in as much detail as fits.
func notOnlyTheDose(list []doseresponse.Differing) string {
	var full, names []string
	for _, d := range list {
		full = append(full, d.Name+" ("+strings.Join(d.Values, ", ")+")")
		names = append(names, d.Name)
	}
	const start = "Not only the dose differs: also "
	return fitting(start+wordList(full)+".", start+wordList(names)+".",
		fmt.Sprintf("%s%s and %d more.", start, names[0], len(names)-1))
}

// wordList joins words by commas and a last "and".
func wordList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// fading says how the taste fades and what a beer kept longer needs.
func (h headline) fading() string {
	f := h.Fade
	if f.HalfLifeWeeks == nil {
		return fmt.Sprintf("It does not seem to fade: %s g/L for a beer drunk at 30 days, %s at 90.",
			grams(f.At30), grams(f.At90))
	}
	doses := fmt.Sprintf("%s g/L at 30 days are %s at 90.", grams(f.At30), grams(f.At90))
	loss := func(rate float64) string { return document.Fixed(100*(1-math.Exp(-rate)), 0) }
	return fitting(fmt.Sprintf("It fades by about %s %% a week (%s to %s): %s", loss(f.LnPerWeek.Value),
		loss(*f.LnPerWeek.Low), loss(*f.LnPerWeek.High), doses),
		fmt.Sprintf("It fades by about %s %% a week: %s", loss(f.LnPerWeek.Value), doses))
}

// next is the third line: the cheapest trial that would teach.
func (h headline) next() string {
	if h.settled {
		return "Little is left to learn: no trial would narrow the dose by much."
	}
	jars, glasses := doseList(h.SpreadGPerL), doseList(h.GlassesGPerL)
	if h.dropper && !h.Facts.Scored {
		return fitting("Cheapest next: dose to taste, or five glasses at "+glasses+" g/L.",
			"Cheapest next: dose to taste, or glasses at "+glasses+" g/L.",
			"Cheapest next: dose to taste in a glass, or taste five coded glasses.")
	}
	if h.dropper {
		return fitting("Cheapest next: dose to taste, or four jars at "+jars+" g/L.",
			"Cheapest next: dose to taste in a glass, or brew four jars.")
	}
	if !h.Facts.Scored {
		return fitting("Cheapest next: five glasses at "+glasses+" g/L, or four jars.",
			"Cheapest next: five glasses at "+glasses+" g/L.")
	}
	return fitting("Cheapest next: four jars at "+jars+" g/L, or five glasses.",
		"Cheapest next: four jars at "+jars+" g/L.")
}

// doseList lists doses with two digits.
func doseList(doses []float64) string {
	words := make([]string, len(doses))
	for i, d := range doses {
		words[i] = grams(d)
	}
	return wordList(words)
}

// retaste is the headline where the votes do not follow the dose.
func (h headline) retaste() []string {
	first := "The votes hardly follow the dose."
	switch p := h.PIgnoreDose; {
	case p == nil:
		first = "The scores hardly follow the dose." // nobody voted
	case *p > 0.95:
		first = "The votes do not follow the dose (more than 95 % sure)."
	case *p > 0.5:
		first = fmt.Sprintf("The votes do not follow the dose (%s sure).", document.Chance(*p))
	}
	return []string{first, "Taste again, blind, each beer twice, with one undosed glass among them.",
		"Until then little is known of the dose beyond the advice you read."}
}

// camps is the headline where the panel wants two beers, or perhaps does.
func (h headline) camps() []string {
	low, high := h.Camps[0], h.Camps[1]
	d1, d2 := grams(low.Dose.Value), grams(high.Dose.Value)
	first, last, third := "Two camps: ", ". Brew both.", "Next: two jars at each dose."
	if !h.Facts.CampsFound {
		first, last = "Perhaps two camps: ", ". Jars would tell."
		third = "Next: four jars at " + doseList(h.SpreadGPerL) + " g/L."
	}
	verb := func(tasters []string) string {
		if len(tasters) == 1 {
			return "likes"
		}
		return "like"
	}
	named := func(c doseresponse.AnswerCamp, d string) string {
		return fmt.Sprintf("%s %s %s g/L", strings.Join(c.Tasters, ", "), verb(c.Tasters), d)
	}
	counted := func(c doseresponse.AnswerCamp, d string) string {
		return fmt.Sprintf("%s %s %s g/L", document.Count(len(c.Tasters), "taster"), verb(c.Tasters), d)
	}
	bare := func(c doseresponse.AnswerCamp, d string) string {
		return fmt.Sprintf("%d %s %s", len(c.Tasters), verb(c.Tasters), d)
	}
	return []string{
		fitting(first+named(low, d1)+", "+named(high, d2)+last, first+counted(low, d1)+", "+counted(high, d2)+last,
			first+bare(low, d1)+", "+bare(high, d2)+" g/L"+last),
		fmt.Sprintf("One dose for all would be just right for %s %% of the votes, two for %s %%.",
			document.Fixed(100*h.Facts.OneDose, 0), document.Fixed(100*h.Facts.TwoDoses, 0)),
		third,
	}
}

// drop is the headline of a plant that was disliked near its right dose.
func (h headline) drop() []string {
	return []string{fmt.Sprintf("Drop it: near the right dose it was liked %.1f of 9.", h.Facts.Liked),
		fmt.Sprintf("The chance that another method is liked as wished is %s.", document.Chance(*h.PLikedOther))}
}

// change is the headline of a beer that was right and not liked.
func (h headline) change() []string {
	return []string{fmt.Sprintf("The dose is right (%d of %d votes), the liking is not (%.1f of 9).",
		h.Facts.LikedRight[0], h.Facts.LikedRight[1], h.Facts.Liked),
		"Change the method or the beer, not the dose: another dose will not mend it.",
		"Drop it only after another method was disliked at its right dose too."}
}

// falls is the headline of a taste that gets weaker as the dose rises.
func (h headline) falls(f evidence.Falling) []string {
	taste := cmp.Or(h.Facts.Attribute, "the taste")
	return []string{fmt.Sprintf("%s falls with the dose: no dose is right for it.", document.Capital(taste)),
		document.Capital(fallText(f)) + ".", "Mend it in the base beer, or find another use for the plant."}
}

// pull is the first line where one beer was tasted on the way.
func (h headline) pull() string {
	dose, q := grams(h.Facts.PullDose), h.PullAtDays
	if q.Low == nil {
		return fmt.Sprintf("At %s g/L no day of those tasted was right: when to pull it is not known.", dose)
	}
	return fmt.Sprintf("At %s g/L pull it at about day %s (day %s to %s).", dose, document.Fixed(q.Value, 0),
		document.Fixed(*q.Low, 0), document.Fixed(*q.High, 0))
}

// bench is the headline of advice that lies too far apart.
func (h headline) bench() []string {
	first := "Bench first: nothing is known well enough, no dose is worth a batch yet."
	if h.Facts.Claims > 0 {
		first = fmt.Sprintf("Bench first: the advice is %s-fold apart, no dose is worth a batch yet.",
			grams(h.Facts.ClaimFold))
	}
	return []string{first, fitting("Five glasses at "+doseList(h.GlassesGPerL)+" g/L effective, tasted blind,",
		"Five glasses at "+doseList(h.GlassesGPerL)+" g/L, tasted blind,"), "cost an evening and no beer."}
}

// other is the other taste that cannot be had at the right dose: one to avoid, or
// one that was voted too much; nil if there is none.
func (h headline) other() *otherTaste {
	if len(h.Facts.AvoidNames) > 0 && h.Window != nil {
		return &otherTaste{wordList(h.Facts.AvoidNames), *h.Window}
	}
	return h.beside
}

// conflict is the first two lines where two tastes pull apart.
func (h headline) conflict(o otherTaste) []string {
	taste := cmp.Or(h.Facts.Attribute, "it")
	first := fitting(fmt.Sprintf("%s is right near %s g/L, but %s is too strong there.", document.Capital(taste),
		grams(h.RightDose.Value), o.name), fmt.Sprintf("Right near %s g/L, but %s is too strong there.",
		grams(h.RightDose.Value), o.name))
	if len(h.Facts.Unkept) > 0 {
		first = document.Capital(h.Facts.Unkept[0]) + "."
	}
	both := document.Chance(o.window.PBoth)
	if h.Verdict == doseresponse.Change {
		most := ""
		if o.window.PBoth >= 0.01 {
			most = " for more than " + both
		}
		return []string{first, "No dose is both" + most + ": change the method, the form or the beer."}
	}
	span := fmt.Sprintf("%s g/L (%s to %s)", grams(o.window.DoseGPerL), grams(o.window.LowGPerL),
		grams(o.window.HighGPerL))
	within := document.Chance(withinOf(o.window))
	return []string{first, fitting(fmt.Sprintf("Both go best at %s: right for %s of votes, not too strong for %s.", span,
		document.Chance(o.window.PRight), within), fmt.Sprintf("Both go best at %s: right and within for %s.", span, both))}
}
