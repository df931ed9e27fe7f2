package checks

import (
	"hedgerow/extraction"
	"hedgerow/trials/steeps"
)

// teaQuantity is a figure of a tea whose strength was read, by what the account of an
// extract calls.
func teaQuantity(name string) (evaluator, bool) {
	compute, ok := map[string]evaluator{
		"solids_from_sg":          teaSolids,
		"solids_u":                teaSolidsU,
		"posterior_yield":         posterior(func(u extraction.SolidsUpdate) float64 { return u.NewYield }),
		"posterior_sdln_yield":    posterior(func(u extraction.SolidsUpdate) float64 { return u.NewYieldSDLn }),
		"posterior_solids_per_dm": posterior(func(u extraction.SolidsUpdate) float64 { return u.NewShare }),
	}[name]
	return compute, ok
}

// teaSolids are the dissolved solids of a tea of that gravity, g/L.
func teaSolids(in *inputs) (float64, error) {
	return steeps.TeaGravity{SG: in.num("sg"), WaterSG: in.num("sg_water"), Factor: in.num("factor")}.Solids()
}

// teaSolidsU is their standard uncertainty, g/L.
func teaSolidsU(in *inputs) (float64, error) {
	return steeps.TeaGravity{Factor: in.num("factor")}.SolidsDoubt(in.num("solids_g_per_L"), in.num("u_sg"),
		in.num("u_factor")), nil
}

// posterior is a figure after a reading was weighed against what was expected.
func posterior(figure func(extraction.SolidsUpdate) float64) evaluator {
	return func(in *inputs) (float64, error) {
		u, err := extraction.SolidsEvidence{Share: in.num("prior_solids_per_dm"), ShareSDLn: in.num("prior_sdln_solids"),
			Yield: in.num("prior_yield"), YieldSDLn: in.num("prior_sdln_yield"),
			PerDry: in.num("measured_solids_per_dm"), PerDrySDLn: in.num("sdln_measured")}.Update()
		return figure(u), err
	}
}
