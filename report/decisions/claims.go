package decisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// judgedClaim is a claim beside what the panel called just right, as --json
// prints it.
type judgedClaim struct {
	trials.Claim
	Low  *float64 `json:"effective_low_g_per_l"`  // null where the claim cannot be converted, or says up to
	High *float64 `json:"effective_high_g_per_l"` // upper end
	// below, within or above the doses called just right; empty where that cannot be said
	Judgment string `json:"judgment"`
}

// The judgments of a claim.
const (
	judgedBelow  = "below"
	judgedWithin = "within"
	judgedAbove  = "above"
)

// claimedTrial is a trial on the axis of the claims.
type claimedTrial struct {
	Trial string  `json:"trial"` // name of the trial
	Dose  float64 `json:"effective_dose_g_per_l"`
}

// JudgedClaims sets the claims on one material beside the trials made so far and
// beside what the panel called just right. The right dose is inferred from the
// scores alone: a claim is no witness in its own case.
func JudgedClaims(n *trials.Notebook, s ledger.TrialSet, attribute string) (document.View, error) {
	s, attribute, err := studies.ForTaste(s, attribute, "")
	if err != nil {
		return document.View{}, err
	}
	right := scoredRight(n, s, attribute)
	list := make([]judgedClaim, len(s.Claims))
	for i, c := range s.Claims {
		list[i] = judge(s, c, right)
	}
	tried := []claimedTrial{}
	for _, t := range s.Trials {
		if !t.Control && t.Effective.OK {
			tried = append(tried, claimedTrial{t.Name(), t.Axis()})
		}
	}
	if len(list) == 0 {
		return document.ListView(list, `There is no claim on `+s.Material.Key+` yet: hedgerow claim add `+
			s.Material.Key+` "1 oz per 5 gal" --source "a friend"`, document.Table{}), nil
	}
	warnings := setWarnings(s)
	if len(s.Others) > 0 {
		warnings = append(warnings, "not counted here, since other brewers made them: "+strings.Join(s.Others, ", "))
	}
	shown := slices.Clone(list)
	var known *judgedClaim
	if c, ok := studies.CatalogueClaim(s.Material); ok {
		// last, beside what was heard: it is no claim of this notebook
		j := judge(s, c, right)
		shown, known = append(shown, j), &j
	}
	sections := []document.Section{judgedTable(s, shown)}
	if axis := claimAxis(shown, tried, right); axis != nil {
		sections = append(sections, *axis)
	}
	sections[len(sections)-1].Notes = append(sections[len(sections)-1].Notes,
		append(judgedNotes(s, list, right, attribute), warnings...)...)
	return document.View{Document: document.Document{Title: "Claims on " + s.Material.Key, Sections: sections},
		Payload: struct {
			Rows      []judgedClaim  `json:"rows"`
			Catalogue *judgedClaim   `json:"catalogue"` // its range, null without one
			Material  string         `json:"material"`
			Attribute string         `json:"attribute"`
			Right     *figure.Stated `json:"right_dose_g_per_l"`
			Trials    []claimedTrial `json:"trials"`
			Warnings  []string       `json:"warnings"`
		}{list, known, s.Material.Key, attribute, right, tried, append([]string{}, warnings...)}}, nil
}

// scoredRight is the right dose by the scores alone, nil without votes or
// intensities of a dosed trial.
func scoredRight(n *trials.Notebook, s ledger.TrialSet, attribute string) *figure.Stated {
	study := studies.Of(s, attribute)
	study.ClaimsGPerL = nil
	told := false
	for _, t := range study.Trials {
		for _, sc := range t.Scores {
			told = told || t.DoseGPerL > 0 && (sc.Vote != nil || sc.Intensity != nil)
		}
	}
	if !told {
		return nil
	}
	p, err := doseresponse.Fit(study, doseresponse.Options{FreshTasters: true})
	if err != nil {
		return nil
	}
	e := p.RightDose()
	return &e
}

// judge puts a claim on the effective scale and beside the right dose.
func judge(s ledger.TrialSet, c trials.Claim, right *figure.Stated) judgedClaim {
	j := judgedClaim{Claim: c}
	// grams per litre of tea say nothing of beer until it is known how much tea goes in
	if c.HighGPerL == nil || c.PerTea {
		return j
	}
	factor := s.EffectivePerGram(c.Basis)
	high := *c.HighGPerL * factor
	j.High = &high
	if c.LowGPerL != nil {
		low := *c.LowGPerL * factor
		j.Low = &low
	}
	if right == nil || right.Low == nil {
		return j
	}
	switch {
	// only what lies wholly outside is judged: the interval is wide, and a claim that touches it may be right
	case high < *right.Low:
		j.Judgment = judgedBelow
	case j.Low != nil && *j.Low > *right.High:
		j.Judgment = judgedAbove
	default:
		j.Judgment = judgedWithin
	}
	return j
}

// judgedTable lists the claims with their judgments.
func judgedTable(s ledger.TrialSet, list []judgedClaim) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "claim"}, {Title: "as written", Wrap: true},
		{Title: "g/L", Right: true}, {Title: "of", Wrap: true}, {Title: "effective\ng/L", Right: true}, {Title: "judged"},
		{Title: "heard from", Wrap: true}}}
	for _, j := range list {
		judgment := j.Judgment
		if judgment == "" {
			judgment = "-"
		}
		t.Rows = append(t.Rows, []string{j.Name, j.AsWritten, wording.ClaimRange(j.Claim), claimOf(s, j.Claim),
			effectiveRange(j), judgment, j.Source})
	}
	return document.Section{Table: &t}
}

// claimOf says what the grams of a claim are grams of, or are taken for.
func claimOf(s ledger.TrialSet, c trials.Claim) string {
	text := wording.ClaimOf(c)
	if c.Basis == "" && c.HighGPerL != nil && !c.PerTea && s.Material.DefaultBasis != "" {
		text += ", so " + s.Material.DefaultBasis
	}
	return text
}

// effectiveRange prints a claim on the effective scale.
func effectiveRange(j judgedClaim) string {
	switch {
	case j.High == nil:
		return "-"
	case j.Low == nil:
		return "up to " + document.Significant(*j.High, 2)
	case *j.Low == *j.High:
		return document.Significant(*j.Low, 2)
	}
	return document.Significant(*j.Low, 2) + " to " + document.Significant(*j.High, 2)
}

// judgedNotes says what the judgments rest on and what to weigh.
func judgedNotes(s ledger.TrialSet, list []judgedClaim, right *figure.Stated, attribute string) []string {
	var notes []string
	switch {
	case right == nil:
		notes = append(notes, "nothing dosed was scored in a closed tasting yet, so no claim is judged")
	case right.Low != nil:
		notes = append(notes, "judged beside the right dose for "+attribute+" by the scores alone, "+
			document.Significant(right.Value, 2)+" g/L ("+document.Significant(*right.Low, 2)+" to "+
			document.Significant(*right.High, 2)+
			", 90 %): below or above is wholly outside that range")
	}
	notes = append(notes, "effective g/L: what the claim would come to in the beer, by the trials made so far or "+
		"else by the share that beer can carry")
	for _, j := range list {
		switch {
		case j.PerTea:
			notes = append(notes, j.Name+" is per litre of tea: say how much tea goes into a litre of beer to compare it")
		case j.High == nil:
			notes = append(notes, j.Name+" has no weight: weigh what is meant by \""+j.AsWritten+"\" of this "+
				s.Material.Key+" and add it again in grams per litre")
		}
	}
	return notes
}

// axisWidth is the width of the drawn axis in characters.
const axisWidth = 44

// claimAxis draws claims, trials and the right dose on one logarithmic axis; nil
// where there is nothing to draw.
func claimAxis(list []judgedClaim, tried []claimedTrial, right *figure.Stated) *document.Section {
	low, high := math.Inf(1), 0.0
	see := func(v *float64) {
		if v != nil && *v > 0 {
			low, high = min(low, *v), max(high, *v)
		}
	}
	for _, j := range list {
		see(j.Low)
		see(j.High)
	}
	for _, t := range tried {
		see(&t.Dose)
	}
	// a logarithmic axis needs one dose above 0
	if high == 0 {
		return nil
	}
	// after the test: the right dose alone, without claim or trial beside it, compares nothing
	if right != nil {
		see(&right.Value)
	}
	// room at either end, or the outermost marks would look cut off
	a := axis{low / 1.3, high * 1.3}
	t := document.Table{Columns: []document.Column{{Title: "", Wrap: true}, {Title: a.head()},
		{Title: "g/L", Right: true}}}
	for _, j := range list {
		if j.High != nil {
			t.Rows = append(t.Rows, []string{j.Name, a.span(j.Low, j.High, '='), effectiveRange(j)})
		}
	}
	for _, d := range tried {
		t.Rows = append(t.Rows, []string{d.Trial, a.span(&d.Dose, &d.Dose, 'o'), document.Significant(d.Dose, 2)})
	}
	if right != nil {
		line := a.span(right.Low, right.High, '-')
		t.Rows = append(t.Rows, []string{"just right", a.mark(line, right.Value, '#'), document.Significant(right.Value, 2)})
	}
	return &document.Section{Heading: "On one axis", Table: &t,
		Notes: []string{"= a claim, o a trial, # what the panel calls just right with its 90 % interval; equal steps " +
			"are equal factors"}}
}

// axis is a logarithmic axis between two doses.
type axis struct{ low, high float64 }

// column is the character at which a dose stands, held within the axis.
func (a axis) column(v float64) int {
	share := math.Log(v/a.low) / math.Log(a.high/a.low)
	return max(0, min(axisWidth-1, int(share*axisWidth)))
}

// span draws a stretch; a low end that is nil runs from the left.
func (a axis) span(low, high *float64, mark rune) string {
	if high == nil {
		return strings.Repeat(" ", axisWidth)
	}
	from := 0
	if low != nil && *low > 0 {
		from = a.column(*low)
	}
	to := a.column(*high)
	return strings.Repeat(".", from) + strings.Repeat(string(mark), to-from+1) + strings.Repeat(".", axisWidth-1-to)
}

// mark puts one character at a dose.
func (a axis) mark(line string, v float64, mark byte) string {
	text := []byte(line)
	text[a.column(v)] = mark
	return string(text)
}

// head writes the ends and the middle of the axis.
func (a axis) head() string {
	left, right := document.Significant(a.low, 2), document.Significant(a.high, 2)
	middle := document.Significant(math.Sqrt(a.low*a.high), 2)
	gap := axisWidth - len(left) - len(middle) - len(right)
	return left + strings.Repeat(" ", gap/2) + middle + strings.Repeat(" ", gap-gap/2) + right
}

// takenBasis says what claims are taken for that do not say whether they mean the fresh
// or the dried plant.
func takenBasis(s ledger.TrialSet) []string {
	var names []string
	for _, c := range s.Claims {
		if c.Basis == "" && c.HighGPerL != nil && c.Name != "" {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 || s.Material.DefaultBasis == "" {
		return nil
	}
	return []string{fmt.Sprintf("not said in %s whether of fresh or dry %s: taken as %s", wordList(names),
		s.Material.Key, s.Material.DefaultBasis)}
}
