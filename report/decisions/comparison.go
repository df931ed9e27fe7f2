package decisions

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/panel"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// comparisonLevel is the level of the intervals of a comparison.
const comparisonLevel = 0.95

// comparedTrial is one trial as --json prints it.
type comparedTrial struct {
	Trial     string                  `json:"trial"` // name of the trial
	Kind      string                  `json:"kind"`  // what it is
	Brew      string                  `json:"brew"`
	Control   bool                    `json:"control"`
	AsWeighed float64                 `json:"dose_g_per_l"`
	Effective *figure.Stated          `json:"effective_dose_g_per_l"`
	Method    string                  `json:"method"`       // tea, cold-tea, tincture, contact ...
	InDays    *float64                `json:"days_in_beer"` // of a plant, when it was tasted
	AddedL    float64                 `json:"added_l"`
	ABVBefore *float64                `json:"abv_before_pct"`
	ABVAfter  *figure.Stated          `json:"abv_after_pct"`
	FG        *float64                `json:"final_gravity_sg"` // final gravity, SG 20/20
	PH        *float64                `json:"ph"`
	AgeDays   *float64                `json:"age_at_tasting_days"`
	Tasters   int                     `json:"tasters"` // how many took part
	Means     map[string]comparedMean `json:"means"`
	Votes     map[string]votes        `json:"votes"`
}

// comparedMean is a panel mean as --json prints it.
type comparedMean struct {
	figure.Stated
	N int `json:"n"` // how many
}

// votes counts the votes of one trial.
type votes struct {
	TooLittle int `json:"too_little"`
	Right     int `json:"just_right"`
	TooMuch   int `json:"too_much"`
}

// count adds a vote.
func (v *votes) count(vote int) {
	switch vote {
	case -1:
		v.TooLittle++
	case 0:
		v.Right++
	case 1:
		v.TooMuch++
	}
}

// comparison is the whole comparison as --json prints it.
type comparison struct {
	Material string           `json:"material"`
	Class    string           `json:"class"`
	Trials   []comparedTrial  `json:"trials"`
	Pairs    []pairRow        `json:"pairs"`
	Controls []controlRow     `json:"differences_from_control"`
	Agreed   []agreementRow   `json:"agreement_on_order"`
	Tasters  []panelTasterRow `json:"tasters"`
	Methods  []ownMethodRow   `json:"methods"`
	Places   []positionRow    `json:"position_effect"`
	Differed []difference     `json:"what_else_differed"`
	Dosed    []dosedRow       `json:"dosed_to_taste"` // glasses of evenings of dosing to taste
	Said     []string         `json:"what_can_be_said"`
	Warnings []string         `json:"warnings"`

	Theirs []otherTrialRow            `json:"other_brewers_trials"`
	Others *doseresponse.AnswerOthers `json:"others"` // as in a suggestion; null where nothing can be said
}

// Comparison shows the trials of a material side by side, neighbours and tasters by one
// attribute: the one most asked for if none is named.
func Comparison(n *trials.Notebook, s ledger.TrialSet, attribute string, u quantity.Units) document.View {
	attributes := append(s.Attributes(), trials.Overall)
	list := comparedTrials(s, u)
	warnings := append(setWarnings(s), studies.OthersWarnings(s)...)
	warnings = append(warnings, studies.StoppedGlasses(s, "")...)
	said, missed := meansOf(s, list, attributes)
	warnings = append(warnings, missed...)
	agreed := agreements(s, attributes)
	for _, r := range agreed {
		said = append(said, r.sentence())
	}
	addVotes(s, list)
	main := attribute
	if own, err := studies.AttributeFor(s, attribute); err == nil && own != "" {
		main = own
	}
	sections := []document.Section{madeTable(s, list, u), tastedTable(list, attributes)}
	sections[1].Pictures = scoresPicture(s.Material.Key, main, list)
	sections = append(sections, present(votesTable(list, attributes))...)
	fits := attributeFits(s, attributes)
	pairs := pairwise(s, fits)
	besideControl, doubts := againstControl(s, fits)
	for _, f := range fits {
		doubts = append(doubts, wording.Prefixed(wording.WordOf(f.attribute), f.means.Warnings)...)
	}
	warnings = append(warnings, doubts...)
	tasters := panelTasters(n, s, main)
	methods, positions := OwnMethods(n, s), positionEffects(n, s, attributes)
	sections = append(sections, present(pairsSection(pairs, main), controlSection(besideControl),
		ownMethodSection(methods), tastersSection(n, s, tasters, main), positionsSection(positions))...)
	theirs, more, err := compareOthers(n, s, main)
	if err != nil {
		warnings = append(warnings, "other brewers' trials are left out: "+err.Error())
	}
	if len(s.Trials) == 0 {
		// empty tables of one's own would hide what there is
		sections = []document.Section{{Paragraphs: []string{"No trial of your own yet."}}}
	}
	dosed := dosedRows(s)
	sections = append(sections, present(dosedSection(s.Material.Key, dosed))...)
	sections = append(sections, more...)
	differed := confounding(s, u)
	if len(s.Trials) > 0 {
		sections = append(sections, differedTable(differed, dosedTrials(s)))
	}
	// under the last table: they are about the whole comparison, not about one table
	last := &sections[len(sections)-1]
	last.Notes = append(last.Notes, append(said, warnings...)...)
	return document.View{
		Figures:  true,
		Document: document.Document{Title: "Trials of " + s.Material.Key, Sections: sections},
		Payload: comparison{s.Material.Key, trials.ClassNames[s.Class], list, pairs, besideControl, agreed, tasters,
			ownMethodRows(methods), positions, differed, dosed,
			append([]string{}, said...), append([]string{}, warnings...), theirs.Trials, theirs.Answer},
	}
}

// present are the sections that have something to show.
func present(list ...*document.Section) []document.Section {
	var out []document.Section
	for _, s := range list {
		if s != nil {
			out = append(out, *s)
		}
	}
	return out
}

// meansOf puts the panel means of each attribute beside the trials, and returns what is
// to be said of them and what to beware of.
func meansOf(s ledger.TrialSet, list []comparedTrial, attributes []string) (said, warnings []string) {
	for _, a := range attributes {
		if fit := adjusted(s, a); fit != nil {
			said = append(said, addMeans(list, a, fit)...)
			warnings = append(warnings, wording.Prefixed(wording.WordOf(a), fit.Warnings)...)
		}
	}
	return said, warnings
}

// dosedTrials counts the trials that are no control.
func dosedTrials(s ledger.TrialSet) int {
	n := 0
	for _, t := range s.Trials {
		if !t.Control {
			n++
		}
	}
	return n
}

// setWarnings are the remarks on the tastings themselves.
func setWarnings(s ledger.TrialSet) []string {
	var list []string
	if len(s.Sealed) > 0 {
		list = append(list, "not counted, since still sealed: "+strings.Join(s.Sealed, ", ")+" (hedgerow tasting close)")
	}
	if len(s.Peeked) > 0 {
		list = append(list, "the key was looked at before the end of "+strings.Join(s.Peeked, ", "))
	}
	if len(s.Changed) > 0 {
		list = append(list, "scores changed after the key was open: "+strings.Join(s.Changed, ", "))
	}
	if len(s.Alone) > 0 {
		list = append(list, "blind by shuffling, done alone: "+strings.Join(s.Alone, ", "))
	}
	if len(s.Open) > 0 {
		list = append(list, "these scores were not blind: "+strings.Join(s.Open, ", "))
	}
	if len(s.NoLedger) > 0 {
		list = append(list, "left out, since without an original gravity the dose is not known: "+
			strings.Join(s.NoLedger, ", ")+" (hedgerow batch edit)")
	}
	return list
}

// comparedTrials fills in what was made.
func comparedTrials(s ledger.TrialSet, u quantity.Units) []comparedTrial {
	list := make([]comparedTrial, len(s.Trials))
	for i, t := range s.Trials {
		c := comparedTrial{Trial: t.Name(), Kind: t.Batch.Kind, Brew: t.Group, Control: t.Control, AsWeighed: t.AsWeighed,
			Effective: wording.EstimateView(t.Effective), Method: methodOfTrial(t), InDays: t.InDays, AddedL: t.AddedL,
			FG: t.FGRead,
			PH: t.PH, AgeDays: studies.AgeOf(t),
			Means: map[string]comparedMean{}, Votes: map[string]votes{}}
		if t.Control {
			// a control has a dose, and it is exactly 0: null would say that it is not known
			zero := figure.StatedExactly(0)
			c.Effective = &zero
		}
		if len(t.Ledger.Steps) > 0 {
			state := wording.StateView(t.Ledger.Last().State())
			before := t.ABVBefore
			c.ABVBefore, c.ABVAfter = &before, state.ABVPct
		}
		list[i] = c
	}
	return list
}

// methodOfTrial says how the material went in, in few words.
func methodOfTrial(t ledger.Trial) string {
	if t.Control {
		return "none (control)"
	}
	var parts []string
	for _, u := range t.Uses {
		text := u.Addition.Method
		if in := contactText(t); in != "" && text == trials.MethodContact && t.Method == trials.MethodContact {
			text += ", " + in + " in the beer"
		}
		if x := u.Extract; x != nil {
			text = wording.MethodWords(*x)
			if len(x.Passes) > 0 {
				text += ", " + wording.Separations(*x)
			}
		}
		// two teas made alike are one method to the reader
		if len(parts) == 0 || parts[len(parts)-1] != text {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " and ")
}

// adjusted fits the intensities (or likings) of one attribute; nil when nobody
// scored it.
func adjusted(s ledger.TrialSet, attribute string) *panel.Adjustment {
	scores := panelScores(s, attribute)
	if len(scores) == 0 {
		return nil
	}
	fit, err := panel.Adjusted(scores, comparisonLevel)
	if err != nil {
		return nil
	}
	return fit
}

// panelScores collects the intensities (or likings) of one attribute.
func panelScores(s ledger.TrialSet, attribute string) []panel.Score {
	var scores []panel.Score
	for _, sc := range s.Scores {
		v := sc.Intensity
		if attribute == trials.Overall {
			v = sc.Liking
		}
		if sc.Attribute != attribute || v == nil {
			continue
		}
		scores = append(scores, panel.Score{Taster: sc.Taster, Trial: s.Trials[sc.Trial].Name(), Value: *v})
	}
	return scores
}

// addMeans puts the adjusted means of one attribute into the trials and returns
// what can be said about differences.
func addMeans(list []comparedTrial, attribute string, fit *panel.Adjustment) []string {
	for _, m := range fit.Trials {
		for i := range list {
			if list[i].Trial != m.Trial {
				continue
			}
			e := figure.StatedExactly(m.Mean)
			if m.OK {
				e = figure.StatedBetween(m.Mean, m.Low, m.High, fit.Level)
			}
			list[i].Means[wording.WordOf(attribute)] = comparedMean{e, m.Scores}
			list[i].Tasters = max(list[i].Tasters, m.Tasters)
		}
	}
	if !fit.SmallestOK {
		return nil
	}
	return []string{fmt.Sprintf("%s: for one pair alone, a difference below about %s points could not have been seen",
		wording.WordOf(attribute), document.Fixed(fit.SmallestSeen, 1))}
}

// addVotes counts the votes of every trial and attribute.
func addVotes(s ledger.TrialSet, list []comparedTrial) {
	for _, sc := range s.Scores {
		if sc.Vote == nil {
			continue
		}
		v := list[sc.Trial].Votes[sc.Attribute]
		v.count(*sc.Vote)
		list[sc.Trial].Votes[sc.Attribute] = v
	}
}

// madeTable is the table of what was done.
func madeTable(s ledger.TrialSet, list []comparedTrial, u quantity.Units) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "weighed\ng/L", Right: true},
		{Title: "effective\ng/L", Right: true}, {Title: "how", Wrap: true},
		{Title: "liquid\nadded", Right: true}, {Title: "% vol\nbefore", Right: true}, {Title: "after", Right: true},
		{Title: "FG\nread", Right: true}, {Title: "pH", Right: true}, {Title: "brew", Wide: true},
		{Title: "kind", Wide: true}}}
	for _, c := range list {
		effective := "0"
		if !c.Control && c.Effective != nil {
			effective = document.SignificantRange(*c.Effective)
		}
		t.Rows = append(t.Rows, []string{c.Trial, document.Significant(c.AsWeighed, 3), effective, c.Method,
			wording.VolumeText(c.AddedL, u), document.OrDash(c.ABVBefore, 1), document.PlainEstimate(c.ABVAfter, 1),
			gravityOrDash(c.FG), document.OrDash(c.PH, 2), c.Brew, c.Kind})
	}
	return document.Section{Heading: "What was done", Table: &t,
		Notes: []string{"effective: fully extracted, as-dried material per litre, " + trials.ClassNames[s.Class] +
			" class, with its 95 % interval; a means of comparing steeps of this one material"}}
}

// gravityOrDash prints a gravity that may not have been read.
func gravityOrDash(sg *float64) string {
	if sg == nil {
		return "-"
	}
	return wording.GravityText(*sg)
}

// tastedTable is the table of panel means.
func tastedTable(list []comparedTrial, attributes []string) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "age\ndays", Right: true},
		{Title: "n", Right: true}}}
	var shown []string
	for _, a := range attributes {
		for _, c := range list {
			if _, ok := c.Means[wording.WordOf(a)]; ok {
				shown = append(shown, wording.WordOf(a))
				t.Columns = append(t.Columns, document.Column{Title: wording.WordOf(a), Right: true})
				break
			}
		}
	}
	if len(shown) == 0 {
		return document.Section{Heading: "What was tasted",
			Paragraphs: []string{"Nothing has been scored in a closed tasting yet."}}
	}
	for _, c := range list {
		row := []string{c.Trial, document.OrDash(c.AgeDays, 0), fmt.Sprint(c.Tasters)}
		for _, a := range shown {
			m, ok := c.Means[a]
			if !ok {
				row = append(row, "-")
				continue
			}
			row = append(row, document.PlusMinus(m.Stated, 1, 1))
		}
		t.Rows = append(t.Rows, row)
	}
	return document.Section{Heading: "What was tasted", Table: &t,
		Notes: []string{"panel means with 95 % intervals, each for one trial, adjusted for how high each taster " +
			"scores; intensity 0 to 10, " +
			"liking 1 to 9; n: number of tasters"}}
}

// votesTable is the table of votes as counts, nil if nobody voted.
func votesTable(list []comparedTrial, attributes []string) *document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "effective g/L", Right: true}}}
	var shown []string
	for _, a := range attributes {
		for _, c := range list {
			if _, ok := c.Votes[a]; ok {
				shown = append(shown, a)
				t.Columns = append(t.Columns, document.Column{Title: a, Right: true})
				break
			}
		}
	}
	if len(shown) == 0 {
		return nil
	}
	for _, c := range list {
		row := []string{c.Trial, "0"}
		if !c.Control && c.Effective != nil {
			row[1] = document.Significant(c.Effective.Value, 2)
		}
		for _, a := range shown {
			v, ok := c.Votes[a]
			if !ok {
				row = append(row, "-")
				continue
			}
			row = append(row, fmt.Sprintf("%d / %d / %d", v.TooLittle, v.Right, v.TooMuch))
		}
		t.Rows = append(t.Rows, row)
	}
	return &document.Section{Heading: "Votes: too little / just right / too much", Table: &t}
}
