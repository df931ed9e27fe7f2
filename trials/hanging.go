package trials

import (
	"fmt"
	"strings"
)

// Hanging is what hangs on a record.
type Hanging struct {
	Holds []string // what must go first: with it the record cannot be deleted
	Goes  []string // what goes with it
	Stays []string // what stays, but changes or loses its reference
}

// HangingOn names what hangs on a record, given as a value. Scores are counted where the
// notebook was read with them.
func (n *Notebook) HangingOn(record any) Hanging {
	switch r := record.(type) {
	case Batch:
		return n.onBatch(r)
	case Extract:
		poured := namesWhere(n.Additions, "addition", func(a Addition) (string, bool) {
			return a.Name, a.ExtractID != nil && *a.ExtractID == r.ID
		})
		return Hanging{Holds: append(poured, n.evenings(func(s ToTaste) bool { return s.ExtractID == r.ID })...)}
	case Meter:
		return n.onMeter(r)
	case OwnMaterial:
		return n.onMaterial(r)
	case Taster:
		count := counted(n.Scores, "score", func(s Score) bool { return s.TasterID == r.ID })
		count = append(count, counted(n.Dosings, "dosed glass", func(d Dosing) bool { return d.TasterID == r.ID })...)
		return Hanging{Holds: append(count, counted(n.Places, "place in a serving order",
			func(p Place) bool { return p.TasterID == r.ID })...)}
	case Tasting:
		return n.onTasting(r)
	case Plan:
		return Hanging{Stays: []string{"the beers, the extract and the tasting that were recorded with it"}}
	}
	return Hanging{}
}

// onBatch is what hangs on a batch.
func (n *Notebook) onBatch(b Batch) Hanging {
	h := Hanging{Holds: namesWhere(n.Batches, "batch", func(c Batch) (string, bool) {
		return c.Name, c.ParentID != nil && *c.ParentID == b.ID
	})}
	served := map[string]bool{}
	for _, s := range n.Servings {
		served[s.TastingID] = served[s.TastingID] || s.BatchID == b.ID
	}
	h.Holds = append(h.Holds, namesWhere(n.Tastings, "tasting",
		func(t Tasting) (string, bool) { return t.Name, served[t.ID] })...)
	h.Holds = append(h.Holds, n.evenings(func(s ToTaste) bool { return s.BatchID == b.ID })...)
	ours := func(id string) bool { return id == b.ID }
	for _, list := range [][]string{
		counted(n.Additions, "addition", func(a Addition) bool { return ours(a.BatchID) }),
		counted(n.Readings, "reading", func(r Reading) bool { return ours(r.BatchID) }),
		counted(n.Losses, "loss", func(l Loss) bool { return ours(l.BatchID) }),
		counted(n.Packagings, "packaging", func(p Packaging) bool { return ours(p.BatchID) }),
		counted(n.BatchNotes, "note", func(t BatchNote) bool { return ours(t.BatchID) }),
		counted(n.Plans, "plan", func(p Plan) bool { return ours(p.BatchID) }),
	} {
		h.Goes = append(h.Goes, list...)
	}
	return h
}

// onMeter is what hangs on a meter.
func (n *Notebook) onMeter(m Meter) Hanging {
	with := func(id *string) bool { return id != nil && *id == m.ID }
	return Hanging{
		Goes:  counted(n.Calibrations, "calibration", func(c Calibration) bool { return c.MeterID == m.ID }),
		Stays: counted(n.Readings, "reading", func(r Reading) bool { return with(r.MeterID) }),
	}
}

// onMaterial is what hangs on an own material: figures for a built-in one fall back on
// those, but a material of one's own that was used must stay.
func (n *Notebook) onMaterial(m OwnMaterial) Hanging {
	var used []string
	for _, list := range [][]string{
		counted(n.Additions, "addition", func(a Addition) bool { return a.MaterialKey == m.Name }),
		counted(n.Extracts, "extract", func(e Extract) bool { return e.MaterialKey == m.Name }),
		counted(n.Claims, "claim", func(c Claim) bool { return c.MaterialKey == m.Name }),
		counted(n.Plans, "plan", func(p Plan) bool { return p.MaterialKey == m.Name }),
	} {
		used = append(used, list...)
	}
	without := *n
	without.Materials = nil
	if materials, err := without.Catalogue(); err == nil {
		if _, builtIn := materials.Get(m.Name); builtIn {
			return Hanging{Stays: used}
		}
	}
	return Hanging{Holds: used}
}

// onTasting is what hangs on a tasting.
func (n *Notebook) onTasting(t Tasting) Hanging {
	h := Hanging{
		Stays: namesWhere(n.Plans, "plan", func(p Plan) (string, bool) {
			return p.Name, p.TastingID != nil && *p.TastingID == t.ID
		}),
	}
	// the loss is a record of its batch: beer that was drunk is gone with or without the evening
	if s, drops := n.ToTasteOf(t.ID); drops && t.ClosedAt != nil {
		b, _ := n.BatchByID(s.BatchID)
		h.Stays = append(h.Stays, "what "+b.Name+" lost into its glasses, as a loss")
	}
	for _, list := range [][]string{
		counted(n.Servings, "serving", func(s Serving) bool { return s.TastingID == t.ID }),
		counted(n.Scores, "score", func(s Score) bool { return s.TastingID == t.ID }),
		counted(n.TasterNotes, "note", func(x TasterNote) bool { return x.TastingID == t.ID }),
		counted(n.Dosings, "dosed glass", func(d Dosing) bool { return d.TastingID == t.ID }),
	} {
		h.Goes = append(h.Goes, list...)
	}
	return h
}

// evenings names the tastings dosed to taste that is picks.
func (n *Notebook) evenings(is func(ToTaste) bool) []string {
	return namesWhere(n.Tastings, "tasting", func(t Tasting) (string, bool) {
		s, ok := n.ToTasteOf(t.ID)
		return t.Name, ok && is(s)
	})
}

// mostNamed are named; of more the rest are counted.
const mostNamed = 5

// namesWhere names the records that is picks, nothing for none.
func namesWhere[T any](list []T, what string, is func(T) (name string, is bool)) []string {
	var names []string
	for _, r := range list {
		if name, ok := is(r); ok {
			names = append(names, what+" "+name)
		}
	}
	if more := len(names) - mostNamed; more > 0 {
		names = append(names[:mostNamed], fmt.Sprintf("%d more", more))
	}
	return names
}

// counted counts the records that is picks: "3 readings", nothing for none.
func counted[T any](list []T, what string, is func(T) bool) []string {
	count := 0
	for _, r := range list {
		if is(r) {
			count++
		}
	}
	switch {
	case count == 0:
		return nil
	case count == 1:
		return []string{"1 " + what}
	case strings.HasSuffix(what, "s"):
		what += "e"
	}
	return []string{fmt.Sprintf("%d %ss", count, what)}
}
