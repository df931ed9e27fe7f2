package steeps

import "hedgerow/trials"

// keptTo is a curve that lasts for minutes: beyond its last reading the
// temperature is taken as kept.
func keptTo(curve []trials.CurvePoint, minutes float64) []trials.CurvePoint {
	last := curve[len(curve)-1]
	if minutes <= last.Minutes {
		return curve
	}
	return append(curve, trials.CurvePoint{Minutes: minutes, TempC: last.TempC})
}
