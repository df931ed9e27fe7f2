package ledger

import (
	"math"
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"

	"pgregory.net/rapid"
)

// reached is an answer that must work.
func reached(t testing.TB, q DiluteRequest, a Aim) Aimed {
	t.Helper()
	a.WaterTempC = max(a.WaterTempC, 20)
	out, err := Reach(shipped(t), q, a)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// For plain water the simple rule strength x volume holds to 0.0004 % vol, and
// points x volume to 0.00007 in gravity (reference page, section 4): 12 L of
// 4.95937 % vol come to 4.5 with 12 x (4.95937/4.5 - 1) = 1.225 L, and 1.010 to
// 1.008 with 12 x (10/8 - 1) = 3.0 L. Water of 80 C takes 1/0.97350 of its volume
// at 20 C (0.6 L are 0.5841 L there).
func TestWaterToATarget(t *testing.T) {
	beer := beerOf(12, 1.048, 1.010)
	out := reached(t, beer, Aim{ABVPct: ptr(4.5)})
	near(t, "water", out.Water.VolumeL, 1.225, 0.003)
	near(t, "strength then", out.After.ABVPct.Value, 4.5, 1e-9)
	// u of the inputs shrinks with the strength, and so does that of the yield (1.2 %
	// of it, of which two gravities leave 0.765); that of the model does not.
	near(t, "u of it", out.After.ABVPct.U, math.Hypot(math.Hypot(0.103*4.5/4.723, 0.10), 0.012*0.765*4.5), 0.002)
	hot := reached(t, beer, Aim{ABVPct: ptr(4.5), WaterTempC: 80})
	near(t, "hot water", hot.Water.VolumeL, out.Water.VolumeL*0.6/0.5841, 2e-4)
	near(t, "its mass", hot.Water.MassKg, out.Water.MassKg, 1e-12)
	// 0.00007 of gravity is 0.14 L here.
	near(t, "water to a gravity", reached(t, beer, Aim{SG: ptr(1.008)}).Water.VolumeL, 3.0, 0.15)
}

// Half a litre of tea has gone in already, so half a litre less of water may
// (solids of 8 g/L take 0.0024 L of it, 0.6 L/kg).
func TestTeaCountsAgainstTheWater(t *testing.T) {
	tea := Liquid{Kind: "tea", VolumeL: exact(0.5), SolidsGPerL: exact(8)}
	plain, with := reached(t, beerOf(12, 1.048, 1.010), Aim{ABVPct: ptr(4.5)}), reached(t,
		beerOf(12, 1.048, 1.010, tea), Aim{ABVPct: ptr(4.5)})
	near(t, "less water", plain.Water.VolumeL-with.Water.VolumeL, 0.5, 0.003)
}

// The wort for tea to come: 0.5 L in 12 L thin 48 points to 48 x 12/12.5, so 50
// points are needed, to the 0.0005 that the rule is off by; the beer then has
// what the plain one had.
func TestStrongerWort(t *testing.T) {
	tea := Liquid{Kind: "tea", VolumeL: exact(0.5), SolidsGPerL: exact(8)}
	q := beerOf(12, 1.048, 1.010, tea)
	keep := reached(t, q, Aim{KeepABV: true})
	near(t, "original gravity", keep.Wort.OG, 1.050, 0.0003)
	near(t, "strength wanted", *keep.ABVPct, 4.95937, 1e-5)
	near(t, "strength then", keep.After.ABVPct.Value, 4.95937, 1e-5)
	more := reached(t, q, Aim{ABVPct: ptr(6.0)})
	near(t, "strength wanted", more.After.ABVPct.Value, 6, 1e-6)
	if more.Wort == nil || more.Water != nil || more.Wort.OG < keep.Wort.OG {
		t.Errorf("%+v", more)
	}
	// Sugar that ferments makes up for its own volume: a thinner wort will do.
	sugar := beerOf(12, 1.048, 1.010, Liquid{Kind: "sugar", MassG: exact(300)})
	if out := reached(t, sugar, Aim{KeepABV: true}); out.Wort.OG > 1.048 {
		t.Errorf("with sugar to come %g is asked for", out.Wort.OG)
	}
}

func TestAimsThatCannotBe(t *testing.T) {
	beer := beerOf(12, 1.048, 1.010)
	under := beer
	under.Now = about(1.020)
	cases := []struct {
		what string
		q    DiluteRequest
		aim  Aim
		want string
	}{
		{"nothing asked", beer, Aim{}, "0 aims"},
		{"two at once", beer, Aim{ABVPct: ptr(4.0), SG: ptr(1.008)}, "2 aims"},
		{"no strength", beer, Aim{ABVPct: ptr(0.0)}, "0"},
		{"negative", beer, Aim{ABVPct: ptr(-1.0)}, "-1"},
		{"not a number", beer, Aim{ABVPct: ptr(math.NaN())}, ""},
		{"stronger than any wort", beer, Aim{ABVPct: ptr(40.0)}, "40"},
		{"gravity above", beer, Aim{SG: ptr(1.020)}, "1.02"},
		{"gravity below water", beer, Aim{SG: ptr(0.99)}, "0.99"},
		{"nothing added", beer, Aim{KeepABV: true}, "nothing is added"},
		{"wort already made", under, Aim{ABVPct: ptr(7.0)}, "made already"},
		{"water too hot", beer, Aim{ABVPct: ptr(4.0), WaterTempC: 120}, "120"},
	}
	for _, c := range cases {
		_, err := Reach(shipped(t), c.q, c.aim)
		if err == nil || trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.what, err, c.want)
		}
	}
}

// More water for a lower strength, and the strength is always met.
func TestTargetsAreMet(t *testing.T) {
	materials := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		q := beerOf(rapid.Float64Range(1, 100).Draw(t, "litres"), rapid.Float64Range(1.030, 1.100).Draw(t, "og"), 1.009)
		account, _, err := q.account(materials, origins{})
		if err != nil {
			t.Fatal(err)
		}
		snaps, err := account.Run()
		if err != nil {
			t.Fatal(err)
		}
		have := snaps[0].State.ABVPct()
		high := rapid.Float64Range(0.3, 1).Draw(t, "high") * have
		low := rapid.Float64Range(0.3, 1).Draw(t, "low") * high
		litres := func(want float64) float64 {
			p, err := dilution.WaterTo(snaps[0].State, dilution.Target{ABVPct: &want, WaterTempC: 20})
			if err != nil {
				t.Fatal(err)
			}
			if got := p.After.ABVPct(); math.Abs(got-want) > 1e-9 {
				t.Fatalf("aimed at %g, reached %g", want, got)
			}
			return p.VolumeL
		}
		if litres(low) < litres(high)-1e-9 {
			t.Fatalf("less water for %g than for %g", low, high)
		}
	})
}

// Jars with equal liquid for each litre of beer: by hand, 200 mL in 2 L is 100
// mL/L, so the second needs 80 mL more and the control of 1.5 L 150 mL.
func TestEqualJars(t *testing.T) {
	jars, err := EqualJars([]Jar{{BeerL: 2, AddedL: 0.2}, {BeerL: 2, AddedL: 0.12}, {BeerL: 1.5}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0.08, 0.15} {
		near(t, "water", jars[i].WaterL, want, 1e-12)
	}
	for _, bad := range [][]Jar{{}, {{BeerL: 2}}, {{BeerL: 2}, {BeerL: 0}}, {{BeerL: 2}, {BeerL: 2, AddedL: -1}}} {
		if _, err := EqualJars(bad); trials.CodeOf(err) != trials.Invalid {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// The sample has the proportions of the mix: 0.6 L and 2.4 kg in 12 L are 5 mL
// and 20 g in 100 mL.
func TestSampleForThePH(t *testing.T) {
	q := beerOf(12, 1.048, 1.010, Liquid{Kind: "water", VolumeL: about(0.6)},
		Liquid{Kind: "material", Material: "raspberry", MassG: about(2400)}, Liquid{Kind: "sugar", MassG: about(120)})
	if got, want := strings.Join(q.TrialSample(0.1).Parts,
		"; "), "5 mL of the water; 20 g of the raspberry, crushed; 1 g of the sugar"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if !strings.Contains(PHWhy, "not predicted") {
		t.Error("it is not said that the pH is not predicted")
	}
}
