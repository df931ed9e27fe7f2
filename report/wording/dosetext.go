package wording

import (
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials/ledger"
)

// DosesText tells the effective doses of a moment after a colon, one for each
// material, of the class that counts for it; empty for none.
func DosesText(doses []ledger.Dose) string {
	var order []string
	sum := map[string]float64{}
	for _, d := range doses {
		if _, seen := sum[d.MaterialKey]; !seen {
			order = append(order, d.MaterialKey)
		}
		sum[d.MaterialKey] += d.GPerL[d.Class].Value
	}
	var parts []string
	for _, key := range order {
		if sum[key] > 0 {
			parts = append(parts, document.Significant(sum[key], 2)+" g/L "+key)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return " at " + strings.Join(parts, ", ") + " (effective)"
}
