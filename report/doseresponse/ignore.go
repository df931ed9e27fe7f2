package doseresponse

// ignored returns the chance that the votes follow no dose at all: that every
// beer would have got the same.
func (p *Posterior) ignored() float64 {
	var chance float64
	for i, at := range p.draws.point {
		if p.points[at].node.ignores {
			chance += p.draws.weight[i]
		}
	}
	return chance
}

// atRandom returns the chance that each taster, in the order of the panel, scores
// at random.
func (p *Posterior) atRandom() []float64 { return make([]float64, len(p.prob.tasters)) }
