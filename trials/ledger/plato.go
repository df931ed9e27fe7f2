package ledger

import "hedgerow/dilution"

// SGFromPlato returns the specific gravity 20/20 of degrees Plato, 0 outside
// the range of the sucrose table.
func SGFromPlato(plato float64) float64 {
	sg, err := dilution.SGFromPlato(plato)
	if err != nil {
		return 0
	}
	return sg
}
