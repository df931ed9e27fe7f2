package report

import (
	"math"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials/ledger"
)

// explanation is how figures came about, as --json prints it.
type explanation struct {
	Formulas []string         `json:"formulas"`
	Masses   []explainedMass  `json:"masses"`
	Inputs   []explainedInput `json:"inputs"`
	Sources  []string         `json:"sources"`
}

// explainedMass is what is in the beer at a stage or after an event.
type explainedMass struct {
	At        string  `json:"at"`         // when it happened
	WaterKg   float64 `json:"water_kg"`   // water, kg
	EthanolKg float64 `json:"ethanol_kg"` // ethanol, kg
	ExtractKg float64 `json:"extract_kg"` // extract, kg
}

// explainedInput is one input with its origin.
type explainedInput struct {
	Name         string  `json:"name"`  // unique among records of its kind
	Value        float64 `json:"value"` // the figure itself
	Unit         string  `json:"unit"`  // of the figure
	HalfWidth    float64 `json:"half_width"`
	Origin       string  `json:"origin"` // where it comes from
	LimitOrigin  string  `json:"limit_origin"`
	Contribution float64 `json:"contribution_to_abv_pct"`
}

// The formulas of the mass balance, in the letters of the tables: W, E and X are
// kilograms of water, ethanol and extract.
const (
	formulaState = "V = (E+W)/rhoEW(E/(E+W), t) + (X+W)/rhoS(X/(X+W), t) - W/rhoW(t); SG = (W+E+X)/V(20)/rhoW(20); " +
		"% vol = 100 (E/789.2391)/V(20), V in m3."
	formulaFerment = "Fermentation after Balling: 2.0665 g of extract give 1 g of ethanol; a gravity read fixes how " +
		"much has fermented, at the original extract that the beer then has."
	formulaAdd = "An addition adds its masses; what ferments of it counts from then on. Volumes measured hot or " +
		"cold are turned into masses by their density there."
	formulaLose = "A loss, a split and what pulp keeps back take the same share of everything; evaporation takes " +
		"water alone."
	formulaFloat = "Hydrometer: rho = (R - zero) rhoW(Tref)/(1 + 25e-6 (T - Tref)), then the beer (or wort) of " +
		"that density at T, taken to 20 C."
	formulaPH  = "pH = b1 + (r - r1)(b2 - b1)/(r2 - r1), from what the meter showed (r1, r2) in two buffers (b1, b2)."
	formulaGas = "CO2 in volumes = f S(t) p / 1.977, S by Weiss, f = 0.94 in beer (1 as an upper bound); sugar " +
		"left gives 0.4629 g of CO2 a gram by Balling, at most 0.5143."
	formulaDoubt = "Limits are rectangular, u = limit/sqrt 3; intervals are 2.5 to 97.5 % of Monte Carlo draws. A " +
		"strength from two gravities has a model uncertainty of 0.10 % vol besides, and what was fermented one of 1.2 " +
		"% (0.8 to 0.9 % where both gravities were read) for the yield of the yeast, one error for the whole batch. A " +
		"change counts only what before and after do not share."
	formulaCondition = "In the package: f = c (X - what does not ferment), E + f/2.0665, X - f, with c = 1 (0.95 to 1); " +
		"CO2 gained is 0.4629 f/V, at most 0.5143 f/V (dextrose 0.4886)."
)

// The sources of the mass balance.
var (
	balanceSources = []string{"OIML R 22 (ethanol and water)", "ICUMSA SPS-4 (sucrose)", "Kell (water above 40 C)",
		"Balling (fermentation)", "JCGM 100 and 101 (uncertainty)", "Winetech 2020 (yield of ethanol)"}
	otherSources = []string{"ISO 1768 (glass of hydrometers)", "Hetzer 1977 (phthalate buffer)", "Weiss 1974 (CO2)"}
)

// unitOfInput tells the unit of an input by the beginning of its name.
func unitOfInput(name string) string {
	for _, u := range []struct{ lead, unit string }{
		// the longer beginning first where one is part of another: "CO2 solubility" has no unit, "CO2" has
		{"volume", "L"}, {"sample loss", "L"}, {"trub loss", "L"}, {"transfer loss", "L"}, {"evaporation loss", "L"},
		{"mass", "kg"}, {"strength", "% vol"}, {"solids", "g/L"}, {"extract of", "P"}, {"temperature",
			"C"}, {"sample temperature", "C"}, {"warmest", "C"},
		{"liquid kept back", "kg/kg"}, {"water share", "kg/kg"}, {"sugar share", "kg/kg"}, {"other solubles",
			"kg/kg"}, {"fermentable share", "kg/kg"}, {"share that ferments", "kg/kg"}, {"extracted share", "kg/kg"},
		{"bitterness", "IBU"}, {"colour", "SRM"}, {"CO2 solubility", ""}, {"CO2", "volumes"},
		{"original gravity", "SG"}, {"gravity", "SG"}, {"final gravity", "SG"}, {"expected final gravity",
			"SG"}, {"zero error", "SG"},
	} {
		if len(name) >= len(u.lead) && name[:len(u.lead)] == u.lead {
			return u.unit
		}
	}
	return ""
}

// explainedInputs turns inputs into their printed form. A budget keeps the sign of
// what an input does; as a standard uncertainty it has none (JCGM 100:2008, 2.3.1).
func explainedInputs(list []ledger.InputShare) []explainedInput {
	out := make([]explainedInput, 0, len(list))
	for _, in := range list {
		out = append(out, explainedInput{in.Name, in.Value, unitOfInput(in.Name), in.HalfWidth, in.Origin.Value,
			in.Origin.Limit, math.Abs(in.ABVContribution)})
	}
	return out
}

// sections draws an explanation.
func (x explanation) sections(at string) []document.Section {
	masses := document.Table{Columns: []document.Column{{Title: at, Wrap: true}, {Title: "water kg", Right: true},
		{Title: "ethanol kg", Right: true}, {Title: "extract kg", Right: true}}}
	for _, m := range x.Masses {
		masses.Rows = append(masses.Rows, []string{m.At, document.Fixed(m.WaterKg, 4), document.Fixed(m.EthanolKg, 4),
			document.Fixed(m.ExtractKg, 4)})
	}
	inputs := document.Table{Columns: []document.Column{{Title: "input", Wrap: true}, {Title: "value", Right: true},
		{Title: "limit ±", Right: true}, {Title: "unit"}, {Title: "from", Wrap: true},
		{Title: "u(% vol)", Right: true}}}
	for _, in := range x.Inputs {
		inputs.Rows = append(inputs.Rows, []string{in.Name, document.Significant(in.Value, 5), limitText(in.HalfWidth),
			in.Unit, originWords(in), document.Fixed(in.Contribution, 3)})
	}
	return []document.Section{
		{Heading: "How it was worked out", Paragraphs: x.Formulas},
		{Heading: "Masses", Table: &masses},
		{Heading: "Inputs and what each adds to the doubt of the strength", Table: &inputs,
			Notes: []string{"sources: " + strings.Join(x.Sources, ", ")}},
	}
}

// limitText prints a limit, or a dash for a figure without one.
func limitText(half float64) string {
	if half == 0 {
		return "-"
	}
	return document.Significant(half, 2)
}

// originWords says where an input and its limit come from.
func originWords(in explainedInput) string {
	switch in.LimitOrigin {
	case "", in.Origin:
		return in.Origin
	}
	return in.Origin + "; limit: " + in.LimitOrigin
}
