package dilution

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestEvaluateUnknown: a quantity that the package does not have is not known,
// and no error.
func TestEvaluateUnknown(t *testing.T) {
	names := []string{
		"", "haze", "beer_haze", "dilute_water.haze", "dilute_water.", "batch_masses.salt_kg", "sugar_after.haze",
		"sugar_before.haze", "fruit_mid.haze", "uncertainty.dilute.haze.u_gum", "uncertainty.dilute.sg.mode",
		"uncertainty.mead.sg.u_gum", "uncertainty.dilute", "other.sg",
	}
	for _, name := range names {
		if _, known, err := Evaluate(name, json.RawMessage(`{}`)); known || err != nil {
			t.Errorf("%q: known %v, error %v", name, known, err)
		}
	}
}

// TestEvaluateErrors: inputs that are missing, no numbers or impossible are
// errors that say so.
func TestEvaluateErrors(t *testing.T) {
	cases := []struct{ quantity, inputs, says string }{
		{"water_density", `{}`, `input "t_C" is missing`},
		{"water_density", `{"t_C": "warm"}`, `input "t_C" is not a number`},
		{"water_density", `{"t_C": 400}`, "temperature 400 is outside"},
		{"water_density", `[`, "inputs of water_density"},
		{"beer_abv", `{"og": 1.01, "fg": 1.05}`, "usually the two were swapped"},
		{"unit_conversion", `{"value": 1, "frm": 5, "to": "L"}`, `input "frm" is not a text`},
		{"unit_conversion", `{"value": 1, "frm": "L"}`, `input "to" is missing`},
		{"uncertainty.dilute.sg.u_gum", `{"V": {"dist": "normal", "value": 12}, "og": 1.05, "fg": 1.01, "water": 1}`, "rectangular half-width"},
		{"uncertainty.dilute.sg.mc_2.5pct", `{"V": 12, "og": 1.05, "fg": 1.01}`, `input "water" is missing`},
		{"fruit_mid.sg_end", `{"V": 12}`, "is missing"},
		{"dilute_water.sg", `{"V_L": 0, "og": 1.05, "fg": 1.01, "water_L": 1}`, "volume in litres 0"},
	}
	for _, c := range cases {
		_, known, err := Evaluate(c.quantity, json.RawMessage(c.inputs))
		if !known || err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %s: known %v, error %v, want one with %q", c.quantity, c.inputs, known, err, c.says)
		}
	}
}

// TestEvaluateFurther: rows that the check file does not have, with values
// printed in the science page, section 7 (computed independently).
func TestEvaluateFurther(t *testing.T) {
	const one = `{"V": {"dist": "rect", "half_width": 0.24, "value": 12}, "og": {"dist": "rect", "half_width": 0.001, "value": 1.048},
		"fg": {"dist": "rect", "half_width": 0.001, "value": 1.010}, "water": {"dist": "rect", "half_width": 0.006, "value": 0.6}, "ibu": 30}`
	const two = `{"V": {"half_width": 0.38, "value": 19}, "og": {"half_width": 0.001, "value": 1.060}, "fg": {"half_width": 0.001, "value": 1.012},
		"Vt": {"half_width": 0.005, "value": 0.25}, "strength": {"half_width": 1, "value": 60}, "solids_gL": {"half_width": 5, "value": 10},
		"plant_g": {"half_width": 1, "value": 50}}`
	const three = `{"V": {"half_width": 0.36, "value": 18}, "og": {"half_width": 0.001, "value": 1.052}, "sg_now": {"half_width": 0.001, "value": 1.020},
		"fg_base": {"half_width": 0.002, "value": 1.011}, "fruit_kg": {"half_width": 0.025, "value": 2.5}, "f_water": 0.8575,
		"f_sugar": {"half_width": 0.0111, "value": 0.0442}, "f_nonferm": {"half_width": 0.005, "value": 0.0148},
		"retain": {"half_width": 0.25, "value": 0.5}}`
	cases := []struct {
		quantity, inputs string
		want, tolerance  float64
	}{
		{"uncertainty.dilute.re.u_gum", one, 0.117, 0.0006},
		{"uncertainty.dilute.re.mc_2.5pct", one, 3.985, 0.004},
		{"uncertainty.dilute.equiv_og.u_gum", one, 0.00055, 0.000006},
		{"uncertainty.dilute.ibu.u_gum", one, 0.018, 0.0006},
		{"uncertainty.dilute.factor.u_gum", one, 0.0006, 0.00006},
		{"uncertainty.dilute.abv_before.value", one, 4.959, 0.0006},
		{"uncertainty.tincture.volume_L.u_gum", two, 0.219, 0.0006},
		{"uncertainty.tincture.dose_gL.u_gum", two, 0.042, 0.0006},
		{"uncertainty.tincture.dose_gL.mc_97.5pct", two, 2.679, 0.002},
		{"uncertainty.fruit.volume_racked_L.u_gum", three, 0.414, 0.0006},
		{"uncertainty.fruit.sg_end.mc_2.5pct", three, 1.00826, 0.00003},
		{"uncertainty.fruit.co2_g.u_gum", three, 24, 0.5},
		{"dilute_water.dilution_factor", `{"V_L": 12, "og": 1.048, "fg": 1.010, "water_L": 0.6}`, 0.9524, 0.00006},
		// Same row of the file, read as absent temperature: 20 C.
		{"dilute_water.sg", `{"V_L": 12, "og": 1.048, "fg": 1.010, "water_L": 0.6}`, 1.0095045, 2e-5},
		// Section 5: 0.25 kg sucrose in 19 L, expected 3.06 volumes.
		{"sugar_after.co2_vol_balling", `{"V_L": 19, "og": 1.048, "fg": 1.010, "fermentable_kg": 0.25}`, 3.06, 0.006},
		// Stoichiometry: hexose over disaccharide is 0.4886 over 0.5143.
		{"sugar_after.co2_vol_upper_hexose", `{"V_L": 19, "og": 1.048, "fg": 1.010, "fermentable_kg": 0.25}`, 3.3974 * 0.4886 / 0.5143, 0.001},
		{"unit_conversion", `{"value": 1, "frm": "US beer barrel (31 US gal)", "to": "L"}`, 117.347765304, 1e-9},
	}
	for _, c := range cases {
		got, known, err := Evaluate(c.quantity, json.RawMessage(c.inputs))
		if !known || err != nil {
			t.Errorf("%s: known %v, error %v", c.quantity, known, err)
			continue
		}
		closeTo(t, c.quantity, got, c.want, c.tolerance)
	}
}
