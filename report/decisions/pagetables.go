package decisions

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/plot"
	"hedgerow/report/studies"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// trialsSection is a line for each trial: dose, votes, scores, what was done.
func (w weighing) trialsSection(compared []comparedTrial) document.Section {
	s := document.Section{Heading: "The trials", Side: "By effective dose. One mark is one vote"}
	if w.Attribute != "" {
		s.Side += " on " + w.Attribute
	}
	s.Side += ". Intensity 0 to 10, liking 1 to 9: panel means with 95 % limits."
	if len(compared) == 0 {
		s.Side, s.Paragraphs = "", []string{"Nothing with " + w.Material + " has been logged yet."}
		if len(w.set.Dosed) > 0 {
			s.Paragraphs = []string{"No beer with " + w.Material + " has been logged yet."}
		}
		return s
	}
	t := document.Table{Columns: []document.Column{{Title: "trial", Wrap: true}, {Title: "g/L (95 %)", Right: true},
		{Title: "too\nlittle", Right: true, Ballot: plot.TooLittle},
		{Title: "just\nright", Right: true, Ballot: plot.JustRight},
		{Title: "too\nmuch", Right: true, Ballot: plot.TooMuch}}}
	var shown []string
	for _, a := range []string{w.Attribute, wording.WordOf(trials.Overall)} {
		for _, c := range compared {
			if _, ok := c.Means[a]; ok && a != "" {
				shown = append(shown, a)
				t.Columns = append(t.Columns, document.Column{Title: a, Right: true})
				break
			}
		}
	}
	t.Columns = append(t.Columns, document.Column{Title: "what was done", Wrap: true, Wide: true, Paper: true})
	for i, c := range compared {
		dose := "none"
		if !c.Control && c.Effective != nil {
			dose = document.SignificantSpread(*c.Effective)
		}
		v, voted := c.Votes[w.Attribute]
		row := []string{c.Trial, dose, "-", "-", "-"}
		if voted {
			row = []string{c.Trial, dose, fmt.Sprint(v.TooLittle), fmt.Sprint(v.Right), fmt.Sprint(v.TooMuch)}
		}
		for _, a := range shown {
			text := "-"
			if m, ok := c.Means[a]; ok {
				text = document.PlusMinus(m.Stated, 1, 1)
			}
			row = append(row, text)
		}
		t.Rows = append(t.Rows, append(row, w.done(w.set.Trials[i], c)))
	}
	s.Table = &t
	if w.Attribute == "" {
		s.Notes = append(s.Notes, "nothing has been scored in a closed tasting yet")
	}
	s.Notes = append(s.Notes, setWarnings(w.set)...)
	return s
}

// done says in one line what was done: what went in, how, and what it made of the beer.
func (w weighing) done(t ledger.Trial, c comparedTrial) string {
	text := strings.ReplaceAll(c.Method, "none (control)", "control")
	grams, known := 0.0, false
	for _, d := range t.Ledger.Doses {
		if d.MaterialKey == w.Material {
			grams, known = grams+d.MassG, true
		}
	}
	if known && grams > 0 && !c.Control {
		text = wording.MassText(Rounded(grams), w.request.Units) + ", " + text
	}
	if c.AddedL > 0 {
		text += "; " + wording.VolumeText(c.AddedL, w.request.Units) + " added"
	}
	if c.ABVBefore != nil && c.ABVAfter != nil && c.AddedL > 0 {
		text += fmt.Sprintf(", %s to %s %% vol", document.Fixed(*c.ABVBefore, 1), document.Fixed(c.ABVAfter.Value, 1))
	}
	return text
}

// sources say what the page rests on.
func (w weighing) sources(n *trials.Notebook) document.Section {
	s := document.Section{Heading: "Sources"}
	if len(w.set.Trials) > 0 {
		text := "Trials: " + strings.Join(restsOn(w.set), ", ")
		var evenings []string
		for _, t := range w.set.Tastings {
			evenings = append(evenings, t.Name+" ("+wording.DateText(t.At)+")")
		}
		if len(evenings) > 0 {
			text += "; closed tastings: " + strings.Join(evenings, ", ")
		}
		s.Notes = append(s.Notes, text+".")
	}
	right := scoredRight(n, w.set, w.Attribute)
	for _, c := range w.set.Claims {
		// the range of the catalogue, standing in for a claim, has a line of its own
		if c.ID == "" && c.AsWritten == "-" {
			continue
		}
		j := judge(w.set, c, right)
		text := fmt.Sprintf("Advice: %s", c.AsWritten)
		if c.Source != "" {
			text += ", " + c.Source
		}
		text += ": " + effectiveRange(j) + " g/L effective"
		if j.Judgment != "" {
			text += ", " + map[string]string{judgedBelow: "below what this panel calls just right",
				judgedAbove: "above what this panel calls just right", judgedWithin: "not ruled out by the scores"}[j.Judgment]
		}
		s.Notes = append(s.Notes, text+".")
	}
	if c, ok := studies.CatalogueClaim(w.set.Material); ok {
		s.Notes = append(s.Notes, fmt.Sprintf("Catalogue: %s g/L (%s).", wording.ClaimRange(c), wording.Citation(c.Source)))
	}
	s.Notes = append(s.Notes, "Method: votes and intensities on the logarithm of the effective dose, with tasters, brews "+
		"and methods allowed for.")
	s.Notes = append(s.Notes, w.notes...)
	return s
}

// numbers are the numbers of the pictures as tables.
func (w weighing) numbers(own []ownMethod) []document.Section {
	var list []document.Section
	if curve := w.expected(); len(curve) > 0 {
		t := document.Table{Columns: []document.Column{{Title: "g/L", Right: true}, {Title: "too little %", Right: true},
			{Title: "just right %", Right: true}, {Title: "half of the chance", Right: true},
			{Title: "nine tenths", Right: true}, {Title: "too much %", Right: true}}}
		for _, c := range curve {
			s := document.Shares(c.TooLittle, c.Right, c.TooMuch)
			t.Rows = append(t.Rows, []string{document.Significant(c.DoseGPerL, 2), fmt.Sprint(s[0]), fmt.Sprint(s[1]),
				percents(c.Half), percents(c.Most), fmt.Sprint(s[2])})
		}
		list = append(list, document.Section{Heading: "The numbers: votes to expect", Folded: true, Table: &t})
	}
	if w.Facts.Falling != nil {
		return list
	}
	put := func(s *document.Section) {
		if s != nil {
			s.Heading, s.Folded = "The numbers: "+strings.ToLower(s.Heading), true
			list = append(list, *s)
		}
	}
	put(suggestTasters(w.suggestPayload))
	if len(w.Methods) > 1 {
		methods := methodsSection(w.suggestPayload)
		put(&methods)
	}
	put(ownMethodSection(own))
	if len(w.Lessons) > 0 {
		lessons := lessonsTable(w.suggestPayload)
		put(&lessons)
	}
	return list
}

// percents prints a range of shares.
func percents(r [2]float64) string {
	return document.Fixed(100*r[0], 0) + " to " + document.Fixed(100*r[1], 0)
}
