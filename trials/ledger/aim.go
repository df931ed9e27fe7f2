package ledger

import (
	"fmt"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// Aim is what a beer should come to after its additions; exactly one of the
// first three is set.
type Aim struct {
	ABVPct     *float64 // strength, % vol
	SG         *float64 // gravity, SG 20/20
	KeepABV    bool     // the strength that the beer would have without the additions
	WaterTempC float64  // temperature at which the water will be measured
}

// Aimed is how to get there: water to add on top of the additions, or a stronger
// wort to brew; one of the two is set.
type Aimed struct {
	ABVPct *float64    // as asked for; for KeepABV the strength without the additions
	SG     *float64    // gravity reached
	Water  *aimedWater // set for plain water
	Wort   *aimedWort  // set for a stronger wort
	After  State       // the beer then, with its doubt
}

// aimedWater is the water that may still go in.
type aimedWater struct {
	VolumeL float64 // as measured at TempC
	MassKg  float64 // kilograms
	TempC   float64 // temperature at which the volume is measured, C
}

// aimedWort is the wort to brew for the same volume, and where it should end.
type aimedWort struct {
	OG, FG float64
}

// aimDraws are the draws behind the beer that is aimed at.
var aimDraws = dilution.Draws{N: 20_000, Seed: diluteDraws.Seed}

// Reach works out how a beer with its additions comes to what is aimed at. A
// strength above that of the mix needs a stronger wort, brewed at the same real
// attenuation; all else needs water.
func Reach(materials trials.Materials, q DiluteRequest, aim Aim) (Aimed, error) {
	if err := aim.check(); err != nil {
		return Aimed{}, err
	}
	account, _, err := q.account(materials, origins{})
	if err != nil {
		return Aimed{}, trials.ProblemOf(err)
	}
	snaps, err := account.Run()
	if err != nil {
		return Aimed{}, trials.ProblemOf(err)
	}
	mix := snaps[len(snaps)-1].State
	if aim.KeepABV || aim.ABVPct != nil && *aim.ABVPct > mix.ABVPct() {
		return q.stronger(materials, aim, snaps[len(q.Liquids)].State, snaps[0].State)
	}
	plan, err := dilution.WaterTo(mix, dilution.Target{ABVPct: aim.ABVPct, SG: aim.SG, WaterTempC: aim.WaterTempC})
	if err != nil {
		return Aimed{}, trials.ProblemOf(err)
	}
	water := dilution.AddTea{VolumeL: Added("water", plan.VolumeL), TempC: dilution.ExactlyOrNone(&aim.WaterTempC)}
	account.Steps = append(account.Steps, dilution.Add{Liquid: water})
	out := Aimed{ABVPct: aim.ABVPct, SG: aim.SG,
		Water: &aimedWater{VolumeL: plan.VolumeL, MassKg: plan.MassKg, TempC: aim.WaterTempC}}
	if plan.VolumeL == 0 {
		account.Steps = account.Steps[:len(account.Steps)-1]
	}
	out.After, err = q.lastOf(account)
	return out, err
}

// check refuses more or less than one aim.
func (a Aim) check() error {
	count := 0
	for _, set := range []bool{a.ABVPct != nil, a.SG != nil, a.KeepABV} {
		if set {
			count++
		}
	}
	if count != 1 {
		return trials.Refuse("give one of --target-abv, --target-gravity and --keep-abv", "%d aims are given at once", count)
	}
	return nil
}

// stronger works out the wort to brew; mixed and before are the beer with the
// additions and without.
func (q DiluteRequest) stronger(materials trials.Materials, aim Aim, mixed, before dilution.State) (Aimed, error) {
	if q.Now != nil {
		return Aimed{}, trials.Refuse("leave --now out to see what to brew next time, or add spirit or sugar",
			"the wort is made already: water and additions only weaken it")
	}
	if len(q.Liquids) == 0 && aim.KeepABV {
		return Aimed{}, trials.Refuse(`add what goes in, such as --add "600mL tea 8g/L"`,
			"nothing is added, so the strength does not change")
	}
	wort := dilution.Stronger{Plain: dilution.Gravities{OG: q.OG.Value, FG: q.FG.Value}, VolumeL: q.VolumeL.Value,
		Added: minus(mixed, before), WantABVPct: aim.ABVPct}
	plan, err := dilution.KeepABV(wort)
	if err != nil {
		return Aimed{}, trials.ProblemOf(err)
	}
	want := before.ABVPct()
	if aim.ABVPct != nil {
		want = *aim.ABVPct
	}
	then := q
	then.OG.Value, then.FG.Value, then.Ferment = plan.OG, plan.FG, true
	account, _, err := then.account(materials, origins{})
	if err != nil {
		return Aimed{}, trials.ProblemOf(err)
	}
	after, err := q.lastOf(account)
	return Aimed{ABVPct: &want, Wort: &aimedWort{OG: plan.OG, FG: plan.FG}, After: after}, err
}

// minus is what was added between two states.
func minus(after, before dilution.State) dilution.State {
	return dilution.State{
		WaterKg: after.WaterKg - before.WaterKg, EthanolKg: after.EthanolKg - before.EthanolKg,
		ExtractKg:       after.ExtractKg - before.ExtractKg,
		UnfermentableKg: after.UnfermentableKg - before.UnfermentableKg, SpiritKg: after.SpiritKg - before.SpiritKg,
	}
}

// lastOf is the beer at the end of an account, with its doubt.
func (q DiluteRequest) lastOf(a dilution.Account) (State, error) {
	results, err := a.MonteCarlo(aimDraws)
	if err != nil {
		return State{}, trials.ProblemOf(err)
	}
	return q.hide(StateOf(results[len(results)-1]), true), nil
}

// Jar is one vessel of a split: its beer, and the liquid that its treatment
// brings.
type Jar struct {
	BeerL  float64 // beer in the jar
	AddedL float64 // 0 for the control
	WaterL float64 // to add on top, so that all have the same added liquid per litre
}

// EqualJars fills in the water for each jar, so that every one, the control too,
// has as much added liquid per litre of beer as the one that has most.
func EqualJars(jars []Jar) ([]Jar, error) {
	if len(jars) < 2 {
		return nil, trials.Refuse(`write one amount for each jar, such as "200mL,120mL,0"`,
			"give at least two jars, not %d", len(jars))
	}
	plain := make([]dilution.Jar, len(jars))
	for i, j := range jars {
		plain[i] = dilution.Jar{BeerL: j.BeerL, AddedL: j.AddedL}
	}
	water, err := dilution.EqualLiquid(plain)
	if err != nil {
		return nil, trials.ProblemOf(err)
	}
	out := make([]Jar, len(jars))
	for i, j := range jars {
		out[i] = Jar{BeerL: j.BeerL, AddedL: j.AddedL, WaterL: water[i]}
	}
	return out, nil
}

// PHTrial is a measured sample that answers what arithmetic cannot.
type PHTrial struct {
	SampleL float64  // beer to take for the trial mix
	Parts   []string // what to add to it, in words
}

// PHWhy says why the pH of a mix is not predicted.
const PHWhy = "The pH of a mix is not predicted: it is set by the charge balance of many weak acids, and depends on " +
	"the titratable acidity and the buffering of both liquids, " +
	"on the alkalinity of the water and on CO2. Averaging pH, or hydrogen ions, is wrong. Plain water of low " +
	"alkalinity moves the pH of beer little, alkaline water raises it, acid fruit or hibiscus lowers it; by how " +
	"much only a trial tells."

// TrialSample returns the sample to mix and read in place of a predicted pH:
// sampleL of the beer with its share of each addition.
func (q DiluteRequest) TrialSample(sampleL float64) PHTrial {
	t := PHTrial{SampleL: sampleL}
	share := sampleL / q.VolumeL.Value
	for _, l := range q.Liquids {
		switch {
		case l.VolumeL != nil:
			t.Parts = append(t.Parts, fmt.Sprintf("%s mL of the %s",
				trials.Number(trials.Round3(1000*l.VolumeL.Value*share)), l.Kind))
		case l.Kind == "material":
			t.Parts = append(t.Parts, fmt.Sprintf("%s g of the %s, crushed",
				trials.Number(trials.Round3(l.MassG.Value*share)), l.Material))
		case l.MassG != nil:
			t.Parts = append(t.Parts, fmt.Sprintf("%s g of the %s", trials.Number(trials.Round3(l.MassG.Value*share)), l.Kind))
		}
	}
	return t
}
