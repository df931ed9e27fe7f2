package sheets

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// scale is the range that scores were given in.
type scale struct {
	low, high float64
	fromLow   bool   // the title names the lower end too
	words     string // as the title has it
}

// The scales of a record.
const (
	lowestIntensity, highestIntensity = 0.0, 10.0
	lowestLiking, highestLiking       = 1.0, 9.0
)

// scalePatterns find a scale in a title: "1-9", "0 to 10", "stars out of 5", "/5".
// They are compiled when the first sheet is read, not at the start of each command.
var scalePatterns = sync.OnceValue(func() [2]*regexp.Regexp {
	return [2]*regexp.Regexp{
		regexp.MustCompile(`^(?:scale|from|of|\s)*(\d+)\s*(?:-|\x{2013}|to|\.\.)\s*(\d+)(?:\s*(?:scale|stars|points))?$`),
		regexp.MustCompile(`^(?:stars?|points?|score)?\s*(?:out\s+of|of|/|max)\s*(\d+)(?:\s*(?:stars?|points?))?$`),
	}
})

// scaleOf returns the scale that a text names, nil if it names none.
func scaleOf(text string) *scale {
	text = strings.ToLower(strings.TrimSpace(text))
	patterns := scalePatterns()
	if m := patterns[0].FindStringSubmatch(text); m != nil {
		low, high := atof(m[1]), atof(m[2])
		if low < high {
			return &scale{low: low, high: high, fromLow: true, words: text}
		}
	}
	if m := patterns[1].FindStringSubmatch(text); m != nil && atof(m[1]) > 1 {
		return &scale{high: atof(m[1]), words: text}
	}
	return nil
}

// atof reads figures that a pattern has matched.
func atof(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// outOf finds a cell such as 4/5.
func outOf(text string) (score, of string, ok bool) {
	score, of, ok = strings.Cut(text, "/")
	score, of = strings.TrimSpace(score), strings.TrimSpace(of)
	return score, of, ok && digitsOnly(of)
}

// digitsOnly reports whether a text is a whole number.
func digitsOnly(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// target is the scale that a column is kept in.
func (c *column) target() (low, high float64) {
	if c.role == roleLiking {
		return lowestLiking, highestLiking
	}
	return lowestIntensity, highestIntensity
}

// settleScale gives a column the scale of its cells where each of them names the
// same, and fills in the lower end: that of the record, since "out of 5" begins
// where the scale of the record does.
func (r *reader) settleScale(c *column) {
	if c.scale == nil {
		c.scale = r.scaleOfCells(c)
	}
	if c.scale == nil {
		return
	}
	low, high := c.target()
	if !c.scale.fromLow {
		c.scale.low = low
	}
	if c.scale.low == low && c.scale.high == high {
		return
	}
	what := fmt.Sprintf("%s is read as %g to %g", c.scale.words, c.scale.low, c.scale.high)
	r.remark("scale_mapped", r.headerLine, c, "%s and kept as %g to %g: %s", what, low, high, c.mapping())
}

// scaleOfCells returns the scale that every cell of a column names, nil for none.
func (r *reader) scaleOfCells(c *column) *scale {
	var found *scale
	for _, w := range r.rows {
		text := strings.TrimSpace(w.cell(c.index))
		if isEmpty(text) {
			continue
		}
		_, of, ok := outOf(text)
		if !ok || found != nil && found.high != atof(of) {
			return nil
		}
		found = &scale{high: atof(of), words: "out of " + of}
	}
	return found
}

// mapping says what the ends and the middle of the scale of a column become.
func (c *column) mapping() string {
	low, high := c.target()
	middle := (c.scale.low + c.scale.high) / 2
	return fmt.Sprintf("%g becomes %g, %g becomes %g, %g becomes %g", c.scale.low, low, middle, (low+high)/2, c.scale.high,
		high)
}

// mapped returns a score in the scale of the record.
//
//	kept = low + (score - scale.low) (high - low) / (scale.high - scale.low)
func (c *column) mapped(score float64) float64 {
	if c.scale == nil {
		return score
	}
	low, high := c.target()
	kept := low + (score-c.scale.low)*(high-low)/(c.scale.high-c.scale.low)
	// nine decimals: a third of a scale must not end in dust
	return math.Round(kept*1e9) / 1e9
}
