package checks

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Every row that comes with the program holds; the source is in the row.
func TestRowsHold(t *testing.T) {
	n, runner := 0, new(Runner)
	for _, table := range CheckRows() {
		records, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if head := "quantity,inputs,expected,unit,tolerance,source"; strings.Join(records[0], ",") != head {
			t.Fatalf("header %q, want %q", records[0], head)
		}
		for _, row := range records[1:] {
			holdRow(t, runner, row)
			n++
		}
	}
	if n < 200 {
		t.Errorf("%d rows, want at least 200", n)
	}
}

// holdRow checks one row.
func holdRow(t *testing.T, runner *Runner, row []string) {
	t.Helper()
	want, err := strconv.ParseFloat(row[2], 64)
	tolerance, err2 := strconv.ParseFloat(row[4], 64)
	if err != nil || err2 != nil {
		t.Fatalf("%q: %v %v", row, err, err2)
	}
	got, known, err := runner.Evaluate(row[0], json.RawMessage(row[1]))
	if err != nil || !known {
		t.Errorf("%s %s: known %v, error %v", row[0], row[1], known, err)
		return
	}
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s %s = %.10g, want %.10g within %g (%s)", row[0], row[1], got, want, tolerance, row[5])
	}
}

// A quantity that no command computes is not known, and no error.
func TestUnknownQuantities(t *testing.T) {
	for _, name := range []string{
		"", "haze", "pour.haze", "beer_haze", "dilute_water.haze", "dilute_water.", "batch_masses.salt_kg",
		"sugar_after.haze",
		"sugar_before.haze", "fruit_mid.haze", "uncertainty.dilute.haze.u_gum", "uncertainty.dilute.sg.mode",
		"uncertainty.mead.sg.u_gum", "uncertainty.dilute", "steep.flavour", "steep.", "crank_slab",
		"condition.haze_after", "condition.", "strong.u_sg",
	} {
		if _, known, err := new(Runner).Evaluate(name, json.RawMessage(`{}`)); known || err != nil {
			t.Errorf("%q: known %v, error %v", name, known, err)
		}
	}
}

// Inputs that are missing, unknown, of the wrong kind or impossible are errors
// that say so, and so are figures that the program cannot be given.
func TestInputsAreRefused(t *testing.T) {
	for _, c := range []struct{ quantity, inputs, says string }{
		{"water_density", `{}`, `input "t_C" is missing`},
		{"water_density", `{"t_C": "warm"}`, `input "t_C" is not as it should be`},
		{"water_density", `{"t_C": 400}`, "400 is outside"},
		{"water_density", `{"t_C": 20, "colour": 3}`, `input "colour" has no use`},
		{"water_density", `[`, "not a JSON object"},
		{"beer_abv", `{"og": 1.01, "fg": 1.05}`, "usually the two were swapped"},
		{"unit_conversion", `{"value": 1, "frm": 5, "to": "L"}`, `input "frm"`},
		{"unit_conversion", `{"value": 1, "frm": "L", "to": "EBC"}`, "no command"},
		{"uncertainty.dilute.sg.u_gum", `{"V": {"dist": "normal", "value": 12}, "og": 1.05, "fg": 1.01, "water": 1}`,
			"rectangular half-width"},
		{"uncertainty.dilute.sg.mc_2.5pct", `{"V": 12, "og": 1.05, "fg": 1.01}`, `input "water" is missing`},
		{"fruit_mid.sg_end", `{"V": 12}`, "is missing"},
		{"dilute_water.sg", `{"V_L": 0, "og": 1.05, "fg": 1.01, "water_L": 1}`, "volume in litres 0"},
		{"arrhenius_factor", `{"Ea_kJ":37.5,"T_C":20}`, "no solute class"},
		{"arrhenius_factor", `{"Ea_kJ":30,"T_C":110.5}`, "110.5"},
		{"wash_first_order", `{"k_per_min":0.3,"tau_min":5,"w":0.4}`, "no form"},
		{"survival_half_life", `{"half_life_min":182,"t_min":60}`, "half-life of 182"},
		{"fieller_limit", `{"b":1,"d":1,"s_b":1,"s_d":1,"side":"lo","t":2}`, "slope"},
		{"fieller_limit", `{"b":3,"d":1,"s_b":0.1,"s_d":1,"side":"left","t":2}`, "left"},
		{"pass_out_n", `{"m_dm_g":25,"n":2,"passes":[{"V_mL":400,"e":1,"r_mL_per_g":4}]}`, "pass 2"},
		{"reduced_time_log", `{"Ea_kJ":30,"T_C":[98],"t_min":[0, 5]}`, "1 temperatures for 2 times"},
		{"condition.label_abv", `{"abv_pct": -0.1}`, "outside 0 to 96"},
		{"condition.label_abv", `{"abv_pct": 96.1}`, "outside 0 to 96"},
		{"condition.abv_after", primed("V_L", 0), "volume in litres 0"},
		{"condition.abv_after", primed("V_L", -1), "volume in litres -1"},
		{"condition.abv_after", primed("sugar_g", -82), "mass in kg -0.082"},
		{"condition.abv_after", primed("water_mL", -150), "volume in litres -0.15"},
		{"condition.abv_after", primed("fermented_share", 1.01), "fermentable share of the sugar 1.01"},
		{"condition.abv_after", primed("fermented_share", -0.01), "fermentable share of the sugar -0.01"},
		{"condition.sg_after", primed("water_share", 0.01), "share of other solubles -0.01"},
		{"condition.sg_after", primed("abv_pct", 97), "strength in % vol 97"},
		{"condition.sg_after", `{"V_L": 12.5}`, "is missing"},
		{"strong.u_abv", `{"abv_fermented_pct":-5,"u_instrument":0,"u_model":0.1,"u_yield_rel":0.012}`, "below zero"},
		{"strong.yield_sensitivity", `{"og":1.05,"fg":1.05}`, "nothing has fermented"},
		{"strong.yield_sensitivity", `{"og":1.05,"fg":1.06}`, "swapped"},
		{"steep.yield", `{"form":"cut","mass_g":20,"into_l":10,"class":"smell","passes":[]}`, `class "smell"`},
		{"pour.left_g", `{}`, `input "events" is missing`},
		{"pour.left_g", `{"events":[{"t_h":1,"pour_l":0.1},{"t_h":2,"pass_l":0.4,"g":18}]}`, "before its first pass ended"},
		{"pour.left_g", `{"events":[{"t_h":1,"pass_l":0.4,"g":18},{"t_h":2,"pour_l":0.5}]}`, "gave only 0.4 L"},
		{"pour.left_g", `{"events":[{"t_h":1,"pass_l":-0.4,"g":18}]}`, "below zero"},
		{"pour.left_g", `{"events":[{"t_h":1}]}`, "none of pass_l, topup_l, pour_l"},
		{"pour.grams", `{"events":[{"t_h":1,"pass_l":0.4,"g":18}],"n":1}`, "no such pour"},
		{"spirit.ceiling", `{"family":"water","abv_pct":97}`, "outside 0 to 96"},
		{"spirit.ceiling", `{"family":"scent","abv_pct":40}`, "scent"},
		{"tincture.minimum_l", `{"M":0.1,"V_mL":100,"m_g":40,"r_mL_per_g":31,"solids_per_dm":0.2}`, "31 mL/g is outside"},
		{"tincture.recovered_l", `{"M":0.1,"V_mL":100,"m_g":40,"r_mL_per_g":4,"solids_per_dm":1.2}`, "1.2"},
		{"steep.yield", `{"form":"lumps","mass_g":20,"into_l":10,"passes":[]}`, "lumps"},
	} {
		_, known, err := new(Runner).Evaluate(c.quantity, json.RawMessage(c.inputs))
		if !known || err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %s: known %v, error %v, want one with %q", c.quantity, c.inputs, known, err, c.says)
		}
	}
}

// primed are the inputs of a primed beer with one of them changed.
func primed(key string, value float64) string {
	in := map[string]float64{"V_L": 12.5, "abv_pct": 4.9, "sg": 1.0105, "sugar_g": 82, "extract_share": 1,
		"water_share": 0, "water_mL": 150, "fermented_share": 1}
	in[key] = value
	text, _ := json.Marshal(in)
	return string(text)
}

// Every quantity of the tables is held by a row, lest one stay that nothing runs.
func TestEveryQuantityHasARow(t *testing.T) {
	covered := map[string]bool{}
	for _, table := range CheckRows() {
		records, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range records[1:] {
			covered[row[0]] = true
		}
	}
	for _, table := range []map[string]evaluator{oneSteepQuantities(), beerQuantities()} {
		for name := range table {
			if !covered[name] {
				t.Errorf("no row covers %s", name)
			}
		}
	}
	for name := range steepFigures {
		if !covered["steep."+name] {
			t.Errorf("no row covers steep.%s", name)
		}
	}
}

// Rows of the same quantities with inputs of our own. They were computed
// independently, by a program in another language that writes every power of the
// published equations out, finds roots by 200 halvings and standard uncertainties
// by central differences of the whole chain. Rows that no command computes are
// counted apart.
func TestFurtherRows(t *testing.T) {
	file, err := os.ReadFile("testdata/further_rows.csv")
	if err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil || len(records) < 151 {
		t.Fatalf("%d rows, %v, want at least 150", len(records)-1, err)
	}
	runner := new(Runner)
	for _, row := range records[1:] {
		holdRow(t, runner, row)
	}
}
