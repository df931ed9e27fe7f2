package plot

import (
	"math"
	"strconv"
)

// Axis turns values into places along it.
type Axis struct {
	Low, High float64 // its ends
	Log       bool    // equal steps are equal factors; both ends are then above zero
	Decimals  int     // least decimals of its labels
}

// roundSteps are the leading digits of round numbers.
var roundSteps = []float64{1, 2, 5}

// Around returns the axis from the next round number (1, 2 or 5 times a power of ten)
// at or below all values to the next at or above them. On a logarithmic axis values
// that are not above zero are passed over; without any value it runs from 1 to 10, a
// linear one from 0 to 1.
func Around(log bool, values ...float64) Axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) || log && v <= 0 {
			continue
		}
		low, high = min(low, v), max(high, v)
	}
	switch {
	case low > high && log:
		return Axis{Low: 1, High: 10, Log: true}
	case low > high:
		return Axis{Low: 0, High: 1}
	case log:
		return aroundLog(low, high)
	}
	step := stepFor(high-low, 4)
	if high == low {
		step = max(math.Abs(high), 1)
	}
	a := Axis{Low: step * math.Floor(low/step+tiny), High: step * math.Ceil(high/step-tiny)}
	if a.Low == a.High {
		a.High += step
	}
	return a
}

// tiny is how far a value may be from a round number and count as one.
const tiny = 1e-9

// aroundLog is Around for values above zero.
func aroundLog(low, high float64) Axis {
	a := Axis{Log: true, Low: roundBelow(low), High: roundBelow(high)}
	for a.High < high*(1-tiny) || a.High <= a.Low {
		a.High = nextRound(a.High)
	}
	return a
}

// roundBelow returns the largest of 1, 2 and 5 times a power of ten at or below v.
func roundBelow(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)+tiny))
	best := power
	for _, s := range roundSteps {
		if s*power <= v*(1+tiny) {
			best = s * power
		}
	}
	return best
}

// nextRound returns the round number after one.
func nextRound(v float64) float64 {
	// 2.2 and 2.6 times lie within the gaps: 1 to 2 and 5 to 10 double, 2 to 5 is 2.5 times
	return roundBelow(2.6 * v)
}

// place returns where a value stands, 0 at the low end and 1 at the high one; what lies
// outside stands at the end.
func (a Axis) place(v float64) float64 {
	low, high := a.Low, a.High
	if a.Log {
		if v <= 0 {
			return 0
		}
		low, high, v = math.Log(low), math.Log(high), math.Log(v)
	}
	if high <= low {
		return 0.5
	}
	return min(max((v-low)/(high-low), 0), 1)
}

// A tick is a round number of an axis.
type tick struct {
	at    float64 // its value
	label string  // empty for a short tick between two labels
}

// stepFor returns the smallest round step that parts a span into at most n parts.
func stepFor(span float64, n int) float64 {
	if span <= 0 || n < 1 {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, s := range append(roundSteps, 10) {
		if span/(s*power) <= float64(n)*(1+tiny) {
			return s * power
		}
	}
	return 10 * power
}

// ticks returns the ticks of an axis of a length in pixels, as many labels as fit where
// a label takes what need says.
func (a Axis) ticks(length float64, need func(label string) float64) []tick {
	if a.Log {
		return a.logTicks(length, need)
	}
	for n := 8; n > 1; n-- {
		list := a.linearTicks(stepFor(a.High-a.Low, n))
		if fits(a, list, length, need) {
			return list
		}
	}
	return a.linearTicks(a.High - a.Low)
}

// linearTicks are the multiples of a step.
func (a Axis) linearTicks(step float64) []tick {
	var list []tick
	decimals := max(a.Decimals, int(math.Ceil(-math.Log10(step)-tiny)))
	for k := math.Ceil(a.Low/step - tiny); k*step <= a.High+step*tiny; k++ {
		list = append(list, tick{k * step, strconv.FormatFloat(k*step+0, 'f', decimals, 64)})
	}
	return list
}

// logTicks labels 1, 2 and 5 times the powers of ten, fewer where they do not fit and
// more where an axis shorter than a decade would have hardly any; other whole leading
// digits get short ticks.
func (a Axis) logTicks(length float64, need func(label string) float64) []tick {
	whole := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9}
	ways := [][]float64{roundSteps, {1}, {}}
	if a.High < 5*a.Low {
		ways = append([][]float64{whole}, ways...)
	}
	for _, labelled := range ways {
		var list []tick
		for power := math.Pow(10, math.Floor(math.Log10(a.Low)+tiny)); power <= a.High*(1+tiny); power *= 10 {
			for _, digit := range whole {
				v := digit * power
				if v < a.Low*(1-tiny) || v > a.High*(1+tiny) {
					continue
				}
				t := tick{at: v}
				if contains(labelled, digit) || len(labelled) == 0 && (len(list) == 0 || v >= a.High*(1-tiny)) {
					t.label = strconv.FormatFloat(v, 'f', max(0, int(math.Ceil(-math.Log10(v)-tiny))), 64)
				}
				list = append(list, t)
			}
		}
		if fits(a, list, length, need) || len(labelled) == 0 {
			return list
		}
	}
	return nil
}

// contains reports whether a list has a digit.
func contains(list []float64, digit float64) bool {
	for _, v := range list {
		if v == digit {
			return true
		}
	}
	return false
}

// fits reports whether the labels of neighbouring ticks leave each other room.
func fits(a Axis, list []tick, length float64, need func(label string) float64) bool {
	last := math.Inf(-1)
	for _, t := range list {
		if t.label == "" {
			continue
		}
		at, half := length*a.place(t.at), need(t.label)/2
		if at-half < last {
			return false
		}
		last = at + half
	}
	return true
}
