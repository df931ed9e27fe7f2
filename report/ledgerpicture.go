package report

import (
	"fmt"
	"math"
	"slices"

	"hedgerow/report/document"
	"hedgerow/report/plot"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// ledgerPicture draws volume, gravity and strength over the days; nothing for an account
// of one step.
func ledgerPicture(batch string, steps []ledgerStep, u quantity.Units) []document.Picture {
	// a bottle that is tasted for a year does not change: the days of its making would be lost in a corner
	for len(steps) > 0 && later(steps[len(steps)-1]) {
		steps = steps[:len(steps)-1]
	}
	if len(steps) < 2 {
		return nil
	}
	p := plot.Plot{Title: "Volume, gravity and strength of " + batch, X: plot.Around(false, 0, steps[len(steps)-1].Day),
		Under: "days since " + wording.DateText(steps[0].At), Marks: eventMarks(steps),
		Legend: "o read or reckoned  A something went in  . joins them, not measured"}
	perUnit := 1 / wording.VolumeInLitres(u)
	for _, q := range []struct {
		label    string
		of       func(wording.State) *figure.Stated
		scale    float64
		low      float64
		decimals int
		stepped  bool
	}{
		{"volume, " + wording.VolumeUnit(u), func(s wording.State) *figure.Stated { return s.VolumeL }, perUnit, 0, 0, true},
		{"gravity", func(s wording.State) *figure.Stated { return s.GravitySG }, 1, 1, 3, false},
		{"strength, % vol", func(s wording.State) *figure.Stated { return s.ABVPct }, 1, 0, 0, false},
	} {
		if panel, ok := overDays(steps, q.of, q.scale, q.stepped); ok {
			panel.Label = q.label
			panel.Y = plot.Around(false, append(panelValues(panel), q.low)...)
			panel.Y.Decimals, panel.Points = q.decimals, apart(panel.Points, p.X.High/50)
			p.Panel = append(p.Panel, panel)
		}
	}
	if len(p.Panel) == 0 {
		return nil
	}
	last := steps[len(steps)-1].State
	p.Desc = fmt.Sprintf("Over %s days, from %s to %s %s and from %s to %s %% vol. The numbers are in the table of steps.",
		document.Fixed(steps[len(steps)-1].Day, 0), wording.VolumeEstimate(steps[0].State.VolumeL, u),
		wording.VolumeEstimate(last.VolumeL, u), wording.VolumeUnit(u),
		document.PlusMinusOrDash(steps[0].State.ABVPct, 1, 1), document.PlusMinusOrDash(last.ABVPct, 1, 1))
	return []document.Picture{{Plot: p, Keys: ledgerKeys(steps),
		Caption: "Numbers above the line are the steps of the table. Uprights are 95 % limits; the dotted line joins " +
			"what was read or reckoned and was not measured."}}
}

// overDays draws one quantity; false where it is never known.
func overDays(steps []ledgerStep, of func(wording.State) *figure.Stated, scale float64,
	stepped bool) (plot.Panel, bool) {
	panel := plot.Panel{Height: 74}
	line := plot.Line{Ink: plot.Rule, Width: 1.5, Dash: "2 3", Char: '.'}
	if stepped {
		line.Ink, line.Width, line.Dash = plot.Black, 2, ""
	}
	var band plot.Band
	for _, s := range steps {
		e := of(s.State)
		if e == nil {
			continue
		}
		y, day := e.Value*scale, s.Day
		low, high := y, y
		if e.Low != nil && e.High != nil {
			low, high = *e.Low*scale, *e.High*scale
		}
		if n := len(line.X); stepped && n > 0 {
			// a volume stays as it is until something happens
			line.X, line.Y = append(line.X, day), append(line.Y, line.Y[n-1])
			band.X, band.Low, band.High = append(band.X, day), append(band.Low, band.Low[n-1]), append(band.High, band.High[n-1])
		}
		line.X, line.Y = append(line.X, day), append(line.Y, y)
		band.X, band.Low, band.High = append(band.X, day), append(band.Low, low), append(band.High, high)
		if changed(s) {
			panel.Points = append(panel.Points, stepPoint(s, day, y, low, high))
		}
		panel.End, panel.Limit = ending(*e, scale)
	}
	if stepped {
		band.Ink, band.Opacity = plot.Black, .16
		panel.Bands = []plot.Band{band}
	}
	panel.Lines = []plot.Line{line}
	return panel, len(line.X) > 0
}

// apart leaves out the marks that stand within some days of an addition, whose own mark
// they would hide; the table has them.
func apart(points []plot.Point, days float64) []plot.Point {
	return slices.DeleteFunc(slices.Clone(points), func(p plot.Point) bool {
		return p.Shape != plot.Triangle && slices.ContainsFunc(points, func(q plot.Point) bool {
			return q.Shape == plot.Triangle && math.Abs(q.X-p.X) < days
		})
	})
}

// later reports whether a step only tells of the beer and changes nothing.
func later(s ledgerStep) bool {
	return s.Kind == string(ledger.EventTasting) || s.Kind == string(ledger.EventNote)
}

// changed reports whether a step is worth a mark: it was read, or something went in or out.
func changed(s ledgerStep) bool { return !later(s) && s.Kind != string(ledger.EventPackage) }

// stepPoint is the mark of a step.
func stepPoint(s ledgerStep, day, y, low, high float64) plot.Point {
	p := plot.Point{X: day, Y: y, Shape: plot.Disc, Ink: plot.Black, Char: 'o', Title: s.What}
	if isAddition(s) {
		p.Shape, p.Ink, p.Char = plot.Triangle, plot.Right, 'A'
	}
	if high > low {
		p.Low, p.High = &low, &high
	}
	return p
}

// ending is the last value and its limit.
func ending(e figure.Stated, scale float64) (value, limit string) {
	half, ok := e.Half()
	least, most := 1, 1
	if math.Abs(e.Value-1) < 0.25 && half < 0.01 && half > 0 {
		least, most = 3, 4
	}
	scaled := figure.StatedExactly(e.Value * scale)
	if ok && half > 0 {
		scaled = figure.StatedBetween(e.Value*scale, *e.Low*scale, *e.High*scale, 0.95)
	}
	text := document.PlusMinus(scaled, least, most)
	for i, r := range text {
		if r == '±' {
			return text[:i-1], text[i:]
		}
	}
	return text, ""
}

// panelValues are the values that the axis of a panel must hold.
func panelValues(p plot.Panel) []float64 {
	var list []float64
	for _, l := range p.Lines {
		list = append(list, l.Y...)
	}
	for _, b := range p.Bands {
		list = append(append(list, b.Low...), b.High...)
	}
	for _, q := range p.Points {
		if q.High != nil {
			list = append(list, *q.Low, *q.High)
		}
	}
	return list
}

// eventMarks are the steps on the line above the panels; those within a day are one mark
// with their numbers.
func eventMarks(steps []ledgerStep) []plot.Mark {
	var marks []plot.Mark
	for i := 0; i < len(steps); {
		j := i + 1
		for j < len(steps) && steps[j].Day-steps[i].Day < 1 {
			j++
		}
		m := plot.Mark{X: steps[i].Day, Label: fmt.Sprint(i + 1), Ink: plot.Black, Shape: shapeOf(steps[i:j])}
		if j > i+1 {
			m.Label = fmt.Sprintf("%d to %d", i+1, j)
		}
		if m.Shape == plot.Triangle {
			m.Ink = plot.Right
		}
		// the mark stands where the addition is: its line goes through that in the panels
		if k := slices.IndexFunc(steps[i:j], isAddition); k >= 0 {
			m.X = steps[i+k].Day
		}
		marks = append(marks, m)
		i = j
	}
	return marks
}

// isAddition reports whether something went in at a step.
func isAddition(s ledgerStep) bool { return s.Kind == string(ledger.EventAddition) }

// shapeOf is the shape of what weighs most of some steps.
func shapeOf(steps []ledgerStep) plot.Shape {
	has := func(kind string) bool {
		return slices.ContainsFunc(steps, func(s ledgerStep) bool { return s.Kind == kind })
	}
	switch {
	case slices.ContainsFunc(steps, isAddition):
		return plot.Triangle
	case has(string(ledger.EventPackage)):
		return plot.Square
	case has(string(ledger.EventTasting)):
		return plot.Ring
	}
	return plot.Disc
}

// ledgerKeys says what the shapes on the line of events stand for.
func ledgerKeys(steps []ledgerStep) []document.Key {
	var keys []document.Key
	marks := eventMarks(steps)
	for _, k := range []document.Key{{Shape: plot.Disc, Ink: plot.Black, Text: "start, reading or split"},
		{Shape: plot.Triangle, Ink: plot.Right, Text: "addition"}, {Shape: plot.Square, Ink: plot.Black, Text: "packaged"},
		{Shape: plot.Ring, Ink: plot.Black, Text: "tasted"}} {
		if slices.ContainsFunc(marks, func(m plot.Mark) bool { return m.Shape == k.Shape }) {
			keys = append(keys, k)
		}
	}
	return keys
}
