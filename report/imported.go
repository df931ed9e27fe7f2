package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/sheets"
)

// previewRows is how many rows of a sheet are shown unless all are asked for: what
// was understood shows in the first ones (common practice, no source).
const previewRows = 30

// importPayload is what --json prints of a sheet.
type importPayload struct {
	File    string           `json:"file"`     // as it was named
	Kind    string           `json:"kind"`     // what its rows are
	Columns []sheets.Meaning `json:"columns"`  // what each column is taken for
	Records any              `json:"records"`  // the rows, one object each
	Already int              `json:"already"`  // records that the notebook had
	LeftOut []int            `json:"left_out"` // lines that an answer left out
	Asks    []sheets.Ask     `json:"asks"`     // what has to be answered first
	Errors  []sheets.Fault   `json:"errors"`   // what keeps the sheet from being read
	Remarks []sheets.Remark  `json:"remarks"`  // what was taken, by line and column
	Written bool             `json:"written"`  // whether the records are in the notebook now

	Warnings []string `json:"warnings"` // the remarks, one sentence each
}

// Import shows what was understood of a sheet: its rows with their lines, what was
// taken, and what has to be answered or corrected. With all no row is left out.
func Import(file string, s sheets.Sheet, written, all bool) document.View {
	p := importPayload{File: file, Kind: s.Kind, Columns: s.Columns, Records: s.AllRecords(), Already: s.Already,
		LeftOut: listOf(s.LeftOut), Asks: listOf(s.Asks), Errors: listOf(s.Faults), Remarks: listOf(s.Remarks),
		Written: written, Warnings: ImportRemarks(s)}
	d := document.Document{Sections: []document.Section{importRows(s, written, all)}}
	if len(s.Remarks) > 0 {
		d.Sections = append(d.Sections, document.Section{Heading: "Taken, passed over, worked out", Notes: p.Warnings})
	}
	if len(s.Asks) > 0 {
		d.Sections = append(d.Sections, askSection(s.Asks))
	}
	if len(s.Faults) > 0 {
		d.Sections = append(d.Sections, faultSection(s.Faults))
	}
	return document.View{Document: d, Payload: p}
}

// ImportRemarks says what was taken, passed over and worked out in a sheet, with lines.
func ImportRemarks(s sheets.Sheet) []string {
	list := []string{}
	for _, m := range s.Remarks {
		// two columns of one title say the same to a person
		if line := remarkLine(m); !slices.Contains(list, line) {
			list = append(list, line)
		}
	}
	return list
}

// listOf is a list that is never null.
func listOf[T any](list []T) []T { return append([]T{}, list...) }

// importRows is the table of the rows, with a sentence above it.
func importRows(s sheets.Sheet, written, all bool) document.Section {
	if s.Kind == "" {
		return document.Section{Paragraphs: []string{"Nothing was understood."}}
	}
	t := tight(importTable(s))
	said := fmt.Sprintf("%s, %d new", s.Kind, len(t.Rows))
	if s.Already > 0 {
		said += fmt.Sprintf(", %d there already", s.Already)
	}
	switch {
	case written:
		said += "; written."
	case len(s.Faults) > 0:
		said += "; nothing is written while there is a fault."
	case len(s.Asks) > 0:
		said += "; nothing is written before the questions below are answered."
	default:
		said += "; nothing is written yet."
	}
	out := document.Section{}
	for _, p := range []string{"Read as " + said, columnLine(s.Columns), eveningLine(s.Scores)} {
		if p != "" {
			out.Paragraphs = append(out.Paragraphs, p)
		}
	}
	if rest := len(t.Rows) - previewRows; rest > 0 && !all {
		t.Rows = t.Rows[:previewRows]
		out.Notes = []string{document.Count(rest, "more row") + "; --wide shows all"}
	}
	if len(t.Rows) > 0 {
		out.Table = &t
	}
	return out
}

// tight drops the columns in which no row has anything, and those of the tasting and
// its time where all rows have the same: that is said once above the table.
func tight(t document.Table) document.Table {
	out := document.Table{Rows: make([][]string, len(t.Rows))}
	for i, c := range t.Columns {
		empty, same := true, len(t.Rows) > 1 && (c.Title == "tasting" || c.Title == "when")
		for _, row := range t.Rows {
			empty = empty && (row[i] == "" || row[i] == "-")
			same = same && row[i] == t.Rows[0][i]
		}
		if empty || same {
			continue
		}
		out.Columns = append(out.Columns, c)
		for j, row := range t.Rows {
			out.Rows[j] = append(out.Rows[j], row[i])
		}
	}
	return out
}

// eveningLine names the one tasting that all scores are of, and when it was.
func eveningLine(list []sheets.Score) string {
	if len(list) == 0 {
		return ""
	}
	for _, s := range list {
		if s.Tasting != list[0].Tasting || !s.At.Equal(list[0].At) {
			return ""
		}
	}
	return fmt.Sprintf("All of tasting %s, %s.", list[0].Tasting, list[0].At.Local().Format(previewMoment))
}

// columnLine says what the columns are taken for.
func columnLine(list []sheets.Meaning) string {
	var parts []string
	for _, m := range list {
		if m.Means != "" {
			parts = append(parts, m.Header+" is "+m.Means)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "Columns: " + strings.Join(parts, "; ") + "."
}

// remarkLine is a remark with its place.
func remarkLine(m sheets.Remark) string {
	if len(m.Lines) == 0 {
		return m.Text
	}
	return linesText(m.Lines) + ": " + m.Text
}

// linesText names lines: one, a few, or how many.
func linesText(lines []int) string {
	const few = 6
	texts := make([]string, 0, few)
	for _, l := range lines[:min(few, len(lines))] {
		texts = append(texts, strconv.Itoa(l))
	}
	text := strings.Join(texts, ", ")
	if rest := len(lines) - few; rest > 0 {
		text += fmt.Sprintf(" and %d more", rest)
	}
	if len(lines) == 1 {
		return "line " + text
	}
	return "lines " + text
}

// askSection lists the questions with what to type.
func askSection(list []sheets.Ask) document.Section {
	s := document.Section{Heading: "To be answered first"}
	for _, a := range list {
		where := fmt.Sprintf("line %d", a.Line)
		if a.Column > 0 {
			where += fmt.Sprintf(", column %d (%s)", a.Column, a.Header)
		}
		option, _, _ := strings.Cut(a.Options[0], ":")
		s.Notes = append(s.Notes, fmt.Sprintf("%s: %s. Choose: %s. For example --answer %q", where, a.Text,
			strings.Join(a.Options, " | "), a.Key+"="+option))
	}
	return s
}

// faultSection lists what is at fault with what to do.
func faultSection(list []sheets.Fault) document.Section {
	s := document.Section{Heading: "At fault"}
	const most = 50
	for _, f := range list[:min(most, len(list))] {
		s.Notes = append(s.Notes, f.String()+"; "+f.Do)
	}
	if rest := len(list) - most; rest > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("%d more", rest))
	}
	return s
}

// importTable lays out the rows of the kind that a sheet holds.
func importTable(s sheets.Sheet) document.Table {
	switch s.Kind {
	case sheets.KindScores:
		return scoreRows(s.Scores)
	case sheets.KindBatches:
		return batchRows(s.Batches)
	case sheets.KindAdditions:
		return additionRows(s.Additions)
	case sheets.KindReadings:
		return readingRows(s.Readings)
	}
	return claimRows(s.Claims)
}

// titled makes a table with its columns; those of numbers are named after a bar.
func titled(titles ...string) document.Table {
	var t document.Table
	for _, title := range titles {
		name, right := strings.CutPrefix(title, "|")
		t.Columns = append(t.Columns, document.Column{Title: name, Right: right, Wrap: name == "note" || name == "source" ||
			name == "advice"})
	}
	return t
}

// previewMoment is how a time stands in a preview.
const previewMoment = "2006-01-02 15:04"

// figureText prints a figure as it was read, a dash for none.
func figureText(v *float64) string {
	if v == nil {
		return "-"
	}
	return trials.Number(trials.Round3(*v))
}

// gravityText prints a gravity with four decimals at most, a dash for none.
func gravityText(v *float64) string {
	if v == nil {
		return "-"
	}
	return strings.TrimSuffix(strconv.FormatFloat(*v, 'f', 4, 64), "0")
}

// scoreRows lays out scores.
func scoreRows(list []sheets.Score) document.Table {
	t := titled("|line", "tasting", "when", "taster", "beer", "code", "what", "|score", "vote", "note")
	for _, s := range list {
		score, vote := s.Intensity, "-"
		if s.Liking != nil {
			score = s.Liking
		}
		if s.Vote != nil {
			vote = trials.VoteWords[*s.Vote+1]
		}
		what := s.Attribute
		if what == trials.Overall {
			what = "liking"
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(s.Line), s.Tasting, s.At.Local().Format(previewMoment), s.Taster,
			s.Sample, s.Code, what, figureText(score), vote, s.Note})
	}
	return t
}

// batchRows lays out batches.
func batchRows(list []sheets.Batch) document.Table {
	t := titled("|line", "batch", "begun", "|L", "|OG", "|FG", "|IBU", "|SRM", "style", "note")
	for _, b := range list {
		t.Rows = append(t.Rows, []string{strconv.Itoa(b.Line), b.Name, b.StartedAt.Local().Format(previewMoment),
			figureText(&b.VolumeL), gravityText(b.OG), gravityText(b.FG), figureText(b.IBU), figureText(b.SRM), b.Style,
			b.Note})
	}
	return t
}

// additionRows lays out what went in.
func additionRows(list []sheets.Addition) document.Table {
	t := titled("|line", "batch", "when", "material", "form", "way", "|g", "|min", "|C", "|L water", "note")
	for _, a := range list {
		t.Rows = append(t.Rows, []string{strconv.Itoa(a.Line), a.Batch, a.At.Local().Format(previewMoment), a.MaterialKey,
			a.Form, a.Method, figureText(a.MassG), figureText(a.Minutes), figureText(a.StartC), figureText(a.WaterL), a.Note})
	}
	return t
}

// readingRows lays out readings.
func readingRows(list []sheets.Reading) document.Table {
	t := titled("|line", "batch", "when", "|SG", "|sample C", "|pH", "|beer C", "|L", "note")
	for _, x := range list {
		t.Rows = append(t.Rows, []string{strconv.Itoa(x.Line), x.Batch, x.At.Local().Format(previewMoment),
			gravityText(x.SG), figureText(x.SampleTempC), figureText(x.PH), figureText(x.BeerTempC), figureText(x.VolumeL),
			x.Note})
	}
	return t
}

// claimRows lays out advice.
func claimRows(list []sheets.Claim) document.Table {
	t := titled("|line", "material", "advice", "of", "|g/L from", "|to", "source", "note")
	for _, c := range list {
		t.Rows = append(t.Rows, []string{strconv.Itoa(c.Line), c.MaterialKey, c.AsWritten, c.Basis, figureText(c.LowGPerL),
			figureText(c.HighGPerL), c.Source, c.Note})
	}
	return t
}
