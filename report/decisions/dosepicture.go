package decisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/plot"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// curvePoints is how many doses the curves go through.
const curvePoints = 61

// dosePicture draws the votes against the dose: those to expect with their doubt, those
// that were cast, the advice, and the next dose. It is empty where there is no dose to
// draw at all.
func (w weighing) dosePicture() []document.Picture {
	x, ok := w.doseAxis()
	if !ok {
		return nil
	}
	p := plot.Plot{Title: "Votes on " + w.Material + " against its effective dose", Under: "effective dose, g/L", X: x}
	panel := plot.Panel{Label: "% of votes", Y: plot.Axis{High: 100}, Height: 236}
	pic := document.Picture{Caption: "Equal steps across are equal factors."}
	if w.Facts.Falling == nil {
		curve := w.post.Curve(x.Low, x.High, curvePoints)
		drawCurve(&panel, curve, x)
		pic.Finding = finding(curve)
		pic.Caption = "Thick line: expected share of just right; half the chance lies in the inner band, nine tenths " +
			"in the outer one. Dots: too little; dashes: too much. " + pic.Caption
		p.Legend = "# expected just right  : half the chance  . nine tenths"
	}
	panel.Points = w.votedPoints()
	for _, q := range panel.Points {
		if q.Apart {
			p.None = "none"
		}
	}
	if len(panel.Points) > 0 {
		p.Legend = strings.TrimSpace(p.Legend + "  O a trial")
		pic.Caption += " Each mark is a trial with its votes of just right:"
		pic.Keys = keysOf(panel.Points, w.Reference)
	}
	p.Panel = []plot.Panel{panel}
	p.Lanes = w.doseLanes()
	p.Desc = w.described(pic.Finding)
	pic.Plot = p
	return []document.Picture{pic}
}

// doseAxis is the axis of doses round all that is drawn on it; false without any dose.
func (w weighing) doseAxis() (plot.Axis, bool) {
	var doses []float64
	for _, r := range w.Votes {
		if r.Dose > 0 {
			doses = append(doses, r.Dose)
		}
	}
	for _, c := range w.Claims {
		doses = append(doses, c[0], c[1])
	}
	if w.Facts.Falling == nil {
		doses = append(doses, w.Next.DoseGPerL)
		if r := w.RightDose; r.Low != nil {
			doses = append(doses, *r.Low, *r.High)
		}
	}
	doses = slices.DeleteFunc(doses, func(d float64) bool { return !(d > 0) || math.IsInf(d, 0) })
	return plot.Around(true, doses...), len(doses) > 0
}

// drawCurve draws the votes to expect.
func drawCurve(panel *plot.Panel, curve []doseresponse.CurvePoint, x plot.Axis) {
	n := len(curve)
	doses := make([]float64, n)
	var series [7][]float64
	for i, c := range curve {
		doses[i] = c.DoseGPerL
		for k, share := range []float64{c.TooLittle, c.Right, c.TooMuch, c.Half[0], c.Half[1], c.Most[0], c.Most[1]} {
			series[k] = append(series[k], 100*share)
		}
	}
	panel.Bands = []plot.Band{
		{X: doses, Low: series[5], High: series[6], Ink: plot.Right, Opacity: .13, Char: '.'},
		{X: doses, Low: series[3], High: series[4], Ink: plot.Right, Opacity: .24, Char: ':'},
	}
	panel.Lines = []plot.Line{
		{X: doses, Y: series[0], Ink: plot.Little, Width: 1.5, Dash: "2 3"},
		{X: doses, Y: series[2], Ink: plot.Much, Width: 1.5, Dash: "7 3"},
		{X: doses, Y: series[1], Ink: plot.Right, Width: 3, Char: '#'},
	}
	at := func(f float64) float64 { return x.Low * math.Pow(x.High/x.Low, f) }
	// each word stands at the end of the axis where its line is high, above the frame; no line, no word
	if series[0][0] > 50 {
		panel.Words = append(panel.Words, plot.Word{X: at(.14), Y: 100, Lift: 16, Text: "too little", Ink: plot.Little,
			Heavy: true})
	}
	if series[2][n-1] > 50 {
		panel.Words = append(panel.Words, plot.Word{X: x.High, Y: 100, Lift: 16, Text: "too much", Ink: plot.Much,
			Heavy: true})
	}
	top := slices.Index(series[1], slices.Max(series[1]))
	for i := top; i < n; i++ {
		if series[1][i] < 0.55*series[1][top] && series[1][top] > 20 {
			panel.Words = append(panel.Words, plot.Word{X: doses[min(i+4, n-1)], Y: series[1][i], Text: "just right",
				Ink: plot.Right, Heavy: true})
			break
		}
	}
}

// finding says below and above which dose most would not say just right.
func finding(curve []doseresponse.CurvePoint) string {
	var parts []string
	for i := len(curve) - 1; i >= 0; i-- {
		if curve[i].TooLittle > 0.5 && i < len(curve)-1 {
			parts = append(parts, "below "+grams(curve[i].DoseGPerL)+" g/L most would say too little")
			break
		}
	}
	for i, c := range curve {
		if c.TooMuch > 0.5 && i > 0 {
			parts = append(parts, "above "+grams(c.DoseGPerL)+" most would say too much")
			break
		}
	}
	if len(parts) == 0 {
		return ""
	}
	if len(parts) == 1 && strings.HasPrefix(parts[0], "above") {
		parts[0] = strings.Replace(parts[0], " most", " g/L most", 1)
	}
	return document.Capital(strings.Join(parts, ", ")) + "."
}

// votedPoints are the trials that were voted on; what has no dose is one mark, since all
// of it stands at one place.
func (w weighing) votedPoints() []plot.Point {
	var list []plot.Point
	var none votes
	var names []string
	for _, r := range w.Votes {
		if r.Dose <= 0 {
			none.TooLittle, none.Right, none.TooMuch = none.TooLittle+r.TooLittle, none.Right+r.Right, none.TooMuch+r.TooMuch
			names = append(names, r.Trial)
			continue
		}
		shape := plot.Disc
		switch {
		case r.glass:
			shape = plot.Ring
		case r.method != w.Reference:
			shape = plot.Diamond
		}
		list = append(list, votedPoint(r.votes, r.Trial+", "+grams(r.Dose)+" g/L", plot.Point{X: r.Dose, Shape: shape}))
	}
	// the trial with the most votes gets the first choice of places for its label
	slices.SortStableFunc(list, func(a, b plot.Point) int { return len(b.Label) - len(a.Label) })
	if len(names) > 0 {
		list = append(list, votedPoint(none, strings.Join(names, ", "), plot.Point{Apart: true, Shape: plot.Square}))
	}
	return list
}

// votedPoint puts votes at their share of just right.
func votedPoint(v votes, name string, p plot.Point) plot.Point {
	all := v.TooLittle + v.Right + v.TooMuch
	p.Y, p.Ink, p.Char = 100*float64(v.Right)/float64(max(all, 1)), plot.Black, 'O'
	p.Label = fmt.Sprintf("%d of %d", v.Right, all)
	p.Title = fmt.Sprintf("%s: %d too little, %d just right, %d too much", name, v.TooLittle, v.Right, v.TooMuch)
	return p
}

// keysOf says what the shapes of the points stand for.
func keysOf(points []plot.Point, reference string) []document.Key {
	var keys []document.Key
	words := map[plot.Shape]string{plot.Disc: "a beer", plot.Ring: "a glass", plot.Diamond: "a beer made another way",
		plot.Square: "without any"}
	if reference != "" {
		words[plot.Disc] = "a beer, as " + strings.ReplaceAll(reference, "-", " ")
	}
	for _, s := range []plot.Shape{plot.Disc, plot.Ring, plot.Diamond, plot.Square} {
		if slices.ContainsFunc(points, func(p plot.Point) bool { return p.Shape == s }) {
			keys = append(keys, document.Key{Shape: s, Ink: plot.Black, Text: words[s]})
		}
	}
	return keys
}

// doseLanes are the next dose with the range of the right one, and the advice.
func (w weighing) doseLanes() []plot.Lane {
	var lanes []plot.Lane
	if r := w.RightDose; w.Facts.Falling == nil && r.Low != nil {
		lane, at := plot.Lane{Label: "next", Heavy: true}, w.Next.DoseGPerL
		// no single dose is offered where the bench comes first, nor where nothing is brewed
		if !brews(w.Verdict) {
			lane, at = plot.Lane{Label: "right", Heavy: true}, r.Value
		}
		lane.Strips = []plot.Strip{{Low: *r.Low, High: *r.High, At: &at, Ink: plot.Right,
			Label: fmt.Sprintf("%s (%s to %s)", grams(at), grams(*r.Low), grams(*r.High))}}
		lanes = append(lanes, lane)
	}
	if strips := claimStrips(w.set); len(strips) > 0 {
		lanes = append(lanes, plot.Lane{Label: "advice", Strips: strips})
	}
	return lanes
}

// claimStrips are the claims on the effective scale, in the words in which they were heard.
func claimStrips(s ledger.TrialSet) []plot.Strip {
	var strips []plot.Strip
	for _, c := range s.Claims {
		for _, d := range studies.ClaimDoses(ledger.TrialSet{Material: s.Material, Class: s.Class, Trials: s.Trials,
			Claims: []trials.Claim{c}}) {
			label := c.AsWritten
			if label == "" || label == "-" {
				label = c.Name
			}
			strips = append(strips, plot.Strip{Low: d[0], High: d[1], Ink: plot.Rule, Label: label})
		}
	}
	return strips
}

// described says what there is to see in the picture, in words.
func (w weighing) described(finding string) string {
	text := "Share of the votes, from 0 to 100 per cent, over the effective dose."
	if w.Facts.Falling == nil {
		text += fmt.Sprintf(" Just right is expected of %s of the votes at %s g/L.", document.Chance(w.Next.PRight),
			grams(w.Next.DoseGPerL))
	}
	if finding != "" {
		text += " " + finding
	}
	return text + " The trials and their counts are in a table."
}
