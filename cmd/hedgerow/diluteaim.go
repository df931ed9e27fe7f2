package main

import (
	"strings"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// phSampleL is the sample in which a pH is tried, litres.
const phSampleL = 0.1

// aimOptions are what a dilution should come to, as typed.
type aimOptions struct {
	abv, gravity, waterTemp, jars, ph string
	keepABV                           bool
}

// flags adds the aims to a command.
func (o *aimOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.abv, "target-abv", "", "strength wanted: how much water may go in, or how strong to brew")
	f.StringVar(&o.gravity, "target-gravity", "", "gravity wanted: how much water may go in")
	f.BoolVar(&o.keepABV, "keep-abv", false, "how strong to brew so that the additions leave the strength as it is")
	f.StringVar(&o.waterTemp, "water-temp", "", "temperature at which that water will be measured; 20C if left out")
	f.StringVar(&o.jars, "jars", "",
		`water to add so that jars are alike: "200mL,120mL,0" with --volume in each, or "2L+200mL,1.5L+0"`)
	f.StringVar(&o.ph, "ph", "", "pH of the beer: says why that of the mix is not predicted, and what to try")
}

// aim reads what is aimed at, nil for nothing.
func (o aimOptions) aim() (*ledger.Aim, error) {
	aim := ledger.Aim{KeepABV: o.keepABV, WaterTempC: 20}
	var a amounts
	a.set(&aim.ABVPct, "target-abv", o.abv, strengthPct)
	a.set(&aim.SG, "target-gravity", o.gravity, a.gravity)
	a.must(&aim.WaterTempC, "water-temp", o.waterTemp, a.temperature)
	if a.err != nil || aim.ABVPct == nil && aim.SG == nil && !aim.KeepABV {
		return nil, a.err
	}
	return &aim, nil
}

// strengthPct reads a strength: "4.5", "4.5%" or "4.5 % vol".
func strengthPct(text string) (float64, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "vol"))
	return plainNumber(strings.TrimSuffix(number, "%"))
}

// further answers what was asked beyond the mix itself.
func (o aimOptions) further(materials trials.Materials, q ledger.DiluteRequest) (report.DiluteExtra, error) {
	var x report.DiluteExtra
	if o.ph != "" {
		if v, err := plainNumber(o.ph); err != nil || v < 0 || v > 14 {
			return x, trials.Refuse("write --ph 4.3", "pH %q is not a number from 0 to 14", o.ph)
		}
		t := q.TrialSample(phSampleL)
		x.PH = &t
	}
	aim, err := o.aim()
	if err != nil || aim == nil {
		return x, err
	}
	reached, err := ledger.Reach(materials, q, *aim)
	x.Aimed = &reached
	return x, err
}

// runJars shows the water that makes jars alike. Gravities may be left out.
func (o diluteOptions) runJars(e *env) error {
	options, err := e.calculatorOptions()
	if err != nil {
		return err
	}
	if len(o.add) > 0 || o.aimOptions.abv+o.gravity != "" || o.keepABV {
		return trials.Refuse("ask for the jars alone: hedgerow dilute --volume 2L --jars \"200mL,120mL,0\"",
			"--jars says what goes into each jar; it takes no --add and no target")
	}
	a := amounts{options: options}
	beer := 0.0
	a.must(&beer, "volume", o.volume, a.volume)
	var jars []ledger.Jar
	for text := range strings.SplitSeq(o.jars, ",") {
		jars = append(jars, a.jar(strings.TrimSpace(text), beer))
	}
	if a.err != nil {
		return a.err
	}
	if jars, err = ledger.EqualJars(jars); err != nil {
		return err
	}
	var after *ledger.State
	// gravities are a bonus: the water for equal jars follows from volumes alone
	if o.og != "" && o.fg != "" {
		if after, err = o.beerInJars(e, jars[0]); err != nil {
			return err
		}
	}
	return e.show(report.Jars(jars, after, e.style()))
}

// jar reads "2L+200mL", or the treatment alone where all jars hold the same beer.
func (a *amounts) jar(text string, beerL float64) ledger.Jar {
	beer, treatment, both := strings.Cut(text, "+")
	j := ledger.Jar{BeerL: beerL}
	if both {
		a.must(&j.BeerL, "jars", strings.TrimSpace(beer), a.volume)
	} else {
		treatment = text
	}
	if a.err == nil && j.BeerL == 0 {
		a.err = trials.Refuse(`add --volume 2L, or write "2L+200mL,2L+0"`, "how much beer is in each jar is missing")
	}
	if treatment = strings.TrimSpace(treatment); treatment == "" {
		a.err = trials.Refuse(`write "200mL,120mL,0"`, "--jars: %q lacks an amount", text)
	} else if treatment != "0" {
		a.must(&j.AddedL, "jars", treatment, a.volume)
	}
	return j
}

// beerInJars is the beer of a jar with its liquid as water.
func (o diluteOptions) beerInJars(e *env, j ledger.Jar) (*ledger.State, error) {
	q, _, err := o.request(e)
	if err != nil {
		return nil, err
	}
	materials, err := e.materials()
	if err != nil {
		return nil, err
	}
	q.VolumeL = figure.Limited{Value: j.BeerL}
	q.Liquids = []ledger.Liquid{{Kind: "water", VolumeL: &figure.Limited{Value: j.AddedL + j.WaterL}}}
	if j.AddedL+j.WaterL == 0 {
		// nothing is no liquid, and a line of 0 mL would be refused
		q.Liquids = nil
	}
	d, err := ledger.Dilute(materials, q)
	if err != nil {
		return nil, err
	}
	return &d.Moments[len(d.Moments)-1].State, nil
}
