package trials

import "fmt"

// Damage is something in a notebook that is not as it should be.
type Damage struct {
	Record string `json:"record"` // which record, or which part of the file
	What   string `json:"what"`   // what is wrong with it
	Do     string `json:"do"`     // what to do about it
}

// Check puts every record through the checks that a typed one goes through, and
// looks for batches that descend from themselves.
func (n *Notebook) Check() []Damage {
	var found []Damage
	look := func(record string, err error) {
		if err != nil {
			found = append(found, Damage{record, err.Error(), "correct it with the edit command of its kind"})
		}
	}
	for _, b := range n.Batches {
		look("batch "+b.Name, b.Validate())
	}
	look("batches", n.CheckDescent())
	for _, l := range n.Losses {
		look("loss "+l.Name, l.Validate())
	}
	for _, p := range n.Packagings {
		look("packaging "+p.Name, p.Validate())
	}
	for _, r := range n.BatchNotes {
		look("note "+r.Name, r.Validate())
	}
	for _, e := range n.Extracts {
		look("extract "+e.Name, e.Validate())
	}
	for _, a := range n.Additions {
		look("addition "+a.Name, a.Validate())
	}
	for _, r := range n.Readings {
		look("reading "+r.Name, r.Validate())
	}
	for _, m := range n.Meters {
		look("meter "+m.Name, m.Validate())
	}
	for _, c := range n.Calibrations {
		look("calibration "+c.Name, c.Validate())
	}
	for _, c := range n.Claims {
		look("claim "+c.Name, c.Validate())
	}
	for _, m := range n.Materials {
		look("material "+m.Name, m.Validate())
	}
	for _, p := range n.Plans {
		look("plan "+p.Name, p.Validate())
	}
	n.checkEvenings(look)
	return found
}

// checkEvenings looks at tastings and what was said at them.
func (n *Notebook) checkEvenings(look func(record string, err error)) {
	evenings := map[string]Tasting{}
	for _, t := range n.Tastings {
		evenings[t.ID] = t
		look("tasting "+t.Name, t.Validate())
	}
	for _, s := range n.Scores {
		t := evenings[s.TastingID]
		look(fmt.Sprintf("score %s of tasting %s", s.ID, t.Name), s.Validate(t))
	}
	for _, s := range n.ToTastes {
		look("dosing to taste of tasting "+evenings[s.TastingID].Name, s.Validate())
	}
	for _, d := range n.Droppers {
		look(fmt.Sprintf("dropper %s of tasting %s", d.Code, evenings[d.TastingID].Name), d.Validate())
	}
	for _, d := range n.Dosings {
		s, _ := n.ToTasteOf(d.TastingID)
		look(fmt.Sprintf("glass %d of %s, tasting %s", d.Number, n.TasterName(d.TasterID), evenings[d.TastingID].Name),
			d.Validate(s))
	}
}

// CheckDescent refuses batches that descend from themselves, which no command
// makes: what happened to one could not be told to the end.
func (n *Notebook) CheckDescent() error {
	parents := make(map[string]*string, len(n.Batches))
	for _, b := range n.Batches {
		parents[b.ID] = b.ParentID
	}
	for _, b := range n.Batches {
		depth := 0
		for p := b.ParentID; p != nil; p = parents[*p] {
			if depth++; depth > len(n.Batches) {
				return &Problem{Code: ForeignNotebook,
					Message: fmt.Sprintf("the notebook is damaged: batch %q descends from itself", b.Name),
					Hint:    "take up a copy of the notebook, or name another file with --db"}
			}
		}
	}
	return nil
}
