package standing

import (
	"fmt"
	"slices"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// aheadDays is how far ahead what will be due is shown.
const aheadDays = 3

// statusPayload is what --json prints.
type statusPayload struct {
	Notebook    NotebookFile        `json:"notebook"`
	Vessels     []vessel            `json:"vessels"`
	Older       int                 `json:"vessels_not_shown"` // beers that are left and were not touched for long
	Tastings    []evening           `json:"tastings"`
	Plans       []dueRow            `json:"plans"`
	Suggestions []trials.Suggestion `json:"suggestions"`
	Warnings    []string            `json:"warnings"`
}

// Status tells where things stand: what is due, what is in hand, what was suggested
// last, and where it is all kept. Nothing is fitted.
func Status(n *trials.Notebook, f NotebookFile, u quantity.Units) (document.View, error) {
	found, more, err := standings(n)
	if err != nil {
		return document.View{}, err
	}
	p := statusPayload{Notebook: f, Vessels: []vessel{}, Older: more, Tastings: evenings(n), Plans: []dueRow{},
		Suggestions: append([]trials.Suggestion{}, n.Suggestions...), Warnings: []string{}}
	x := n.Index()
	var due []namedDue
	for _, s := range found {
		v := vesselOf(x, s)
		p.Vessels = append(p.Vessels, v)
		for _, d := range v.Due {
			due = append(due, namedDue{v.Batch, d})
		}
	}
	for _, v := range p.Tastings {
		due = append(due, namedDue{v.Tasting, v.Due})
	}
	for _, d := range planDue(n) {
		p.Plans = append(p.Plans, d.dueRow)
		due = append(due, d)
	}
	due = slices.DeleteFunc(due, func(d namedDue) bool { return d.At.After(n.Now.AddDate(0, 0, aheadDays)) })
	slices.SortStableFunc(due, func(a, b namedDue) int { return a.At.Compare(b.At) })
	return document.View{Document: statusDocument(x, p, due, u), Payload: p}, nil
}

// statusDocument is the view as text.
func statusDocument(x *trials.Index, p statusPayload, due []namedDue, u quantity.Units) document.Document {
	d := document.Document{Title: "Where things stand, " + x.Now.Local().Format("2006-01-02 15:04")}
	if t := dueTable(due, x.Now); t != nil {
		d.Sections = append(d.Sections, document.Section{Table: t})
	} else {
		d.Sections = append(d.Sections, document.Section{Paragraphs: []string{"Nothing is due."}})
	}
	if len(p.Vessels) > 0 {
		t := vesselTable(p.Vessels, u)
		d.Sections = append(d.Sections, document.Section{Table: &t, Notes: doseNotes(p.Vessels)})
	}
	if t := nextTable(x.Notebook); t != nil {
		d.Sections = append(d.Sections, document.Section{Table: t})
	}
	last := []string{heldText(x, p), p.Notebook.line()}
	if len(x.Batches) == 0 {
		last = append([]string{"There is no beer yet: hedgerow batch new NAME --volume 12L --og 1.048"}, last...)
	}
	d.Sections = append(d.Sections, document.Section{Paragraphs: last})
	return d
}

// mostMaterials are shown with what was suggested for them.
const mostMaterials = 6

// nextTable is the table of what was suggested last, and of the materials that were used
// without asking, the newest first; nil for none.
func nextTable(n *trials.Notebook) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: "next", Wrap: true}, {Title: "as it was suggested", Wrap: true},
		{Title: "on"}}}
	asked := map[string]bool{}
	for _, s := range slices.Backward(n.Suggestions) {
		asked[s.MaterialKey] = true
		text := s.Text
		if newer := closedSince(n, s); newer != "" {
			text += "\nTasting " + newer + " was closed since: ask again."
		}
		t.Rows = append(t.Rows, []string{s.MaterialKey, text + "\n" + askAgain(s), wording.DateText(s.At)})
	}
	for _, key := range ledger.MaterialsUsed(n) {
		if !asked[key] {
			t.Rows = append(t.Rows, []string{key, "not asked yet\nhedgerow suggest " + key, ""})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	t.Rows = t.Rows[:min(len(t.Rows), mostMaterials)]
	return &t
}

// askAgain is the command that gives a suggestion anew.
func askAgain(s trials.Suggestion) string {
	text := "hedgerow suggest " + s.MaterialKey
	if s.VolumeL != nil {
		text += " --volume " + trials.Number(*s.VolumeL) + "L"
	}
	return text
}

// closedSince names a tasting with a material that was closed after it was suggested,
// empty for none.
func closedSince(n *trials.Notebook, s trials.Suggestion) string {
	for _, t := range n.Tastings {
		if t.ClosedAt == nil || !t.ClosedAt.After(s.At) {
			continue
		}
		drops, _ := n.ToTasteOf(t.ID)
		if x, known := n.ExtractByID(drops.ExtractID); known && x.MaterialKey == s.MaterialKey {
			return t.Name
		}
		for _, v := range n.ServingsOf(t.ID) {
			b, _ := n.BatchByID(v.BatchID)
			if slices.Contains(ledger.MaterialsOf(n, b), s.MaterialKey) {
				return t.Name
			}
		}
	}
	return ""
}

// recentTea is how long ago an extract may have been made to count as one that waits to
// be poured.
const recentTea = 30 * 24 * time.Hour

// heldText tells what the notebook holds beside what is shown.
func heldText(x *trials.Index, p statusPayload) string {
	text := document.Count(len(x.Batches), "beer") + ", with jars and glasses"
	if p.Older > 0 {
		text += fmt.Sprintf("; %d more not shown here (hedgerow batch list)", p.Older)
	}
	waiting := 0
	for _, tea := range x.Extracts {
		if x.Now.Sub(tea.MadeAt) <= recentTea && len(x.PoursOf(tea.ID)) == 0 && !spentOnDroppers(x, tea.ID) {
			waiting++
		}
	}
	if waiting > 0 {
		text += "; " + document.Count(waiting, "extract") + " not poured yet (hedgerow extract list)"
	}
	return text + "."
}

// spentOnDroppers reports whether an extract was made for an evening alone that is over.
func spentOnDroppers(x *trials.Index, extractID string) bool {
	return len(x.FilledFrom(extractID)) > 0 && !slices.ContainsFunc(x.ToTastes, func(s trials.ToTaste) bool {
		return s.ExtractID == extractID && s.Used
	})
}
