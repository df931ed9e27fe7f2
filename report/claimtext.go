package report

import "hedgerow/trials"

// claimRange prints the converted figures of a claim.
func claimRange(c trials.Claim) string {
	switch {
	case c.LowGPerL == nil && c.HighGPerL == nil:
		return "-"
	case c.LowGPerL == nil:
		return "up to " + significant(*c.HighGPerL, 3)
	case c.HighGPerL == nil || *c.LowGPerL == *c.HighGPerL:
		return significant(*c.LowGPerL, 3)
	}
	return significant(*c.LowGPerL, 3) + " to " + significant(*c.HighGPerL, 3)
}

// claimOf says what the grams are grams of.
func claimOf(c trials.Claim) string {
	basis := c.Basis
	if basis == "" {
		basis = "not said"
	}
	if c.PerTea {
		return basis + ", per litre of tea"
	}
	return basis
}
