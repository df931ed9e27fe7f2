package sheets

import (
	"fmt"
	"slices"
	"strings"
)

// voteWords are the words of votes, by the vote.
var voteWords = map[int][]string{
	-1: {"too little", "little", "low", "not enough", "too weak", "way too weak", "way too little", "tl", "-1", "too low"},
	0:  {"just right", "right", "ok", "about right", "jr", "0", "just about right"},
	1:  {"too much", "much", "high", "too strong", "way too strong", "way too much", "tm", "1", "+1", "too high"},
}

// voteOf returns the vote that a text means.
func voteOf(text string) (vote int, ok bool) {
	text = strings.ToLower(strings.ReplaceAll(text, "\u2212", "-"))
	if text != "-1" {
		text = strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
	}
	for v, words := range voteWords {
		if slices.Contains(words, text) {
			return v, true
		}
	}
	return 0, false
}

// countedVotes are the numbers that stand for votes where they count from 1.
var countedVotes = []string{"1", "2", "3"}

// countedVote is the first cell of a column of votes that is a 2 or a 3.
type countedVote struct {
	line  int
	value string
}

// counts reports whether the votes of a column are written as numbers from 1: it
// then has a 2 or a 3.
func (r *reader) counts(c *column) (line int, value string, counts bool) {
	if known, ok := r.counting[c.index]; ok {
		return known.line, known.value, known.line > 0
	}
	line, value, counts = r.firstCount(c)
	// once for the column, and not once for each of its votes
	r.counting[c.index] = countedVote{line, value}
	return line, value, counts
}

// firstCount looks for a 2 or a 3 in a column of votes.
func (r *reader) firstCount(c *column) (line int, value string, counts bool) {
	for _, w := range r.rows {
		text := strings.TrimPrefix(strings.TrimSpace(w.cell(c.index)), "'")
		if text == "2" || text == "3" {
			return w.line, text, true
		}
	}
	return 0, "", false
}

// vote reads the vote of a cell, nil for none.
func (r *reader) vote(w row, c *column) *int {
	text, ok := r.value(w, c)
	if !ok {
		return nil
	}
	if line, value, counts := r.counts(c); counts {
		up, known := r.askVotes(line, c, value)
		at := slices.Index(countedVotes, text)
		if !known || at < 0 {
			if known {
				r.fault(w.line, c, text, "it is none of 1, 2 and 3", "write too little, just right or too much")
			}
			return nil
		}
		v := at - 1
		if !up {
			v = -v
		}
		return &v
	}
	v, ok := voteOf(text)
	if !ok {
		r.fault(w.line, c, shorten(text), "it is no vote", "write too little, just right or too much")
		return nil
	}
	return &v
}

// askVotes asks what the numbers of a column of votes mean.
func (r *reader) askVotes(line int, c *column, value string) (up, known bool) {
	q := Ask{About: "votes", Key: "votes of " + c.title, Line: line, Value: value,
		Options: []string{"up: 1 too little, 2 just right, 3 too much", "down: 1 too much, 2 just right, 3 too little"},
		Text:    fmt.Sprintf("%s has votes in numbers from 1", c.title)}
	answer, given := r.ask(q, c, false)
	return answer == "up", given
}

// yes reads a yes or no; known is false for an empty cell and for anything else,
// which is a fault.
func (r *reader) yes(w row, c *column) (yes, known bool) {
	text, ok := r.value(w, c)
	if !ok {
		return false, false
	}
	switch strings.ToLower(text) {
	case "yes", "y", "x", "true", "1", "ja", "j":
		return true, true
	case "no", "n", "false", "0", "nein":
		return false, true
	}
	r.fault(w.line, c, shorten(text), "it is neither yes nor no", "write yes or no")
	return false, false
}

// pairedVote makes one vote of the answers to "too little?" and "too much?". No in
// both is just right; where only one was asked, its no is no vote.
func (r *reader) pairedVote(w row, little, much *column) *int {
	isLittle, knowsLittle := false, false
	isMuch, knowsMuch := false, false
	if little != nil {
		isLittle, knowsLittle = r.yes(w, little)
	}
	if much != nil {
		isMuch, knowsMuch = r.yes(w, much)
	}
	vote := 0
	switch {
	case isLittle && isMuch:
		r.fault(w.line, much, "", "it is too little and too much at once", "leave one of them a no")
		return nil
	case isLittle:
		vote = -1
	case isMuch:
		vote = 1
	case !knowsLittle || !knowsMuch:
		return nil
	}
	return &vote
}
