package ledger

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// exact is an amount with a limit of zero.
func exact(v float64) *figure.Limited { return &figure.Limited{Value: v, HasLimit: true} }

// about is an amount with the default limit.
func about(v float64) *figure.Limited { return &figure.Limited{Value: v} }

// limited is an amount with a limit of its own.
func limited(v, half float64) *figure.Limited {
	return &figure.Limited{Value: v, HalfWidth: half, HasLimit: true}
}

// beerOf is a finished beer with the default limits.
func beerOf(volumeL, og, fg float64, liquids ...Liquid) DiluteRequest {
	return DiluteRequest{VolumeL: *about(volumeL), OG: *about(og), FG: *about(fg), Liquids: liquids,
		GravityLimit: trials.DefaultGravityLimit, VolumeLimit: trials.DefaultVolumeLimit}
}

// diluted runs a request that must work and returns it with its stages by name.
func diluted(t testing.TB, q DiluteRequest) (Dilution, map[string]State) {
	t.Helper()
	d, err := Dilute(shipped(t), q)
	if err != nil {
		t.Fatal(err)
	}
	stages := map[string]State{}
	for _, s := range d.Moments {
		stages[s.Name] = s.State
	}
	return d, stages
}

// mixed lays a request out and runs it with few draws: enough for the values,
// which do not depend on the draws.
func mixed(t testing.TB, q DiluteRequest) map[string]State {
	t.Helper()
	account, names, err := q.account(shipped(t), origins{})
	if err != nil {
		t.Fatal(err)
	}
	results, err := account.MonteCarlo(dilution.Draws{N: 100, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	stages := map[string]State{}
	for i, name := range names {
		stages[name] = StateOf(results[i])
	}
	return stages
}

// interval is a row of section 7 of the reference page on dilution: a value
// with the 95 % interval from the inputs alone, and how near both must come:
// the rounding of the page and the error of two Monte Carlo runs.
type interval struct {
	what            string
	got             figure.Estimate
	value, low      float64
	high, tolerance float64
	quantile        float64 // tolerance of low and high
}

func holdIntervals(t *testing.T, rows []interval) {
	t.Helper()
	for _, r := range rows {
		near(t, r.what, r.got.Value, r.value, r.tolerance)
		near(t, r.what+", low", r.got.Low, r.low, r.quantile)
		near(t, r.what+", high", r.got.High, r.high, r.quantile)
	}
}

// Example 1 of section 7 of the reference page on dilution.
func TestExampleOfWater(t *testing.T) {
	q := beerOf(12, 1.048, 1.010, Liquid{Kind: "water", VolumeL: about(0.6)})
	q.IBU = about(30)
	d, stages := diluted(t, q)
	after := stages[momentMixed]
	holdIntervals(t, []interval{
		{"volume", after.VolumeL, 12.6002, 12.3723, 12.8282, 5e-5, 0.0042},
		{"gravity", after.GravitySG, 1.00950, 1.00860, 1.01041, 5e-6, 2e-5},
		{"strength", after.ABVInputsPct, 4.723, 4.52683, 4.91877, 5e-4, 0.004},
		{"real extract", after.RealExtractPct, 4.186, 3.985, 4.385, 5e-4, 0.005},
		{"equivalent original gravity", after.OriginalSG, 1.04573, 1.04483, 1.04664, 5e-6, 2e-5},
		{"bitterness", after.IBU, 28.57, 28.54, 28.60, 5e-3, 0.01},
	})
	near(t, "dilution factor", d.Factor.Value, 0.9524, 5e-5)
	near(t, "strength before", stages[momentBefore].ABVPct.Value, 4.959, 5e-4)
	near(t, "u of the volume", after.VolumeL.U, 0.139, 1e-3)
	near(t, "u of the strength", after.ABVInputsPct.U, 0.103, 1e-3)
	// The page: with the model's 0.10 % vol the total is 0.144; 1.2 % of the yield times
	// 0.765 of 4.72 % vol make it 0.150 by hand.
	near(t, "total u of the strength", after.ABVPct.U, 0.150, 1e-3)
	// The page: the readings contribute 0.073 and 0.072, volume and water 0.003
	// and 0.001.
	if got := d.Largest(); got != "original gravity" {
		t.Errorf("the strength is said to gain most from %q", got)
	}
	for _, in := range d.Inputs() {
		want := map[string]float64{"original gravity": 0.073, "final gravity": 0.072, "volume": 0.003,
			"volume of water": 0.001}[in.Name]
		if in.Name != "bitterness" {
			near(t, "contribution of "+in.Name, math.Abs(in.ABVContribution), want, 6e-4)
		}
	}
}

// The page: readings of one hydrometer with a common zero error leave 0.003 %
// vol of doubt in the strength, and 0.140 % in the real extract.
func TestCommonZeroErrorDecidesTheStrength(t *testing.T) {
	q := beerOf(12, 1.048, 1.010, Liquid{Kind: "water", VolumeL: about(0.6)})
	q.ZeroError = q.GravityLimit
	_, stages := diluted(t, q)
	near(t, "u of the strength", stages[momentMixed].ABVInputsPct.U, 0.003, 1e-3)
	near(t, "u of the real extract", stages[momentMixed].RealExtractPct.U, 0.140, 2e-3)
}

// Example 2: a tincture with solids of its own. (The dose of its plant is that
// of the ledger.)
func TestExampleOfTincture(t *testing.T) {
	_, stages := diluted(t, beerOf(19, 1.060, 1.012,
		Liquid{Kind: "spirit", VolumeL: limited(0.250, 0.005), StrengthPct: limited(60, 1),
			SolidsGPerL: limited(10, 5)}))
	after := stages[momentMixed]
	holdIntervals(t, []interval{
		{"volume", after.VolumeL, 19.2487, 18.888, 19.610, 5e-5, 0.007},
		{"gravity", after.GravitySG, 1.01088, 1.00995, 1.01182, 5e-6, 2e-5},
		{"strength", after.ABVInputsPct, 6.999, 6.792, 7.205, 5e-4, 0.005},
	})
	near(t, "strength before", stages[momentBefore].ABVPct.Value, 6.301, 5e-4)
}

// Example 3: raspberries while fermentation is under way, racked off the pulp.
// Its limits of mass (1 %) and liquid kept back (half of it) are the defaults.
func TestExampleOfFruitInFermentation(t *testing.T) {
	q := beerOf(18, 1.052, 0, Liquid{Kind: "material", Material: "raspberry", MassG: about(2500), RetainKgKg: about(0.5)})
	q.FG, q.Now = *limited(1.011, 0.002), about(1.020)
	d, stages := diluted(t, q)
	fresh, end, racked := stages[momentMixed], stages[momentFermented], stages[momentRacked]
	holdIntervals(t, []interval{
		{"volume at the end", end.VolumeL, 20.217, 19.87, 20.56, 5e-4, 0.01},
		{"volume racked", racked.VolumeL, 18.977, 18.21, 19.75, 5e-4, 0.015},
		{"gravity just mixed", fresh.GravitySG, 1.02057, 1.01944, 1.02170, 5e-6, 3e-5},
		{"final gravity", end.GravitySG, 1.00999, 1.00826, 1.01173, 5e-6, 4e-5},
		{"strength", end.ABVInputsPct, 5.103, 4.808, 5.398, 5e-4, 0.007},
		{"equivalent original gravity", end.OriginalSG, 1.04907, 1.04796, 1.05018, 5e-6, 3e-5},
	})
	near(t, "volume just mixed", fresh.VolumeL.Value, 20.239, 5e-4)
	near(t, "u of the volume just mixed", fresh.VolumeL.U, 0.209, 1e-3)
	near(t, "u of the strength", end.ABVInputsPct.U, 0.159, 1e-3)
	if d.Without == nil {
		t.Fatal("the strength without the fruit is not told")
	}
	near(t, "strength without fruit", d.Without.ABVPct.Value, 5.361, 5e-4)
	gas := d.Moments[1].CO2G
	holdIntervals(t, []interval{{"CO2 to come", gas, 212, 167, 257, 0.5, 1.5}})
	near(t, "u of the CO2", gas.U, 24, 0.6)
	near(t, "strength of the racked beer", racked.ABVPct.Value, end.ABVPct.Value, 1e-12)
}

// requestOf turns a published check row into a request; ok is false for rows of
// other things.
func requestOf(quantity string, in map[string]float64) (q DiluteRequest, stage string, ok bool) {
	name, _, _ := strings.Cut(quantity, ".")
	beer := func(l Liquid) DiluteRequest {
		q := beerOf(in["V_L"], in["og"], in["fg"], l)
		if ibu, given := in["ibu"]; given {
			q.IBU = about(ibu)
		}
		return q
	}
	switch name {
	case "dilute_water":
		return beer(Liquid{Kind: "water", VolumeL: exact(in["water_L"]), TempC: ptr(in["water_t_C"])}), momentMixed, true
	case "add_tea":
		return beer(Liquid{Kind: "tea", VolumeL: exact(in["tea_L"]), TempC: ptr(in["tea_t_C"]),
			SolidsGPerL: exact(in["solids_gL"])}), momentMixed, true
	case "add_tincture":
		return beer(Liquid{Kind: "spirit", VolumeL: exact(in["tincture_L"]), TempC: ptr(in["tincture_t_C"]),
			StrengthPct: exact(in["tincture_abv_pct"])}), momentMixed, true
	case "sugar_after":
		if in["water_kg"] != 0 || in["nonfermentable_kg"] != 0 {
			return q, "", false // a syrup, not table sugar
		}
		q := beer(Liquid{Kind: "sugar", MassG: exact(1000 * in["fermentable_kg"])})
		q.Ferment = true
		return q, map[string]string{"sugar_after.sg_mixed": momentMixed, "sugar_after.fg_end": momentFermented,
			"sugar_after.abv_end": momentFermented}[quantity], true
	}
	return q, "", false
}

// figureOf picks what a row asks for.
func figureOf(quantity string, s State) (figure.Estimate, bool) {
	_, pick, _ := strings.Cut(quantity, ".")
	e, ok := map[string]figure.Estimate{
		"volume_L": s.VolumeL, "sg": s.GravitySG, "sg_mixed": s.GravitySG, "fg_end": s.GravitySG, "abv_pct": s.ABVPct,
		"abv_end":          s.ABVPct,
		"real_extract_pct": s.RealExtractPct, "equiv_og": s.OriginalSG, "ibu": s.IBU,
	}[pick]
	return e, ok
}

// Every published row that a request can be made of comes out of the account
// that Dilute lays out, not only out of the formulas beneath it. The rows were computed independently
// of this project; each has its own tolerance.
func TestPublishedRowsThroughDilute(t *testing.T) {
	file, err := os.ReadFile("../checks/rows/dilution.csv") // package checks stands above this one
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != "quantity,inputs,expected,unit,tolerance,source" {
		t.Fatalf("header is %q", got)
	}
	done := map[string]State{} // by inputs and stage
	held := 0
	for _, row := range rows[1:] {
		inputs := map[string]float64{}
		if json.Unmarshal([]byte(row[1]), &inputs) != nil {
			continue
		}
		q, stage, ok := requestOf(row[0], inputs)
		if !ok || stage == "" {
			continue
		}
		key := fmt.Sprint(stage, row[1])
		if _, seen := done[key]; !seen {
			done[key] = mixed(t, q)[stage]
		}
		e, ok := figureOf(row[0], done[key])
		if !ok {
			t.Errorf("no figure for %s", row[0])
			continue
		}
		want, _ := strconv.ParseFloat(row[2], 64)
		tolerance, _ := strconv.ParseFloat(row[4], 64)
		near(t, row[0]+" "+row[1], e.Value, want, tolerance)
		held++
	}
	if held < 24 {
		t.Errorf("only %d rows were tried, want 12 of water, 6 of tea, 6 of spirit and 3 of sugar", held)
	}
}

// Beside the rows: the mass balance of what they do not hold, computed
// independently (a short program with the published equations alone, roots by
// 200 halvings).
func TestOtherLiquids(t *testing.T) {
	// Dextrose is the monohydrate: 180.156 g of glucose in 198.171 g.
	cases := []struct {
		what                      string
		liquid                    Liquid
		volumeL, sg, abvPct, og   float64
		fermented                 bool
		endVolumeL, endSG, endABV float64
	}{
		{what: "another beer", liquid: Liquid{Kind: "beer", VolumeL: exact(2), OG: exact(1.060), FG: exact(1.014)},
			volumeL: 12.000029, sg: 1.010664, abvPct: 5.13870, og: 1.050004},
		{what: "wort", liquid: Liquid{Kind: "wort", VolumeL: exact(1), Plato: exact(12)},
			volumeL: 11.000303, sg: 1.013456, abvPct: 4.50839, og: 1.048030, fermented: true, endVolumeL: 10.994148,
			endSG: 1.008119, endABV: 5.21122},
		{what: "juice of known gravity", liquid: Liquid{Kind: "juice", VolumeL: exact(1), SG: exact(1.050),
			FermentsPct: exact(90)},
			volumeL: 11.000293, sg: 1.013609, abvPct: 4.50839, og: 1.048181, fermented: true, endVolumeL: 10.994563,
			endSG: 1.008638, endABV: 5.16291},
		{what: "dextrose", liquid: Liquid{Kind: "dextrose", MassG: exact(500)},
			volumeL: 10.326037, sg: 1.026619, abvPct: 4.80278, og: 1.063274, fermented: true, endVolumeL: 10.302371,
			endSG: 1.006166, endABV: 7.51900},
	}
	for _, c := range cases {
		q := beerOf(10, 1.048, 1.010, c.liquid)
		q.Ferment = c.fermented
		stages := mixed(t, q)
		s := stages[momentMixed]
		near(t, c.what+": volume", s.VolumeL.Value, c.volumeL, 2e-6)
		near(t, c.what+": gravity", s.GravitySG.Value, c.sg, 1e-6)
		near(t, c.what+": strength", s.ABVPct.Value, c.abvPct, 1e-5)
		near(t, c.what+": original gravity", s.OriginalSG.Value, c.og, 1e-6)
		if !c.fermented {
			continue
		}
		end := stages[momentFermented]
		near(t, c.what+": volume at the end", end.VolumeL.Value, c.endVolumeL, 2e-6)
		near(t, c.what+": final gravity", end.GravitySG.Value, c.endSG, 1e-6)
		near(t, c.what+": final strength", end.ABVPct.Value, c.endABV, 1e-5)
	}
}

// Adding nothing changes nothing, and every stage keeps water and ethanol.
func TestNothingAddedChangesNothing(t *testing.T) {
	d, stages := diluted(t, beerOf(12, 1.048, 1.010))
	if len(d.Moments) != 1 || d.Factor.OK {
		t.Errorf("%d stages, dilution factor %+v, want the beer alone", len(d.Moments), d.Factor)
	}
	near(t, "strength", stages[momentBefore].ABVPct.Value, 4.95937, 1e-5)
	if stages[momentBefore].IBU.OK {
		t.Error("a bitterness that was not given is shown")
	}
}

// The dilution factor is volume over volume, whatever is known of bitterness:
// 10 L and 2 L of another beer of unknown bitterness give 10/12.000029.
func TestDilutionFactorOfABlend(t *testing.T) {
	other := Liquid{Kind: "beer", VolumeL: exact(2), OG: exact(1.060), FG: exact(1.014)}
	for _, ibu := range []*figure.Limited{nil, about(30)} {
		q := beerOf(10, 1.048, 1.010, other)
		q.IBU = ibu
		d, stages := diluted(t, q)
		near(t, "dilution factor", d.Factor.Value, 10/12.000029, 1e-6)
		if !d.Factor.HasBounds || d.Factor.Low >= d.Factor.Value || d.Factor.High <= d.Factor.Value {
			t.Errorf("the factor has the interval %g to %g", d.Factor.Low, d.Factor.High)
		}
		if stages[momentMixed].IBU.OK {
			t.Error("the bitterness of the blend is shown, though that of one part is not known")
		}
	}
}

// What a record may lack must be refused in words: a notebook merged from
// elsewhere can hold anything.
func TestLiquidsWithPartsMissing(t *testing.T) {
	cases := []struct {
		liquid Liquid
		want   string
	}{
		{Liquid{Kind: "water"}, "water"},
		{Liquid{Kind: "tea"}, "tea"},
		{Liquid{Kind: "spirit", VolumeL: about(0.2)}, "spirit"},
		{Liquid{Kind: "spirit", StrengthPct: about(40)}, "spirit"},
		{Liquid{Kind: "juice", VolumeL: about(1)}, "juice"},
		{Liquid{Kind: "wort", Plato: about(12)}, "wort"},
		{Liquid{Kind: "beer", VolumeL: about(1), OG: about(1.05)}, "beer"},
		{Liquid{Kind: "honey", VolumeL: about(1)}, "by weight"},
		{Liquid{Kind: "treacle", MassG: about(100)}, "treacle"},
		{Liquid{Kind: "material", Material: "raspberry", VolumeL: about(1)}, "raspberry"},
		{Liquid{Kind: "material", Material: "rasberry", MassG: about(100)}, "rasberry"},
		{Liquid{Kind: "material", Material: "heather", MassG: about(100)}, "heather"},
	}
	for _, c := range cases {
		_, err := Dilute(shipped(t), beerOf(12, 1.048, 1.010, c.liquid))
		if trials.CodeOf(err) != trials.Invalid && trials.CodeOf(err) != trials.NotFound ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v does not name %q", c.liquid, err, c.want)
		}
	}
}

// The limits are those of the formulas: what cannot be.
func TestDiluteRefuses(t *testing.T) {
	water := Liquid{Kind: "water", VolumeL: about(0.6)}
	edit := func(f func(*DiluteRequest)) DiluteRequest { q := beerOf(12, 1.048, 1.010, water); f(&q); return q }
	cases := []struct {
		what string
		q    DiluteRequest
		want string
	}{
		{"no volume", edit(func(q *DiluteRequest) { q.VolumeL.Value = 0 }), "volume"},
		{"negative water", edit(func(q *DiluteRequest) { q.Liquids[0].VolumeL = about(-1) }), "-1"},
		{"gravities swapped", edit(func(q *DiluteRequest) { q.OG, q.FG = q.FG, q.OG }), "1.048"},
		{"gravity off the scale", edit(func(q *DiluteRequest) { q.OG.Value = 1.3 }), "1.3"},
		{"negative bitterness", edit(func(q *DiluteRequest) { q.IBU = about(-3) }), "IBU"},
		{"spirit above 100", edit(func(q *DiluteRequest) {
			q.Liquids[0] = Liquid{Kind: "spirit", VolumeL: about(0.1), StrengthPct: about(120)}
		}), "120"},
		{"spirit measured hot", edit(func(q *DiluteRequest) {
			q.Liquids[0] = Liquid{Kind: "spirit", VolumeL: about(0.1), StrengthPct: about(40), TempC: ptr(60.0)}
		}), "60"},
		{"not a number", edit(func(q *DiluteRequest) { q.VolumeL.Value = math.NaN() }), ""},
		{"infinite", edit(func(q *DiluteRequest) { q.Liquids[0].VolumeL = about(math.Inf(1)) }), ""},
	}
	for _, c := range cases {
		_, err := Dilute(shipped(t), c.q)
		if err == nil || trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}
