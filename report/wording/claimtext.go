package wording

import (
	"hedgerow/report/document"
	"hedgerow/trials"
)

// ClaimRange prints the converted figures of a claim.
func ClaimRange(c trials.Claim) string {
	switch {
	case c.LowGPerL == nil && c.HighGPerL == nil:
		return "-"
	case c.LowGPerL == nil:
		return "up to " + document.Significant(*c.HighGPerL, 3)
	// "3 to 3" would look like a slip
	case c.HighGPerL == nil || *c.LowGPerL == *c.HighGPerL:
		return document.Significant(*c.LowGPerL, 3)
	}
	return document.Significant(*c.LowGPerL, 3) + " to " + document.Significant(*c.HighGPerL, 3)
}

// ClaimOf says what the grams are grams of.
func ClaimOf(c trials.Claim) string {
	basis := c.Basis
	// said openly: fresh or dried differ by a factor of five, and the reader may know which was meant
	if basis == "" {
		basis = "not said"
	}
	if c.PerTea {
		return basis + ", per litre of tea"
	}
	return basis
}
