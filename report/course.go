package report

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// courseAhead are the days ahead that are shown.
var courseAhead = []float64{0, 1, 3, 7}

// pullView is the advice on a plant in beer, as JSON.
type pullView struct {
	Wanted       string        `json:"wanted"`
	Given        float64       `json:"given"`
	Interval     [2]float64    `json:"interval80"`
	GainNextDay  float64       `json:"gain_next_day"`
	TanninNext   float64       `json:"unwanted_gain_next_day"`
	FullDay      float64       `json:"day_of_nine_tenths"`
	FullInterval [2]float64    `json:"day_of_nine_tenths_interval80"`
	Advice       steeps.Advice `json:"advice"` // empty once it is out
}

// courseView is the payload of a plant in beer.
type courseView struct {
	Addition    string                `json:"addition"`
	Days        float64               `json:"days"`
	TempC       float64               `json:"temp_c"`
	TempAssumed bool                  `json:"temp_assumed"`
	ABVPct      float64               `json:"abv_pct"`
	Out         bool                  `json:"out"`
	Pull        pullView              `json:"pull"`
	DaysAhead   []float64             `json:"days_ahead"`
	Families    []steeps.FamilyShares `json:"families"`
	Reason      string                `json:"reason"`
}

// Course shows how a plant in beer has given its solutes, and whether to pull it.
func Course(c steeps.Course, batch string, u quantity.Units) (document.View, error) {
	ahead := courseAhead
	if !c.Until.IsZero() {
		// out of the beer: nothing more will come of it
		ahead = ahead[:1]
	}
	v := courseView{Addition: c.Addition.Name, Days: c.Days, TempC: c.TempC, TempAssumed: c.Assumed, ABVPct: c.ABVPct,
		Out: !c.Until.IsZero(), DaysAhead: ahead, Pull: pullViewOf(c)}
	var err error
	if v.Families, err = c.Shares(ahead); err != nil {
		return document.View{}, err
	}
	v.Reason = pullReason(c)
	said := []string{courseLine(c, batch, u), givenLine(c)}
	if !v.Out {
		said = append(said, "Advice: "+string(c.Pull.Advice)+". "+v.Reason)
	}
	return document.View{
		Document: document.Document{Sections: []document.Section{{Paragraphs: said, Table: courseTable(v),
			Notes: courseNotes(c, u)}}},
		Payload: v,
	}, nil
}

func pullViewOf(c steeps.Course) pullView {
	p, by := c.Pull, c.TimesFactor()
	v := pullView{Wanted: p.Wanted.String(), Given: p.Given, Interval: [2]float64{p.Low, p.High}, GainNextDay: p.Gain,
		TanninNext: p.Unwanted, FullDay: p.FullDay, FullInterval: [2]float64{p.FullDay / by, p.FullDay * by}}
	if c.Until.IsZero() {
		v.Advice = p.Advice
	}
	return v
}

// courseLine says what lies or lay where.
func courseLine(c steeps.Course, batch string, u quantity.Units) string {
	a := c.Addition
	line := fmt.Sprintf("%s in %s: %s", a.MaterialKey, batch, wording.MassText(*a.MassG, u))
	if a.Form != "" {
		line += ", " + a.Form
	}
	if a.InBag {
		line += ", in a bag"
	}
	line += ", in beer of " + document.Fixed(c.ABVPct, 1) + " % vol at " + wording.TempText(c.TempC, u)
	if c.Until.IsZero() {
		return line + " for " + daysText(c.Days) + " so far."
	}
	return line + " for " + daysText(c.Days) + ", until " + wording.DateText(c.Until) + "."
}

// givenLine says how much of what is wanted has come out.
func givenLine(c steeps.Course) string {
	p := c.Pull
	return fmt.Sprintf("Of its %s, which is wanted, about %s has come out; with an 80 %% chance %s to %s.", p.Wanted,
		shareText(p.Given), shareText(p.Low), shareText(p.High))
}

// pullReason says in words why the advice is what it is.
func pullReason(c steeps.Course) string {
	p, by := c.Pull, c.TimesFactor()
	switch p.Advice {
	case steeps.Wait:
		why := fmt.Sprintf("Nine tenths are expected on day %s, somewhere between day %s and day %s.", dayText(p.FullDay),
			dayText(p.FullDay/by), dayText(p.FullDay*by))
		if p.TooSlow {
			why += " That is too slow in this form: crush it, or steep it hot."
		}
		return why
	case steeps.PullNow:
		return fmt.Sprintf("Another day adds %s of the %s, less than tasters notice, but %s of the tannin.",
			shareText(p.Gain),
			p.Wanted, shareText(p.Unwanted))
	case steeps.Done:
		if c.Days >= 7 {
			return "There is little left to come out. What more time does past a week is not known: ageing, oxidation, decay."
		}
		return "There is little left to come out: up to day 7, pulling it or leaving it changes little."
	}
	// the best guess is near all of it, the interval is not: the number alone would mislead
	if p.Low < 0.7 {
		return "Most has probably come out, but it may be well less: let the glass decide."
	}
	return fmt.Sprintf("Another day still adds %s of the %s.", shareText(p.Gain), p.Wanted)
}

// courseTable shows what has come out, and what will have in days to come.
func courseTable(v courseView) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: "what comes out"}}}
	for _, d := range v.DaysAhead {
		title := fmt.Sprintf("in %g days", d)
		switch {
		case v.Out:
			title = "came out"
		case d == 0:
			title = "now"
		case d == 1:
			title = "tomorrow"
		}
		t.Columns = append(t.Columns, document.Column{Title: title, Right: true})
	}
	for _, f := range v.Families {
		row := []string{f.Family}
		for _, given := range f.Given {
			row = append(row, shareText(given))
		}
		t.Rows = append(t.Rows, row)
	}
	return &t
}

// courseNotes say how far the figures can be trusted.
func courseNotes(c steeps.Course, u quantity.Units) []string {
	notes := []string{fmt.Sprintf("Every time here is good to a factor of about %.0f: a taste every day is better "+
		"than this table.",
		c.TimesFactor())}
	if c.Logged {
		notes = append(notes, wording.TempText(c.TempC, u)+" all the time would give as much as the temperatures that "+
			"were read.")
	}
	if c.Assumed {
		notes = append(notes, "No temperature was noted: "+wording.TempText(c.TempC, u)+" is taken.")
	}
	return append(notes, "Of aroma and resin, and of any flower, herb or spice in beer, no measured rate was found: "+
		"theirs are judged from hops, coffee, tea and oak.")
}

// shareText is a share in whole per cent; what is not quite all stays below 100.
func shareText(share float64) string {
	// rounded it would say 100 %, that nothing more is to come
	if share > 0.99 && share < 0.999 {
		return "99 %"
	}
	return document.Fixed(100*share, 0) + " %"
}

// daysText is a time in days, or in whole hours below two days.
func daysText(days float64) string {
	// in the first days hours decide; later nobody counts them
	if days < 2 {
		return document.Fixed(days*24, 0) + " h"
	}
	return document.Fixed(days, 0) + " d"
}

// dayText is a day of a course.
func dayText(day float64) string {
	if day < 10 {
		return document.Fixed(day, 1)
	}
	return document.Fixed(day, 0)
}
