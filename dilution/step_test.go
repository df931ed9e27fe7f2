package dilution

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// finishedBeer is 10 L of 1.048/1.012.
func finishedBeer() Start {
	og, fg := Exactly(1.048), Exactly(1.012)
	return Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg, Finished: true}
}

// after runs one step on 10 L of finished beer.
func after(t *testing.T, step Step) State {
	t.Helper()
	return must(Account{Start: finishedBeer(), Steps: []Step{step}}.Run())(t)[1].State
}

// TestStepsByHand: each step does to 10 L of beer what its method on State
// does.
func TestStepsByHand(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.012}, 10))(t)
	lower := Exactly(1.010)
	cases := []struct {
		name string
		step Step
		want func() (State, error)
	}{
		{"loss", LoseVolume{Exactly(1.5)}, func() (State, error) { return beer.loseVolume(1.5) }},
		{"pulp", LosePulp{FruitKg: Exactly(2), RetainKgPerKg: Exactly(0.6)},
			func() (State, error) { return beer.loseMass(1.2) }},
		{"jar", TakeOut{Exactly(4)}, func() (State, error) { return beer.take(4) }},
		{"boil", Evaporate{Exactly(0.7)}, func() (State, error) { return beer.evaporate(0.7) }},
		{"reading", ReadGravity{SG: lower}, func() (State, error) { s, _, err := beer.FermentTo(1.010); return s, err }},
		{"end", Finish{FG: &lower}, func() (State, error) { s, _, err := beer.FermentTo(1.010); return s.finished(), err }},
		{"nothing left", Finish{}, func() (State, error) { return beer, nil }},
		{"water", Add{AddTea{VolumeL: Exactly(1)}}, func() (State, error) {
			p, err := Tea{VolumeL: 1, TempC: 20}.Portion()
			return beer.Plus(p), err
		}},
		{"spirit", Add{AddSpirit{VolumeL: Exactly(0.3), ABVPct: Exactly(50)}}, func() (State, error) {
			p, err := Spirit{VolumeL: 0.3, TempC: 20, ABVPct: 50}.Portion()
			return beer.Plus(p), err
		}},
		{"juice", Add{AddJuice{VolumeL: Exactly(0.3), Plato: Exactly(12)}}, func() (State, error) {
			p, err := juice{VolumeL: 0.3, TempC: 20, Plato: 12, Fermentability: 1}.Portion()
			return beer.Plus(p), err
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			want := must(c.want())(t)
			got := after(t, c.step)
			closeTo(t, "volume", got.VolumeL(), want.VolumeL(), 1e-12)
			closeTo(t, "gravity", got.SG(), want.SG(), 1e-12)
			closeTo(t, "strength", got.ABVPct(), want.ABVPct(), 1e-12)
			closeTo(t, "unfermentable", got.UnfermentableKg, want.UnfermentableKg, 1e-12)
			closeTo(t, "CO2", got.CO2G, want.CO2G, 1e-12)
		})
	}
}

// TestStepRefusals: what cannot be of a step is an error that says so.
func TestStepRefusals(t *testing.T) {
	hot, points := Exactly(60), Exactly(10)
	cases := []struct {
		name string
		step Step
		says string
	}{
		{"lose all", LoseVolume{Exactly(10)}, "is more than the 10 there is"},
		{"lose less than nothing", LoseVolume{Exactly(-1)}, "volume lost in litres -1"},
		{"all in the pulp", LosePulp{FruitKg: Exactly(20), RetainKgPerKg: Exactly(1)}, "mass lost in kg 20"},
		{"retained per cent", LosePulp{FruitKg: Exactly(2), RetainKgPerKg: Exactly(50)}, "weigh the drained pulp"},
		{"negative fruit", LosePulp{FruitKg: Exactly(-2)}, "mass of fruit in kg -2"},
		{"large jar", TakeOut{Exactly(11)}, "volume taken in litres 11"},
		{"no jar", TakeOut{Exactly(0)}, "must be above zero"},
		{"boil dry", Evaporate{Exactly(12)}, "evaporated water in litres 12"},
		{"boil backwards", Evaporate{Exactly(-1)}, "evaporated water in litres -1"},
		{"hot beer", ReadVolume{VolumeL: Exactly(9), TempC: &hot}, "cool a liquid with alcohol"},
		{"no volume", ReadVolume{VolumeL: Exactly(0)}, "volume in litres 0"},
		{"final points", Finish{FG: &points}, "final gravity 10"},
		{"hot gas", Saturate{TempC: Exactly(80)}, "temperature 80"},
		{"warm to", Warm{To: Saturate{TempC: Exactly(-5)}}, "temperature -5"},
		{"juice", Add{AddJuice{VolumeL: Exactly(1), Plato: Exactly(1200)}}, "degrees Plato 1200"},
		{"blend", Add{AddBeer{Start{VolumeL: Exactly(1)}}}, "original gravity is missing"},
		{"infinite", LoseVolume{Exactly(math.Inf(1))}, "(infinite)"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Account{Start: finishedBeer(), Steps: []Step{c.step}}.Run()
			if err == nil || !strings.HasPrefix(err.Error(), "step 1: ") || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want step 1 and %q", err, c.says)
			}
		})
	}
}

// TestErrorsInDraws: what stops the run stops the other methods with the same
// words.
func TestErrorsInDraws(t *testing.T) {
	a := Account{Start: finishedBeer(), Steps: []Step{LoseVolume{Exactly(11)}}}
	_, want := a.Run()
	if _, err := a.MonteCarlo(Draws{N: 100}); err == nil || err.Error() != want.Error() {
		t.Errorf("Monte Carlo: %v, want %v", err, want)
	}
	if _, err := a.FirstOrder(); err == nil || err.Error() != want.Error() {
		t.Errorf("first order: %v, want %v", err, want)
	}
	bad := Account{Start: Start{VolumeL: Exactly(-1)}}
	if _, err := bad.FirstOrder(); err == nil {
		t.Error("a negative volume has a budget")
	}
	if in := bad.Inputs(); in != nil {
		t.Errorf("an account that cannot be has inputs %v", in)
	}
}

// TestInputsInOrder: the figures come in the order of the account, start first.
func TestInputsInOrder(t *testing.T) {
	var names []string
	for _, in := range twentyEvents().Inputs() {
		if in.Name != "" && (len(names) == 0 || names[len(names)-1] != in.Name) {
			names = append(names, in.Name)
		}
	}
	got := strings.Join(names[:9], ", ")
	want := "batch volume, gravity, expected final gravity, IBU, SRM, gravity, sample, gravity, tea"
	if got != want {
		t.Errorf("inputs %q, want %q", got, want)
	}
	if names[len(names)-1] != "flowers" {
		t.Errorf("last input is %q", names[len(names)-1])
	}
}

// TestVolumeTemperatures: beer at 4 C takes 0.99775 of its volume at 20 C
// (computed independently), at the start and when a volume is measured.
func TestVolumeTemperatures(t *testing.T) {
	cold := Exactly(4)
	start := finishedBeer()
	start.VolumeTempC = &cold
	s := must(Account{Start: start}.Run())(t)[0].State
	closeTo(t, "start", s.VolumeL(), 10/0.99775, 0.0006)
	s = after(t, ReadVolume{VolumeL: Exactly(9), TempC: &cold})
	closeTo(t, "measured", s.VolumeL(), 9/0.99775, 0.0006)

	// Wort may be measured hot, beer may not.
	og, hot := Exactly(1.050), Exactly(95)
	wort := Start{VolumeL: Exactly(20), VolumeTempC: &hot, OG: &og}
	s = must(Account{Start: wort}.Run())(t)[0].State
	closeTo(t, "hot wort", must(s.VolumeAtL(95))(t), 20, 1e-9)
	start.VolumeTempC = &hot
	if _, err := (Account{Start: start}).Run(); err == nil || !strings.Contains(err.Error(), "before there is alcohol") {
		t.Errorf("beer at 95 C: error %v", err)
	}
}

// TestSplitThenAdd: half of the liquid into each half is the liquid into the
// whole, split.
func TestSplitThenAdd(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		share := rapid.Float64Range(0.1, 0.9).Draw(rt, "share")
		water := rapid.Float64Range(0.01, 5).Draw(rt, "water")
		whole := Account{Start: finishedBeer(), Steps: []Step{Add{AddTea{VolumeL: Exactly(water)}}}}
		snaps, err := whole.Run()
		if err != nil {
			rt.Fatal(err)
		}
		jar := Account{Start: finishedBeer(), Steps: []Step{
			TakeOut{Exactly(10 * share)},
			Add{AddTea{VolumeL: Exactly(water * share)}},
		}}
		parts, err := jar.Run()
		if err != nil {
			rt.Fatal(err)
		}
		if a, b := snaps[1].State.SG(), parts[2].State.SG(); !nearly(a, b) {
			rt.Errorf("gravity %g and %g", a, b)
		}
		if a, b := share*snaps[1].State.VolumeL(), parts[2].State.VolumeL(); !nearly(a, b) {
			rt.Errorf("volume %g and %g", a, b)
		}
	})
}

// TestAccountKeepsMass: what is in the batch is what went in, less the losses and
// what fermentation gave off (1.0665 g for each g of ethanol formed).
func TestAccountKeepsMass(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		og := Exactly(rapid.Float64Range(1.040, 1.080).Draw(rt, "og"))
		water := rapid.Float64Range(0.1, 4).Draw(rt, "water")
		fruit := rapid.Float64Range(0.1, 4).Draw(rt, "fruit")
		lost := rapid.Float64Range(0, 3).Draw(rt, "lost")
		a := Account{
			Start: Start{VolumeL: Exactly(20), OG: &og},
			Steps: []Step{
				ReadGravity{SG: Exactly(1.025)},
				Add{AddTea{VolumeL: Exactly(water)}},
				Add{AddFruit{MassKg: Exactly(fruit), Water: Exactly(0.85), Sugar: Exactly(0.1), Nonfermentable: Exactly(0.02)}},
				ReadGravity{SG: Exactly(1.012)},
				LosePulp{FruitKg: Exactly(lost), RetainKgPerKg: Exactly(1)},
			},
		}
		snaps, err := a.Run()
		if err != nil {
			rt.Fatal(err)
		}
		end := snaps[4].State
		in := snaps[0].State.MassKg() + water*0.99820123 + fruit*0.97
		if got := end.MassKg() + 1.0665*end.EthanolKg; math.Abs(got-in) > 1e-9 {
			rt.Errorf("%g kg with what left, %g kg went in", got, in)
		}
		if got := snaps[5].State.MassKg(); math.Abs(end.MassKg()-lost-got) > 1e-9 {
			rt.Errorf("%g kg after losing %g of %g", got, lost, end.MassKg())
		}
	})
}
