package decisions

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/plot"
	"hedgerow/report/studies"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// row is an interval with a name.
type row struct {
	name  string
	value figure.Stated
	ink   plot.Ink
}

// rowsPicture draws intervals below one another.
func rowsPicture(heading, under string, decimals int, mark *plot.Mark, rows []row) document.Picture {
	var ends []float64
	p := plot.Plot{Title: heading, Under: under}
	var told []string
	for _, r := range rows {
		low, high := r.value.Value, r.value.Value
		if r.value.Low != nil && r.value.High != nil {
			low, high = *r.value.Low, *r.value.High
		}
		ends = append(ends, low, high)
		at := r.value.Value
		text := document.Spread(r.value, decimals, decimals)
		told = append(told, r.name+" "+text)
		p.Lanes = append(p.Lanes, plot.Lane{Label: r.name, Value: text,
			Strips: []plot.Strip{{Low: low, High: high, At: &at, Ink: r.ink}}})
	}
	if mark != nil {
		ends = append(ends, mark.X)
		p.Marks = []plot.Mark{*mark}
	}
	p.X = plot.Around(true, ends...)
	p.Desc = strings.Join(told, "; ") + "."
	return document.Picture{Heading: heading, Plot: p}
}

// tasterPicture sets the right dose of each taster beside the panel's; false for a panel
// of one.
func (w weighing) tasterPicture() (document.Picture, bool) {
	if len(w.Tasters) < 2 || w.Facts.Falling != nil {
		return document.Picture{}, false
	}
	var rows []row
	var less, more []string
	for _, t := range w.Tasters {
		rows = append(rows, row{t.Taster, t.Offset, plot.Black})
		switch {
		case t.Offset.Low == nil:
		case *t.Offset.High < 1:
			less = append(less, t.Taster)
		case *t.Offset.Low > 1:
			more = append(more, t.Taster)
		}
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.value.Value, b.value.Value) })
	heading := "Tasters: none can be told from the others"
	if len(less) > 0 || len(more) > 0 {
		var parts []string
		for _, side := range []struct {
			names []string
			word  string
		}{{less, "less"}, {more, "more"}} {
			if len(side.names) > 0 {
				parts = append(parts, wordList(side.names)+" for "+side.word)
			}
		}
		heading = "Tasters: " + strings.Join(parts, ", ")
	}
	return rowsPicture(heading, "times the dose the panel likes", 1, &plot.Mark{X: 1, Label: "panel", Ink: plot.Black},
		rows), true
}

// methodPictures set a gram by each other method beside one by the reference: what was
// assumed, what the own scores say, and both; the answer of the votes where there are no
// own scores.
func (w weighing) methodPictures(own []ownMethodRow) []document.Picture {
	var list []document.Picture
	if w.Facts.Falling != nil {
		return nil
	}
	for _, m := range w.Methods {
		if m.Method == w.Reference {
			continue
		}
		rows := []row{{"by votes", m.RelativePotency, plot.Right}}
		caption := ""
		for _, o := range own {
			if o.Method == m.Method && o.Reference == w.Reference && o.Attribute == w.Attribute && o.Both != nil {
				rows = []row{{"as assumed", o.Prior, plot.Rule}, {"by scores", *o.ByScores, plot.Black},
					{"both", *o.Both, plot.Right}}
				caption = fmt.Sprintf("%s; %s %% of this answer comes from your scores.", document.Count(o.Scores, "score"),
					document.Fixed(100*o.Share, 0))
			}
		}
		name := strings.ReplaceAll(m.Method, "-", " ")
		reference := strings.ReplaceAll(w.Reference, "-", " ")
		pic := rowsPicture(document.Capital(name)+": "+countsAs(m.RelativePotency), "times a gram as "+reference, 1,
			&plot.Mark{X: 1, Label: reference, Ink: plot.Black}, rows)
		pic.Caption = caption
		list = append(list, pic)
	}
	return list
}

// countsAs says what a gram by another method counts.
func countsAs(e figure.Stated) string {
	switch {
	case e.Low != nil && *e.Low > 1:
		return "a gram counts more"
	case e.High != nil && *e.High < 1:
		return "a gram counts less"
	case e.High != nil && *e.High > 2 && *e.Low < 0.5:
		return "what a gram counts is not known yet"
	}
	return "a gram counts about as much"
}

// tastePicture sets the right dose by the other tastes voted on beside that of the
// answer; false without another taste.
func (w weighing) tastePicture() (document.Picture, bool) {
	if w.Facts.Falling != nil || w.RightDose.Low == nil {
		return document.Picture{}, false
	}
	rows := []row{{w.Attribute, w.RightDose, plot.Right}}
	var less, more []string
	for _, name := range otherAttributes(w.set, w.Attribute) {
		other, err := fitBeside(w.set, name, w.Reference)
		// of a taste that falls with the dose, or tells nothing, no dose is right
		if err != nil || other.Falling() != nil {
			continue
		}
		e := other.RightDose()
		rows = append(rows, row{name, e, plot.Black})
		switch {
		case e.Value < w.RightDose.Value/1.1:
			less = append(less, name)
		case e.Value > w.RightDose.Value*1.1:
			more = append(more, name)
		}
	}
	if len(rows) < 2 {
		return document.Picture{}, false
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.value.Value, b.value.Value) })
	var parts []string
	if len(more) > 0 {
		parts = append(parts, wordList(more)+" would take more")
	}
	if len(less) > 0 {
		parts = append(parts, wordList(less)+" less")
	}
	heading := "Other tastes: the same dose suits them"
	if len(parts) > 0 {
		heading = "Other tastes: " + strings.Join(parts, ", ")
	}
	return rowsPicture(heading, "right effective dose, g/L", 1, &plot.Mark{X: w.Next.DoseGPerL, Label: "next",
		Ink: plot.Black}, rows), true
}

// lessonPicture shows how far each next step would narrow the right dose.
func (w weighing) lessonPicture() (document.Picture, bool) {
	r := w.RightDose
	if w.Facts.Falling != nil || r.Low == nil || len(w.Lessons) == 0 {
		return document.Picture{}, false
	}
	rows := []row{{"now", r, plot.Rule}}
	for _, l := range w.Lessons {
		rows = append(rows, row{l.Action, w.narrowed(l), plot.Right})
	}
	heading := "What one more step would narrow"
	if littleLeft(w.Lessons) {
		heading = "No step would narrow it by much"
	}
	return rowsPicture(heading, "right effective dose, g/L", 1, nil, rows), true
}

// narrowed is the range of the right dose that is left after a lesson.
func (w weighing) narrowed(l lessonView) figure.Stated {
	r := w.RightDose
	// the middle of the range on the axis of factors, whatever the best value is
	middle := math.Sqrt(*r.Low * *r.High)
	width := math.Log(*r.High / *r.Low) / 2
	if now := math.Log(l.FactorNow); now > 0 {
		width *= math.Log(l.FactorAfter) / now
	}
	return figure.StatedBetween(r.Value, middle*math.Exp(-width), middle*math.Exp(width), 0.9)
}

// fitBeside fits another taste of the same beers, without the advice, which is on the
// taste that was asked for.
func fitBeside(s ledger.TrialSet, name, reference string) (*doseresponse.Posterior, error) {
	study := studies.Of(s, name)
	study.ClaimsGPerL = nil
	return doseresponse.Fit(study, doseresponse.Options{Method: &reference, Approximate: true, FreshTasters: true})
}
