package trials

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"hedgerow/trials/spelling"
)

// scoreTableLimitMiB is the longest table of scores that is read, in MiB: some
// 200,000 lines with long notes, far above any tasting (common practice, no
// source), and little enough to hold in memory.
const scoreTableLimitMiB = 32

// ParseScoreTable reads a table of scores as CSV: a header line with serving
// (or code) and taster, then for each attribute a column of its name with the
// intensity, and one of its name followed by "vote" with the vote; liking and
// note as further columns. Commas, semicolons and tabs separate; with
// semicolons or tabs a decimal comma is allowed. Empty cells are not scored. A
// table longer than scoreTableLimitMiB is refused.
func ParseScoreTable(r io.Reader, t Tasting) ([]Marks, error) {
	// One byte past the limit is asked for: a table that is cut at the limit
	// would lose rows, or the last digit of a score, without a word.
	text, err := io.ReadAll(io.LimitReader(r, scoreTableLimitMiB<<20+1))
	if err != nil {
		return nil, fmt.Errorf("read the scores: %w", err)
	}
	if len(text) > scoreTableLimitMiB<<20 {
		return nil, Refuse("part it into several tables, each with the header, and enter one after the other",
			"the table of scores is longer than %d MiB", scoreTableLimitMiB)
	}
	// spreadsheets begin a file with a byte order mark, which would become part of the first title
	body := strings.TrimPrefix(string(text), "\ufeff")
	c := csv.NewReader(strings.NewReader(body))
	c.Comma = separatorOf(body)
	c.Comment = '#'
	c.TrimLeadingSpace = true
	// a line of another length is refused below, with its number and in our words
	c.FieldsPerRecord = -1
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, Refuse("paste a header line (serving,taster,tartness,tartness vote,liking) and one line for each "+
			"glass", "the table is empty")
	}
	if err != nil {
		return nil, Refuse("check the quotes of the header", "the header cannot be read: %v", err)
	}
	columns, err := scoreColumns(head, t)
	if err != nil {
		return nil, err
	}
	return readScoreRows(c, columns)
}

// separatorOf guesses the separator from the first line.
func separatorOf(body string) rune {
	for line := range strings.Lines(body) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		// before the comma, which may be a decimal comma where another sign separates
		for _, sep := range []rune{'\t', ';'} {
			if strings.ContainsRune(line, sep) {
				return sep
			}
		}
		break
	}
	return ','
}

// scoreColumn is what one column of a score table holds.
type scoreColumn struct {
	role      string // serving, taster, intensity, vote, liking, note or skip
	attribute string
}

// scoreColumns reads the header.
func scoreColumns(head []string, t Tasting) ([]scoreColumn, error) {
	columns := make([]scoreColumn, len(head))
	for i, h := range head {
		c, err := scoreColumnOf(strings.ToLower(strings.TrimSpace(h)), t)
		if err != nil {
			return nil, err
		}
		columns[i] = c
	}
	for _, role := range []string{"serving", "taster"} {
		if !slices.ContainsFunc(columns, func(c scoreColumn) bool { return c.role == role }) {
			return nil, Refuse("add it to the header: serving,taster,...", "the table has no column %q", role)
		}
	}
	return columns, nil
}

// scoreColumnOf reads one title.
func scoreColumnOf(title string, t Tasting) (scoreColumn, error) {
	switch title {
	case "serving", "code", "glass":
		return scoreColumn{role: "serving"}, nil
	case "taster", "who":
		return scoreColumn{role: "taster"}, nil
	case "liking", Overall:
		return scoreColumn{role: "liking"}, nil
	case "note", "notes":
		return scoreColumn{role: "note"}, nil
	case "position", "place":
		return scoreColumn{role: "position"}, nil
	case "tasting", "date":
		return scoreColumn{role: "skip"}, nil
	}
	role, attribute := "intensity", title
	for _, sep := range []string{" vote", "_vote", "-vote"} {
		if a, ok := strings.CutSuffix(title, sep); ok {
			role, attribute = "vote", a
		}
	}
	for _, a := range t.Attributes {
		if strings.EqualFold(a, attribute) {
			return scoreColumn{role: role, attribute: a}, nil
		}
	}
	return scoreColumn{}, Refuse(spelling.Hint(attribute, t.Attributes), "column %q: tasting %s does not score %q",
		title, t.Name, attribute)
}

// readScoreRows reads the lines below the header.
func readScoreRows(c *csv.Reader, columns []scoreColumn) ([]Marks, error) {
	var list []Marks
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, Refuse("check quotes and separators", "the table cannot be read: %v", err)
		}
		// the line of the file, comments and quoted line ends counted: what an editor shows
		line, _ := c.FieldPos(0)
		where := fmt.Sprintf("line %d", line)
		if len(row) != len(columns) {
			return nil, Refuse("give every line the columns of the header", "%s has %d columns, the header %d", where,
				len(row), len(columns))
		}
		m, err := marksOf(row, columns)
		if err != nil {
			// ProblemOf gives nothing but Problems
			p := ProblemOf(err).(*Problem)
			return nil, &Problem{Code: p.Code, Message: where + ": " + p.Message, Hint: p.Hint}
		}
		m.Where = where
		list = append(list, m)
	}
	if len(list) == 0 {
		return nil, Refuse("add one line for each serving of each taster", "the table has a header but no scores")
	}
	return list, nil
}

// marksOf reads one line.
func marksOf(row []string, columns []scoreColumn) (Marks, error) {
	var m Marks
	answers := map[string]*Answer{}
	answer := func(attribute string) *Answer {
		if answers[attribute] == nil {
			m.Answers = append(m.Answers, Answer{Attribute: attribute})
			answers[attribute] = &Answer{Attribute: attribute}
		}
		return answers[attribute]
	}
	for i, cell := range row {
		// tables for spreadsheets have this sign before what could be taken for a formula
		cell = strings.TrimPrefix(strings.TrimSpace(cell), "'")
		var err error
		switch c := columns[i]; {
		// a dash is how tables print what is not known
		case cell == "":
		case c.role != "note" && unanswered(cell):
		case c.role == "serving":
			m.Serving = cell
		case c.role == "taster":
			m.Taster = cell
		case c.role == "note":
			m.Note = cell
		case c.role == "position":
			m.Position, err = ParsePosition(cell)
		case c.role == "liking":
			answer(Overall).Liking, err = parseScore("liking", cell)
		case c.role == "intensity":
			answer(c.attribute).Intensity, err = parseScore(c.attribute, cell)
		case c.role == "vote":
			var v int
			if v, err = ParseVote(cell); err == nil {
				answer(c.attribute).Vote = &v
			}
		}
		if err != nil {
			return m, err
		}
	}
	// the list keeps the order of the columns, the map has what they said
	for i := range m.Answers {
		m.Answers[i] = *answers[m.Answers[i].Attribute]
	}
	return m, nil
}
