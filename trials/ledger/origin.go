package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials/figure"
)

// origin says where a figure of a calculation and its limit come from, in words.
type origin struct {
	Value string // where the figure comes from
	Limit string // empty where the figure has none
}

// The words for origins.
const (
	fromYou       = "typed"
	fromReading   = "measured"
	fromSteep     = "worked out from the steep"
	fromCatalogue = "catalogue"
	fromDefault   = "default"
	limitDefault  = "default"
	limitTyped    = "typed"
	limitSetting  = "setting"
	limitNature   = "natural spread, 25 %"
	limitWeighing = "one weighing"
)

// origins keeps the origin of each named input of an account.
type origins map[string]origin

// note keeps the origin of an input and returns it.
func (o origins) note(in dilution.Input, value, limit string) dilution.Input {
	// a figure that is in no doubt has no limit to explain
	if in.HalfWidth+in.SharedHalfWidth == 0 {
		limit = ""
	}
	o[in.Name] = origin{value, limit}
	return in
}

// typed notes an input that was typed, with a limit of its own or the default.
func (o origins) typed(in dilution.Input, l *figure.Limited) dilution.Input {
	if l != nil && l.HasLimit {
		return o.note(in, fromYou, limitTyped)
	}
	return o.note(in, fromYou, limitDefault)
}

// exact notes an input without doubt and returns it, nil for nil.
func (o origins) exact(name string, v *float64, value string) *dilution.Input {
	if v == nil {
		return nil
	}
	in := o.note(dilution.Input{Name: name, Value: *v}, value, "")
	return &in
}
