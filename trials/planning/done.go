package planning

import (
	"slices"
	"time"

	"hedgerow/trials"
)

// Done is what was really done with a plan where it differs from what was
// planned. Vessels and passes go by their numbers on the sheet.
type Done struct {
	At         time.Time       // when it was really done
	MassG      *float64        // material weighed for the extract
	RecoveredL map[int]float64 // liquid that came out, by pass
	BeerL      map[int]float64 // beer taken, by vessel
	PourL      map[int]float64 // extract poured, by vessel; 0 for none
	WaterL     map[int]float64 // water added, by vessel; 0 for none
	VesselG    map[int]float64 // material put in itself, by vessel; 0 for none
}

// Plan returns the plan of that name.
func Plan(n *trials.Notebook, name string) (trials.Plan, error) {
	return trials.Find("plan", name, n.Plans, func(p trials.Plan) string { return p.Name })
}

// Complete works out the corrected records of a plan that was carried out. The
// design stays as planned.
func Complete(n *trials.Notebook, p trials.Plan, d Done) (Made, error) {
	m := Made{Plan: p}
	m.Plan.DoneAt = &d.At
	if err := extractDone(n, &m, d); err != nil {
		return m, err
	}
	if p.Kind == trials.PlanTaste {
		return m, tasteDone(n, &m, p, d)
	}
	for _, numbers := range []map[int]float64{d.BeerL, d.PourL, d.WaterL, d.VesselG} {
		for number := range numbers {
			if number < 1 || number > len(p.Design.Vessels) {
				return m, trials.Refuse("write the number on the sheet, such as 2=3.5mL",
					"there is no vessel %d in plan %s", number, p.Name)
			}
		}
	}
	// cloned: the plan of the notebook keeps its vessels until all is checked
	m.Plan.Design.Vessels = slices.Clone(p.Design.Vessels)
	for i := range m.Plan.Design.Vessels {
		if err := vesselDone(n, &m, d, &m.Plan.Design.Vessels[i]); err != nil {
			return m, err
		}
	}
	parent, ok := n.BatchByID(p.BatchID)
	if !ok {
		return m, trials.Refuse("it was deleted", "the beer of plan %s is not in the notebook", p.Name)
	}
	return m, checkMade(n, m, parent)
}

// tasteDone corrects an evening of dosing to taste: when it was held. What each taster
// noted stands in the tasting, and no glass is a trial of its own.
func tasteDone(n *trials.Notebook, m *Made, p trials.Plan, d Done) error {
	if len(d.BeerL)+len(d.PourL)+len(d.WaterL)+len(d.VesselG) > 0 {
		return trials.Refuse("hedgerow tasting edit "+p.Name+" --glass 60mL says how much beer was in each",
			"plan %s is dosed to taste: its glasses are all alike", p.Name)
	}
	stood := p.At
	if p.DoneAt != nil {
		stood = *p.DoneAt
	}
	if d.At.Equal(stood) || p.TastingID == nil {
		return nil
	}
	if t, ok := n.TastingByID(*p.TastingID); ok {
		t.At = d.At
		m.Tasting = &t
	}
	return nil
}

// extractDone corrects the extract.
func extractDone(n *trials.Notebook, m *Made, d Done) error {
	if m.Plan.ExtractID == nil {
		switch {
		case d.MassG == nil && len(d.RecoveredL) == 0:
		case m.Plan.Kind == trials.PlanTaste:
			return trials.Refuse("hedgerow extract edit "+m.Plan.Design.Taste.Extract+" corrects it",
				"plan %s made no extract; it drops in %s", m.Plan.Name, m.Plan.Design.Taste.Extract)
		default:
			return trials.Refuse("give the grams of each vessel, such as --weighed 2=4.5g", "plan %s has no extract",
				m.Plan.Name)
		}
		return nil
	}
	x, ok := n.ExtractByID(*m.Plan.ExtractID)
	if !ok {
		return trials.Refuse("it was deleted", "the extract of plan %s is not in the notebook", m.Plan.Name)
	}
	x.MadeAt, x.Passes = d.At, slices.Clone(x.Passes)
	if d.MassG != nil {
		x.MassG = *d.MassG
	}
	for number, litres := range d.RecoveredL {
		if number < 1 || number > len(x.Passes) {
			return trials.Refuse("write the number of the pass, such as 1=80mL", "extract %s has no pass %d", x.Name, number)
		}
		// the planned held liquid no longer follows from what came out
		x.Passes[number-1].RecoveredL, x.Passes[number-1].HeldL = &litres, nil
	}
	m.Extract = &x
	return x.Validate()
}

// vesselDone corrects one vessel: the beer taken and what went into it. What is
// not told anew stays as it was logged last.
func vesselDone(n *trials.Notebook, m *Made, d Done, v *trials.Vessel) error {
	b, ok := n.BatchByID(v.BatchID)
	if !ok {
		return trials.Refuse("it was deleted; log what was done with hedgerow addition add",
			"%s of plan %s is not in the notebook", v.Name, m.Plan.Name)
	}
	// a plan of a batch pours into a beer of the brewer's own, whose start and volume stand
	if m.Plan.Kind != trials.PlanBatch {
		b.StartedAt = d.At
		b.VolumeL = valueOr(d.BeerL, v.Number, b.VolumeL)
		if err := b.Validate(); err != nil {
			return err
		}
		m.Batches = append(m.Batches, b)
	}
	logged := logged(n, *v)
	now := *v
	now.PourL, now.WaterL, now.MassG = valueOr(d.PourL, v.Number, logged.PourL), valueOr(d.WaterL, v.Number,
		logged.WaterL), valueOr(d.VesselG, v.Number, logged.MassG)
	plan := m.Plan
	plan.At = d.At
	v.AdditionIDs = matchAdditions(n, m, b, *v, vesselAdditions(n, plan, b, now))
	return nil
}

// logged is what the records say went into a vessel.
func logged(n *trials.Notebook, v trials.Vessel) trials.Vessel {
	planned := v.PourL
	v.PourL, v.WaterL, v.MassG = 0, 0, 0
	for _, a := range additionsOf(n, v) {
		switch {
		case a.ExtractID != nil && a.PouredL != nil:
			v.PourL = *a.PouredL
		// a pour without a volume is all of the extract
		case a.ExtractID != nil:
			v.PourL = planned
		case a.LiquidKind != "" && a.VolumeL != nil:
			v.WaterL = *a.VolumeL
		case a.MassG != nil:
			v.MassG = *a.MassG
		}
	}
	return v
}

// additionsOf returns the additions of a vessel that are still there.
func additionsOf(n *trials.Notebook, v trials.Vessel) []trials.Addition {
	var list []trials.Addition
	for _, a := range n.Additions {
		if slices.Contains(v.AdditionIDs, a.ID) {
			list = append(list, a)
		}
	}
	return list
}

// valueOr is the entry of a vessel, else what stands already.
func valueOr(list map[int]float64, number int, stands float64) float64 {
	if v, ok := list[number]; ok {
		return v
	}
	return stands
}

// matchAdditions puts the additions as done in the place of those logged, like
// for like; what has no counterpart is added or dropped.
func matchAdditions(n *trials.Notebook, m *Made, b trials.Batch, v trials.Vessel, done []trials.Addition) []string {
	old := additionsOf(n, v)
	fresh := 0
	for i := range done {
		a := &done[i]
		// by what went in, for names and order may have been edited since
		k := slices.IndexFunc(old, func(o trials.Addition) bool {
			return (o.ExtractID != nil) == (a.ExtractID != nil) && o.LiquidKind == a.LiquidKind && o.MaterialKey == a.MaterialKey
		})
		if k < 0 {
			a.Name = freeAddition(n, b.Name, fresh)
			fresh++
			continue
		}
		// remarks and lot that were added meanwhile stay
		kept := old[k]
		kept.At, kept.PouredL, kept.VolumeL, kept.MassG = a.At, a.PouredL, a.VolumeL, a.MassG
		*a = kept
		old = slices.Delete(old, k, k+1)
	}
	m.Additions, m.Dropped = append(m.Additions, done...), append(m.Dropped, old...)
	return additionIDs(done)
}
