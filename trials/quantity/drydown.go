package quantity

// dryDown is a sample weighed before and after drying to constant mass.
type dryDown struct{ WetG, DryG float64 }

// ParseDryDown returns the two weights that text gives: "20g>2.1g", "20 g to 2.1
// g", "1oz>3g"; a first weight without a unit has that of the second. It returns
// an *Error for anything but two masses above zero, and where drying added
// weight.
func ParseDryDown(text string) (dryDown, error) {
	return parse(text, Options{}, "pair of weights", "20g>2.1g", (*reader).dryDown)
}

// dryDown reads two masses.
func (r *reader) dryDown() (dryDown, error) {
	const example = "write the weight before and after drying, such as 20g>2.1g"
	wet, err := r.measure()
	if err != nil {
		return dryDown{}, err
	}
	if !r.mark(">") && !r.word("to") {
		return dryDown{}, r.unexpected(example)
	}
	dry, err := r.measure()
	if err != nil {
		return dryDown{}, err
	}
	if wet.unit.dim == none {
		wet.unit = dry.unit
	}
	if wet.unit.dim != mass || dry.unit.dim != mass {
		return dryDown{}, r.fail(example, "it is not two weights")
	}
	d := dryDown{wet.base().Value, dry.base().Value}
	switch {
	case !(d.DryG > 0):
		return dryDown{}, r.fail(example, "a weight is not above zero")
	case d.DryG > d.WetG:
		return dryDown{}, r.fail("write the weight before drying first", "it weighs more after drying than before")
	}
	return d, nil
}

// MoisturePct returns the water of the sample, 100 (wet - dry)/wet, % of its
// mass.
func (d dryDown) MoisturePct() float64 { return 100 * (d.WetG - d.DryG) / d.WetG }
