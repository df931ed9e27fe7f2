package figure

// CurvePoint is one thermometer reading of a steep.
type CurvePoint struct {
	Minutes float64 // since the start of the steep
	TempC   float64 // degrees Celsius
}
