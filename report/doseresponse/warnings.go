package doseresponse

import "fmt"

// Warnings returns what a reader must know before trusting the answer, one
// sentence each, the gravest first; never nil.
func (p *Posterior) Warnings() []string {
	out := []string{}
	if len(p.prob.trials) == 0 {
		out = append(out, "no scores yet: the answer rests on the claims alone")
	}
	if n := len(p.prob.tasters); n == 1 {
		out = append(out, fmt.Sprintf("one taster: the right dose is that of %s alone", p.prob.tasters[0]))
	}
	return out
}
