package report

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// DemoViews are the whole answers that the demo tells in short; a program reads them.
type DemoViews struct {
	Ledger     document.View // of one trial
	Comparison document.View // of all trials
	Suggestion document.View // the answer
}

// Demo tells an invented series on one page, marked as invented: the answer first, then
// how it came about, then what to look at.
func Demo(path, attribute string, s ledger.TrialSet, v DemoViews, u quantity.Units) document.View {
	votes := votesOf(s, attribute)
	d := document.Document{Title: "An invented series: dried hibiscus in a pale wheat saison"}
	d.Sections = []document.Section{
		{Paragraphs: []string{"Nothing of this happened: brews, doses, tasters and scores are made up."}},
		{Heading: "The answer: " + v.Suggestion.Document.Title, Paragraphs: answerOf(v.Suggestion.Document)},
		{Heading: "How it came about", Paragraphs: demoStory(s, votes, attribute), Table: demoTable(s, votes, u)},
		{Heading: "Look around", Paragraphs: []string{"export HEDGEROW_DB=" + path}, Table: &document.Table{
			Columns: []document.Column{{Title: "then type"}, {Title: "to see", Wrap: true}}, Rows: demoCommands}},
	}
	return document.View{Document: d, Payload: struct {
		Invented   bool     `json:"invented"`
		Notebook   string   `json:"notebook"`
		Ledger     any      `json:"ledger"`
		Comparison any      `json:"comparison"`
		Suggestion any      `json:"suggestion"`
		Warnings   []string `json:"warnings"`
	}{true, path, v.Ledger.Payload, v.Comparison.Payload, v.Suggestion.Payload,
		[]string{"every figure of this series is " +
			"invented"}}}
}

// demoCommands are what to type next.
var demoCommands = [][]string{
	{"hedgerow", "where things stand"},
	{"hedgerow suggest hibiscus", "the answer with all its reasons"},
	{"hedgerow compare hibiscus", "every trial, every taste"},
	{"hedgerow ledger hib-short", "one beer, step by step"},
	{"hedgerow tasting show spring", "one evening"},
	{"hedgerow demo --script", "the commands that made it"},
}

// answerOf is the running text before the first table.
func answerOf(d document.Document) []string {
	for _, s := range d.Sections {
		if len(s.Paragraphs) > 0 {
			return s.Paragraphs
		}
	}
	return nil
}

// votesOf counts the votes on an attribute by trial: too little, just right, too much.
func votesOf(s ledger.TrialSet, attribute string) map[int][3]int {
	votes := map[int][3]int{}
	for _, sc := range s.Scores {
		if sc.Attribute != attribute || sc.Vote == nil {
			continue
		}
		count := votes[sc.Trial]
		count[*sc.Vote+1]++
		votes[sc.Trial] = count
	}
	return votes
}

// demoStory tells the series in five sentences, from its records.
func demoStory(s ledger.TrialSet, votes map[int][3]int, attribute string) []string {
	low, high := 0.0, 0.0
	for _, c := range s.Claims {
		if c.LowGPerL != nil && (low == 0 || *c.LowGPerL < low) {
			low = *c.LowGPerL
		}
		if c.HighGPerL != nil {
			high = max(high, *c.HighGPerL)
		}
	}
	controls, thinned := 0, s.Trials[0]
	tasters, count := map[string]bool{}, 0
	for _, t := range s.Trials {
		if t.Control {
			controls++
		}
		if t.AddedShare > thinned.AddedShare {
			thinned = t
		}
	}
	for _, sc := range s.Scores {
		tasters[sc.Taster] = true
	}
	for _, v := range votes {
		count += v[0] + v[1] + v[2]
	}
	return []string{
		fmt.Sprintf("1. What was heard disagrees: %s, from %s to %s g/L.", document.Count(len(s.Claims), "claim"),
			document.Significant(low, 2), document.Significant(high, 2)),
		fmt.Sprintf("2. %d beers and glasses got a hot or a cold tea, %d were left plain.", len(s.Trials)-controls, controls),
		fmt.Sprintf("3. The water that carried the flavour thinned %s from %s to %s %% vol.", thinned.Batch.Name,
			document.Fixed(thinned.ABVBefore, 1), document.Fixed(ledger.StateOf(thinned.Last).ABVPct.Value, 1)),
		fmt.Sprintf("4. %d tasters scored them blind on %d evenings and voted %d times on %s.", len(tasters), len(s.Tastings),
			count, attribute),
		"5. " + turnText(s, votes) + " The claims are judged by that.",
	}
}

// turnText says between which trials the votes turn.
func turnText(s ledger.TrialSet, votes map[int][3]int) string {
	last := [3]string{}
	for i, t := range s.Trials {
		v := votes[i]
		switch most := slices.Max(v[:]); {
		case most == 0:
		case v[0] == most:
			last[0] = document.Significant(t.Axis(), 2)
		case v[2] == most && last[2] == "":
			last[2] = document.Significant(t.Axis(), 2)
		}
	}
	if last[0] == "" || last[2] == "" {
		return "The votes do not turn yet."
	}
	return fmt.Sprintf("Up to %s g/L most found it too little, from %s g/L on too much.", last[0], last[2])
}

// demoTable is a line for each trial.
func demoTable(s ledger.TrialSet, votes map[int][3]int, u quantity.Units) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: "trial"}, {Title: "effective\ng/L", Right: true},
		{Title: "how", Wrap: true}, {Title: "liquid\nadded", Right: true}, {Title: "% vol\nbefore", Right: true},
		{Title: "\nafter", Right: true}, {Title: "too\nlittle", Right: true}, {Title: "just\nright", Right: true},
		{Title: "too\nmuch", Right: true}}}
	for i, x := range s.Trials {
		how := strings.ReplaceAll(x.Method, trials.MethodColdTea, "cold tea")
		if x.Control {
			how = "plain"
		}
		v := votes[i]
		t.Rows = append(t.Rows, []string{x.Batch.Name, document.Significant(x.Axis(), 2), how,
			wording.VolumeText(x.AddedL, u), document.Fixed(x.ABVBefore, 1),
			document.Fixed(ledger.StateOf(x.Last).ABVPct.Value, 1), fmt.Sprint(v[0]), fmt.Sprint(v[1]), fmt.Sprint(v[2])})
	}
	return &t
}
