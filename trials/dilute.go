package trials

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/dilution"
)

// DiluteRequest is a beer and what is to go into it, nothing stored.
type DiluteRequest struct {
	VolumeL      Limited
	OG           Limited
	FG           Limited  // final gravity, or the expected one if Now is given
	Now          *Limited // gravity while fermentation is under way
	IBU, SRM     *Limited
	CO2Volumes   *Limited
	Liquids      []Liquid
	GravityLimit float64 // half-width of gravities without a limit of their own, SG
	VolumeLimit  float64 // the same of the volume, as a share
	ZeroError    float64 // part of the gravity limit that all readings share
	Ferment      bool    // added sugar ferments out
}

// DiluteStage is the beer at one stage.
type DiluteStage struct {
	Name   string // before, mixed, fermented or racked
	State  State
	CO2G   Estimate // CO2 still to come from what is known to ferment, grams
	Result dilution.StepResult
}

// Dilution is the answer to a DiluteRequest.
type Dilution struct {
	Stages   []DiluteStage // before first, then what follows
	Without  *State        // the beer at its end without the additions, where it still ferments
	Factor   Estimate      // volume before over volume after mixing
	Budget   dilution.StepBudget
	Account  dilution.Account
	Draws    dilution.Draws
	Warnings []string
}

// diluteDraws follow JCGM 101, which asks for 200000.
var diluteDraws = dilution.Draws{N: 200_000, Seed: 20260301}

// Dilute works out what additions do to a beer.
func Dilute(materials Materials, q DiluteRequest) (Dilution, error) {
	account, names, err := q.account(materials)
	if err != nil {
		return Dilution{}, problemOf(err)
	}
	results, err := account.MonteCarlo(diluteDraws)
	if err != nil {
		return Dilution{}, problemOf(err)
	}
	budgets, err := account.FirstOrder()
	if err != nil {
		return Dilution{}, problemOf(err)
	}
	d := Dilution{Account: account, Draws: diluteDraws, Budget: budgets[len(budgets)-1]}
	seen := map[string]bool{}
	for i, name := range names {
		for _, w := range results[i].Warnings() {
			if !seen[w] && !strings.HasPrefix(w, "unfermented:") {
				d.Warnings = append(d.Warnings, w)
				seen[w] = true
			}
		}
		if name == "" {
			continue
		}
		d.Stages = append(d.Stages, DiluteStage{Name: name, State: q.hide(stateOf(results[i]), i > 0), CO2G: results[i].Estimates[dilution.QCO2ToComeG], Result: results[i]})
		if name == StageMixed {
			d.Factor = factorOf(results[0], results[i])
		}
	}
	return d, q.without(&d)
}

// The stages of an answer.
const (
	StageBefore    = "before"
	StageMixed     = "mixed"
	StageFermented = "fermented"
	StageRacked    = "racked"
)

// account lays the request out; names[i] is the stage that snapshot i shows,
// empty for one in between.
func (q DiluteRequest) account(materials Materials) (dilution.Account, []string, error) {
	a := dilution.Account{Start: q.start()}
	names := []string{StageBefore}
	var racking []dilution.Step
	for i, l := range q.Liquids {
		in, out, err := l.steps(materials)
		if err != nil {
			return a, nil, fmt.Errorf("addition %d: %w", i+1, err)
		}
		a.Steps = append(a.Steps, withoutBitterness(in))
		names = append(names, "")
		if out != nil {
			racking = append(racking, out)
		}
	}
	if len(q.Liquids) > 0 {
		names[len(names)-1] = StageMixed
	}
	if q.Ferment || q.Now != nil {
		a.Steps = append(a.Steps, dilution.Finish{})
		names = append(names, StageFermented)
	}
	for i, out := range racking {
		a.Steps = append(a.Steps, out)
		names = append(names, "")
		if i == len(racking)-1 {
			names[len(names)-1] = StageRacked
		}
	}
	return a, names, nil
}

// start is the beer before. A bitterness of 1 stands in for one not given, so
// that the dilution factor comes out with its interval.
func (q DiluteRequest) start() dilution.Start {
	s := dilution.Start{VolumeL: q.VolumeL.input("volume", q.VolumeLimit), SRM: q.SRM.optional("colour", 1), CO2Volumes: q.CO2Volumes.optional("CO2", 1)}
	og := q.gravity("original gravity", q.OG)
	s.OG = &og
	fg := q.gravity("final gravity", q.FG)
	s.NowSG, s.Finished = &fg, true
	if q.Now != nil {
		now := q.gravity("gravity now", *q.Now)
		s.NowSG, s.FinalSG, s.Finished = &now, &fg, false
	}
	if s.IBU = q.IBU.optional("bitterness", 1); s.IBU == nil {
		one := dilution.Exactly(1)
		s.IBU = &one
	}
	return s
}

// gravity is a gravity with its own limit, or the common one split into what
// all readings of one hydrometer share and the rest.
func (q DiluteRequest) gravity(name string, l Limited) dilution.Input {
	half := q.GravityLimit
	if l.HasLimit {
		half = l.HalfWidth
	}
	in := dilution.Input{Name: name, Value: l.Value, HalfWidth: half}
	if q.ZeroError > 0 {
		in.Shared, in.SharedHalfWidth = "zero error of the hydrometer", q.ZeroError
		in.HalfWidth = max(half-q.ZeroError, 0)
	}
	return in
}

// withoutBitterness lets a beer that is blended in bring no bitterness, so that
// the dilution factor comes out; that of the blend is hidden, not being known.
func withoutBitterness(step dilution.Step) dilution.Step {
	add, _ := step.(dilution.Add)
	blend, ok := add.Liquid.(dilution.AddBeer)
	if !ok {
		return step
	}
	none := dilution.Exactly(0)
	blend.Beer.IBU = &none
	return dilution.Add{Liquid: blend}
}

// hide drops the stand-in bitterness, and after mixing that of a blend with a
// beer whose bitterness is not known.
func (q DiluteRequest) hide(s State, mixed bool) State {
	blended := slices.ContainsFunc(q.Liquids, func(l Liquid) bool { return l.Kind == "beer" })
	if q.IBU == nil || mixed && blended {
		s.IBU = Estimate{}
	}
	return s
}

// factorOf is the dilution factor, from the bitterness before and after.
func factorOf(before, after dilution.StepResult) Estimate {
	b, a := before.Estimates[dilution.QIBU], after.Estimates[dilution.QIBU]
	f := Estimate{Value: a.Value / b.Value, Low: a.Low / b.Value, High: a.High / b.Value, U: a.U / b.Value, Level: a.Level, HasBounds: a.HasBounds && b.U == 0, OK: true}
	return f
}

// without adds the beer at its end without the additions, where it is still
// fermenting.
func (q DiluteRequest) without(d *Dilution) error {
	if q.Now == nil {
		return nil
	}
	bare := dilution.Account{Start: q.start(), Steps: []dilution.Step{dilution.Finish{}}}
	results, err := bare.MonteCarlo(dilution.Draws{N: 20_000, Seed: diluteDraws.Seed})
	if err != nil {
		return problemOf(err)
	}
	s := q.hide(stateOf(results[1]), false)
	d.Without = &s
	return nil
}

// DefaultGravityLimit and DefaultVolumeLimit are the limits taken where none is
// given: SG, and a share of the volume.
const (
	DefaultGravityLimit = 0.001
	DefaultVolumeLimit  = 0.02
)

// MaxGravityLimit and MaxVolumeLimit are the widest limits accepted: wider ones
// reach gravities and volumes that no beer has.
const (
	MaxGravityLimit = 0.02
	MaxVolumeLimit  = 0.5
)

// InputShare is an input of an answer with what it adds to the standard
// uncertainty of the strength, in % vol.
type InputShare struct {
	Name            string
	Value           float64
	HalfWidth       float64
	ABVContribution float64
}

// Largest names the input that adds most to the doubt of the strength, empty
// when nothing is in doubt.
func (d Dilution) Largest() string {
	for _, part := range d.Budget.Quantities[dilution.QABVInputs].Parts {
		return part.Name
	}
	return ""
}

// Inputs lists the inputs of the answer in the order they were given.
func (d Dilution) Inputs() []InputShare {
	u := map[string]float64{}
	for _, part := range d.Budget.Quantities[dilution.QABVInputs].Parts {
		u[part.Name] = part.U
	}
	var list []InputShare
	for _, in := range d.Account.Inputs() {
		if in.Name != "" {
			list = append(list, InputShare{in.Name, in.Value, in.HalfWidth + in.SharedHalfWidth, u[in.Name]})
		}
	}
	return list
}

// Masses returns water, ethanol and extract of a stage in kilograms.
func (s DiluteStage) Masses() (waterKg, ethanolKg, extractKg float64) {
	return s.Result.State.WaterKg, s.Result.State.EthanolKg, s.Result.State.ExtractKg
}
