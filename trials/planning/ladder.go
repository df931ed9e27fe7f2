package planning

import (
	"fmt"
	"math"

	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// Drops asks for the steps of an evening of dosing to taste.
type Drops struct {
	CarriesGPerL float64 // of the extract, effective
	LowGPerL     float64 // the lowest dose that is advised
	HighGPerL    float64 // the highest
	GlassL       float64 // beer in each glass; 0 for as much as the sips need
	PourStepL    float64 // a drop, or what the syringe is marked in
	Factor       float64 // from one step to the next
}

// The glass goes up from a quarter of the lowest dose advised to twice the highest, and
// down the same way. A sip is small, since there are many. Past mostLadder steps the palate
// tires, so that the steps are taken wider; of what is in a glass at most mostDropped is
// from the dropper, or it is no longer that beer (all of it judgement).
const (
	startBelow, endAbove = 4.0, 2.0
	sipL, leastGlassL    = 0.002, 0.050
	mostLadder           = 24
	mostDropped          = 0.20
)

// Ladder works out the steps, the same millilitres for both droppers: of an extract that
// carries c in a dropper, a glass that holds v litres at the dose d comes to the dose D with
//
//	e = v (D - d) / (c - D)
//
// rounded to what can be measured. c lies midway between the two droppers, so that the
// stronger one starts and ends 1.4 times above, the weaker 1.4 times below. The remarks say
// what could not be had.
func Ladder(q Drops) (trials.ToTaste, []string, error) {
	err := q.validate()
	if err != nil {
		return trials.ToTaste{}, nil, err
	}
	low, high := q.LowGPerL/startBelow, q.HighGPerL*endAbove
	s := trials.ToTaste{StepFactor: q.Factor, SipL: sipL, Share: 1}
	var remarks []string
	if span := math.Log(high / low); span > math.Log(s.StepFactor)*(mostLadder-1) {
		s.StepFactor = math.Ceil(100*math.Exp(span/(mostLadder-1))) / 100
		remarks = append(remarks, fmt.Sprintf("the advice lies so far apart that the steps are %s times each",
			trials.Number(s.StepFactor)))
	}
	steps := math.Ceil(math.Log(high/low)/math.Log(s.StepFactor)) + 1
	if s.GlassL = q.GlassL; s.GlassL == 0 {
		// a third is left at the end, for the sips of who goes all the way
		s.GlassL = max(leastGlassL, roundUp(1.5*steps*sipL, 0.010))
	}
	s.Share = q.share(s.GlassL, low, high)
	mid := q.CarriesGPerL * s.Share / math.Sqrt2
	if top := glassTop(q.CarriesGPerL * s.Share); top < high {
		remarks = append(remarks, fmt.Sprintf("the extract carries %s g/L: the glasses end at about %s g/L and not at "+
			"twice the highest advice, or a fifth of them would be extract", trials.Number(trials.Round3(q.CarriesGPerL)),
			trials.Number(trials.Round3(top))))
		high = top
	}
	if s.UpL, err = q.up(s, mid, low, high); err != nil {
		return trials.ToTaste{}, nil, err
	}
	s.DownL = max(nearest(s.GlassL*high/(mid-high), q.PourStepL), q.PourStepL)
	const fillStep = 0.0005 // a syringe of 10 mL shows half a millilitre
	s.FillL = nearest((s.GlassL+s.DownL)*(1-1/s.StepFactor), fillStep)
	s.DownSteps = int(math.Ceil(math.Log(high/low)/math.Log(s.StepFactor)-1e-9)) + 1
	return s, remarks, s.Validate()
}

// glassTop is the dose at which as much of a glass is from the droppers as may be, of an
// extract that carries so much.
func glassTop(carries float64) float64 { return carries / math.Sqrt2 * mostDropped }

// validate refuses an extract or doses of which no steps can be made.
func (q Drops) validate() error {
	if err := CheckTasteSpan(TasteSpan{q.LowGPerL, q.HighGPerL}); err != nil {
		return err
	}
	if !(q.CarriesGPerL > 0) {
		return trials.Refuse("log its passes with: hedgerow extract pass", "it is not known how strong the extract is")
	}
	if err := trials.CheckPositive("a drop, or the step of the syringe", q.PourStepL, "L"); err != nil {
		return err
	}
	// here and not only in what comes out, since far advice puts a wider step in its place
	if err := trials.CheckStepFactor(q.Factor); err != nil {
		return err
	}
	if least := 6 * q.LowGPerL; q.CarriesGPerL < least {
		return trials.Refuse("steep in less liquid, or squeeze, so that the extract is stronger",
			"the extract carries %s g/L, less than six times the lowest dose advised, %s g/L: it would only thin the beer",
			trials.Number(trials.Round3(q.CarriesGPerL)), trials.Number(trials.Round3(q.LowGPerL)))
	}
	return nil
}

// CheckTasteSpan refuses doses between which nothing can be dosed.
func CheckTasteSpan(t TasteSpan) error {
	if !(t.LowGPerL > 0 && t.HighGPerL >= t.LowGPerL && !math.IsInf(t.HighGPerL, 1)) {
		return trials.Refuse("write the lowest and the highest, both above zero, such as --dose 0.5,8",
			"doses from %s to %s g/L are no range", trials.Number(t.LowGPerL), trials.Number(t.HighGPerL))
	}
	return nil
}

// share is how much of the stronger dropper is extract: all of it, or so little that the
// first step is two drops, as far as the last does not flood the glass.
func (q Drops) share(glassL, low, high float64) float64 {
	c := q.CarriesGPerL / math.Sqrt2
	k := math.Floor(2 * q.PourStepL * c / (glassL * low))
	k = min(k, math.Floor(mostDropped*c/high))
	return 1 / max(k, 1)
}

// up is what goes in at each step of the glass that goes up. A syringe that brings the
// glass into the advice at once, or a glass that is drunk up before its end, is refused.
func (q Drops) up(s trials.ToTaste, mid, low, high float64) ([]float64, error) {
	if first := mid * q.PourStepL / (s.GlassL + q.PourStepL); first > q.LowGPerL {
		return nil, trials.Refuse("take a finer syringe, or a larger glass with --glass",
			"one step of the syringe, %s mL, brings a glass of %s mL to %s g/L at once, past the lowest dose advised, %s g/L",
			trials.Number(1000*q.PourStepL), trials.Number(1000*s.GlassL), trials.Number(trials.Round3(first)),
			trials.Number(trials.Round3(q.LowGPerL)))
	}
	var list []float64
	dose, left := 0.0, s.GlassL
	for want := low; len(list) < 2*mostLadder; want = dose * s.StepFactor {
		if left <= s.SipL {
			return nil, trials.Refuse("write --glass 60mL, or leave it out for as much as the sips need",
				"a glass of %s mL is drunk up at step %d, at %s g/L of %s", trials.Number(1000*s.GlassL), len(list),
				trials.Number(trials.Round3(dose)), trials.Number(trials.Round3(high)))
		}
		e := max(nearest(left*(want-dose)/(mid-want), q.PourStepL), q.PourStepL)
		list = append(list, e)
		dose = (dose*left + mid*e) / (left + e)
		left += e - s.SipL
		// one more would pass the end by half a step or more
		if dose*math.Sqrt(s.StepFactor) >= high {
			break
		}
	}
	return list, nil
}

// ExtractFor is an extract after a pattern of which so many litres come out, at least as
// much as can be made well, in handy amounts.
func ExtractFor(n *trials.Notebook, materials trials.Materials, p Pattern, litres, scaleStepG float64) (trials.Extract,
	error) {
	x := *p.Extract
	y, err := patternYield(n, materials, p)
	if err != nil {
		return x, err
	}
	k := litres / y.LiquidL
	mass := roundUp(y.MassG*k*max(toLeastTea(x, k), 1), scaleStepG)
	x.Passes = handyPasses(scaledPasses(x.Passes, mass/y.MassG))
	x.Record, x.MassG, x.TopUps, x.Note = trials.Record{}, mass, nil, ""
	return x, nil
}

// DosePour is how much of an extract that carries c g/L brings so much beer to a dose; +Inf
// where it is no stronger than that.
func DosePour(carries, dose, beerL float64) float64 {
	if carries <= dose {
		return math.Inf(1)
	}
	return dose * beerL / (carries - dose)
}

// CarriesNow is what a litre of what is left of an extract carries, effective g/L of a
// solute class, and how much is left. An extract that is used up, or of which it is not
// known what it carries, is refused.
func CarriesNow(n *trials.Notebook, materials trials.Materials, x trials.Extract, class int) (gPerL, leftL float64,
	err error) {
	jug, err := steeps.JugOf(n, materials, x)
	if err != nil {
		return 0, 0, err
	}
	if err := jug.Check(); err != nil {
		return 0, 0, err
	}
	last := jug.Lines[len(jug.Lines)-1]
	if last.LeftL <= 0 {
		return 0, 0, trials.Refuse("make more of it, or name another", "nothing is left of %s", x.Name)
	}
	return last.LeftG[class] / last.LeftL, last.LeftL, nil
}

// Carries is what a litre of an extract carries as it is made, effective g/L of a solute
// class, and how much comes out.
func Carries(n *trials.Notebook, materials trials.Materials, x trials.Extract, class int) (gPerL, litres float64,
	err error) {
	y, err := patternYield(n, materials, Pattern{Extract: &x})
	return strength(y, class), y.LiquidL, err
}
