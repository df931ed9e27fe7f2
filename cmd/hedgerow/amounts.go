package main

import (
	"slices"
	"strconv"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// amounts reads the flags of one command that hold amounts, and keeps the
// first error, so that a command reads as a list of what it takes.
type amounts struct {
	options  quantity.Options
	err      error
	warnings []string
	said     func(string) // tells which country's unit was taken, and the like
}

// amounts returns a reader with the user's settings (which gallon is meant).
func (e *env) amounts() *amounts {
	a := &amounts{said: e.taken}
	settings, err := e.settings()
	if err != nil {
		a.err = err
		return a
	}
	a.options, a.err = optionsOf(settings)
	return a
}

// amountsOf returns a reader with options that are known.
func (e *env) amountsOf(options quantity.Options) *amounts {
	return &amounts{options: options, said: e.taken}
}

// settings reads the settings; without a notebook there are none. Amounts are read
// before it is known whether the command writes, and so makes the notebook.
func (e *env) settings() (map[string]string, error) {
	if e.change == nil && e.open == nil && e.missing() {
		return nil, nil
	}
	r, err := e.source()
	if err != nil {
		return nil, err
	}
	return r.Settings(e.ctx)
}

// clear is what a user types to take an optional value away.
const clear = "none"

// set reads text into dst: nothing if the flag was not given, nil for "none".
func (a *amounts) set(dst **float64, flag, text string, read func(string) (float64, error)) {
	switch text {
	case "":
	case clear:
		*dst = nil
	default:
		if v, ok := a.read(flag, text, read); ok {
			*dst = &v
		}
	}
}

// must reads text into dst, which cannot be taken away.
func (a *amounts) must(dst *float64, flag, text string, read func(string) (float64, error)) {
	if text == "" {
		return
	}
	if v, ok := a.read(flag, text, read); ok {
		*dst = v
	}
}

// read runs one reader and keeps its error with the name of the flag.
func (a *amounts) read(flag, text string, read func(string) (float64, error)) (float64, bool) {
	// the first fault is what the reader is told: a second often follows from it
	if a.err != nil {
		return 0, false
	}
	v, err := read(corrected(text))
	if err != nil {
		a.err = inFlag(flag, err)
		return 0, false
	}
	return v, true
}

// word copies a text flag that was given.
func word(dst *string, text string) {
	if text == clear {
		*dst = ""
	} else if text != "" {
		*dst = strings.TrimSpace(text)
	}
}

// volume reads litres.
func (a *amounts) volume(text string) (float64, error) {
	v, err := quantity.ParseVolume(text, a.options)
	a.assume(v.Assumptions)
	return v.VolumeL.Value, err
}

// mass reads grams.
func (a *amounts) mass(text string) (float64, error) {
	m, err := quantity.ParseMass(text, a.options)
	a.assume(m.Assumptions)
	return m.MassG.Value, err
}

// assume tells what had to be assumed.
func (a *amounts) assume(list []string) {
	for _, s := range list {
		a.said(s)
	}
}

// taken remarks once what was taken that was not typed.
func (e *env) taken(what string) {
	note := "assumed: " + what
	switch {
	case slices.Contains(e.warned, note):
	case e.flags.quiet:
		e.warned = append(e.warned, note)
	default:
		e.remark("%s", note)
	}
}

// temperature reads degrees Celsius.
func (a *amounts) temperature(text string) (float64, error) {
	t, err := quantity.ParseTemperature(text)
	return t.Value, err
}

// gravity reads a specific gravity, degrees Plato converted.
func (a *amounts) gravity(text string) (float64, error) {
	g, err := quantity.ParseGravity(text, ledger.SGFromPlato)
	a.warnings = append(a.warnings, g.Warnings...)
	return g.SG.Value, err
}

// percent reads per cent.
func (a *amounts) percent(text string) (float64, error) {
	p, err := quantity.ParsePercent(text)
	return p.Value, err
}

// spirit reads the strength of a spirit, or its name, which stands for the usual 40 % vol.
func (a *amounts) spirit(text string) (float64, error) {
	const usual = 40.0
	name := strings.ToLower(strings.TrimSpace(text))
	if !slices.Contains(quantity.SpiritNames, name) {
		return a.percent(text)
	}
	a.said(name + " is taken at 40 % vol; write the strength on the label to be sure")
	return usual, nil
}

// minutes reads a duration.
func (a *amounts) minutes(text string) (float64, error) { return parseMinutes(text) }

// parseMinutes reads a duration in minutes.
func parseMinutes(text string) (float64, error) {
	d, err := quantity.ParseDuration(text)
	return d.Value, err
}

// plainNumber reads a number without a unit, a decimal comma allowed.
func plainNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil || !figure.Finite(v) {
		return 0, trials.Refuse("write a number such as 30 or 4.31", "%q is not a number", text)
	}
	return v, nil
}

// pressureBar reads a pressure above atmosphere in bar.
func pressureBar(text string) (float64, error) {
	number, unit := strings.TrimSpace(text), 1.0
	for suffix, factor := range map[string]float64{"bar": 1, "psi": 0.06894757, "kPa": 0.01} {
		if rest, ok := strings.CutSuffix(number, suffix); ok {
			number, unit = strings.TrimSpace(rest), factor
		}
	}
	v, err := plainNumber(number)
	if err != nil || v <= 0 {
		return 0, trials.Refuse("write 6bar or 90psi", "pressure %q cannot be read", text)
	}
	return v * unit, nil
}
