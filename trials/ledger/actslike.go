package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials/steeps"
)

// ActsLike returns the dose of the reference method that a dose acts like.
func ActsLike(p steeps.MethodPotency, d Dose) dilution.Estimate {
	r := p.Update.Relative
	return times(d.GPerL[p.Class], dilution.Estimate{Value: r.Value, Low: r.Low, High: r.High, HasBounds: true, Level: r.Level, OK: true})
}
