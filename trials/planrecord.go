package trials

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// Made is the records behind a plan: new ones, or known ones corrected.
type Made struct {
	Plan      Plan
	Extract   *Extract
	Batches   []Batch
	Additions []Addition
	Dropped   []Addition // additions that were planned and not made
}

// Records lists what is to be written, the plan last.
func (m *Made) Records() []any {
	var list []any
	if m.Extract != nil {
		list = append(list, m.Extract)
	}
	for i := range m.Batches {
		list = append(list, &m.Batches[i])
	}
	for i := range m.Additions {
		list = append(list, &m.Additions[i])
	}
	return append(list, &m.Plan)
}

// with returns the notebook as it is once the records are written.
func (n *Notebook) with(m Made) *Notebook {
	out := *n
	if m.Extract != nil {
		out.Extracts = replaced(out.Extracts, *m.Extract, func(x Extract) string { return x.ID })
	}
	for _, b := range m.Batches {
		out.Batches = replaced(out.Batches, b, func(x Batch) string { return x.ID })
	}
	for _, a := range m.Additions {
		out.Additions = replaced(out.Additions, a, func(x Addition) string { return x.ID })
	}
	for _, d := range m.Dropped {
		for i, a := range out.Additions {
			if a.ID == d.ID {
				out.Additions = append(out.Additions[:i:i], out.Additions[i+1:]...)
				break
			}
		}
	}
	out.Plans = replaced(out.Plans, m.Plan, func(x Plan) string { return x.ID })
	return &out
}

// HoldsL is the beer that a batch holds now; ok is false where that cannot be
// worked out.
func (n *Notebook) HoldsL(b Batch) (litres float64, ok bool) {
	l, err := n.Ledger(b)
	if err != nil {
		return 0, false
	}
	return l.Last().State().VolumeL.Value, true
}

// CheckRoom refuses vessels that take more beer than a batch holds.
func (n *Notebook) CheckRoom(b Batch, vessels int, beerL float64) error {
	holds, ok := n.HoldsL(b)
	if !ok {
		holds = b.VolumeL
		for _, kid := range n.Children(b.ID) {
			holds -= kid.VolumeL
		}
	}
	if need := float64(vessels) * beerL; need > holds*(1+1e-9) {
		return Refuse("make fewer or smaller ones", "%d vessels of %s L are %s L of beer, but %s holds %s L", vessels, number(round3(beerL)), number(round3(need)), b.Name, number(math.Floor(1000*holds)/1000))
	}
	return nil
}

// PlanRecords makes the records of a plan, as planned: the extract, a child of
// the parent for each vessel (for a batch, the parent itself), and what goes into
// each.
func (n *Notebook) PlanRecords(name, kind string, parent Batch, d Design, at time.Time) (Made, error) {
	if err := CheckName("plan", name); err != nil {
		return Made{}, err
	}
	m := Made{Plan: Plan{Record: Record{ID: NewID(), Name: name}, Kind: kind, MaterialKey: d.MaterialKey, BatchID: parent.ID, At: at, Design: d}}
	m.Plan.Design.Vessels = append([]Vessel(nil), d.Vessels...)
	if d.Direct == nil {
		x := d.Extract()
		x.Record, x.MadeAt = Record{ID: NewID(), Name: name + "-" + d.Method}, at
		m.Extract, m.Plan.ExtractID = &x, &x.ID
	}
	for i := range m.Plan.Design.Vessels {
		v := &m.Plan.Design.Vessels[i]
		b := parent
		if kind != PlanBatch {
			b = Batch{Record: Record{ID: NewID(), Name: fmt.Sprintf("%s-%d", name, v.Number)}, ParentID: &parent.ID, Kind: kindOf[kind], StartedAt: at, VolumeL: v.BeerL}
			if err := b.Validate(); err != nil {
				return Made{}, err
			}
			m.Batches = append(m.Batches, b)
		}
		v.Name, v.BatchID = b.Name, b.ID
		made := n.vesselAdditions(m.Plan, b, *v)
		m.Additions, v.AdditionIDs = append(m.Additions, made...), additionIDs(made)
	}
	if kind != PlanBatch {
		if err := n.CheckRoom(parent, len(d.Vessels), d.Vessels[0].BeerL); err != nil {
			return Made{}, err
		}
	}
	return m, n.checkMade(m, parent)
}

// additionIDs lists the ids of additions.
func additionIDs(list []Addition) []string {
	ids := make([]string, len(list))
	for i, a := range list {
		ids[i] = a.ID
	}
	return ids
}

// kindOf is the kind of batch of the vessels of a plan.
var kindOf = map[string]string{PlanBench: KindGlass, PlanSplit: KindJar}

// checkMade works out the account of every batch once with the new records.
func (n *Notebook) checkMade(m Made, parent Batch) error {
	after := n.with(m)
	after.Batches, after.Additions = slices.Clone(after.Batches), slices.Clone(after.Additions)
	for i := range after.Batches {
		if after.Batches[i].CreatedAt.IsZero() {
			after.Batches[i].CreatedAt = n.Now
		}
	}
	for i := range after.Additions {
		if after.Additions[i].CreatedAt.IsZero() {
			after.Additions[i].CreatedAt = n.Now
		}
	}
	for _, b := range append([]Batch{parent}, m.Batches...) {
		if err := after.CheckAccount(n, b); err != nil {
			return err
		}
	}
	return nil
}

// vesselAdditions is what goes into one vessel.
func (n *Notebook) vesselAdditions(p Plan, b Batch, v Vessel) []Addition {
	var list []Addition
	add := func(a Addition) {
		a.Record = Record{ID: NewID(), Name: n.freeAddition(b.Name, len(list))}
		a.BatchID, a.At = b.ID, p.At
		if a.Stage == "" {
			a.Stage = StageSecondary
		}
		if b.Kind == KindGlass {
			a.Stage = StageGlass
		}
		list = append(list, a)
	}
	switch {
	case p.ExtractID != nil && p.Kind == PlanBatch && v.PourL == p.Design.ExtractL:
		add(Addition{ExtractID: p.ExtractID}) // all of it, however much it was
	case v.PourL > 0:
		pour := v.PourL
		add(Addition{ExtractID: p.ExtractID, PouredL: &pour})
	}
	if v.WaterL > 0 {
		add(p.Design.topUp(v.WaterL))
	}
	if v.MassG > 0 && p.Design.Direct != nil {
		a, mass := *p.Design.Direct, v.MassG
		a.MassG, a.Lot, a.Note = &mass, "", ""
		add(a)
	}
	return list
}

// topUp is what makes the added liquid equal in all vessels: water, or beside a
// tincture the same spirit, since its strength can be tasted too.
func (d Design) topUp(litres float64) Addition {
	a := Addition{LiquidKind: "water", VolumeL: &litres}
	if d.SpiritPct != nil {
		a.LiquidKind, a.StrengthPct = "spirit", d.SpiritPct
	}
	return a
}

// freeAddition is the next free name of an addition of a batch, after so many
// that are being made.
func (n *Notebook) freeAddition(batch string, more int) string {
	highest := 0
	for _, a := range n.Additions {
		var number int
		if rest, ok := strings.CutPrefix(a.Name, batch+".a"); ok {
			fmt.Sscanf(rest, "%d", &number)
			highest = max(highest, number)
		}
	}
	return fmt.Sprintf("%s.a%d", batch, highest+more+1)
}
