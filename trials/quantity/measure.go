package quantity

import (
	"math"

	"hedgerow/trials/figure"
)

// measure is a number as written, with its unit and limit.
type measure struct {
	value    float64
	unit     unit
	half     float64 // half-width in halfUnit, or per cent of value if relative
	halfUnit unit
	hasHalf  bool
	relative bool
}

// base returns m in the base unit of its dimension. A limit in per cent is a
// share of the value unless the value is itself in per cent:
//
//	HalfWidth = |Value| half / 100  if relative,  else half in the base unit
//
// A limit is a difference, so that of a Fahrenheit temperature is divided by 1.8
// without the 32.
func (m measure) base() figure.Limited {
	l := figure.Limited{Value: m.unit.base(m.value), HasLimit: m.hasHalf}
	switch {
	case !m.hasHalf:
	case m.relative:
		l.HalfWidth = math.Abs(l.Value) * m.half / 100
	default:
		l.HalfWidth = m.halfUnit.width(m.half)
	}
	return l
}

// measure reads a number, its unit and its limit: "250mL", "250mL+-2%",
// "12L+-0.2L", "60+-1%", "12+-2% L". The unit is of dimension none if there is
// none.
func (r *reader) measure() (measure, error) {
	var m measure
	var err error
	if m.value, err = r.number(); err != nil {
		return m, err
	}
	if r.mark("+-") {
		return r.limitThenUnit(m)
	}
	if m.unit, err = r.ratio(); err != nil {
		return m, err
	}
	if m.value >= 1 && m.value == math.Trunc(m.value) && m.unit.dim != none {
		m.value += r.andPart() // "an ounce and a half": the part is one of the unit
	}
	if r.mark("+-") {
		return r.limitAfterUnit(m)
	}
	return m, nil
}

// limitThenUnit reads on after "60+-": one unit serves the value and the limit,
// but in "12+-2% L" the limit is relative.
func (r *reader) limitThenUnit(m measure) (measure, error) {
	var err error
	if m.half, err = r.halfWidth(); err != nil {
		return m, err
	}
	if m.unit, err = r.ratio(); err != nil {
		return m, err
	}
	m.halfUnit, m.hasHalf = m.unit, true
	if m.unit.dim != percent {
		return m, nil
	}
	mark := r.at
	after, err := r.ratio()
	if err != nil {
		return m, err
	}
	// only an amount has a share of itself for a limit: "60+-1% spirit" is a strength
	if after.dim == volume || after.dim == mass || after.dim == concentration {
		m.unit, m.relative = after, true
		return m, nil
	}
	r.at = mark
	return m, nil
}

// limitAfterUnit reads on after "250mL+-".
func (r *reader) limitAfterUnit(m measure) (measure, error) {
	var err error
	if m.half, err = r.halfWidth(); err != nil {
		return m, err
	}
	if m.halfUnit, err = r.ratio(); err != nil {
		return m, err
	}
	m.hasHalf = true
	switch {
	// a limit without a unit is in that of the amount
	case m.halfUnit.dim == none:
		m.halfUnit = m.unit
	case m.halfUnit.dim == percent && m.unit.dim != percent:
		m.relative = true
	case m.halfUnit.dim != m.unit.dim:
		return m, r.fail("write the limit in the same unit, or in %", "the limit is %s but the amount is %s",
			m.halfUnit.dim.name(), m.unit.dim.name())
	}
	return m, nil
}

// halfWidth reads the number of a limit.
func (r *reader) halfWidth() (float64, error) {
	v, err := r.number()
	if err == nil && v < 0 {
		err = r.fail("write it as 12L+-0.2L or 12L+-2%", "the limit is negative")
	}
	return v, err
}
