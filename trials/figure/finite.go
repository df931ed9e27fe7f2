package figure

import "math"

// Finite reports whether v is an ordinary number: neither NaN nor infinite.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
