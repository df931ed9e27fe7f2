package dilution

import (
	"encoding/json"
	"math"
	"testing"
)

// checkExamples are inputs for each family of check names, those of rows in the
// file where there is one.
var checkExamples = map[string]string{
	"dilute_water":  `{"V_L": 12, "og": 1.048, "fg": 1.010, "ibu": 30, "ebc": 12, "water_L": 0.6, "water_t_C": 20}`,
	"add_tea":       `{"V_L": 19, "og": 1.05, "fg": 1.011, "tea_L": 0.5, "tea_t_C": 20, "solids_gL": 8}`,
	"add_tincture":  `{"V_L": 19, "og": 1.06, "fg": 1.012, "tincture_L": 0.25, "tincture_abv_pct": 60, "tincture_t_C": 20}`,
	"sugar_before":  `{"V_L": 20, "og": 1.048, "extract_kg": 1, "water_kg": 0}`,
	"sugar_after":   `{"V_L": 19, "og": 1.048, "fg": 1.01, "fermentable_kg": 0.2, "nonfermentable_kg": 0.02, "water_kg": 1}`,
	"fruit_mid":     `{"V": 18, "og": 1.052, "sg_now": 1.02, "fg_base": 1.011, "fruit_kg": 2.5, "f_water": 0.8575, "f_sugar": 0.0442, "f_nonferm": 0.0148, "retain": 0.5}`,
	"batch_masses":  `{"V_L": 12, "og": 1.048, "fg": 1.010}`,
	"uncertainty.d": `{"V": {"half_width": 0.24, "value": 12}, "og": 1.048, "fg": 1.010, "water": {"half_width": 0.006, "value": 0.6}, "ibu": 30, "ebc": 12}`,
}

// sameFigures are names that mean one figure.
var sameFigures = map[string][][]string{
	"dilute_water": {
		{"volume_L"}, {"sg"}, {"abv", "abv_pct"}, {"re", "real_extract_pct"}, {"equiv_og", "og"}, {"ibu"}, {"ebc"}, {"srm"},
		{"abw_pct"}, {"factor", "dilution_factor"},
	},
	"add_tea":      {{"volume_L"}, {"sg"}, {"abv", "abv_pct"}, {"re", "real_extract_pct"}, {"equiv_og", "og"}},
	"add_tincture": {{"volume_L"}, {"sg"}, {"abv", "abv_pct"}, {"re", "real_extract_pct"}},
	"sugar_before": {{"volume_L"}, {"sg", "equiv_og", "og"}},
	"sugar_after": {
		{"volume_L_mix", "volume_L_mixed"}, {"sg_mix", "sg_mixed"}, {"volume_L_end"}, {"fg_end", "sg_end"}, {"abv_end"},
		{"og_equiv_end", "equiv_og_end"}, {"co2_gL_balling"}, {"co2_vol_balling"}, {"co2_gL_upper_disaccharide"},
		{"co2_vol_upper_disaccharide"}, {"co2_gL_upper_hexose"}, {"co2_vol_upper_hexose"},
	},
	"fruit_mid": {
		{"volume_L_mix", "volume_L_mixed"}, {"sg_mix", "sg_mixed"}, {"volume_L_end"}, {"sg_end", "fg", "fg_end"},
		{"abv_end", "abv"}, {"og_equiv_end", "equiv_og_end", "og_equiv", "equiv_og"}, {"volume_racked_L", "volume_L_racked"},
		{"co2_g", "co2_to_come_g"}, {"re"},
	},
	"batch_masses": {{"water_kg"}, {"ethanol_kg"}, {"extract_kg"}},
}

// TestCheckNames: every name of every family is known, gives an ordinary
// positive number, and names of one figure give the same.
func TestCheckNames(t *testing.T) {
	value := func(quantity, inputs string) float64 {
		v, known, err := Evaluate(quantity, json.RawMessage(inputs))
		if !known || err != nil || !(v > 0) {
			t.Errorf("%s = %g, known %v, error %v", quantity, v, known, err)
		}
		return v
	}
	for family, figures := range sameFigures {
		for _, names := range figures {
			first := value(family+"."+names[0], checkExamples[family])
			for _, name := range names[1:] {
				if v := value(family+"."+name, checkExamples[family]); v != first {
					t.Errorf("%s.%s = %g, %s = %g", family, name, v, names[0], first)
				}
			}
		}
	}
}

// TestColourScales: EBC is SRM times 25/12.7 by definition, and dilutes like
// bitterness.
func TestColourScales(t *testing.T) {
	inputs := json.RawMessage(checkExamples["dilute_water"])
	get := func(name string) float64 {
		v, _, err := Evaluate("dilute_water."+name, inputs)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	closeTo(t, "EBC over SRM", get("ebc")/get("srm"), 25/12.7, 1e-12)
	closeTo(t, "EBC diluted", get("ebc")/12, get("ibu")/30, 1e-12)
	closeTo(t, "factor", get("factor"), get("ibu")/30, 1e-12)
}

// TestStatistics: all statistics of a figure hang together: quantiles about the
// value, both standard uncertainties alike.
func TestStatistics(t *testing.T) {
	inputs := json.RawMessage(checkExamples["uncertainty.d"])
	for _, figure := range []string{"volume_L", "ebc"} {
		get := func(statistic string) float64 {
			v, known, err := Evaluate("uncertainty.dilute."+figure+"."+statistic, inputs)
			if !known || err != nil {
				t.Fatalf("%s.%s: known %v, error %v", figure, statistic, known, err)
			}
			return v
		}
		value, u := get("value"), get("u_gum")
		if !(get("mc_2.5pct") < value && value < get("mc_97.5pct")) {
			t.Errorf("%s: value %g is not between its quantiles", figure, value)
		}
		// 200000 draws leave 0.2 % of noise in a standard deviation.
		if sd := get("u_mc"); math.Abs(sd/u-1) > 0.02 || sd != get("mc_sd") {
			t.Errorf("%s: u %g by first order, %g by draws", figure, u, sd)
		}
	}
}
