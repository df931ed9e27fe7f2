package panel

import (
	"fmt"
	"math"
)

// tasterThreshold is the best-estimate threshold of one taster.
type tasterThreshold struct {
	Value    float64 // concentration, the unit of the series
	AllRight bool    // no glass missed: the true threshold may be lower still
	LastMiss bool    // the strongest glass missed: it may be higher still
}

// threshold is the result of AscendingThreshold.
type threshold struct {
	Group    float64           // geometric mean of the tasters' thresholds
	SDLog10  float64           // standard deviation of their log10, valid for two or more tasters
	Tasters  []tasterThreshold // in the order of the rows
	Warnings []string          // what the threshold cannot say, in words
}

// AscendingThreshold returns best-estimate thresholds from one ascending 3-AFC
// series by the rule of [13]. correct[i][j] tells whether taster i picked the
// right glass at concentrations[j]. A taster's threshold is the geometric mean
// of the highest concentration missed and the next higher one; with all right
// the lowest is divided, with the last missed the highest is multiplied, by the
// square root of the neighbouring step. The group's is the geometric mean.
//
// A threshold is where the taste starts to show, not the right dose. A guess is
// right one time in three, so thresholds of single tasters lean low.
//
// Minimum: one taster, two concentrations; steps of 2 to 3 are common practice.
//
// Errors: concentrations not rising or not above zero, a row of the wrong length.
func AscendingThreshold(concentrations []float64, correct [][]bool) (*threshold, error) {
	if err := checkSeries(concentrations); err != nil {
		return nil, err
	}
	if len(correct) == 0 {
		return nil, fmt.Errorf("no answers: give one row of right or wrong per taster")
	}
	r := &threshold{}
	var sum, squares float64
	outside := 0
	for i, row := range correct {
		if len(row) != len(concentrations) {
			return nil, fmt.Errorf("taster %d has %d answers for %d concentrations: every glass needs an answer",
				i+1, len(row), len(concentrations))
		}
		t := oneThreshold(concentrations, row)
		if t.AllRight || t.LastMiss {
			outside++
		}
		r.Tasters = append(r.Tasters, t)
		// thresholds scatter by factors, hence the geometric mean
		sum += math.Log10(t.Value)
	}
	n := float64(len(r.Tasters))
	for _, t := range r.Tasters {
		d := math.Log10(t.Value) - sum/n
		squares += d * d
	}
	r.Group = math.Pow(10, sum/n)
	if n > 1 {
		r.SDLog10 = math.Sqrt(squares / (n - 1))
	} else {
		r.Warnings = append(r.Warnings, "one taster: this is that taster's threshold on one evening, not a panel's")
	}
	if outside > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s of %d fell outside the series, so the threshold is partly set "+
			"by where it starts or ends: widen the series", plural(outside, "taster"), len(correct)))
	}
	return r, nil
}

func checkSeries(c []float64) error {
	if len(c) < 2 {
		return fmt.Errorf("%d concentrations: a series needs at least two", len(c))
	}
	for j, v := range c {
		if !(v > 0) || !plain(v) {
			return fmt.Errorf("concentration %v: give a number above zero", v)
		}
		if j > 0 && v <= c[j-1] {
			return fmt.Errorf("concentration %v follows %v: give them from weak to strong", v, c[j-1])
		}
	}
	return nil
}

func oneThreshold(c []float64, row []bool) tasterThreshold {
	last := len(c) - 1
	miss := -1
	for j, right := range row {
		if !right {
			// the last miss counts, whatever was right below it: one glass in three is right by guessing
			miss = j
		}
	}
	switch miss {
	case -1:
		return tasterThreshold{Value: c[0] / math.Sqrt(c[1]/c[0]), AllRight: true}
	case last:
		return tasterThreshold{Value: c[last] * math.Sqrt(c[last]/c[last-1]), LastMiss: true}
	}
	return tasterThreshold{Value: math.Sqrt(c[miss] * c[miss+1])}
}
