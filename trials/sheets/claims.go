package sheets

import (
	"errors"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// Claim is one row of a list of advice.
type Claim struct {
	Line        int      `json:"line"`                   // where its row starts
	MaterialKey string   `json:"material_key"`           // key of the material
	AsWritten   string   `json:"as_written"`             // the advice
	Basis       string   `json:"basis,omitempty"`        // fresh, dry or as-is
	LowGPerL    *float64 `json:"low_g_per_l,omitempty"`  // nil where the advice cannot be converted
	HighGPerL   *float64 `json:"high_g_per_l,omitempty"` // upper end
	Source      string   `json:"source,omitempty"`       // who said it
	Note        string   `json:"note,omitempty"`         // free text
}

// claims reads a list of advice. What the notebook has, or what stands there twice,
// is read once.
func (r *reader) claims() {
	if r.with(roleMaterial) == nil || r.with(roleAdvice) == nil {
		r.fault(r.headerLine, nil, "", "a list of advice needs the columns Material and Advice",
			"add the one that is missing")
		return
	}
	known := map[string]bool{}
	names := eventNames{taken: map[string]int{}}
	for _, c := range r.n.Claims {
		known[claimKey(c)] = true
		names.note(c.Name)
	}
	inSheet := map[string]bool{}
	for _, w := range r.rows {
		read, record, ok := r.claimOf(w)
		if !ok {
			continue
		}
		key := claimKey(record)
		switch {
		case inSheet[key]:
			r.remark("copied", w.line, nil, "advice that stands there twice is read once")
			continue
		case known[key]:
			r.sheet.Already++
			continue
		}
		inSheet[key] = true
		record.Name = names.next(record.MaterialKey + ".c")
		r.sheet.Claims = append(r.sheet.Claims, read)
		r.sheet.New.Claims = append(r.sheet.New.Claims, record)
	}
}

// claimKey tells claims apart.
func claimKey(c trials.Claim) string {
	return strings.Join([]string{c.MaterialKey, c.AsWritten, c.Basis, c.Source, c.Note}, "\x00")
}

// claimOf reads one row.
func (r *reader) claimOf(w row) (Claim, trials.Claim, bool) {
	advice := r.with(roleAdvice)
	c := Claim{Line: w.line, Source: r.word(w, r.with(roleSource)), Note: r.note(w, r.with(roleNote))}
	before := r.doubts()
	m, ok := r.material(w, r.with(roleMaterial))
	if c.AsWritten = r.word(w, advice); c.AsWritten == "" && isEmpty(r.cleaned(w, advice)) {
		r.fault(w.line, advice, "", "the advice is missing", "write it as it was heard, such as 1 oz per 5 gal")
	}
	if basis := strings.ToLower(r.word(w, r.with(roleBasis))); basis != "" {
		c.Basis = basisOf(basis)
	}
	if !ok || r.doubts() > before {
		return c, trials.Claim{}, false
	}
	c.MaterialKey = m.Key
	d, converted := r.advised(w, advice, m, c.AsWritten)
	if converted {
		if c.HighGPerL = &d.HighGPerL; !d.UpTo {
			c.LowGPerL = &d.LowGPerL
		}
		if c.Basis == "" {
			c.Basis = d.BasisWord
		}
	}
	record := trials.Claim{Record: trials.Record{ID: trials.NewID()}, MaterialKey: m.Key, AsWritten: c.AsWritten,
		Basis: c.Basis, PerTea: d.PerTea, LowGPerL: c.LowGPerL, HighGPerL: c.HighGPerL, Source: c.Source, Note: c.Note}
	if err := record.Validate(); err != nil {
		why, do := faultOf(err)
		r.fault(w.line, advice, c.AsWritten, why, do)
		return c, record, false
	}
	return c, record, true
}

// basisOf reads what the grams are grams of.
func basisOf(text string) string {
	switch text {
	case "dried", "dry weight":
		return trials.BasisDry
	case "undried", "fresh weight":
		return trials.BasisFresh
	case "as is", "as bought":
		return trials.BasisAsIs
	}
	return text
}

// advised converts advice. What cannot be converted is kept as it is written: it was
// heard only once. Neither the separator nor other rows settle what a comma in it
// means, for it is somebody else's text.
func (r *reader) advised(w row, c *column, m trials.Material, text string) (quantity.Dose, bool) {
	o := r.o.Amounts
	tsp, tbsp, _ := r.materials.SpoonWeight(m, r.word(w, r.with(roleForm)))
	o.Spoons = quantity.SpoonWeights{Material: m.Key, GramsPerTsp: tsp, GramsPerTbsp: tbsp}
	d, err := quantity.ParseDose(text, o)
	var q *quantity.Error
	if errors.As(err, &q) {
		r.remark("kept_as_written", w.line, c, "%q is kept as written: %s; %s", text, q.Problem, q.Hint)
	} else if err != nil {
		r.remark("kept_as_written", w.line, c, "%q is kept as written: %v", text, err)
	}
	r.assumed(w.line, c, append(d.Assumptions, d.Warnings...))
	return d, err == nil
}
