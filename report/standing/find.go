package standing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// hit is a record that was found, as --json prints it.
type hit struct {
	Kind string `json:"kind"` // batch, addition, tasting ...
	Name string `json:"name"` // of the record
	Text string `json:"text"` // the record in words
	Do   string `json:"do"`   // what shows it
}

// finder looks for words in records.
type finder struct {
	words []string
	hits  []hit
}

// Find lists the records in which every one of the words stands, in a name, a note, a
// material, a lot or what a taster wrote; capital letters do not count.
func Find(n *trials.Notebook, words []string, u quantity.Units) document.View {
	f := &finder{}
	for _, w := range words {
		f.words = append(f.words, strings.Fields(strings.ToLower(w))...)
	}
	f.beers(n, u)
	f.records(n, u)
	f.evenings(n)
	// kind after kind as they were looked at, in an order that is not that of the records
	place := map[string]int{}
	for i, h := range f.hits {
		if _, seen := place[h.Kind]; !seen {
			place[h.Kind] = i
		}
	}
	slices.SortStableFunc(f.hits, func(a, b hit) int {
		return cmp.Or(cmp.Compare(place[a.Kind], place[b.Kind]), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Text, b.Text))
	})
	t := document.Table{Columns: []document.Column{{Title: "what"}, {Title: "name", Wrap: true},
		{Title: "in words", Wrap: true}, {Title: "shown by", Wide: true}}}
	for _, h := range f.hits {
		t.Rows = append(t.Rows, []string{h.Kind, h.Name, h.Text, h.Do})
	}
	return document.ListView(f.hits, fmt.Sprintf("Nothing was found with %q in a name, note, material, lot or taster. "+
		"A part of a word will do: hedgerow find heath", strings.Join(words, " ")), t)
}

// look keeps a record if all words stand in its name and texts.
func (f *finder) look(h hit, texts ...string) {
	all := strings.ToLower(h.Name + "\n" + h.Text + "\n" + strings.Join(texts, "\n"))
	for _, w := range f.words {
		if !strings.Contains(all, w) {
			return
		}
	}
	f.hits = append(f.hits, h)
}

// beers looks at batches and what happened to them.
func (f *finder) beers(n *trials.Notebook, u quantity.Units) {
	name := map[string]string{}
	for _, b := range n.Batches {
		name[b.ID] = b.Name
		begun := strings.TrimPrefix(b.Style+", begun "+wording.DateText(b.StartedAt), ", ")
		f.look(hit{"batch", b.Name, wording.WithNote(begun, b.Note), "hedgerow batch show " + trials.Typed(b.Name)})
	}
	show := func(batchID string) string { return "hedgerow batch show " + trials.Typed(name[batchID]) }
	for _, a := range n.Additions {
		text := wording.WithNote(wording.AdditionSentence(n, a, u), lotText(a.Lot))
		f.look(hit{"addition", a.Name, text, show(a.BatchID)})
	}
	for _, r := range n.Readings {
		f.look(hit{"reading", r.Name, wording.WithNote(wording.ReadingLine(n, r, u), ""), show(r.BatchID)}, r.Note)
	}
	for _, l := range n.Losses {
		f.look(hit{"loss", l.Name, wording.WithNote(wording.VolumeText(l.VolumeL, u)+", "+l.Kind, l.Note), show(l.BatchID)})
	}
	for _, p := range n.Packagings {
		f.look(hit{"packaging", p.Name, wording.WithNote(wording.DateText(p.At), p.Note), show(p.BatchID)})
	}
	for _, r := range n.BatchNotes {
		f.look(hit{"note", r.Name, r.Text, show(r.BatchID)})
	}
}

// lotText names the bag that something came from, empty for none.
func lotText(lot string) string {
	if lot == "" {
		return ""
	}
	return "lot " + lot
}

// records looks at extracts, meters, claims, own materials and plans.
func (f *finder) records(n *trials.Notebook, u quantity.Units) {
	for _, x := range n.Extracts {
		text := wording.WithNote(wording.WithNote(wording.ExtractSentence(x, u), x.Note), lotText(x.Lot))
		f.look(hit{"extract", x.Name, text, "hedgerow extract show " + trials.Typed(x.Name)})
	}
	for _, m := range n.Meters {
		f.look(hit{"meter", m.Name, wording.WithNote(m.Kind, m.Note), "hedgerow meter show " + trials.Typed(m.Name)})
	}
	for _, c := range n.Claims {
		f.look(hit{"claim", c.Name, wording.WithNote(wording.WithNote(c.AsWritten, c.Source), c.Note),
			"hedgerow claim list " + c.MaterialKey}, c.MaterialKey)
	}
	for _, m := range n.Materials {
		f.look(hit{"material", m.Name, wording.WithNote(m.CommonName, m.Note),
			"hedgerow material show " + trials.Typed(m.Name)},
			m.PartUsed, m.Category, m.Reason)
	}
	for _, p := range n.Plans {
		f.look(hit{"plan", p.Name, p.Kind + " of " + p.MaterialKey, "hedgerow plan show " + trials.Typed(p.Name)})
	}
}

// evenings looks at tasters, tastings and what was written in them. Notes say what a
// glass tasted of, and of a sealed tasting they stand beside codes alone.
func (f *finder) evenings(n *trials.Notebook) {
	for _, t := range n.Tasters {
		f.look(hit{"taster", t.Name, t.Note, "hedgerow taster list"})
	}
	name := map[string]string{}
	for _, t := range n.Tastings {
		name[t.ID] = t.Name
		text := wording.WithNote(wording.DateText(t.At)+", "+strings.Join(t.Attributes, ", "), t.Note)
		f.look(hit{"tasting", t.Name, text, "hedgerow tasting show " + trials.Typed(t.Name)})
	}
	code := map[string]string{}
	for _, s := range n.Servings {
		code[s.ID] = s.Code
	}
	for _, x := range n.TasterNotes {
		f.look(hit{"taster's note", name[x.TastingID] + " " + code[x.ServingID], n.TasterName(x.TasterID) + ": " + x.Text,
			"hedgerow tasting show " + trials.Typed(name[x.TastingID])})
	}
}
