package doseresponse

import (
	"math"
	"testing"
)

// 3 x 3 x 2 x 3 x 2 nodes ([1] section 2), each once, neighbours one apart.
func TestNodes(t *testing.T) {
	all := nodes(true)
	if len(all) != 108 {
		t.Fatalf("%d nodes, want 108", len(all))
	}
	seen := map[node]bool{}
	for i, n := range all {
		if seen[n] {
			t.Errorf("node %+v twice", n)
		}
		seen[n] = true
		if i > 0 && differing(n, all[i-1]) != 1 {
			t.Errorf("nodes %d and %d differ in %d numbers", i-1, i, differing(n, all[i-1]))
		}
	}
	if n := len(nodes(false)); n != 18 {
		t.Errorf("%d nodes without intensities, want 18", n)
	}
}

// differing counts the numbers in which two nodes differ.
func differing(a, b node) int {
	n := 0
	for _, d := range []bool{a.kappa != b.kappa, a.c != b.c, a.tau != b.tau, a.beta != b.beta, a.sy != b.sy} {
		if d {
			n++
		}
	}
	return n
}

// By hand: kappa 2 with c and beta at their centres weighs
// exp(-0.5 (ln(2/3.5)/0.5)^2) = exp(-0.6263).
func TestNodeWeight(t *testing.T) {
	for _, n := range nodes(true) {
		if n.kappa == 2 && n.c == 0.45 && n.beta == 2.5 && math.Abs(n.lnW+0.6263) > 1e-3 {
			t.Errorf("ln weight %g, want -0.6263", n.lnW)
		}
		if n.kappa == 3.5 && n.c == 0.45 && n.beta == 2.5 && n.lnW != 0 {
			t.Errorf("ln weight of the centre %g, want 0", n.lnW)
		}
	}
}
