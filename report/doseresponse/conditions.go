package doseresponse

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// A Differing is something beside the dose that was not the same in all dosed
// trials with scores.
type Differing struct {
	Name   string   // sugar, raspberry, lot, time of contact, way ..
	Values []string // at least two, each once
}

// differing lists what differed beside the dose: the conditions by name, then
// lots, times of contact and ways. Each could explain a difference between the
// votes as well as the dose does. What a trial does not tell is no difference.
func differing(s evidence.Study) []Differing {
	values := map[string]map[string]bool{}
	var lots, times, ways []string
	for _, t := range s.Trials {
		if !t.Informs() {
			continue
		}
		for name, v := range t.Conditions {
			if values[name] == nil {
				values[name] = map[string]bool{}
			}
			values[name][v] = true
		}
		lots, ways = append(lots, t.Lot), append(ways, t.Method)
	}
	times = contactTimes(s)
	var out []Differing
	for _, name := range slices.Sorted(maps.Keys(values)) {
		out = appendDiffering(out, name, slices.Collect(maps.Keys(values[name])))
	}
	out = appendDiffering(out, "lot", lots)
	out = appendDiffering(out, "time of contact", times)
	return appendDiffering(out, wayName, ways)
}

// wayName is how a difference of method is called.
const wayName = "way"

// appendDiffering appends a difference if there are two known values or more.
func appendDiffering(list []Differing, name string, values []string) []Differing {
	slices.Sort(values)
	values = slices.Compact(values)
	// not told is no value of its own: sorted it stands first
	if len(values) > 0 && values[0] == "" {
		values = values[1:]
	}
	if len(values) < 2 {
		return list
	}
	return append(list, Differing{name, values})
}

// contactTimes are the longest times of contact of the brews that had the plant
// in them. The times at which one brew was tasted on the way are no difference
// between brews: the model has them.
func contactTimes(s evidence.Study) []string {
	longest := map[string]float64{}
	for i, t := range s.Trials {
		if t.Informs() && t.Method == contact && t.ContactDays != nil {
			brew := field.BrewOf(i, t)
			longest[brew] = max(longest[brew], *t.ContactDays)
		}
	}
	var out []string
	for _, days := range longest {
		out = append(out, number(days)+" days")
	}
	return out
}

// contact is the method of a plant put into the beer, the one whose time counts.
const contact = "contact"

// beside is the list of what differs for a sentence, "sugar (10 g/L, none) and
// lot (A, B)".
func beside(list []Differing) string {
	parts := make([]string, len(list))
	for i, d := range list {
		parts[i] = fmt.Sprintf("%s (%s)", d.Name, strings.Join(d.Values, ", "))
	}
	return strings.Join(parts, " and ")
}

// confounders is what differed, where it could explain the votes. Ways alone are
// left to the potencies of the methods, which say what they do.
func (p *Posterior) confounders() []Differing {
	list := differing(p.study)
	if len(list) == 1 && list[0].Name == wayName {
		return nil
	}
	return list
}

// warnConfounded names what else differed.
func (p *Posterior) warnConfounded() string {
	list := p.confounders()
	if len(list) == 0 {
		return ""
	}
	return "not only the dose differs: also " + beside(list)
}
