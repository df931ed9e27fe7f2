package ledger

import (
	"fmt"
	"slices"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// DiluteRequest is a beer and what is to go into it, nothing stored.
type DiluteRequest struct {
	VolumeL      figure.Limited  // beer before
	OG           figure.Limited  // original gravity, SG 20/20
	FG           figure.Limited  // final gravity, or the expected one if Now is given
	Now          *figure.Limited // gravity while fermentation is under way
	IBU, SRM     *figure.Limited
	CO2Volumes   *figure.Limited // dissolved CO2, volumes
	Liquids      []Liquid        // what is to go in
	GravityLimit float64         // half-width of gravities without a limit of their own, SG
	VolumeLimit  float64         // the same of the volume, as a share
	ZeroError    float64         // part of the gravity limit that all readings share
	Ferment      bool            // added sugar ferments out

	// For the pressure of a package closed in too early; nil where not given.
	WarmestC, StorageC, RatedBar *float64
}

// moment is the beer at one stage.
type moment struct {
	Name   string              // before, mixed, fermented or racked
	State  State               // the beer then
	Change State               // since the beer before; nothing for it
	CO2G   figure.Estimate     // CO2 still to come from what is known to ferment, grams
	Result dilution.StepResult // all figures
}

// Dilution is the answer to a DiluteRequest.
type Dilution struct {
	Additions int                 // how many there are
	Moments   []moment            // before first, then what follows
	Pressure  *Pressure           // if the mix were closed in before its sugar has fermented; nil where none is left
	Without   *State              // the beer at its end without the additions, where it still ferments
	Factor    figure.Estimate     // volume before over volume after mixing
	Budget    dilution.StepBudget // what each input adds to the doubt
	Account   dilution.Account    // the arithmetic behind it
	Draws     dilution.Draws      // behind the intervals
	Warnings  []Warning           // remarks, one sentence each

	origins origins
}

// diluteDraws follow JCGM 101, which asks for 200000.
var diluteDraws = dilution.Draws{N: 200_000, Seed: 20260301}

// Dilute works out what additions do to a beer.
func Dilute(materials trials.Materials, q DiluteRequest) (Dilution, error) {
	from := origins{}
	account, names, err := q.account(materials, from)
	if err != nil {
		return Dilution{}, trials.ProblemOf(err)
	}
	account.Since = make([]int, len(names))
	account.Since[0] = -1
	for i := range names {
		if names[i] == "" {
			account.Since[i] = -1
		}
	}
	results, err := account.MonteCarlo(diluteDraws)
	if err != nil {
		return Dilution{}, trials.ProblemOf(err)
	}
	budgets, err := account.FirstOrder()
	if err != nil {
		return Dilution{}, trials.ProblemOf(err)
	}
	d := Dilution{Account: account, Draws: diluteDraws, Budget: budgets[len(budgets)-1], origins: from,
		Additions: len(q.Liquids)}
	// The calculator is given its gravities, so that the beer counts as wort says
	// nothing.
	seen := dilution.NoteUnfermented
	for i, name := range names {
		d.Warnings = append(d.Warnings, warningsOf("", results[i].Notes&^seen)...)
		seen |= results[i].Notes
		if name == "" {
			continue
		}
		d.Moments = append(d.Moments, moment{Name: name, State: q.hide(StateOf(results[i]), i > 0),
			Change: q.hide(changeOf(results[i]), i > 0),
			CO2G:   results[i].Estimates[dilution.QCO2ToComeG], Result: results[i]})
		if name == momentMixed {
			d.Factor = factorOf(results[0], results[i])
		}
		if name == momentBefore || name == momentMixed {
			if err := q.pressure(&d, results[i].State); err != nil {
				return d, err
			}
		}
	}
	return d, q.without(&d)
}

// Remark puts remarks on what was typed before those on what was calculated.
func (d *Dilution) Remark(texts []string) {
	var list []Warning
	for _, text := range texts {
		list = append(list, Warning{Text: text})
	}
	d.Warnings = append(list, d.Warnings...)
}

// pressure works out what a beer would come to if it were closed in as it is.
func (q DiluteRequest) pressure(d *Dilution, beer dilution.State) error {
	p, err := pressureOf(beer, closedIn{warmestC: q.WarmestC, storageC: q.StorageC, ratedBar: q.RatedBar})
	if err != nil {
		return err
	}
	d.Pressure = nil
	if p.Matters() {
		d.Pressure = &p
	}
	return nil
}

// The stages of an answer.
const (
	momentBefore    = "before"
	momentMixed     = "mixed"
	momentFermented = "fermented"
	momentRacked    = "racked"
)

// account lays the request out; names[i] is the stage that snapshot i shows,
// empty for one in between.
func (q DiluteRequest) account(materials trials.Materials, from origins) (dilution.Account, []string, error) {
	a := dilution.Account{Start: q.start(from)}
	maker := liquidMaker{materials: materials, gravityLimit: q.GravityLimit, origins: from}
	names := []string{momentBefore}
	var racking []dilution.Step
	for i, l := range q.Liquids {
		if len(q.Liquids) > 1 {
			l.Of = fmt.Sprintf("addition %d", i+1)
		}
		in, out, err := maker.steps(l)
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
		names[len(names)-1] = momentMixed
	}
	if q.Ferment || q.Now != nil {
		a.Steps = append(a.Steps, dilution.Finish{})
		names = append(names, momentFermented)
	}
	// last, because pulp is lifted out of the beer and keeps beer back, not wort
	for i, out := range racking {
		a.Steps = append(a.Steps, out)
		names = append(names, "")
		if i == len(racking)-1 {
			names[len(names)-1] = momentRacked
		}
	}
	return a, names, nil
}

// start is the beer before. A bitterness of 1 stands in for one not given, so
// that the dilution factor comes out with its interval.
func (q DiluteRequest) start(from origins) dilution.Start {
	s := dilution.Start{VolumeL: from.typed(input(&q.VolumeL, "volume", q.VolumeLimit), &q.VolumeL),
		SRM: q.passive(from, "colour", q.SRM), CO2Volumes: q.passive(from, "CO2", q.CO2Volumes)}
	og := q.gravity(from, "original gravity", q.OG)
	s.OG = &og
	fg := q.gravity(from, "final gravity", q.FG)
	s.NowSG, s.Finished = &fg, true
	if q.Now != nil {
		now := q.gravity(from, "gravity now", *q.Now)
		s.NowSG, s.FinalSG, s.Finished = &now, &fg, false
	}
	if s.IBU = q.passive(from, "bitterness", q.IBU); s.IBU == nil {
		one := dilution.Exactly(1)
		s.IBU = &one
	}
	return s
}

// passive is a figure that nothing but mixing changes.
func (q DiluteRequest) passive(from origins, name string, l *figure.Limited) *dilution.Input {
	in := optional(l, name, 1)
	if in != nil {
		*in = from.typed(*in, l)
	}
	return in
}

// gravity is a gravity with its own limit, or the common one split into what
// all readings of one hydrometer share and the rest.
func (q DiluteRequest) gravity(from origins, name string, l figure.Limited) dilution.Input {
	in := within(&l, name, q.GravityLimit)
	if q.ZeroError > 0 {
		in.Shared, in.SharedHalfWidth = "zero error of the hydrometer", q.ZeroError
		in.HalfWidth = max(in.HalfWidth-q.ZeroError, 0)
	}
	return from.typed(in, &l)
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
		s.IBU = figure.Estimate{}
	}
	return s
}

// factorOf is the dilution factor, from the bitterness before and after.
func factorOf(before, after dilution.StepResult) figure.Estimate {
	b, a := before.Estimates[dilution.QIBU], after.Estimates[dilution.QIBU]
	// over a bitterness in doubt both would move together, and limits of one say nothing of the ratio
	f := figure.Estimate{Value: a.Value / b.Value, Low: a.Low / b.Value, High: a.High / b.Value, U: a.U / b.Value,
		Level: a.Level, HasBounds: a.HasBounds && b.U == 0, OK: true}
	return f
}

// without adds the beer at its end without the additions, where it is still
// fermenting.
func (q DiluteRequest) without(d *Dilution) error {
	if q.Now == nil {
		return nil
	}
	bare := dilution.Account{Start: q.start(origins{}), Steps: []dilution.Step{dilution.Finish{}}}
	results, err := bare.MonteCarlo(dilution.Draws{N: 20_000, Seed: diluteDraws.Seed})
	if err != nil {
		return trials.ProblemOf(err)
	}
	s := q.hide(StateOf(results[1]), false)
	d.Without = &s
	return nil
}

// Largest names the input that adds most to the doubt of the strength, empty
// when nothing is in doubt.
func (d Dilution) Largest() string { return largest(d.Budget, dilution.QABVInputs) }

// Inputs lists the inputs of the answer in the order they were given.
func (d Dilution) Inputs() []InputShare { return inputShares(d.Account, d.origins, d.Budget) }

// Masses returns water, ethanol and extract of a stage in kilograms.
func (s moment) Masses() (waterKg, ethanolKg, extractKg float64) {
	return s.Result.State.WaterKg, s.Result.State.EthanolKg, s.Result.State.ExtractKg
}
