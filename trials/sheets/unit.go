package sheets

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/moment"
	"hedgerow/trials/quantity"
)

// measure is what a column of amounts measures, and how one is read.
type measure struct {
	dim     dimension
	choices []string // units that are asked about where none is given
	read    func(text string) (v float64, assumed []string, err error)
}

// volumes reads litres.
func (r *reader) volumes() measure {
	return measure{dimVolume, []string{"L", "gal"}, func(text string) (float64, []string, error) {
		v, err := quantity.ParseVolume(text, r.o.Amounts)
		return v.VolumeL.Value, v.Assumptions, err
	}}
}

// masses reads grams.
func (r *reader) masses() measure {
	return measure{dimMass, []string{"g", "oz"}, func(text string) (float64, []string, error) {
		m, err := quantity.ParseMass(text, r.o.Amounts)
		return m.MassG.Value, m.Assumptions, err
	}}
}

// temperatures reads degrees Celsius.
func (r *reader) temperatures() measure {
	return measure{dimTemp, []string{"C", "F"}, func(text string) (float64, []string, error) {
		t, err := quantity.ParseTemperature(strings.NewReplacer("\u00b0", "", "deg ", "", "degrees ", "").Replace(text))
		return t.Value, nil, err
	}}
}

// durations reads minutes.
func (r *reader) durations() measure {
	return measure{dimDuration, []string{"min", "h", "days"}, func(text string) (float64, []string, error) {
		d, err := quantity.ParseDuration(text)
		return d.Value, nil, err
	}}
}

// doses reads grams per litre.
func (r *reader) doses() measure {
	return measure{dimDose, []string{"g/L"}, func(text string) (float64, []string, error) {
		d, err := quantity.ParseDose(text, r.o.Amounts)
		if err == nil && d.IsRange {
			err = trials.Refuse("write the dose that was used", "%q is a range", text)
		}
		return d.HighGPerL, d.Assumptions, err
	}}
}

// amount reads an amount in the unit of its cell, else of its title; where there is
// none it is asked for. Nil is an empty cell, or one that is at fault or in question.
func (r *reader) amount(w row, c *column, m measure) *float64 {
	text, ok := r.value(w, c)
	if !ok {
		return nil
	}
	f, isNumber := splitFigures(text)
	// "1 1/2 oz" and the like are read as people write them
	if !isNumber || strings.HasPrefix(f.unit, "/") || strings.ContainsAny(f.unit, "0123456789") && m.dim != dimDose {
		return r.parsed(w, c, m, text, w.line)
	}
	v, ok := r.figured(w, c, f)
	if !ok {
		return nil
	}
	unit, line := f.unit, w.line
	switch {
	case unit != "":
		if c.unit != "" && !sameUnit(unit, c.unit) {
			r.remark("cell_unit", w.line, c, "%s is taken as it stands, not in %s", text, c.unit)
		}
	case c.unit != "":
		unit, line = c.unit, r.headerLine
	default:
		q := Ask{About: "unit", Key: "unit of " + c.title, Line: w.line, Value: text, Options: m.choices,
			Text: fmt.Sprintf("%s of %s has no unit", text, c.title)}
		if unit, ok = r.ask(q, c, true); !ok {
			return nil
		}
	}
	return r.parsed(w, c, m, strconv.FormatFloat(v, 'f', -1, 64)+" "+unit, line)
}

// sameUnit reports whether two units are written alike.
func sameUnit(a, b string) bool {
	return strings.Join(wordsOf(a), " ") == strings.Join(wordsOf(b), " ")
}

// parsed reads an amount with its unit; line is where its unit stands.
func (r *reader) parsed(w row, c *column, m measure, text string, line int) *float64 {
	v, assumed, err := m.read(text)
	if err != nil {
		why, do := faultOf(err)
		shown, _ := r.value(w, c)
		r.fault(w.line, c, shorten(shown), why, do)
		return nil
	}
	r.assumed(line, c, assumed)
	return &v
}

// assumed says what a reader of amounts had to take.
func (r *reader) assumed(line int, c *column, list []string) {
	for _, a := range list {
		about := "assumed"
		if strings.Contains(a, "US gal") {
			about = "us_gallon"
		}
		r.remark(about, line, c, "%s", a)
	}
}

// faultOf turns an error for people into the two halves of a Fault.
func faultOf(err error) (why, do string) {
	var q *quantity.Error
	var m *moment.Error
	var p *trials.Problem
	switch {
	case errors.As(err, &q):
		return q.Problem, q.Hint
	case errors.As(err, &m):
		return m.Problem, m.Hint
	case errors.As(err, &p):
		return p.Message, p.Hint
	}
	return err.Error(), "correct the cell"
}

// gravityUnits are the units of a gravity without one that is none by itself.
var gravityUnits = []string{"P", "points"}

// gravity reads a specific gravity: 1.046, 1046, or degrees Plato where the cell or
// the title says so.
func (r *reader) gravity(w row, c *column) *float64 {
	v, unit, ok := r.number(w, c)
	if !ok {
		return nil
	}
	text, _ := r.value(w, c)
	if unit == "" {
		unit = c.unit
	}
	unit = strings.TrimSpace(strings.ReplaceAll(strings.ToLower(unit), "\u00b0", ""))
	const lowestPoints, highestPoints = 970, 1200
	switch {
	case v >= lowestPoints && v <= highestPoints && unit != "p":
		r.remark("thousandths", w.line, c, "%s is read as %.4g: thousandths", text, v/1000)
		v, unit = v/1000, ""
	case unit == "" && v > 2 && v <= 200:
		q := Ask{About: "unit", Key: "unit of " + c.title, Line: w.line, Value: text, Options: gravityUnits,
			Text: fmt.Sprintf("%s of %s may be degrees Plato or points (%.4g)", text, c.title, 1+v/1000)}
		answer, given := r.ask(q, c, false)
		if !given {
			return nil
		}
		if unit = answer; unit == "points" {
			v, unit = 1+v/1000, ""
		}
	}
	number := strconv.FormatFloat(v, 'f', -1, 64)
	if slices.Contains([]string{"p", "plato", "degrees plato", "deg p"}, unit) {
		number += "P"
	} else if unit != "" && unit != "sg" {
		number += " " + unit
	}
	g, err := quantity.ParseGravity(number, r.o.SGOfPlato)
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, text, why, do)
		return nil
	}
	for _, warning := range g.Warnings {
		r.remark("gravity", w.line, c, "%s", warning)
	}
	return &g.SG.Value
}
