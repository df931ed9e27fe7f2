package planning

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// Made is the records behind a plan: new ones, or known ones corrected.
type Made struct {
	Plan      trials.Plan       // the plan as kept
	Extract   *trials.Extract   // nil for materials put in themselves
	Tasting   *trials.Tasting   // of an evening of dosing to taste that was held at another time; nil for any other
	Batches   []trials.Batch    // the vessels
	Additions []trials.Addition // what goes into them
	Dropped   []trials.Addition // additions that were planned and not made
}

// Records lists what is to be written, the plan last.
func (m *Made) Records() []any {
	var list []any
	if m.Extract != nil {
		list = append(list, m.Extract)
	}
	if m.Tasting != nil {
		list = append(list, m.Tasting)
	}
	for i := range m.Batches {
		list = append(list, &m.Batches[i])
	}
	for i := range m.Additions {
		list = append(list, &m.Additions[i])
	}
	return append(list, &m.Plan)
}

// withMade returns the notebook as it is once the records are written.
func withMade(n *trials.Notebook, m Made) *trials.Notebook {
	out := *n
	if m.Extract != nil {
		out.Extracts = trials.Replaced(out.Extracts, *m.Extract, func(x trials.Extract) string { return x.ID })
	}
	for _, b := range m.Batches {
		out.Batches = trials.Replaced(out.Batches, b, func(x trials.Batch) string { return x.ID })
	}
	for _, a := range m.Additions {
		out.Additions = trials.Replaced(out.Additions, a, func(x trials.Addition) string { return x.ID })
	}
	for _, d := range m.Dropped {
		for i, a := range out.Additions {
			if a.ID == d.ID {
				// with its capacity cut, append copies and leaves the list of the notebook alone
				out.Additions = append(out.Additions[:i:i], out.Additions[i+1:]...)
				break
			}
		}
	}
	out.Plans = trials.Replaced(out.Plans, m.Plan, func(x trials.Plan) string { return x.ID })
	return &out
}

// holdsL is the beer that a batch holds now; ok is false where that cannot be
// worked out.
func holdsL(n *trials.Notebook, b trials.Batch) (litres float64, ok bool) {
	l, err := ledger.Of(n, b)
	if err != nil {
		return 0, false
	}
	return l.Last().State().VolumeL.Value, true
}

// JarL is the size of so many jars that a beer fills, at most mostL each, down to a tenth
// of a litre. A beer that would leave them too small is refused.
func JarL(n *trials.Notebook, b trials.Batch, vessels int, mostL float64) (float64, error) {
	holds, ok := holdsL(n, b)
	if !ok {
		return mostL, nil
	}
	const step, least = 0.1, 0.2
	each := min(mostL, trials.Tidy(math.Floor(holds/float64(vessels)/step)*step))
	if each < least {
		return 0, trials.Refuse("plan fewer jars with --jars, or glasses with: hedgerow plan bench MATERIAL --from "+b.Name,
			"%s holds %s L: too little for %d jars", b.Name, trials.Number(math.Floor(1000*holds)/1000), vessels)
	}
	return each, nil
}

// HoldsL is what a beer holds now, down to a tenth of a litre; instead where that is not
// known.
func HoldsL(n *trials.Notebook, b trials.Batch, instead float64) float64 {
	if holds, ok := holdsL(n, b); ok && holds >= 0.1 {
		return trials.Tidy(math.Floor(10*holds) / 10)
	}
	return instead
}

// CheckRoom refuses vessels that take more beer than a batch holds.
func CheckRoom(n *trials.Notebook, b trials.Batch, vessels int, beerL float64) error {
	holds, ok := holdsL(n, b)
	// the account may fail for a reason that is none of this command: the volumes typed are then what is known
	if !ok {
		holds = b.VolumeL
		for _, kid := range n.Children(b.ID) {
			holds -= kid.VolumeL
		}
	}
	// halves and thirds of a volume, typed again, differ by a rounding
	if need := float64(vessels) * beerL; need > holds*(1+1e-9) {
		return trials.Refuse("make fewer or smaller ones", "%d vessels of %s L are %s L of beer, but %s holds %s L",
			vessels, trials.Number(trials.Round3(beerL)), trials.Number(trials.Round3(need)), b.Name,
			// down, so that what is printed is accepted when it is typed
			trials.Number(math.Floor(1000*holds)/1000))
	}
	return nil
}

// CheckGlasses refuses glasses that take more beer in all than a batch holds; of a batch
// whose volume cannot be worked out nothing is known, and nothing refused.
func CheckGlasses(n *trials.Notebook, b trials.Batch, needL float64) error {
	holds, ok := holdsL(n, b)
	if !ok || needL <= holds {
		return nil
	}
	return trials.Refuse("fewer tasters, less in each glass with --glass, or another beer",
		"the glasses take %s L of beer, but %s holds %s L", trials.Number(trials.Round3(needL)), b.Name,
		trials.Number(math.Floor(1000*holds)/1000))
}

// RecordsOf makes the records of a plan, as planned: the extract, a child of
// the parent for each vessel (for a batch, the parent itself), and what goes into
// each.
func RecordsOf(n *trials.Notebook, name, kind string, parent trials.Batch, d trials.Design, at time.Time) (Made,
	error) {
	if err := trials.CheckName("plan", name); err != nil {
		return Made{}, err
	}
	if len(d.Vessels) == 0 {
		return Made{}, trials.Refuse("plan at least one glass, jar or batch", "plan %s has no vessel to write down", name)
	}
	m := Made{Plan: trials.Plan{Record: trials.Record{ID: trials.NewID(), Name: name}, Kind: kind,
		MaterialKey: d.MaterialKey, BatchID: parent.ID, At: at, Design: d}}
	m.Plan.Design.Vessels = append([]trials.Vessel(nil), d.Vessels...)
	if d.Direct == nil {
		x := asExtract(d)
		x.Record, x.MadeAt = trials.Record{ID: trials.NewID(), Name: name + "-" + d.Method}, at
		m.Extract, m.Plan.ExtractID = &x, &x.ID
	}
	for i := range m.Plan.Design.Vessels {
		v := &m.Plan.Design.Vessels[i]
		b := parent
		if kind != trials.PlanBatch {
			b = trials.Batch{Record: trials.Record{ID: trials.NewID(), Name: fmt.Sprintf("%s-%d", name, v.Number)},
				ParentID: &parent.ID, Kind: kindOf[kind], StartedAt: at, VolumeL: v.BeerL}
			if err := b.Validate(); err != nil {
				return Made{}, err
			}
			m.Batches = append(m.Batches, b)
		}
		v.Name, v.BatchID = b.Name, b.ID
		made := vesselAdditions(n, m.Plan, b, *v)
		m.Additions, v.AdditionIDs = append(m.Additions, made...), additionIDs(made)
	}
	if kind != trials.PlanBatch {
		if err := CheckRoom(n, parent, len(d.Vessels), d.Vessels[0].BeerL); err != nil {
			return Made{}, err
		}
	}
	return m, checkMade(n, m, parent)
}

// additionIDs lists the ids of additions.
func additionIDs(list []trials.Addition) []string {
	ids := make([]string, len(list))
	for i, a := range list {
		ids[i] = a.ID
	}
	return ids
}

// kindOf is the kind of batch of the vessels of a plan.
var kindOf = map[string]string{trials.PlanBench: trials.KindGlass, trials.PlanSplit: trials.KindJar}

// checkMade works out the account of every batch once with the new records.
func checkMade(n *trials.Notebook, m Made, parent trials.Batch) error {
	// events of one moment stand in the order they were written; what is new is written now, after all others
	after := withMade(n, m)
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
	for _, b := range append([]trials.Batch{parent}, m.Batches...) {
		if err := ledger.CheckAccount(after, n, b); err != nil {
			return err
		}
	}
	return nil
}

// vesselAdditions is what goes into one vessel.
func vesselAdditions(n *trials.Notebook, p trials.Plan, b trials.Batch, v trials.Vessel) []trials.Addition {
	var list []trials.Addition
	add := func(a trials.Addition) {
		a.Record = trials.Record{ID: trials.NewID(), Name: freeAddition(n, b.Name, len(list))}
		a.BatchID, a.At = b.ID, p.At
		if a.Stage == "" {
			a.Stage = trials.StageSecondary
		}
		if b.Kind == trials.KindGlass {
			a.Stage = trials.StageGlass
		}
		list = append(list, a)
	}
	// by no volume, so that the pour stays all of it when the volume turns out different
	switch {
	case p.ExtractID != nil && p.Kind == trials.PlanBatch && v.PourL == p.Design.ExtractL:
		add(trials.Addition{ExtractID: p.ExtractID}) // all of it, however much it was
	case v.PourL > 0:
		pour := v.PourL
		add(trials.Addition{ExtractID: p.ExtractID, PouredL: &pour})
	}
	if v.WaterL > 0 {
		add(topUpOf(p.Design, v.WaterL))
	}
	if v.MassG > 0 && p.Design.Direct != nil {
		a, mass := *p.Design.Direct, v.MassG
		a.MassG, a.Lot, a.Note = &mass, "", ""
		add(a)
	}
	return list
}

// topUpOf is what makes the added liquid equal in all vessels: water, or beside a
// tincture the same spirit, since its strength can be tasted too.
func topUpOf(d trials.Design, litres float64) trials.Addition {
	a := trials.Addition{LiquidKind: "water", VolumeL: &litres}
	if d.SpiritPct != nil {
		a.LiquidKind, a.StrengthPct = "spirit", d.SpiritPct
	}
	return a
}

// freeAddition is the next free name of an addition of a batch, after so many
// that are being made.
func freeAddition(n *trials.Notebook, batch string, more int) string {
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
