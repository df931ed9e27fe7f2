package doseresponse

import (
	"math"
	"slices"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// nodes returns the ordinary nodes for one prior and the SDs of grid.go (judgement).
func nodes(marks bool) []field.Node {
	part := []field.PriorPart{{LnPrior: field.LnPrior{Mean: 0, Sd: 0.67}, Weight: 1}}
	return slices.Concat(field.Families(part, []field.Weighted{{Value: 0.2, Weight: 0.5}, {Value: 0.45, Weight: 0.5}},
		marks)...)
}

// 3 x 3 x 2 x 3 x 2 nodes (judgement, grid.go), each once, neighbours one apart.
func TestNodes(t *testing.T) {
	all := nodes(true)
	if len(all) != 108 {
		t.Fatalf("%d nodes, want 108", len(all))
	}
	seen := map[field.Node]bool{}
	for i, n := range all {
		if seen[n] {
			t.Errorf("node %+v twice", n)
		}
		seen[n] = true
		if i > 0 && i != 54 && differences(n, all[i-1]) != 1 { // 54 for each SD of the offsets
			t.Errorf("nodes %d and %d differ in %d numbers", i-1, i, differences(n, all[i-1]))
		}
	}
	if n := len(nodes(false)); n != 18 {
		t.Errorf("%d nodes without intensities, want 18", n)
	}
}

// differences counts the numbers in which two nodes differ.
func differences(a, b field.Node) int {
	n := 0
	for _, d := range []bool{a.Kappa != b.Kappa, a.C != b.C, a.Tau != b.Tau, a.Beta != b.Beta, a.Sy != b.Sy} {
		if d {
			n++
		}
	}
	return n
}

// By hand: kappa 2 with c and beta at their centres weighs
// exp(-0.5 (ln(2/3.5)/0.5)^2) = exp(-0.6263) of the centre.
func TestNodeWeight(t *testing.T) {
	var off, centre float64
	for _, n := range nodes(true) {
		switch {
		case n.C != 0.45 || n.Beta != 2.5 || n.Tau != 0.2 || n.Sy != 1:
		case n.Kappa == 2:
			off = n.LnW
		case n.Kappa == 3.5:
			centre = n.LnW
		}
	}
	if math.Abs(off-centre+0.6263) > 1e-3 {
		t.Errorf("ln weight %g below the centre, want 0.6263", centre-off)
	}
}

// The weights of the ordinary nodes sum to 1 and those that ignore the dose to
// 0.03, whatever the claims, the scores and the offsets: without that the shares
// in their documentation mean nothing.
func TestNodeWeightsSum(t *testing.T) {
	for _, marks := range []bool{true, false} {
		for _, claims := range [][][2]float64{nil, {{1, 8}}, {{1, 8}, {2, 3}}, {{0.2, 0.4}, {0.3, 0.4}, {5, 10}}} {
			parts := field.ClaimParts(evidence.Study{ClaimsGPerL: claims, Trials: []evidence.Trial{trial("1", 3, 0)}})
			var ordinary, flat float64
			for _, n := range slices.Concat(field.Families(parts, field.Taus(), marks)...) {
				ordinary += math.Exp(n.LnW)
			}
			for _, n := range field.Ignoring(parts, marks) {
				flat += math.Exp(n.LnW)
			}
			if math.Abs(ordinary-1) > 1e-9 || math.Abs(flat-field.IgnoreShare) > 1e-9 {
				t.Errorf("claims %v: ordinary nodes weigh %g, flat ones %g", claims, ordinary, flat)
			}
		}
	}
}
