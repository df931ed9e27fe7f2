package decisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// brews reports whether a verdict is to brew the next dose.
func brews(v doseresponse.Verdict) bool {
	switch v {
	case doseresponse.Try, doseresponse.Repeat, doseresponse.Settled, doseresponse.TwoOf:
		return true
	}
	return false
}

// suggestDocument draws the answer.
func suggestDocument(w weighing) document.Document {
	v, recipe, s, r := w.suggestPayload, w.recipe, w.set, w.request
	sections := []document.Section{decision(v)}
	if o := othersSection(v.Answer); o != nil {
		sections = append(sections, *o)
	}
	// of a taste that falls with the dose no figure of a right dose means anything
	if v.Facts.Falling == nil {
		sections = append(sections, sureness(v, r))
	}
	if w := windowSection(v); w != nil {
		sections = append(sections, *w)
	}
	// how to brew a dose that is not to be brewed, and what it would teach, would contradict the first line
	if len(recipe) > 0 && brews(v.Verdict) {
		sections = append(sections, document.Section{Heading: "How", Paragraphs: recipe})
	}
	if brews(v.Verdict) || v.Verdict == doseresponse.Bench {
		sections = append(sections, teachSection(v))
	}
	if len(v.Votes) > 0 {
		votes := votesBars(v)
		if r.Pictures {
			votes.Pictures = w.dosePicture()
		}
		sections = append(sections, votes)
	}
	if v.Facts.Falling == nil {
		if len(v.Methods) > 1 {
			sections = append(sections, methodsSection(v))
		}
		if t := suggestTasters(v); t != nil {
			sections = append(sections, *t)
		}
	}
	sections = append(sections, reasons(v, s))
	title := "Next for " + v.Material
	if v.Attribute != "" {
		title += ", for " + v.Attribute
	}
	if v.Reference != "" {
		title += ", as " + v.Reference
	}
	return document.Document{Title: title, Sections: sections}
}

// decision is the first section: the headline, and how sure it is.
func decision(v suggestPayload) document.Section {
	paragraphs := slices.Clone(v.Headline)
	if v.contradiction != "" {
		paragraphs = append(paragraphs, "But "+v.contradiction+".")
	}
	return document.Section{Paragraphs: paragraphs}
}

// sureness says what is known of the right dose, and what to expect of the next.
func sureness(v suggestPayload, r SuggestRequest) document.Section {
	var list []string
	right := v.RightDose
	if right.Low != nil {
		list = append(list, fmt.Sprintf("The right dose lies between %s and %s g/L effective (90 %%), "+
			"within a factor of %s either way.",
			grams(*right.Low), grams(*right.High),
			document.Fixed(math.Sqrt(*right.High / *right.Low), 1)))
	}
	// expectations of a single dose would be taken for one to brew
	if v.Verdict == doseresponse.Bench {
		return document.Section{Heading: "How sure", Paragraphs: list}
	}
	whose := ""
	if len(v.Tasters) > 1 {
		whose = " of this panel"
	}
	s := document.Shares(v.Next.PTooLittle, v.Next.PRight, v.Next.PTooMuch)
	list = append(list, fmt.Sprintf("Of 100 votes%s expect %d too little, %d just right, %d too much.", whose,
		s[0], s[1], s[2]))
	// of votes that do not follow the dose nothing is near the best; and what the headline says is not said again
	said := slices.ContainsFunc(v.Headline, func(l string) bool { return strings.Contains(l, " sure that ") })
	if v.Verdict != doseresponse.Retaste && !said {
		gets := "gets nine tenths of the best share of just right"
		if r.Target != nil {
			gets = "is scored within a point of " + document.Significant(*r.Target, 2)
		}
		list = append(list, fmt.Sprintf("The chance that %s g/L %s: %s.", grams(v.Next.DoseGPerL), gets,
			document.Chance(v.PNearBest)))
	}
	if f := v.Fade; f != nil && v.Facts.AgeMatters {
		list = append(list, fmt.Sprintf("The dose is for a beer drunk at about %.0f days; at 30 days it is %s, at 90 %s g/L.",
			f.DrinkAtDays, grams(f.At30), grams(f.At90)))
	}
	if v.PAnyDoseLiked != nil {
		list = append(list, fmt.Sprintf("The chance that it is liked as wished at its right dose: %s.",
			document.Chance(*v.PAnyDoseLiked)))
	}
	return document.Section{Heading: "How sure", Paragraphs: list}
}

// littleLeft reports whether no trial would move the interval as it is printed, by
// the first decimal of its factor.
func littleLeft(lessons []lessonView) bool {
	return len(lessons) > 0 && !slices.ContainsFunc(lessons, func(l lessonView) bool {
		return document.Fixed(l.FactorNow, 1) != document.Fixed(l.FactorAfter, 1)
	})
}

// teachSection says which trial would narrow the answer most.
func teachSection(v suggestPayload) document.Section {
	if littleLeft(v.Lessons) {
		return document.Section{Heading: "What would teach most", Paragraphs: []string{fmt.Sprintf(
			"Little is left to learn: the right dose is known within a factor of %s either way, and no trial would "+
				"move that.", document.Fixed(v.Lessons[0].FactorNow, 1))}}
	}
	return lessonsTable(v)
}

// lessonsTable lists what each next step would teach.
func lessonsTable(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "what could be done next"}, {Title: "brews", Right: true},
		{Title: "effective doses g/L", Wrap: true}, {Title: "x/÷ now", Right: true}, {Title: "after", Right: true}}}
	notes := []string{"x/÷ 1.4: the right dose lies within a factor of 1.4 either way (90 %). Jars, glasses " +
		"and blind repeats teach; a deliberately wrong batch does not."}
	for _, l := range v.Lessons {
		var doses []string
		for _, d := range l.DosesGPerL {
			doses = append(doses, grams(d))
		}
		if l.Extract != "" {
			doses = []string{"from " + doses[0] + " up, " + doses[1] + " down"}
			notes = append(notes, dropperNote(v.Material, evidence.Extract(l.Extract)))
		}
		t.Rows = append(t.Rows, []string{l.Action, fmt.Sprint(l.Brews), strings.Join(doses, ", "),
			document.Fixed(l.FactorNow, 2), document.Fixed(l.FactorAfter, 2)})
	}
	return document.Section{Heading: "What would teach most", Table: &t, Notes: notes}
}

// votesBars draws the votes by dose as counts.
func votesBars(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "g/L", Right: true},
		{Title: "little", Right: true}, {Title: "right", Right: true}, {Title: "much", Right: true}, {Title: ""}}}
	for _, r := range v.Votes {
		bar := strings.Repeat("-", min(r.TooLittle, 12)) + strings.Repeat("#", min(r.Right, 12)) +
			strings.Repeat("+", min(r.TooMuch, 12))
		t.Rows = append(t.Rows, []string{r.Trial, document.Significant(r.Dose, 2), fmt.Sprint(r.TooLittle),
			fmt.Sprint(r.Right), fmt.Sprint(r.TooMuch), bar})
	}
	return document.Section{Heading: "Votes on " + v.Attribute + " by effective dose", Table: &t,
		Notes: []string{"- too little, # just right, + too much"}}
}

// methodsSection compares the potency of methods.
func methodsSection(v suggestPayload) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "method"},
		{Title: "potency per effective gram", Right: true}, {Title: "limits", Right: true}}}
	for _, m := range v.Methods {
		limits := "-"
		if m.RelativePotency.Level != nil {
			limits = document.Fixed(100**m.RelativePotency.Level, 0) + " %"
		}
		t.Rows = append(t.Rows, []string{m.Method, document.Spread(m.RelativePotency, 2, 2), limits})
	}
	return document.Section{Heading: "Methods, beside " + v.Reference, Table: &t}
}

// reasons says what the answer rests on.
func reasons(v suggestPayload, s ledger.TrialSet) document.Section {
	sec := document.Section{Heading: "What this rests on"}
	said := advice(v, len(studies.DosedToTaste(s, v.Attribute)))
	if len(v.Trials) > 0 {
		sec.Paragraphs = append(sec.Paragraphs, fmt.Sprintf("%s (%s), %s; scores from closed tastings.",
			document.Count(len(v.Trials), "trial"), strings.Join(v.Trials, ", "), said))
	} else {
		sec.Paragraphs = append(sec.Paragraphs, fmt.Sprintf("No trial yet: %s.", said))
	}
	sec.Notes = append(sec.Notes, axisNote(v.Class, v.Attribute))
	if len(v.Claims) > 0 {
		sec.Notes = append(sec.Notes, claimsLine(v.Claims))
	}
	sec.Notes = append(sec.Notes, v.notes...)
	for _, c := range v.Cautions {
		sec.Notes = append(sec.Notes, wording.CautionLine(c))
	}
	return sec
}

// claimsLine puts the claims on the effective scale, g/L.
func claimsLine(claims [][2]float64) string {
	var list []string
	for _, c := range claims {
		text := document.Significant(c[0], 2)
		if c[1] > c[0] {
			text += " to " + document.Significant(c[1], 2)
		}
		list = append(list, text)
	}
	return "claimed, on the effective scale: " + strings.Join(list, ", ") + " g/L"
}

// advice counts what a suggestion rests on beside the trials.
func advice(v suggestPayload, glasses int) string {
	claims := document.Count(len(v.Claims), "claim")
	others := ofOthers(v.Answer)
	switch {
	case glasses > 0:
		return claims + ", " + document.Count(glasses, "glass") + " dosed to taste" + others
	case len(v.Trials) == 0 && others == "":
		return claims + " alone"
	}
	return claims + others
}

// axisNote says which solute class the effective doses are of, and why that one.
func axisNote(class, attribute string) string {
	if trials.FamilyOf(attribute) == class {
		return "effective doses are of the " + class + " family, which " + attribute +
			" is a taste of; --class says otherwise"
	}
	return "effective doses are of the " + class + " class; --class says otherwise"
}

// suggestTasters is the table of the tasters' own right doses.
func suggestTasters(v suggestPayload) *document.Section {
	if len(v.Tasters) < 2 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true},
		{Title: "own right dose x (90 %)", Right: true}, {Title: "scores higher by", Right: true},
		{Title: "noise", Right: true}, {Title: "remembered x", Right: true}, {Title: "note", Wrap: true}}}
	for _, r := range v.Tasters {
		t.Rows = append(t.Rows, []string{r.Taster, document.Spread(r.Offset, 1, 2), document.Signed(r.Scale.Value, 1),
			document.OrDash(r.NoiseSD, 1), document.OrDash(r.Remembered, 2), r.Remark})
	}
	sec := &document.Section{Heading: "Tasters", Table: &t,
		Notes: []string{"own right dose: beside the panel's; noise: standard deviation of the intensities, points"}}
	if len(v.Taught) > 0 {
		sec.Notes = append(sec.Notes, "remembered from "+strings.Join(v.Taught, ", ")+
			", drawn halfway to 1; --fresh-tasters leaves it out")
	}
	return sec
}
