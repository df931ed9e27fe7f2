package standing

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// dueRow is what is due as --json prints it.
type dueRow struct {
	What string    `json:"what"` // pull, gravity, package, taste, scores, close, places or plan
	At   time.Time `json:"at"`   // from when on
	Text string    `json:"text"` // in words
	Do   string    `json:"do"`   // what to type
}

// dueOf puts what a beer waits for in words.
func dueOf(b trials.Batch, d ledger.Due) dueRow {
	row := dueRow{What: string(d.Kind), At: d.At}
	switch d.Kind {
	case ledger.DuePull:
		row.Text = pullText(*d.Addition, d.Days)
		row.Do = "hedgerow addition show " + trials.Typed(d.Addition.Name)
	case ledger.DueGravity:
		row.Text = "read the gravity; none was read yet"
		if d.Days >= 0 {
			row.Text = "read the gravity; the last one is of " + daysAgo(d.Days)
		}
		row.Do = "hedgerow reading add " + trials.Typed(b.Name) + " --sg 1.0.."
	case ledger.DuePackage:
		row.Text = "package it? its gravity stands at " + wording.GravityText(d.SG)
		row.Do = "hedgerow batch package " + trials.Typed(b.Name)
	case ledger.DueTaste:
		row.Text = "taste it; packaged " + daysAgo(d.Days) + ", in no tasting yet"
		row.Do = "hedgerow tasting new NAME --serving " + trials.Typed(b.Name) + " --serving .. --attribute .."
	}
	return row
}

// pullText asks whether a plant comes out.
func pullText(a trials.Addition, days float64) string {
	in := document.Fixed(days, 1)
	if at, planned := a.TakenOut(); planned {
		return fmt.Sprintf("%s comes out on %s; in for %s of %s days", a.MaterialKey, wording.DateText(at), in,
			document.Significant(at.Sub(a.At).Hours()/24, 2))
	}
	return fmt.Sprintf("pull the %s? in for %s days; taste it first", a.MaterialKey, in)
}

// daysAgo says how long ago something was.
func daysAgo(days float64) string {
	switch whole := int(days); whole {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	default:
		return fmt.Sprintf("%d days ago", whole)
	}
}

// evening is a tasting that is not over, as --json prints it.
type evening struct {
	Tasting  string    `json:"tasting"`  // its name
	At       time.Time `json:"at"`       // when it is held
	Glasses  int       `json:"glasses"`  // to be scored; 0 where nobody has an order
	Scored   int       `json:"scored"`   // glasses that somebody scored
	Servings int       `json:"servings"` // beers under codes
	Due      dueRow    `json:"due"`      // what comes next
}

// openDays is how long a tasting that is not blind counts as open: it is never closed.
const openDays = 2

// evenings lists the tastings that are not over.
func evenings(n *trials.Notebook) []evening {
	list := []evening{}
	for _, t := range n.Tastings {
		if !Open(n, t) {
			continue
		}
		v := evening{Tasting: t.Name, At: t.At, Servings: len(n.ServingsOf(t.ID)), Scored: scoredGlasses(n, t)}
		v.Glasses = v.Servings * len(n.Expected(t.ID))
		for _, d := range n.DosingsOf(t.ID) {
			// of an evening of dosing to taste a glass is done once it is noted
			v.Glasses++
			if d.Noted() {
				v.Scored++
			}
		}
		v.Due = eveningDue(n, t, v)
		list = append(list, v)
	}
	return list
}

// Open reports whether a tasting is not over, so that its scores are of interest.
func Open(n *trials.Notebook, t trials.Tasting) bool {
	if t.Blind {
		return t.ClosedAt == nil
	}
	return t.ClosedAt == nil && n.Now.Sub(t.At) < openDays*24*time.Hour
}

// scoredGlasses counts the glasses that were scored, once for each taster.
func scoredGlasses(n *trials.Notebook, t trials.Tasting) int {
	seen := map[[2]string]bool{}
	for _, s := range n.Scores {
		if s.TastingID == t.ID {
			seen[[2]string{s.TasterID, s.ServingID}] = true
		}
	}
	return len(seen)
}

// eveningDue says what a tasting waits for.
func eveningDue(n *trials.Notebook, t trials.Tasting, v evening) dueRow {
	row := dueRow{What: "scores", At: t.At, Do: "hedgerow tasting score " + trials.Typed(t.Name)}
	switch {
	case t.At.After(n.Now) && v.Scored == 0 && v.Servings == 0:
		row.Text = "dosing to taste on " + wording.DateText(t.At)
		row.Do = "hedgerow tasting sheet " + trials.Typed(t.Name)
	case t.At.After(n.Now) && v.Scored == 0:
		row.Text = fmt.Sprintf("tasting of %s on %s", document.Count(v.Servings, "beer"), wording.DateText(t.At))
		row.Do = "hedgerow tasting sheet " + trials.Typed(t.Name)
	case v.Scored == 0:
		row.Text = "tasting open, no glass scored yet"
	case v.Glasses > 0 && v.Scored < v.Glasses:
		row.Text = fmt.Sprintf("tasting open, %d of %d glasses scored", v.Scored, v.Glasses)
	case t.CupsUnread() && v.Scored < v.Servings:
		row.Text = fmt.Sprintf("tasting alone, %d of %d cups scored by place", v.Scored, v.Servings)
	case t.CupsUnread():
		row.Text = "all cups are scored; turn them over and say which code stood where"
		if v.Servings == 0 {
			row.Text = "both glasses are noted; read the droppers and say which code stood where"
		}
		row.What, row.Do = "places", "hedgerow tasting places "+trials.Typed(t.Name)+" 1=.. 2=.."
	default:
		row.Text = document.Count(v.Scored, "glass") + " scored; close it to open the key"
		row.What, row.Do = "close", "hedgerow tasting close "+trials.Typed(t.Name)
		if !t.Blind {
			row.Text = document.Count(v.Scored, "glass") + " scored"
			row.Do = "hedgerow tasting show " + trials.Typed(t.Name)
		}
	}
	return row
}

// planDue lists the plans that were written down and not done.
func planDue(n *trials.Notebook) []namedDue {
	var list []namedDue
	for _, p := range n.Plans {
		if p.DoneAt != nil {
			continue
		}
		if p.Kind == trials.PlanTaste {
			if row, ok := tasteDue(n, p); ok {
				list = append(list, namedDue{p.Name, row})
			}
			continue
		}
		list = append(list, namedDue{p.Name, dueRow{What: "plan", At: p.At,
			Text: fmt.Sprintf("%s of %s planned for %s; say what was done", p.Kind, p.MaterialKey, wording.DateText(p.At)),
			Do:   "hedgerow plan done " + trials.Typed(p.Name)}})
	}
	return list
}

// tasteDue says what the plan of an evening of dosing to taste waits for. Once a glass is
// noted the evening is under way, and its tasting says what comes next.
func tasteDue(n *trials.Notebook, p trials.Plan) (row dueRow, ok bool) {
	if p.TastingID != nil && slices.ContainsFunc(n.DosingsOf(*p.TastingID), trials.Dosing.Noted) {
		return row, false
	}
	text := "fill the droppers"
	if p.ExtractID != nil {
		text = "make the extract, fill the droppers"
	}
	return dueRow{What: "plan", At: p.At, Text: fmt.Sprintf("dosing %s to taste planned for %s; %s", p.MaterialKey,
		wording.DateText(p.At), text), Do: "hedgerow plan show " + trials.Typed(p.Name)}, true
}

// namedDue is what is due with what it is of.
type namedDue struct {
	Of string // name of a beer, tasting or plan
	dueRow
}

// dueTable is the table of what is due now and in the days ahead.
func dueTable(list []namedDue, now time.Time) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: "due", Wrap: true}, {Title: "what to do", Wrap: true}}}
	for _, d := range list {
		text := d.Text
		if d.At.After(now) && !strings.Contains(text, wording.DateText(d.At)) {
			text = "from " + wording.DateText(d.At) + ": " + text
		}
		t.Rows = append(t.Rows, []string{d.Of, text + "\n" + d.Do})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return &t
}
