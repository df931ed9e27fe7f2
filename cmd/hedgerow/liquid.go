package main

import (
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// liquidOf is an added liquid, sugar or fruit in the words of package trials:
// the same text means the same in a calculator and in a record.
func liquidOf(p quantity.Addition) ledger.Liquid {
	return ledger.Liquid{
		Kind: p.Kind, Material: p.Material, VolumeL: p.VolumeL, MassG: p.MassG, TempC: p.TempC,
		StrengthPct: p.StrengthPct, SolidsGPerL: p.SolidsGPerL, Plato: p.Plato, SG: p.SG, OG: p.OG, FG: p.FG,
		RetainKgKg: p.RetainKgKg, FermentsPct: p.FermentsPct, ExtractedPct: p.ExtractedPct,
	}
}

// fruitAdded fills in fruit that was written as one text, such as "2.5kg
// raspberry retain=0.5". As in the calculator it is taken to be fresh, and in the
// fermenter, unless --form and --as say otherwise. Only fruit of known make-up
// can be written so: what a herb gives depends on form and method.
func (e *env) fruitAdded(n *trials.Notebook, o additionOptions, a *trials.Addition, l ledger.Liquid) error {
	if a.LiquidKind != "" {
		return trials.Refuse("delete it and log the fruit as an addition of its own", "%s is %s; it cannot become %s",
			a.Name, a.LiquidKind, l.Material)
	}
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	m, err := materials.Find(l.Material)
	if err != nil {
		return err
	}
	if _, known := materials.Composition(m, "fresh"); !known && (o.as == "" || o.form == "") {
		return trials.Refuse("write the material and the amount as two words, and --as: hedgerow addition add BATCH "+
			m.Key+" 40g --form cut --as contact",
			"how %q went in is missing", m.Key)
	}
	l.Material = m.Key
	ledger.FillFruit(a, l)
	if o.as == "" {
		o.as = trials.MethodContact
	}
	if o.form == "" && o.as == trials.MethodContact {
		o.form = "fresh"
	}
	return o.directInto(e, n, a)
}

// anew sets a figure of an addition like set, and forgets the limit that was
// kept with the figure before.
func (r *amounts) anew(a *trials.Addition, figure string, dst **float64, flag, text string,
	read func(string) (float64, error)) {
	if text != "" {
		delete(a.Limits, figure)
	}
	r.set(dst, flag, text, read)
}
