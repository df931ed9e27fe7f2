package trials

// keptTo is a curve that lasts for minutes: beyond its last reading the
// temperature is taken as kept.
func keptTo(curve []CurvePoint, minutes float64) []CurvePoint {
	last := curve[len(curve)-1]
	if minutes <= last.Minutes {
		return curve
	}
	return append(curve, CurvePoint{Minutes: minutes, TempC: last.TempC})
}
