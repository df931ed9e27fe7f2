package planning

import (
	"slices"

	"hedgerow/trials"
	"hedgerow/trials/catalogue"
)

// Cautions returns what to beware of in a plan, the material's own cautions
// first, then those of what is done with it.
func Cautions(n *trials.Notebook, materials trials.Materials, kind string, d trials.Design) []trials.Caution {
	list := d.Handling().Concerned(n.SeriousCautions(d.MaterialKey))
	for _, c := range materials.ProcessCautions(processes(d, kind)...) {
		// a material may have the same hazard on its own account, in words that fit it better
		if !slices.ContainsFunc(list, func(o trials.Caution) bool { return o.HazardCode == c.HazardCode }) {
			list = append(list, c)
		}
	}
	return list
}

// processes are the processes of a plan that have cautions of their own.
func processes(d trials.Design, kind string) []string {
	const hotC = 50 // above it a splash scalds; common practice, no source
	list := []string{catalogue.ProcessInfection}
	for _, p := range d.Passes {
		if p.StartC <= hotC {
			continue
		}
		list = append(list, catalogue.ProcessScald, catalogue.ProcessGlassShock, catalogue.ProcessHeatPlastic)
		if p.Separation != trials.SeparationDrained {
			list = append(list, catalogue.ProcessHotPress)
		}
	}
	if d.Direct != nil && d.Direct.InWort() {
		list = append(list, catalogue.ProcessScald, catalogue.ProcessGlassShock)
	}
	if d.SpiritPct != nil {
		list = append(list, catalogue.ProcessTinctureFlame, catalogue.ProcessTinctureStrength)
	}
	if d.Form == "powder" {
		list = append(list, catalogue.ProcessVapourDust)
	}
	if kind != trials.PlanBench {
		list = append(list, catalogue.ProcessGlassHandling, catalogue.ProcessBottleBomb, catalogue.ProcessPressureKeg)
	}
	return list
}
