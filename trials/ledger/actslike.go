package ledger

import (
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// ActsLike returns the dose of the reference method that a dose acts like.
func ActsLike(p steeps.MethodPotency, d Dose) figure.Estimate {
	return times(d.GPerL[p.Class], p.Update.Relative)
}
