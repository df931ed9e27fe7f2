package doseresponse

import (
	"math"
	"slices"
)

// A point is the Gaussian approximation of the posterior at one grid node.
type point struct {
	node   node
	lnW    float64   // ln of evidence times prior weight of the node
	weight float64   // share of exp(lnW) among the kept points
	mode   []float64 // latent vector of largest density
	near   arrow     // factored negative Hessian at the mode
	lnDiag float64   // half the ln determinant of it
}

// dropBelow is the share of the best node under which a node is left out
// ([1] section 2).
const dropBelow = 0.002

// laplace returns the nodes of the grid that matter with their Gaussian
// approximations and weights,
//
//	weight_h ~ prior weight_h * evidence_h,  sum 1 over the kept nodes
//
// so that the posterior of the latent vector is about the mixture
// sum_h weight_h N(mode_h, H_h^-1). The search at a node starts at the mode of
// the one before it.
func laplace(f *field, grid []node) []point {
	var kept []point
	best := math.Inf(-1)
	for _, n := range grid {
		f.at(n)
		lnW := f.findMode() + n.lnW
		if !(lnW > best+math.Log(dropBelow)) {
			continue
		}
		best = max(best, lnW)
		kept = append(kept, f.snapshot(lnW))
	}
	kept = slices.DeleteFunc(kept, func(p point) bool { return p.lnW < best+math.Log(dropBelow) })
	var sum float64
	for i := range kept {
		kept[i].weight = math.Exp(kept[i].lnW - best)
		sum += kept[i].weight
	}
	for i := range kept {
		kept[i].weight /= sum
	}
	return kept
}

// snapshot copies mode and factor out of the working memory.
func (f *field) snapshot(lnW float64) point {
	flat := make([]float64, 0, len(f.brews)+len(f.couple)+len(f.core)+len(f.mode))
	keep := func(part []float64) []float64 {
		from := len(flat)
		flat = append(flat, part...)
		return flat[from:len(flat):len(flat)]
	}
	return point{
		node:   f.node,
		lnW:    lnW,
		mode:   keep(f.mode),
		near:   arrow{f.blocks, keep(f.brews), keep(f.couple), keep(f.core), f.size},
		lnDiag: f.lnDiag(),
	}
}
