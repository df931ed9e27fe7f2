package trials

import (
	"strings"

	"hedgerow/trials/figure"
)

// CurveText writes thermometer readings the way they are stored and typed:
// "96C@0min,89C@5min".
func CurveText(points []figure.CurvePoint) string {
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = Number(p.TempC) + "C@" + Number(p.Minutes) + "min"
	}
	return strings.Join(parts, ",")
}

// KeptCurve reads what CurveText writes: a record is read as it is kept, not as
// people type.
func KeptCurve(text string) ([]figure.CurvePoint, error) {
	var points []figure.CurvePoint
	for part := range strings.SplitSeq(text, ",") {
		temp, minute, ok := strings.Cut(strings.TrimSpace(part), "@")
		// parsePlain, for ParseFloat takes "NaN" and "Inf" as temperatures
		t, errT := parsePlain(strings.TrimSuffix(temp, "C"))
		m, errM := parsePlain(strings.TrimSuffix(minute, "min"))
		if !ok || errT != nil || errM != nil {
			return nil, Refuse("write 96C@0min,89C@5min", "the temperature curve %q cannot be read", text)
		}
		points = append(points, figure.CurvePoint{Minutes: m, TempC: t})
	}
	return points, nil
}
