package quantity

import (
	"fmt"

	"hedgerow/trials/figure"
)

// ParsePercent returns the percentage that text gives, 0 to 100: "10%", "10 %",
// "10 percent", "40% vol", "60+-1%" (one percentage point). A number without the
// sign is an *Error, since 0.1 may mean 10 % or 0.1 %; so is one outside 0 to
// 100. Whether 100 makes sense is for the caller to know.
func ParsePercent(text string) (figure.Limited, error) {
	return parse(text, Options{}, "percentage", "10%", (*reader).percentage)
}

// percentage reads a percentage from 0 to 100.
func (r *reader) percentage() (figure.Limited, error) {
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	return r.percentageOf(m)
}

// percentageOf checks that m is a percentage from 0 to 100.
func (r *reader) percentageOf(m measure) (figure.Limited, error) {
	l := m.base()
	switch {
	case m.unit.dim == none && r.peek().kind == wordToken:
		return l, r.noUnit("10%")
	case m.unit.dim == none && m.value > 0 && m.value < 1:
		return l, r.fail(fmt.Sprintf("write %s%% or %s%%", digits3(m.value*100), digits3(m.value)),
			"it has no %% sign: it may be a fraction or a percentage")
	case m.unit.dim == none:
		return l, r.fail(fmt.Sprintf("write %s%%", digits3(m.value)), "it has no %% sign")
	case m.unit.dim != percent:
		return l, r.fail("write a percentage such as 10%", "it is %s, not a percentage", m.unit.dim.name())
	case l.Value < 0 || l.Value > 100:
		return l, r.fail("write a percentage from 0% to 100%", "%s %% is outside 0 to 100 %%", digits3(l.Value))
	case l.HasLimit && l.HalfWidth > 100:
		return l, r.fail("write it as 60+-1%", "the limit is larger than 100 %%")
	}
	return l, nil
}

// acidity reads a pH at which r stands.
func (r *reader) acidity() (figure.Limited, error) {
	r.word("ph")
	if t := r.peek(); t.kind == numberToken && t.comma3 {
		r.tokens[r.at].comma3 = false // a pH has no thousands
	}
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	switch {
	case m.unit.dim != none || m.relative || m.halfUnit.dim != none:
		return figure.Limited{}, r.fail("write it as 4.32 or 4.32+-0.05", "a pH has no unit")
	case m.value < 0 || m.value > 14:
		return figure.Limited{}, r.fail("write a pH such as 4.32", "pH %s is outside 0 to 14", digits3(m.value))
	}
	return m.base(), nil
}
