package catalogue

import "slices"

// The processes that have cautions of their own, for ProcessCautions.
const (
	ProcessScald             = "scald"
	processSteam             = "steam"
	ProcessGlassShock        = "glass-shock"
	ProcessGlassHandling     = "glass-handling"
	ProcessBottleBomb        = "bottle-bomb"
	processOneWayBottle      = "one-way-bottle"
	ProcessTinctureFlame     = "tincture-flame"
	ProcessTinctureStrength  = "tincture-strength"
	ProcessInfection         = "infection"
	processSteepTemperature  = "steep-temperature"
	processCO2               = "co2"
	ProcessPressureKeg       = "pressure-keg"
	processCleaningChemicals = "cleaning-chemicals"
	processAcidHandling      = "acid-handling"
	processSpentPlantsPets   = "spent-plants-pets"
	processLabGlass          = "lab-glass"
	ProcessHeatPlastic       = "heat-plastic"
	ProcessVapourDust        = "alcohol-vapour-dust"
	ProcessHotPress          = "strained-hot-press"
)

// ProcessCautions returns the cautions of the given processes, the most
// serious first. A word that is no process has none.
func (c *Catalogue) ProcessCautions(processes ...string) []Caution {
	return c.cautionsWhere(func(row Caution) bool {
		return row.About == AboutProcess && slices.ContainsFunc(processes, func(p string) bool {
			return slices.Contains(row.AppliesTo, "process:"+p)
		})
	})
}
