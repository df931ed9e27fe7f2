package standing

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// recentDays is how long ago something may have happened to a beer that counts as in
// hand: older ones were drunk, whatever the notebook says.
const recentDays = 180

// mostVessels are shown; the rest are counted.
const mostVessels = 15

// vessel is a beer in hand as --json prints it.
type vessel struct {
	Batch   string         `json:"batch"`    // its name
	Kind    string         `json:"kind"`     // batch or jar
	State   string         `json:"state"`    // in fermenter, in a jar, packaged ...
	LitresL *figure.Stated `json:"litres_l"` // what is left; null where that is not known
	Day     float64        `json:"day"`      // since its brew began
	ABVPct  *figure.Stated `json:"abv_pct"`  // % vol; null without an original gravity, and after a day without a reading
	InIt    []content      `json:"in_it"`    // materials
	Tasted  int            `json:"tasted"`   // tastings it was served at
	Due     []dueRow       `json:"due"`      // what it waits for, with when
}

// content is a material in a beer as --json prints it.
type content struct {
	Material string         `json:"material"`               // its key
	Method   string         `json:"method"`                 // of the largest addition
	Since    time.Time      `json:"since"`                  // of the first addition
	GPerL    *figure.Stated `json:"effective_dose_g_per_l"` // what it has given so far
	StillIn  bool           `json:"still_in"`               // it lies in the beer and gives more
}

// inHand picks the beers that are in hand, those that something happened to last first.
// Those of another brewer stand elsewhere.
func inHand(n *trials.Notebook) (list []trials.Batch) {
	last := ledger.LastEvents(n)
	for _, b := range n.Batches {
		if b.Brewer == "" && b.Kind != trials.KindGlass && n.Now.Sub(last[b.ID]) <= recentDays*24*time.Hour {
			list = append(list, b)
		}
	}
	if len(list) == 0 {
		// of a notebook that rested for long the last beers are better than none
		list = slices.DeleteFunc(slices.Clone(n.Batches), func(b trials.Batch) bool {
			return b.Brewer != "" || b.Kind == trials.KindGlass
		})
	}
	slices.SortFunc(list, func(a, b trials.Batch) int {
		return cmp.Or(last[b.ID].Compare(last[a.ID]), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// standings works out where the beers in hand stand, as many as are shown, and counts
// those that are not.
func standings(n *trials.Notebook) (list []ledger.Standing, more int, err error) {
	candidates := inHand(n)
	for len(candidates) > 0 && len(list) < mostVessels {
		// some turn out to be split up: a few at a time, as ledgers cost more than the rest
		some := candidates[:min(mostVessels-len(list), len(candidates))]
		candidates = candidates[len(some):]
		found, err := ledger.Standings(n, some)
		if err != nil {
			return nil, 0, err
		}
		for _, s := range found {
			if !s.Spent() {
				list = append(list, s)
			}
		}
	}
	return list, len(candidates), nil
}

// vesselOf turns a standing into its printed form.
func vesselOf(x *trials.Index, s ledger.Standing) vessel {
	v := vessel{Batch: s.Batch.Name, Kind: s.Batch.Kind, State: stateOf(x, s.Batch, s.Spent()),
		LitresL: wording.EstimateView(s.LeftL), Day: s.Day, ABVPct: wording.EstimateView(s.ABVPct), InIt: []content{},
		Tasted: s.Tasted, Due: []dueRow{}}
	// nothing says how far it has fermented: the wort that it was is no figure for today
	if len(s.Gravity) == 0 && s.Day >= 1 && s.ABVPct.Value < wortABVPct {
		v.ABVPct = nil
	}
	for _, c := range s.In {
		v.InIt = append(v.InIt, content{c.MaterialKey, c.Method, c.Since, wording.EstimateView(c.GPerL), c.StillIn})
	}
	for _, d := range ledger.DueFor(x.Notebook, s) {
		v.Due = append(v.Due, dueOf(s.Batch, d))
	}
	return v
}

// wortABVPct is the strength, % vol, up to which a beer is taken to be as it was begun.
const wortABVPct = 0.05

// packagedState begins the state of a beer that was closed in.
const packagedState = "packaged "

// stateOf says where a batch is.
func stateOf(x *trials.Index, b trials.Batch, spent bool) string {
	p, packaged := x.Packaged(b.ID)
	switch {
	case packaged:
		return packagedState + wording.DateText(p.At)
	case spent && len(x.Children(b.ID)) > 0:
		return "split up"
	case spent:
		return "nothing left"
	case b.Kind == trials.KindGlass:
		return "in a glass"
	case b.Kind == trials.KindJar:
		return "in a jar"
	}
	return "in fermenter"
}

// vesselTable is the table of the beers in hand.
func vesselTable(list []vessel, u quantity.Units) document.Table {
	t := document.Table{Columns: []document.Column{{Title: "in hand", Wrap: true},
		{Title: wording.VolumeUnit(u), Right: true}, {Title: "% vol", Right: true}, {Title: "in it", Wrap: true},
		{Title: "day", Right: true}, {Title: "state", Wrap: true}}}
	for _, v := range list {
		t.Rows = append(t.Rows, []string{v.Batch, wording.VolumeEstimate(v.LitresL, u),
			document.PlusMinusOrDash(v.ABVPct, 1, 1), contentText(v),
			document.Fixed(v.Day, 0), v.State})
	}
	return t
}

// doseNotes say which doses the table has, none where it has none: suggest counts
// another class of the same plant where a taste asks for it.
func doseNotes(list []vessel) []string {
	for _, v := range list {
		for _, c := range v.InIt {
			if c.GPerL != nil {
				return []string{"g/L: effective, of the class that counts for the plant as a whole; suggest and compare " +
					"count the family of a taste"}
			}
		}
	}
	return nil
}

// contentText says what is in a beer, a line for each material.
func contentText(v vessel) string {
	switch {
	case len(v.InIt) == 0 && strings.HasPrefix(v.State, packagedState):
		return "nothing"
	case len(v.InIt) == 0:
		return "nothing yet"
	}
	lines := make([]string, len(v.InIt))
	for i, c := range v.InIt {
		lines[i] = c.Material
		if c.GPerL != nil {
			lines[i] += " " + document.Significant(c.GPerL.Value, 2) + " g/L"
		}
		if c.StillIn {
			lines[i] += " so far, in since " + shortDate(c.Since)
			continue
		}
		lines[i] += " " + c.Method + ", " + shortDate(c.Since)
	}
	return strings.Join(lines, "\n")
}

// shortDate is the month and day of a moment in its own time zone.
func shortDate(t time.Time) string { return t.Local().Format("01-02") }
