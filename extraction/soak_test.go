package extraction

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// soakRow are the inputs of a row of soak.csv.
type soakRow struct {
	V0        float64  `json:"V0_L"`
	V         float64  `json:"V_mL"`
	Mass      float64  `json:"m_g"`
	M         float64  `json:"M"`
	Solids    float64  `json:"solids_per_dm"`
	Held      float64  `json:"r_mL_per_g"`
	Floor     float64  `json:"own_water_floor"`
	Evap      float64  `json:"evap_L"`
	SG        *float64 `json:"sg"`
	Kind      string   `json:"kind"`
	Separated string   `json:"separation"`
	Z         float64  `json:"z"`
}

// value is what the program makes of a row.
func (r soakRow) value(t *testing.T, quantity string) float64 {
	if r.Kind != "" {
		k, err := ParseKind(r.Kind)
		if err != nil {
			t.Fatal(err)
		}
		s := map[string]Separation{"drained": Drained, "squeezed": Squeezed, "pressed": ScrewPressed}[r.Separated]
		return k.HeldQuantile(s, r.Z)
	}
	c := Soak{LiquidL: r.V0 + r.V/1000, MassG: r.Mass, Moisture: r.M, SolidsPerDry: r.Solids, HeldMLPerG: r.Held,
		OwnWaterFloor: r.Floor,
		EvaporatedL:   r.Evap}
	b, err := c.Balance()
	if err != nil {
		t.Fatal(err)
	}
	switch quantity {
	case "contact.volume_in":
		return b.MixL
	case "contact.volume_after", "tincture.recovered_l":
		return b.AfterL
	case "contact.held_l":
		return b.HeldL
	case "contact.loss_l":
		return r.V0 - b.AfterL
	case "contact.solids_g_per_l":
		return b.DissolvedG / b.MixL
	case "contact.kept_share":
		return b.KeptShare()
	case "tincture.minimum_l":
		least, _ := c.MinimumLiquidL()
		return least
	case "contact.spent_g":
		sg := 1.0
		if r.SG != nil { // the gravity of the mixture, volumes taken to add
			sg = (c.LiquidL**r.SG*998.20123 + b.WaterG + b.DissolvedG - c.EvaporatedL*998.20123) / (b.MixL * 998.20123)
		}
		return b.SpentG(sg)
	}
	t.Fatalf("no quantity %s", quantity)
	return 0
}

// Rows computed independently (soak.csv names the route of each): volumes, held
// liquid and weights of plants in beer, and the liquid that runs off tinctures, one
// of which agrees with a published 1:5 root tincture.
func TestSoakRows(t *testing.T) {
	f, err := os.Open("testdata/soak.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 30 || rows[0][0] != "quantity" {
		t.Fatalf("%d rows: %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		var in soakRow
		if err := json.Unmarshal([]byte(row[1]), &in); err != nil {
			t.Fatal(err)
		}
		want, _ := strconv.ParseFloat(row[2], 64)
		tolerance, _ := strconv.ParseFloat(row[4], 64)
		if got := in.value(t, row[0]); math.Abs(got-want) > tolerance {
			t.Errorf("%s %s is %.10g, want %.10g within %g", row[0], row[1], got, want, tolerance)
		}
	}
}

// Nothing is lost or made: what is held and what is left are the mixture, masses
// add, a plant of water alone adds its water, and two halves are one whole.
func TestSoakKeepsItsBooks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		c := Soak{LiquidL: draw(0.1, 100, "liquid"), MassG: draw(0, 5000, "mass"), Moisture: draw(0, 0.99, "moisture"),
			SolidsPerDry: draw(0, 1, "solids"), HeldMLPerG: draw(0, 10, "held"), OwnWaterFloor: draw(0, 1, "floor")}
		b, err := c.Balance()
		if err != nil {
			t.Fatal(err)
		}
		close := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s is %.12g, want %.12g (%+v)", what, got, want, c)
			}
		}
		close("water, solids and rest", b.WaterG+b.DissolvedG+b.InsolubleG, c.MassG)
		if b.AfterL > 0 {
			close("held and left", b.HeldL+b.AfterL, b.MixL)
		}
		half := c
		half.MassG /= 2
		h, _ := half.Balance()
		close("two halves bring", 2*(h.MixL-c.LiquidL), b.MixL-c.LiquidL)
		close("two halves keep", 2*h.HeldL, b.HeldL)
		water := Soak{LiquidL: c.LiquidL, MassG: c.MassG, Moisture: 1}
		w, _ := water.Balance()
		close("water alone", w.AfterL, c.LiquidL+c.MassG/998.20123)
	})
}

func TestSoaksThatCannotBe(t *testing.T) {
	for name, c := range map[string]Soak{
		"mass": {LiquidL: 1, MassG: -1}, "moisture": {LiquidL: 1, MassG: 1, Moisture: 1.2},
		"solids": {LiquidL: 1, MassG: 1, SolidsPerDry: 2},
		"held":   {LiquidL: 1, MassG: 1, HeldMLPerG: 31}, "floor": {LiquidL: 1, MassG: 1, OwnWaterFloor: -0.1},
		"evaporated": {LiquidL: 1, MassG: 1, EvaporatedL: 1}, "liquid": {LiquidL: math.NaN(), MassG: 1},
	} {
		if _, err := c.Balance(); err == nil {
			t.Errorf("%s: %+v is accepted", name, c)
		}
	}
}

// Squeezing never leaves more in a plant than draining, pressing never more than
// squeezing, for every kind.
func TestKindsHoldLessTheHarder(t *testing.T) {
	for k := UnknownKind; k < kindCount; k++ {
		d, s, p := k.HeldMLPerG(Drained), k.HeldMLPerG(Squeezed), k.HeldMLPerG(ScrewPressed)
		if d < s || s < p || p <= 0 || k.HeldMLPerG(LeftIn) != d {
			t.Errorf("%v holds %g, %g, %g", k, d, s, p)
		}
	}
	if _, err := ParseKind("feather"); err == nil {
		t.Error("an unknown kind is read")
	}
}

// KeptShare is the share of what was dissolved that stays in the liquid when the
// plant is taken out.
func (b SoakBalance) KeptShare() float64 {
	if b.MixL <= 0 {
		return 0
	}
	return b.AfterL / b.MixL
}

// SpentG is the weight of the wet spent plant in a liquid of a gravity, g:
// I + 1000 H SG 0.99820123.
func (b SoakBalance) SpentG(sg float64) float64 {
	return b.InsolubleG + 1000*min(b.HeldL, b.MixL)*sg*waterGPerML
}

// MinimumLiquidL is the least liquid of which anything runs off again, L:
// r m (1 - M) less the plant's own water and the volume of its solids.
func (c Soak) MinimumLiquidL() (float64, error) {
	c.LiquidL, c.EvaporatedL = 0, 0
	b, err := c.Balance()
	return max(b.HeldL-b.MixL, 0), err
}
