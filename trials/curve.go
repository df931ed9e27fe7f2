package trials

import (
	"strings"

	"hedgerow/extraction"
)

// CurvePoint is one thermometer reading of a steep.
type CurvePoint = extraction.CurvePoint

// CurveText writes thermometer readings the way they are stored and typed:
// "96C@0min,89C@5min".
func CurveText(points []CurvePoint) string {
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = Number(p.TempC) + "C@" + Number(p.Minutes) + "min"
	}
	return strings.Join(parts, ",")
}

// ParseCurve reads what CurveText writes.
func ParseCurve(text string) ([]CurvePoint, error) {
	var points []CurvePoint
	for part := range strings.SplitSeq(text, ",") {
		temp, minute, ok := strings.Cut(strings.TrimSpace(part), "@")
		t, errT := parsePlain(strings.TrimSuffix(temp, "C"))
		m, errM := parsePlain(strings.TrimSuffix(minute, "min"))
		if !ok || errT != nil || errM != nil {
			return nil, Refuse("write 96C@0min,89C@5min", "the temperature curve %q cannot be read", text)
		}
		points = append(points, CurvePoint{Minutes: m, TempC: t})
	}
	return points, nil
}
