package extraction

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// checkRow is one line of a check file.
type checkRow struct {
	quantity, inputs, source string
	expected, tolerance      float64
}

// readCheckRows reads a check file and fails on an unknown header, on no rows
// and on figures that are not numbers.
func readCheckRows(t *testing.T, data []byte) []checkRow {
	t.Helper()
	records, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"quantity", "inputs", "expected", "unit", "tolerance", "source"}; !slices.Equal(records[0], want) {
		t.Fatalf("header %q, want %q", records[0], want)
	}
	if len(records) < 2 {
		t.Fatal("no rows")
	}
	var rows []checkRow
	for i, r := range records[1:] {
		expected, err1 := strconv.ParseFloat(r[2], 64)
		tolerance, err2 := strconv.ParseFloat(r[4], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("row %d: %v %v", i+2, err1, err2)
		}
		rows = append(rows, checkRow{r[0], r[1], r[5], expected, tolerance})
	}
	return rows
}

// The rows were computed by an implementation independent of this package, by
// two routes each where the source column says so.
func TestPublishedRows(t *testing.T) {
	rows := readCheckRows(t, CheckRows())
	covered := map[string]bool{}
	for _, r := range rows {
		covered[r.quantity] = true
		got, known, err := Evaluate(r.quantity, json.RawMessage(r.inputs))
		switch {
		case !known:
			t.Errorf("%s: quantity is not known", r.quantity)
		case err != nil:
			t.Errorf("%s %s: %v", r.quantity, r.inputs, err)
		case !(math.Abs(got-r.expected) <= r.tolerance):
			t.Errorf("%s %s = %.12g, want %.12g +- %g (%s)", r.quantity, r.inputs, got, r.expected, r.tolerance, r.source)
		}
	}
	if len(rows) != 125 {
		t.Errorf("%d rows, want the 125 of the published file", len(rows))
	}
	for _, q := range Quantities() {
		if !covered[q] {
			t.Errorf("no row covers %s", q)
		}
	}
	if len(covered) != len(Quantities()) {
		t.Errorf("%d quantities in the rows, %d in the package", len(covered), len(Quantities()))
	}
}

// Everything that section 7 of the science page says must be an error, and
// inputs that are not what a row may hold.
func TestEvaluateRefuses(t *testing.T) {
	cases := []struct{ quantity, inputs, mention string }{
		{"as_dried_equivalent", `{"M":0.1,"Mref":0.1,"mass_g":-1}`, "mass -1"},
		{"first_order_fraction", `{"k_per_min":0.5,"t_min":-5}`, "time -5"},
		{"bath_fraction", `{"V_mL":-1,"kappa_mL_per_g":2,"m_g":1}`, "volume -1"},
		{"as_dried_equivalent", `{"M":1,"Mref":0.1,"mass_g":10}`, "moisture 100"},
		{"fresh_to_dry_mass_ratio", `{"M_fresh":1.2,"M_dry":0.1}`, "moisture 120"},
		{"arrhenius_factor", `{"Ea_kJ":30,"T_C":110.5}`, "110.5"},
		{"arrhenius_factor", `{"Ea_kJ":30,"T_C":-21}`, "-21"},
		{"wash_first_order", `{"k_per_min":0.3,"tau_min":5,"w":1.1}`, "1.1"},
		{"pass_yield_closed", `{"e":1.2,"n":1,"rho":0.2}`, "1.2"},
		{"pass_yield_total", `{"m_dm_g":25,"passes":[{"V_mL":400,"e":-0.1,"r_mL_per_g":4}],"w":0}`, "-0.1"},
		{"effective_dose", `{"M":0.1,"Mref":0.1,"S":1,"V_after_L":19,"V_mix_L":0,"Y":1,"f_added":1,"m_g":28,"u":1}`, "0 L"},
		{"newton_h", `{"T0_C":96,"T1_C":15,"Ta_C":20,"t_min":10}`, "crosses"},
		{"newton_h", `{"T0_C":96,"T1_C":20,"Ta_C":20,"t_min":10}`, "ambient"},
		{"fieller_limit", `{"b":1,"d":1,"s_b":1,"s_d":1,"side":"lo","t":2}`, "slope"},
		{"fieller_limit", `{"b":3,"d":1,"s_b":0.1,"s_d":1,"side":"left","t":2}`, "left"},
		{"fo_for_fraction", `{"F":1,"kind":"slab"}`, "share 1"},
		{"fo_for_fraction", `{"F":0.5,"kind":"cube"}`, "cube"},
		{"half_time", `{"k_per_min":0}`, "rate 0"},
		{"half_time", `{}`, "missing"},
		{"half_time", `{"k_per_min":"fast"}`, "fast"},
		{"half_time", `{"k_per_min":1,"colour":2}`, "colour"},
		{"half_time", `[]`, "object"},
		{"pass_out_n", `{"m_dm_g":25,"n":2,"passes":[{"V_mL":400,"e":1,"r_mL_per_g":4}]}`, "pass 2"},
		{"pass_yield_total", `{"m_dm_g":25,"passes":[{"V_mL":400,"r_mL_per_g":4}]}`, "neither"},
		{"reduced_time_log", `{"Ea_kJ":30,"T_C":[98,92],"t_min":[10,0]}`, "after"},
		{"reduced_time_log", `{"Ea_kJ":30,"T_C":[98],"t_min":[0]}`, "short"},
		{"ea_from_two_rates", `{"T1_C":25,"T2_C":25,"k1":1,"k2":2}`, "25"},
		{"rayleigh_survival", `{"V0_L":20,"V1_L":21,"alpha":1}`, "more than"},
	}
	for _, c := range cases {
		_, known, err := Evaluate(c.quantity, json.RawMessage(c.inputs))
		if !known || err == nil || !strings.Contains(err.Error(), c.mention) {
			t.Errorf("%s %s: known %v, error %v, want one with %q", c.quantity, c.inputs, known, err, c.mention)
		}
	}
}

func TestEvaluateUnknownQuantity(t *testing.T) {
	if v, known, err := Evaluate("flavour", json.RawMessage(`{}`)); v != 0 || known || err != nil {
		t.Errorf("flavour = %v, %v, %v, want unknown without an error", v, known, err)
	}
}

// Rows of the same quantities with inputs that the published file does not have:
// isothermal, edge and optional inputs.
func TestFurtherRows(t *testing.T) {
	cases := []struct {
		quantity, inputs string
		want, tol        float64
		source           string
	}{
		{"newton_h", `{"T0_C":60,"T1_C":60,"Ta_C":20,"t_min":10}`, 0, 0, "equal ends are isothermal"},
		{"crank_slab", `{"Fo":0}`, 0, 0, "nothing leaves in no time"},
		{"crank_slab", `{"Fo":0.01}`, 0.112838, 5e-7, "table in section 2 of the science page"},
		{"crank_cylinder", `{"Fo":0.05}`, 0.452121, 5e-7, "same table"},
		{"crank_sphere", `{"Fo":0.125}`, 0.821870, 5e-7, "same table"},
		{"crank_cylinder", `{"Fo":1e-6}`, 0.002255758334, 5e-10, "first two terms by hand, 4 sqrt(Fo/pi) - Fo"},
		{"crank_sphere", `{"Fo":50}`, 1, 1e-12, "all gone"},
		{"crank_limited_slab", `{"Fo":0.1,"alpha":1e9}`, 0.356823400452, 1e-6, "a huge bath is an endless one, published row"},
		{"crank_limited_sphere", `{"Fo":0.1,"alpha":1e9}`, 0.770478738026, 1e-6, "same"},
		{"crank_limited_cylinder", `{"Fo":0.1,"alpha":1e9}`, 0.605824193967, 1e-6, "same"},
		{"fo_for_fraction", `{"F":0.9,"kind":"slab"}`, 0.848085, 5e-7, "text under the table in section 2"},
		{"fo_for_fraction", `{"F":0.9,"kind":"cylinder"}`, 0.334413, 5e-7, "same"},
		{"wash_from_spiro_a", `{"a":-0.2}`, 0, 0, "a start lag is clamped to 0"},
		{"pass_yield_total", `{"m_dm_g":25.2,"passes":[{"V_mL":200,"e":1,"r_mL_per_g":4.5},{"V_mL":200,"e":1,"r_mL_per_g":4.5}]}`, 0.794838, 5e-7, "worked example A4"},
		{"pass_liquid_total", `{"m_dm_g":18.73,"H0_mL":81.27,"passes":[{"V_mL":300,"r_mL_per_g":4.5}]}`, 296.985, 1e-9, "worked example E, by hand 381.27 - 84.285"},
		{"pass_yield_total", `{"m_dm_g":25.2,"passes":[]}`, 0, 0, "no passes, no yield"},
		{"reduced_time_newton", `{"Ea_kJ":30,"T0_C":20,"Ta_C":20,"h_per_min":0.1,"t_min":100}`, 12.3542583194, 1e-9, "isothermal at 20 C, published factor"},
		{"reduced_time_log", `{"Ea_kJ":30,"T_C":[80,80],"t_min":[5,25]}`, 20, 1e-12, "20 min at the reference temperature"},
		{"survival_half_life", `{"half_life_min":20,"t_min":0}`, 1, 0, "nothing lost in no time"},
	}
	for _, c := range cases {
		got, known, err := Evaluate(c.quantity, json.RawMessage(c.inputs))
		if !known || err != nil || !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%s %s = %.12g, %v, %v, want %.12g (%s)", c.quantity, c.inputs, got, known, err, c.want, c.source)
		}
	}
}
