package quantity

import (
	"fmt"
	"math"

	"hedgerow/trials/figure"
)

// gravity is a specific gravity as read.
type gravity struct {
	SG       figure.Limited // specific gravity 20/20
	Plato    *float64       // as written, nil if it was written as specific gravity
	Warnings []string       // above figure.SGWarn
}

// Plato values are turned into gravities between these bounds; outside them no
// gravity from figure.SGMin to figure.SGMax can come out.
const minPlato, maxPlato = -10.0, 50.0

// ParseGravity returns the gravity that text gives, as specific gravity 20/20:
// "1.048", "1,048", "1.048+-0.001", "12P", "12 Plato".
//
// platoToSG converts degrees Plato; it is passed in because the sugar tables
// belong to another package, and without it a value in Plato is refused. It is
// called for -10..50 P only and need not check its input.
//
// It returns an *Error for what checkGravity refuses, for degrees Brix (which
// equal Plato only before fermentation) and for a limit in per cent, and warns
// above figure.SGWarn.
func ParseGravity(text string, platoToSG func(plato float64) float64) (gravity, error) {
	return parse(text, Options{PlatoToSG: platoToSG}, "gravity", "1.048 or 12P", (*reader).gravity)
}

// gravity reads a gravity at which r stands.
func (r *reader) gravity() (gravity, error) {
	r.word("sg", "og", "fg")
	if t := r.peek(); t.kind == numberToken && t.comma3 {
		r.tokens[r.at].comma3 = false // 1,048 has one meaning only
	}
	m, err := r.measure()
	if err != nil {
		return gravity{}, err
	}
	r.word("sg")
	if m.relative {
		return gravity{}, r.fail("write it as 1.048+-0.001", "a gravity has no limit in %%")
	}
	g := gravity{SG: m.base()}
	switch m.unit.dim {
	case none:
	case plato:
		if g, err = r.fromPlato(m.base()); err != nil {
			return gravity{}, err
		}
	default:
		return gravity{}, r.fail("write it as 1.048 or 12P", "it is %s, not a gravity", m.unit.dim.name())
	}
	if err := checkGravity(g.SG.Value, r.text); err != nil {
		return gravity{}, err
	}
	if g.SG.Value > figure.SGWarn {
		g.Warnings = append(g.Warnings, fmt.Sprintf("gravity %s is above %g: the sugar tables are extrapolated there",
			digitsSG(g.SG.Value), figure.SGWarn))
	}
	return g, nil
}

// fromPlato converts degrees Plato and their limit, whose half-width in gravity
// is half the difference between the gravities at its two ends.
func (r *reader) fromPlato(p figure.Limited) (gravity, error) {
	if r.opt.PlatoToSG == nil {
		return gravity{}, r.fail("write the specific gravity, such as 1.048", "degrees Plato cannot be converted here")
	}
	if p.Value-p.HalfWidth < minPlato || p.Value+p.HalfWidth > maxPlato {
		return gravity{}, r.fail("write it as 1.048 or 12P", "%s P is outside %g to %g P", digits3(p.Value), minPlato,
			maxPlato)
	}
	convert := r.opt.PlatoToSG
	g := gravity{Plato: &p.Value, SG: figure.Limited{Value: convert(p.Value), HasLimit: p.HasLimit}}
	if p.HasLimit {
		g.SG.HalfWidth = (convert(p.Value+p.HalfWidth) - convert(p.Value-p.HalfWidth)) / 2
	}
	if math.IsNaN(g.SG.Value) || math.IsNaN(g.SG.HalfWidth) {
		return gravity{}, r.fail("write the specific gravity, such as 1.048", "%s P cannot be converted", digits3(p.Value))
	}
	return g, nil
}

// checkGravity returns an *Error unless sg lies in figure.SGMin to figure.SGMax. Numbers that
// look like a gravity without its point, or like degrees Plato, are asked about.
func checkGravity(sg float64, asWritten string) error {
	if sg >= figure.SGMin && sg <= figure.SGMax {
		return nil
	}
	hint := "write it as 1.048 or 12P"
	switch {
	case sg >= 1000*figure.SGMin && sg <= 1000*figure.SGMax:
		hint = fmt.Sprintf("did you mean %s?", digitsSG(sg/1000))
	case sg >= 2 && sg < 40:
		hint = fmt.Sprintf("did you mean %sP or %s?", digits3(sg), digitsSG(1+sg/1000))
	case sg >= 40 && sg <= 200:
		hint = fmt.Sprintf("did you mean %s?", digitsSG(1+sg/1000))
	}
	return &Error{Value: asWritten, Problem: fmt.Sprintf("gravity %s is outside %.3f to %.3f", digits3(sg), figure.SGMin,
		figure.SGMax), Hint: hint}
}
