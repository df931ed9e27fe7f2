package main

import (
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// dryDownHelp explains the --dry-down flag.
const dryDownHelp = `a sample weighed before and after drying, such as "20g>2.1g", in place of --moisture`

// common reads what all steeps of a command have in common.
func (o steepOptions) common(e *env) (steeps.SteepRequest, quantity.Options, error) {
	if _, err := e.spokenWay(&o.form, &o.as, &o.strength); err != nil {
		return steeps.SteepRequest{}, quantity.Options{}, err
	}
	q := steeps.SteepRequest{Material: o.material, Form: o.form, Kind: o.kind, Method: o.as}
	options, err := e.calculatorOptions()
	if err != nil {
		return q, options, err
	}
	if o.mass == "" {
		return q, options, trials.Refuse("add --mass 36g", "--mass is missing")
	}
	if o.into == "" {
		return q, options, trials.Refuse("add --into 17L", "--into is missing")
	}
	a := e.amountsOf(options)
	a.must(&q.MassG, "mass", o.mass, a.mass)
	a.must(&q.IntoL, "into", o.into, a.volume)
	a.set(&q.MoisturePct, "moisture", o.moisture, a.percent)
	if a.dryDown(&q.MoisturePct, o.moisture, o.dryDown) {
		// a weighed dry-down counts as measured; a share that is typed may come from a label
		q.MoistureMeasured = true
	}
	a.set(&q.SpiritPct, "strength", o.strength, a.spirit)
	a.set(&q.AddedL, "pour", o.pour, a.volume)
	a.must(&q.TopUpL, "top-up", o.topUp, a.volume)
	a.must(&q.BoilOffL, "boil-off", o.boilOff, a.volume)
	a.must(&q.SorptionMLPerG, "sorption", o.sorption, plainNumber)
	a.set(&q.Beer.OG, "og", o.og, a.gravity)
	a.set(&q.Beer.FG, "fg", o.fg, a.gravity)
	a.set(&q.Beer.ABVPct, "abv", o.abv, a.percent)
	return q, options, a.err
}

// dryDown reads a weighed dry-down into a moisture and reports whether there was
// one.
func (a *amounts) dryDown(dst **float64, moisture, text string) bool {
	if text == "" || a.err != nil {
		return false
	}
	if moisture != "" {
		a.err = trials.Refuse("give the one that was measured", "both --moisture and --dry-down are given")
		return false
	}
	pct, ok := a.read("dry-down", text, func(text string) (float64, error) {
		d, err := quantity.ParseDryDown(text)
		return d.MoisturePct(), err
	})
	if ok {
		*dst = &pct
	}
	return ok
}

// single reads one steep.
func (o steepOptions) single(e *env) (steeps.SteepRequest, error) {
	for _, need := range []struct{ flag, text, example string }{{"mass", o.mass, "36g"}, {"form", o.form, "cut"},
		{"into", o.into, "17L"}} {
		if need.text == "" {
			return steeps.SteepRequest{}, trials.Refuse("add --"+need.flag+" "+need.example, "--%s is missing", need.flag)
		}
	}
	q, options, err := o.common(e)
	if err != nil {
		return q, err
	}
	if q.Method == "" {
		q.Method = trials.MethodTea
	}
	if err := trials.CheckMethod(q.Method); err != nil {
		return q, err
	}
	reader := e.amountsOf(options)
	for _, text := range o.passes {
		p, err := reader.pass(text)
		if err != nil {
			return q, inFlag("pass", err)
		}
		q.Passes = append(q.Passes, p)
	}
	switch {
	case needsPasses(q.Method) && len(q.Passes) == 0:
		return q, trials.Refuse(`add --pass "400mL 96C>60C 30min drained"`, "a %s needs at least one pass", q.Method)
	case needsPasses(q.Method):
		return q, o.onlyPasses()
	case len(q.Passes) > 0:
		return q, trials.Refuse("leave --as out for a tea, or say how long with --time",
			"a material put in itself by %s has no pass", q.Method)
	}
	return q, o.stage(&q)
}

// onlyPasses refuses flags that would be dropped: of an extract they belong into
// its passes.
func (o steepOptions) onlyPasses() error {
	for _, f := range []struct {
		name  string
		given bool
	}{{"time", o.minutes != ""}, {"temp", o.temp != ""}, {"agitation", o.agitation != ""}, {"bag", o.bag}} {
		if f.given {
			return trials.Refuse("write it into the pass, such as --pass \"400mL 96C>60C 30min stirred bag drained\"",
				"--%s is for material put in itself", f.name)
		}
	}
	return nil
}

// stage reads how a material put in itself is treated.
func (o steepOptions) stage(q *steeps.SteepRequest) error {
	// juice and puree need no time, and of all else the steep tells that it is missing; readings bring their own
	if o.minutes == "" && !strings.Contains(o.temp, "@") {
		return nil
	}
	s := steeps.Treatment{Agitation: o.agitation, InBag: o.bag}
	h, err := readHeat(o.temp)
	if err != nil {
		return inFlag("temp", err)
	}
	s.StartC, s.EndC, s.Curve = h.startC, h.endC, h.curve
	if len(s.Curve) > 0 {
		s.Minutes = s.Curve[len(s.Curve)-1].Minutes
	}
	a := &amounts{}
	a.must(&s.Minutes, "time", o.minutes, a.minutes)
	q.Treatments = []steeps.Treatment{s}
	return a.err
}

// heat is the temperature of a material put in itself: one, two, or a curve.
type heat struct {
	startC, endC *float64
	curve        []figure.CurvePoint
}

// readHeat reads it; nothing for an empty text.
func readHeat(text string) (heat, error) {
	switch {
	case text == "":
		return heat{}, nil
	case strings.Contains(text, "@"):
		points, err := quantity.ParseCurve(text)
		return heat{curve: points}, err
	}
	span, err := quantity.ParseTempSpan(text)
	return heat{startC: &span.StartC, endC: span.EndC}, err
}
