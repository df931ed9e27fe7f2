package checks

import (
	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// beerFigures are the figures of a beer by the names the rows use, as the
// account estimates them. The rows call the same figure by short and long names.
var beerFigures = map[string]dilution.Quantity{
	"volume_L":         dilution.QVolumeL,
	"sg":               dilution.QSG,
	"abv_pct":          dilution.QABVInputs,
	"abv":              dilution.QABVInputs,
	"real_extract_pct": dilution.QRealExtract,
	"re":               dilution.QRealExtract,
	"equiv_og":         dilution.QOriginalSG,
	"og_equiv":         dilution.QOriginalSG,
	"og":               dilution.QOriginalSG,
	"ibu":              dilution.QIBU,
	"srm":              dilution.QSRM,
	"ebc":              dilution.QSRM, // read as SRM: the scales are proportional
}

// mixQuantity is a figure of a finished beer after water, tea or spirit went in,
// as `hedgerow dilute` works it out.
func mixQuantity(kind string) func(figure string) (evaluator, bool) {
	return func(name string) (evaluator, bool) {
		figure, ok := beerFigures[name]
		isFactor := name == "dilution_factor" || name == "factor"
		return func(in *inputs) (float64, error) {
			d, err := readDilution(in, kind)
			if err != nil {
				return 0, err
			}
			if isFactor {
				return d.Factor.Value, nil
			}
			return d.Moments[len(d.Moments)-1].Result.Estimates[figure].Value, nil
		}, ok || isFactor
	}
}

// readDilution reads a finished beer and one liquid, and dilutes.
func readDilution(in *inputs, kind string) (ledger.Dilution, error) {
	q := ledger.DiluteRequest{VolumeL: exact(in.num("V_L")), OG: exact(in.num("og")), FG: exact(in.num("fg")),
		IBU: exactly(in.maybe("ibu")), SRM: exactly(in.maybe("srm"))}
	// a colour is only thinned: whatever its unit, it comes out in the same
	if q.SRM == nil {
		q.SRM = exactly(in.maybe("ebc"))
	}
	names := map[string]string{"water": "water", "tea": "tea", "spirit": "tincture"}
	l := ledger.Liquid{Kind: kind, VolumeL: new(exact(in.num(names[kind] + "_L"))), TempC: in.maybe(names[kind] + "_t_C"),
		SolidsGPerL: exactly(in.maybe("solids_gL"))}
	if kind == "spirit" {
		l.StrengthPct = new(exact(in.num("tincture_abv_pct")))
	}
	q.Liquids = []ledger.Liquid{l}
	if in.err != nil {
		return ledger.Dilution{}, in.err
	}
	return once(in, kind, func() (ledger.Dilution, error) { return ledger.Dilute(trials.Materials{}, q) })
}

// exact is an amount without a limit.
func exact(v float64) figure.Limited { return figure.Limited{Value: v, HasLimit: true} }

// exactly is an optional amount without a limit.
func exactly(v *float64) *figure.Limited {
	if v == nil {
		return nil
	}
	return new(exact(*v))
}
