package extraction

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"
)

// equalPasses is the closed form of n passes with the same efficiency e and the
// same ratio of held to present liquid rho, without sorption or washing; with
// a = 1-e:
//
//	Y = 1 - a^n - e rho (rho^n - a^n)/(rho - a);   rho = a: 1 - a^n - n e rho^n
//
// For e = 1 this is the handbook 1 - rho^n [8].
func equalPasses(e, rho float64, n int) float64 {
	a, fn := 1-e, float64(n)
	if math.Abs(rho-a) < 1e-7 {
		return 1 - math.Pow(a, fn) - fn*e*math.Pow(rho, fn)
	}
	return 1 - math.Pow(a, fn) - e*rho*(math.Pow(rho, fn)-math.Pow(a, fn))/(rho-a)
}

// rowQuantities compute what the rows of testdata hold: formulas inside the
// package that no command gives alone, by the functions that a steep calls, and
// the reference solutions of these tests.
var rowQuantities = map[string]func(num func(string) float64, raw map[string]json.RawMessage) (float64, error){
	"arrhenius_factor": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return standing(num("Ea_kJ"), num("T_C")), nil
	},
	"rate_at_T": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return num("kref_per_min") * standing(num("Ea_kJ"), num("T_C")), nil
	},
	"equivalent_time": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return num("t1_min") * standing(num("Ea_kJ"), num("T1_C")) / standing(num("Ea_kJ"), num("T2_C")), nil
	},
	"reduced_time_newton": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return cooled(num("Ea_kJ"), cooling{num("T0_C"), num("Ta_C"), num("h_per_min")}, num("t_min")), nil
	},
	"newton_h": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		c, err := coolingSpan{num("T0_C"), num("T1_C"), num("Ta_C"), num("t_min")}.cooling()
		return c.PerMin, err
	},
	"newton_T": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return cooling{num("T0_C"), num("Ta_C"), num("h_per_min")}.at(num("t_min")), nil
	},
	"first_order_fraction": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return pot{solid: 1}.release(num("k_per_min")*num("t_min"), 0, 1).dissolved, nil
	},
	"wash_first_order": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return pot{1 - num("w"), num("w")}.release(num("k_per_min")*num("tau_min"), 0, 1).dissolved, nil
	},
	"extract_with_loss": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		t := num("t_min")
		return pot{1 - num("w"), num("w")}.release(num("k_per_min")*t, num("kv_per_min")*t, 1).dissolved, nil
	},
	"survival_half_life": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return pot{dissolved: 1}.release(0, math.Ln2/num("half_life_min")*num("t_min"), 1).dissolved, nil
	},
	"pass_yield_closed": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return equalPasses(num("e"), num("rho"), int(num("n"))), nil
	},
	"crank_slab":             diffused(Slab),
	"crank_cylinder":         diffused(Cylinder),
	"crank_sphere":           diffused(Sphere),
	"crank_limited_slab":     limited(Slab),
	"crank_limited_cylinder": limited(Cylinder),
	"crank_limited_sphere":   limited(Sphere),
	"short_time_sqrt": func(num func(string) float64, raw map[string]json.RawMessage) (float64, error) {
		return shapeIn(raw).EarlyDiffused(num("Fo"))
	},
	"fo_for_fraction": func(num func(string) float64, raw map[string]json.RawMessage) (float64, error) {
		return shapeIn(raw).FourierFor(num("F"))
	},
	"fourier_number": func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return Diffusion{DM2PerS: num("D_m2_per_s"), LengthMM: num("l_mm"), Minutes: num("t_min")}.Fourier()
	},
}

// diffused is Crank's share of a shape in an endless bath.
func diffused(s Shape) func(func(string) float64, map[string]json.RawMessage) (float64, error) {
	return func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return s.Diffused(num("Fo"))
	}
}

// limited is Crank's share of a shape in a bath of limited volume.
func limited(s Shape) func(func(string) float64, map[string]json.RawMessage) (float64, error) {
	return func(num func(string) float64, _ map[string]json.RawMessage) (float64, error) {
		return s.DiffusedLimited(LimitedBath{Fo: num("Fo"), Alpha: num("alpha")})
	}
}

// shapeIn is the shape that a row names.
func shapeIn(raw map[string]json.RawMessage) Shape {
	return Shape(slices.Index([]string{`"slab"`, `"cylinder"`, `"sphere"`}, string(raw["kind"])))
}

// The rows were computed by an implementation independent of this package, by two
// routes each where the source column says so: model.csv holds formulas that a
// steep uses within, crank.csv the reference solutions of diffusion.
func TestRows(t *testing.T) {
	for file, n := range map[string]int{"testdata/model.csv": 24, "testdata/crank.csv": 30} {
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		records, err := csv.NewReader(f).ReadAll()
		if err != nil || len(records) != n+1 {
			t.Fatalf("%s: %d rows, %v, want %d below the header", file, len(records)-1, err, n)
		}
		for _, row := range records[1:] {
			holdRow(t, row)
		}
	}
}

// holdRow checks one row.
func holdRow(t *testing.T, row []string) {
	t.Helper()
	want, err1 := strconv.ParseFloat(row[2], 64)
	tolerance, err2 := strconv.ParseFloat(row[4], 64)
	var raw map[string]json.RawMessage
	err3 := json.Unmarshal([]byte(row[1]), &raw)
	compute, known := rowQuantities[row[0]]
	if err1 != nil || err2 != nil || err3 != nil || !known {
		t.Fatalf("%q: known %v, %v %v %v", row, known, err1, err2, err3)
	}
	num := func(key string) float64 {
		v, err := strconv.ParseFloat(string(raw[key]), 64)
		if err != nil {
			t.Fatalf("%q: input %s: %v", row, key, err)
		}
		return v
	}
	if got, err := compute(num, raw); err != nil || !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s %s = %.12g, %v, want %.12g within %g (%s)", row[0], row[1], got, err, want, tolerance, row[5])
	}
}
