package extraction

import "fmt"

// Term is one line of the way from inputs to result.
type Term struct {
	// Name says what the value is, with the pass before it where there are several.
	Name string
	// Formula is in the letters of the package comment; empty for a plain figure.
	Formula string
	// Value is the figure in Unit.
	Value float64
	// Unit is that of the figure, "1" for a share or factor.
	Unit string
}

// Explain returns the intermediate values of one class in the order in which
// they are computed. The inputs and their origins are in Steep.Provenance.
func (r *Result) Explain(class Class) []Term {
	moisture, _ := r.Steep.moisture()
	row := &formRows[r.Steep.Form]
	terms := []Term{
		{"dry matter", "m (1 - M)", r.DryG, "g"},
		{"as-dried equivalent", fmt.Sprintf("m (1 - %s)/(1 - %s)", number(moisture), number(RefMoisture)), r.AsDriedG, "g"},
		{"class ceiling", "u", r.Ceiling[class], "1"},
		{"rate at 80 C", "k80 * factor of the class", row.K80 * classRows[class].RateFactor, "/min"},
		{"activation energy", "Ea of the class", classRows[class].EaKJ, "kJ/mol"},
	}
	for i := range r.Passes {
		terms = append(terms, r.passTerms(passName(i, len(r.Passes)), &r.Passes[i], class)...)
	}
	return append(terms,
		Term{"yield", "Y, sum over passes", r.Yield[class], "1"},
		Term{"survival of heat", "S", r.Survival[class], "1"},
		Term{"left undissolved", "", r.Left.Undissolved[class], "1"},
		Term{"left in held liquid", "", r.Left.InHeldLiquid[class], "1"},
		Term{"lost by heat", "", r.Left.LostByHeat[class], "1"},
		Term{"extract", "sum of liquid out", r.ExtractML, "mL"})
}

// passTerms returns the intermediate values of one pass.
func (r *Result) passTerms(prefix string, p *passResult, class Class) []Term {
	terms := []Term{
		{prefix + "reduced time", "tau = integral of exp(-(Ea/R)(1/T - 1/353.15)) dt", p.ReducedMinutes[class],
			"min at 80 C"},
		{prefix + "agitation, bag and solvent", "g * s_solv", p.RateFactor, "1"},
		{prefix + "rate times time", "K = k80 * factor * g * s_solv * tau", p.RateTime[class], "1"},
		{prefix + "share of equilibrium", "(T - S)/(phi T)", p.ShareOfEquilibrium[class], "1"},
	}
	if r.Steep.Method.IsDirect() {
		return append(terms, Term{prefix + "released", "X = w + (1-w)(1 - exp(-K))", p.Yield[class], "1"})
	}
	return append(terms,
		Term{prefix + "liquid present", "L = V + H before + 0.60 mL/g of what dissolves", p.LiquidML, "mL"},
		Term{prefix + "liquid held", "H = min(r m, L)", p.LiquidHeldML, "mL"},
		Term{prefix + "yield", "(T - S)(L - H)/L", p.Yield[class], "1"})
}
