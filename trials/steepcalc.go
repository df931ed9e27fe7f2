package trials

import (
	"fmt"

	"hedgerow/extraction"
)

// SteepRequest is a steep to work out, nothing stored.
type SteepRequest struct {
	Material    string // optional: gives moisture and hardness
	Form        string
	Method      string
	MassG       float64
	MoisturePct *float64
	SpiritPct   *float64
	Passes      []Pass
	Minutes     *float64 // of a direct addition
	StartC      *float64
	EndC        *float64
	InBag       bool
	Agitation   string
	IntoL       float64
	AddedL      *float64 // how much of the extract is poured in
}

// SteepAnswer is what a steep comes to.
type SteepAnswer struct {
	Result  extraction.Result
	Doubt   extraction.Doubt
	Dose    extraction.Dose
	Figures []extraction.Provenance
}

// Steep works out a steep.
func (q SteepRequest) Steep(materials Materials) (SteepAnswer, error) {
	s, err := q.steep(materials)
	if err != nil {
		return SteepAnswer{}, err
	}
	mix := extraction.Mix{IntoL: q.IntoL, AddedML: millilitres(q.AddedL)}
	r, err := s.Run()
	if err != nil {
		return SteepAnswer{}, problemOf(err)
	}
	d, err := r.Dose(mix)
	if err != nil {
		return SteepAnswer{}, problemOf(err)
	}
	doubt, err := s.Doubt(mix, extraction.Draws{N: 10_000, Seed: steepDraws.Seed})
	if err != nil {
		return SteepAnswer{}, problemOf(err)
	}
	return SteepAnswer{Result: r, Doubt: doubt, Dose: d, Figures: s.Provenance()}, nil
}

// steep turns the request into a steep of package extraction.
func (q SteepRequest) steep(materials Materials) (extraction.Steep, error) {
	s, err := q.material(materials)
	if err != nil {
		return s, err
	}
	for i, p := range q.Passes {
		if err := p.validate(); err != nil {
			return s, problemOf(fmt.Errorf("pass %d: %w", i+1, err))
		}
		pass, err := p.extraction(q.SpiritPct)
		if err != nil {
			return s, err
		}
		s.Passes = append(s.Passes, pass)
	}
	if len(q.Passes) == 0 && s.Method.IsDirect() && s.Method != extraction.JuiceIn {
		pass := extraction.Pass{StartC: q.StartC, EndC: q.EndC, InBag: q.InBag, Separation: extraction.LeftIn, Boiling: q.Method == MethodBoil}
		if q.Minutes == nil {
			return s, invalid("add --time 5d", "how long the material is in is missing")
		}
		pass.Minutes = *q.Minutes
		if q.Agitation != "" {
			if pass.Agitation, err = extraction.ParseAgitation(q.Agitation); err != nil {
				return s, problemOf(err)
			}
		}
		s.Passes = []extraction.Pass{pass}
	}
	return s, nil
}

// material fills in what belongs to the material.
func (q SteepRequest) material(materials Materials) (extraction.Steep, error) {
	if err := checkPositive("mass", q.MassG, "g"); err != nil {
		return extraction.Steep{}, err
	}
	if q.Material != "" {
		s, _, err := materialSteep(materials, materialUse{key: q.Material, form: q.Form, method: q.Method, massG: q.MassG, moisturePct: q.MoisturePct})
		return s, err
	}
	form, err := extraction.FormFor(extraction.FormWords{Word: q.Form})
	if err != nil {
		return extraction.Steep{}, problemOf(err)
	}
	method, err := extraction.ParseMethod(q.Method)
	if err != nil {
		return extraction.Steep{}, problemOf(err)
	}
	s := extraction.Steep{Method: method, Form: form, MassG: q.MassG}
	if q.MoisturePct != nil {
		share := *q.MoisturePct / 100
		s.Moisture = &share
	}
	return s, nil
}

// RankingReasons returns why the dose of a class is only good for a ranking.
func (a SteepAnswer) RankingReasons(class int) []string {
	return a.Result.RankingReasons(extraction.Class(class), a.Doubt.Dose[class])
}
