package dilution

import (
	"slices"

	"hedgerow/trials/figure"
)

// sinceOf returns the earlier snapshot that the change of snapshot i is counted
// from; false where none was asked for.
func (p *program) sinceOf(i int) (int, bool) {
	if i >= len(p.since) || p.since[i] < 0 || p.since[i] >= i {
		return 0, false
	}
	return p.since[i], true
}

// changeDoubt is what the model leaves in doubt of a change of the strength. The
// error of the model is one of the strength that was brewed, so it is thinned with
// it, like any solute: only the part by which it is thinned is left in a change.
func (p *program) changeDoubt(before, after *Snapshot) StrengthDoubt {
	b, a := p.doubtOf(&before.State), p.doubtOf(&after.State)
	d := StrengthDoubt{ModelPct: a.ModelPct - b.ModelPct, FermentedPct: a.FermentedPct - b.FermentedPct,
		YieldRel: YieldURel}
	if b.ModelPct > 0 && a.ModelPct > 0 {
		thinned := after.KeptShare / before.KeptShare * before.State.VolumeL() / after.State.VolumeL()
		d.ModelPct = (thinned - 1) * ModelABVPct
	}
	return d
}

// changes estimates the change of every quantity since an earlier snapshot, draw
// by draw. The columns of that snapshot must have been kept, and the strength not
// yet blurred by the model.
func (sim *simulation) changes(i int, snaps []Snapshot) (out [NumQuantities]figure.Estimate) {
	from, ok := sim.sinceOf(i)
	if !ok {
		return out
	}
	var before, now figures
	snaps[from].State.measure(&before)
	snaps[i].State.measure(&now)
	for q := range NumQuantities {
		if !snaps[from].State.known(q) || !snaps[i].State.known(q) {
			continue
		}
		for d, x := range sim.columns[q] {
			sim.dose[d] = x - sim.kept[from][q][d]
		}
		if q == QABV {
			sim.blur(sim.dose, sim.changeDoubt(&snaps[from], &snaps[i]))
		}
		out[q] = estimate(now[q]-before[q], sim.dose, sim.scratch)
	}
	if !slices.Contains(sim.since[i+1:], from) {
		delete(sim.kept, from) // a long ledger would hold every column it ever had
	}
	return out
}

// keep copies the columns of a snapshot that a later one is compared with, for
// the search of quantiles reorders them.
func (sim *simulation) keep(i int) {
	if !slices.Contains(sim.since, i) {
		return
	}
	var copied [NumQuantities][]float64
	for q := range copied {
		copied[q] = slices.Clone(sim.columns[q])
	}
	sim.kept[i] = copied
}

// since returns the budgets of what changed since an earlier snapshot: one source
// of error moves both, and only the difference of its effects counts.
func (sb *StepBudget) since(before *StepBudget, doubt StrengthDoubt) [NumQuantities]budget {
	var out [NumQuantities]budget
	for q := range out {
		out[q] = sb.Quantities[q].less(&before.Quantities[q])
	}
	abv := out[QABVInputs]
	// shared with QABVInputs, which has to stay without the part of the model
	abv.Parts = slices.Clone(abv.Parts)
	abv.blame(modelError, doubt.ModelPct)
	abv.blame(YieldError, doubt.YieldRel*doubt.FermentedPct)
	out[QABV] = abv
	for q := range out {
		out[q].close()
	}
	return out
}

// less is the budget of a difference, not closed yet.
func (b *budget) less(before *budget) budget {
	if !b.OK || !before.OK {
		return budget{}
	}
	out := budget{Value: b.Value - before.Value, OK: true, Parts: slices.Clone(b.Parts)}
	for _, part := range before.Parts {
		// a source that raised the earlier figure too moves the change by the difference alone
		part.U = -part.U
		at := slices.IndexFunc(out.Parts, func(p contribution) bool { return p.Name == part.Name && p.Step == part.Step })
		if at < 0 {
			out.Parts = append(out.Parts, part)
			continue
		}
		out.Parts[at].U += part.U
	}
	// what moves both alike, as the zero of one hydrometer nearly does, is no doubt of the change
	out.Parts = slices.DeleteFunc(out.Parts, func(p contribution) bool { return p.U == 0 })
	return out
}
