package plans

import (
	"cmp"
	"fmt"
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// planStep is one thing to do, minutes after the start.
type planStep struct {
	Minute float64 `json:"minute"`
	Do     string  `json:"do"`
}

// steps lists what to do and when. Times beside those of the steeps are common
// practice, no source.
func (p planSheet) steps() []planStep {
	var list []planStep
	clock := 0.0
	step := func(minutes float64, format string, args ...any) {
		list = append(list, planStep{clock, fmt.Sprintf(format, args...)})
		clock += minutes
	}
	d, what := p.Design, p.vessels()
	batch := p.Kind == trials.PlanBatch
	if batch {
		step(15, "Clean and sanitise everything that touches the beer.")
	} else {
		step(15, "Clean and sanitise everything that touches the beer; mark %s with numbers.", what)
	}
	switch {
	case d.Direct == nil:
		p.steepSteps(step)
	case batch:
		step(5, "Weigh %s of %s, %s.", p.mass(d.MassG), p.Material, d.Form)
	default:
		step(5, "Weigh the grams for each %s from the table: %s, %s.", p.vessel(), p.Material, d.Form)
	}
	if !batch {
		step(5, "Put %s of beer into each, quietly, without splashing. The control gets beer too.",
			wording.VolumeText(d.Vessels[0].BeerL, p.units))
	}
	switch {
	case d.Direct != nil:
		p.directSteps(step)
	case batch && d.PouredL() < d.ExtractL:
		step(5, "Measure %s of the extract into the beer and stir gently, without splashing.",
			wording.VolumeText(d.PouredL(), p.units))
	case batch:
		step(5, "Pour all of the extract into the beer and stir gently, without splashing.")
	default:
		step(10, "Add extract and %s to each as in the table, the control too, and turn it once or twice.", p.topUpWord())
	}
	if d.Direct != nil && d.Direct.InWort() {
		step(0, "Read volume and gravity of the cool wort: what the plant brought and kept is in them.")
		return list
	}
	switch p.Kind {
	case trials.PlanBench:
		step(10, "Cover and wait ten minutes, then taste blind: the one who poured does not score.")
	case trials.PlanSplit:
		step(0, "Close, store all side by side, and taste blind when the beer is ready, all on one evening.")
	default:
		step(0, "Read gravity and temperature once it is mixed, and again before packaging.")
	}
	return list
}

// directSteps are the steps of a material put in itself.
func (p planSheet) directSteps(step func(minutes float64, format string, args ...any)) {
	a := p.Design.Direct
	switch {
	case a.InWort():
		p.wortSteps(step)
		return
	case a.Method != trials.MethodContact:
		step(5, "Pour it in and stir gently, without splashing.")
		return
	case p.Kind == trials.PlanBatch:
		step(5, "Put it into the beer and close the fermenter.")
	default:
		step(5, "Put it into the beer; the control gets none. Close them.")
	}
	// left in to the end: there is no step that takes it out
	if a.Minutes == nil {
		return
	}
	step(*a.Minutes, "Leave it in for %s, at an even temperature, and taste it on the way.",
		wording.DurationText(*a.Minutes))
	if p.Kind == trials.PlanBatch {
		step(10, "Take it out, let it drain, and log that: hedgerow addition out ADDITION.")
		return
	}
	step(10, "Take it out of all of them on the same day, let it drain, and log that: hedgerow addition out ADDITION.")
}

// wortSteps are the steps of a material that goes into the wort.
func (p planSheet) wortSteps(step func(minutes float64, format string, args ...any)) {
	a := p.Design.Direct
	minutes := 0.0
	if a.Minutes != nil {
		minutes = *a.Minutes
	}
	if a.Stage == trials.StageBoil {
		step(minutes, "Put it into the boiling wort %s before the end of the boil.", wording.DurationText(minutes))
	} else {
		at := ""
		if a.StartC != nil {
			at = ", at " + wording.TempText(*a.StartC, p.units)
		}
		step(minutes, "Put it into the hot wort when the boil has ended%s, and leave it in for %s, %s.", at,
			wording.DurationText(minutes), cmp.Or(a.Agitation, "still"))
	}
	step(10, "Lift it out, or leave it behind when the wort is drawn off; cool the wort.")
}

// steepSteps are the steps of the extract.
func (p planSheet) steepSteps(step func(minutes float64, format string, args ...any)) {
	d := p.Design
	step(5, "Weigh %s of %s, %s.", p.mass(d.MassG), p.Material, d.Form)
	for i, pass := range d.Passes {
		lead := "Steep"
		if len(d.Passes) > 1 {
			lead = fmt.Sprintf("Pass %d", i+1)
		}
		liquid := "water"
		if d.SpiritPct != nil {
			liquid = document.Fixed(*d.SpiritPct, 0) + " % spirit"
		}
		// five minutes to pour on and to strain
		step(pass.Minutes+5, "%s, %s: %s. Measure what comes out and write it down.", lead, liquid,
			wording.PassWords(pass, p.units))
	}
	// a hot extract would warm the beer and drive out its gas; a cold one or a spirit can go in at once
	if d.SpiritPct == nil && len(d.Passes) > 0 && d.Passes[0].StartC > 40 {
		step(20, "Stand the extract in cold water until it is no warmer than the beer. About %s of it should be "+
			"there; if there is more or less, use it as it is and write it down.",
			wording.VolumeText(decisions.Rounded(d.ExtractL), p.units))
	}
}

// vessels names all vessels of the plan.
func (p planSheet) vessels() string {
	if p.Kind == trials.PlanBatch {
		return "the fermenter"
	}
	return document.Count(len(p.Design.Vessels), p.vessel())
}

// vessel is the word for one vessel.
func (p planSheet) vessel() string {
	return map[string]string{trials.PlanBench: "glass", trials.PlanSplit: "jar", trials.PlanBatch: "batch"}[p.Kind]
}

// topUpWord is what makes the liquid equal.
func (p planSheet) topUpWord() string {
	if p.Design.SpiritPct != nil {
		return "spirit"
	}
	return "water"
}

// makingKit lists what to gather for the extract, or to put the plant in.
func (p planSheet) makingKit() []string {
	d := p.Design
	list := []string{fmt.Sprintf("scale that shows %s g", document.Significant(d.ScaleStepG, 1)),
		fmt.Sprintf("%s of %s, %s", p.mass(d.MassG), p.Material, d.Form)}
	if d.Direct == nil {
		if d.SpiritPct != nil {
			list = append(list, fmt.Sprintf("%s of %s %% spirit", wording.VolumeText(p.steepL(), p.units),
				document.Fixed(*d.SpiritPct, 0)), "jar with a lid")
		} else {
			list = append(list, "kettle, and "+wording.VolumeText(p.steepL()+p.waterL(), p.units)+" of water",
				"thermometer", "heat-proof jug with a lid, or a pot")
		}
		list = append(list, "fine strainer or cloth", "measuring jug or cylinder", "bowl of cold water to cool in", "timer")
	} else {
		list = append(list, "cloth or strainer for the solids", "measuring jug")
	}
	return list
}

// kit lists what to gather.
func (p planSheet) kit() []string {
	d, list := p.Design, p.makingKit()
	switch p.Kind {
	case trials.PlanBench:
		list = append(list, fmt.Sprintf("syringe or pipette marked in %s mL",
			document.Significant(1000*d.PourStepL, 1)),
			document.Count(len(d.Vessels), "glass")+" of one shape, numbered on the foot", "covers (saucers)")
	case trials.PlanSplit:
		list = append(list, fmt.Sprintf("%d jars or kegs for at least %s each, with lids or airlocks", len(d.Vessels),
			wording.VolumeText(decisions.Rounded(1.15*(d.Vessels[0].BeerL+d.AddedL)), p.units)),
			fmt.Sprintf("syringe or cylinder marked in %s mL", document.Significant(1000*d.PourStepL, 1)),
			"siphon or tap")
	default:
		list = append(list, "long spoon", "hydrometer")
	}
	return append(list, "sanitiser", "labels and a pen", "water and plain bread for the tasting")
}

// steepL is the liquid that all passes take, waterL the water for topping up.
func (p planSheet) steepL() float64 {
	var sum float64
	for _, pass := range p.Design.Passes {
		sum += pass.VolumeL
	}
	return sum
}

func (p planSheet) waterL() float64 {
	var sum float64
	for _, v := range p.Design.Vessels {
		sum += v.WaterL
	}
	return sum
}

// mass prints grams to the step of the scale.
func (p planSheet) mass(g float64) string {
	// the step of the scale is in grams, and rounds nothing in ounces
	if p.units != quantity.Metric {
		return wording.MassText(g, p.units)
	}
	const fine = 500 // above it a scale for kilograms is taken, which shows whole grams
	if g > fine {
		return document.Fixed(g, 0) + " g"
	}
	return document.Fixed(g, stepDecimals(p.Design.ScaleStepG)) + " g"
}

// stepDecimals is how many decimals a step shows: 0.1 has one, 0.05 two.
func stepDecimals(step float64) int {
	text := document.Significant(step, 2)
	if _, frac, ok := strings.Cut(text, "."); ok {
		return len(strings.TrimRight(frac, "0"))
	}
	return 0
}
