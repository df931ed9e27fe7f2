package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
)

// Liquid of the standard methods in mL for each gram of as-dried material; common
// practice, no source. Fresh material is at least covered.
const (
	teaMLPerG      = 14.0
	tinctureMLPerG = 8.0
	coverMLPerG    = 2.0 // per gram as weighed
)

// StandardMethods returns the usual ways of getting the material of a request
// into its beer, for a comparison: amounts and times are common practice, no
// source. Juice and puree have but one way each and are refused.
func StandardMethods(materials trials.Materials, q SteepRequest) ([]NamedSteep, error) {
	if q.Form == "juice" || q.Form == "puree" {
		return nil, trials.Refuse("compare it with other steeps by --method",
			"%s goes in as it is: there are no standard methods for it", q.Form)
	}
	q.Passes, q.Treatments, q.Method = nil, nil, trials.MethodTea
	s, err := q.material(materials)
	if err != nil {
		return nil, err
	}
	liquid := func(perG float64) float64 {
		dried := s.MassG / (1 - extraction.RefMoisture)
		if s.Moisture != nil {
			dried *= 1 - *s.Moisture
		}
		// fresh material is mostly water: liquid by its dry matter would not cover it
		return max(perG*dried, coverMLPerG*s.MassG) / 1000
	}
	hot := trials.Pass{VolumeL: liquid(teaMLPerG), StartC: 95, EndC: new(70.0), Minutes: 20, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	second := hot
	second.Separation = trials.SeparationSqueezed
	cold := trials.Pass{VolumeL: hot.VolumeL, StartC: 4, Minutes: 12 * 60, Agitation: "still",
		Separation: trials.SeparationDrained}
	spirit := trials.Pass{VolumeL: liquid(tinctureMLPerG), StartC: 20, Minutes: 5 * 24 * 60, Agitation: "still",
		Separation: trials.SeparationDrained}
	extract := func(name, method string, passes ...trials.Pass) NamedSteep {
		one := q
		// an extract goes in after the boil
		one.Method, one.Passes, one.BoilOffL = method, passes, 0
		return NamedSteep{name, one}
	}
	direct := func(name, method string, stage Treatment) NamedSteep {
		one := q
		one.Method, one.Treatments, one.AddedL, one.TopUpL = method, []Treatment{stage}, nil, 0
		return NamedSteep{name, one}
	}
	tincture := extract("tincture", trials.MethodTincture, spirit)
	if tincture.Steep.SpiritPct == nil {
		tincture.Steep.SpiritPct = new(40.0)
	}
	return []NamedSteep{
		direct("boil, last 10 min", trials.MethodBoil, Treatment{Minutes: 10}),
		direct("flame-out, 10 min", trials.MethodFlameOut,
			Treatment{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: "now-and-then"}),
		extract("tea, one pass", trials.MethodTea, hot),
		extract("tea, two passes", trials.MethodTea, hot, second),
		extract("cold tea, 12 h", trials.MethodColdTea, cold),
		direct("in a bag, 5 d", trials.MethodContact,
			Treatment{StartC: new(20.0), Minutes: 5 * 24 * 60, Agitation: "still", InBag: true}),
		tincture,
	}, nil
}
