package figure

// Limited is a number with the limit that was written with it: the true value
// lies within Value - HalfWidth to Value + HalfWidth.
type Limited struct {
	Value     float64 // in the base unit of the field
	HalfWidth float64 // in the same unit; 0 unless HasLimit
	HasLimit  bool    // whether a limit was written at all
}

// Times returns the number in a unit of which there are factor in the old one.
func (l Limited) Times(factor float64) Limited {
	l.Value, l.HalfWidth = l.Value*factor, l.HalfWidth*factor
	return l
}
