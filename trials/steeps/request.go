package steeps

import (
	"fmt"

	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// SteepRequest is a steep to work out, nothing stored.
type SteepRequest struct {
	Material         string                    // optional: gives moisture and hardness
	Kind             string                    // how it holds liquid; that of the material or unknown if empty
	Form             string                    // whole, cut, crushed, powder, fresh ...
	Method           string                    // tea, cold-tea, tincture, contact ...
	MassG            float64                   // grams as weighed
	MoisturePct      *float64                  // measured share of water by mass
	MoistureMeasured bool                      // from a weighed dry-down
	SpiritPct        *float64                  // strength of the spirit of a tincture
	SorptionMLPerG   float64                   // an expert option, see package extraction
	Passes           []trials.Pass             // of an extract
	Treatments       []Treatment               // of a material put in itself
	IntoL            float64                   // beer it goes into, L
	AddedL           *float64                  // how much of the extract is poured in, topped up
	TopUpL           float64                   // water added to the extract first
	BoilOffL         float64                   // wort boiled off after the material went in
	Beer             Beer                      // the beer it goes into
	Remembered       extraction.HeldFigures    // held liquid measured for this material, see Notebook.Inform
	Soluble          *extraction.SolubleFigure // what teas of it that were read taught of its soluble share, see Inform
	Own              *MethodPotency            // what the brewer's own scores say about the method
}

// Treatment is how a material put in itself is treated for a time.
type Treatment struct {
	StartC     *float64            // nil takes what the method implies
	EndC       *float64            // temperature at the end, C
	Curve      []figure.CurvePoint // thermometer readings, in place of StartC and EndC
	Minutes    float64             // how long
	Agitation  string              // boiling, stirred, now-and-then or still
	InBag      bool                // in a bag or sock
	Efficiency *float64            // share of the way to equilibrium, in place of heat and time
}

// SteepAnswer is what a steep comes to.
type SteepAnswer struct {
	Request SteepRequest            // what was asked
	Result  extraction.Result       // all figures
	Doubt   extraction.Doubt        // its intervals
	Dose    extraction.Dose         // in the beer
	Solids  solids                  // of the extract
	Cost    StrengthCost            // in strength
	Figures []extraction.Provenance // every input with where it comes from
	// Immersion and Books are what a plant put straight in brings and keeps; nil for
	// an extract.
	Immersion *immersion
	Books     extraction.SoakBalance
}

// solids are the dissolved solids of an extract, g/L, with their 95 % limits.
type solids struct {
	GPerL, Low, High float64
	Measured         bool // from a gravity or a weighing
}

// calculatorDraws are the draws behind a calculated steep.
var calculatorDraws = extraction.Draws{N: 10_000, Seed: steepDraws.Seed}

// Steep works out a steep.
func (q SteepRequest) Steep(materials trials.Materials) (SteepAnswer, error) {
	s, err := q.steep(materials)
	if err != nil {
		return SteepAnswer{}, err
	}
	r, err := s.Run()
	if err != nil {
		return SteepAnswer{}, trials.ProblemOf(err)
	}
	d, err := r.Dose(q.mix())
	if err != nil {
		return SteepAnswer{}, trials.ProblemOf(err)
	}
	doubt, err := s.Doubt(q.mix(), calculatorDraws)
	if err != nil {
		return SteepAnswer{}, trials.ProblemOf(err)
	}
	cost, err := q.cost(r, d)
	if err != nil {
		return SteepAnswer{}, err
	}
	answer := SteepAnswer{Request: q, Result: r, Doubt: doubt, Dose: d, Solids: solidsIn(r), Cost: cost,
		Figures: s.Provenance()}
	if use, ok := q.plant(materials, &s); ok {
		i := immersionOf(s, use, r)
		if answer.Books, err = i.In(q.IntoL).Balance(); err != nil {
			return SteepAnswer{}, trials.ProblemOf(err)
		}
		answer.Immersion = &i
	}
	return answer, nil
}

// plant looks up a plant that is put straight in, and notes its soluble share in the
// steep; false for other ways and for a material that is not named.
func (q SteepRequest) plant(materials trials.Materials, s *extraction.Steep) (plantUse, bool) {
	whole := s.Method.IsDirect() && s.Method != extraction.JuiceIn && s.Method != extraction.PureeIn &&
		s.Form != extraction.Juice
	if q.Material == "" || !whole {
		return plantUse{}, false
	}
	m, err := materials.Find(q.Material)
	if err != nil {
		return plantUse{}, false // it was found before
	}
	return plantUseOf(materials, s, m, q.Form, extraction.Drained, q.Soluble), true
}

// mix says where the steep goes.
func (q SteepRequest) mix() extraction.Mix {
	m := extraction.Mix{IntoL: q.IntoL, AddedML: millilitres(q.AddedL), TopUpML: q.TopUpL * 1000}
	if q.BoilOffL > 0 {
		m.Later = []extraction.VolumeChange{{BeforeL: q.IntoL, AfterL: q.IntoL - q.BoilOffL}}
	}
	return m
}

// solidsIn are the solids of the extract of a result.
func solidsIn(r extraction.Result) solids {
	value, half := solidsOf(r.Extract())
	return solids{GPerL: value, Low: value - half, High: value + half,
		Measured: r.Steep.SolidsGPerL != nil || r.Update != nil}
}

// steep turns the request into a steep of package extraction.
func (q SteepRequest) steep(materials trials.Materials) (extraction.Steep, error) {
	s, err := q.material(materials)
	if err != nil {
		return s, err
	}
	if s.Method == extraction.Tincture && q.SpiritPct == nil {
		return s, trials.Refuse("add --strength 40%", "a tincture needs the strength of its spirit")
	}
	if q.BoilOffL < 0 || q.BoilOffL > 0 && q.BoilOffL >= q.IntoL {
		return s, trials.Refuse("give less than goes in, such as 2L", "%s L boiled off is not below the %s L of wort",
			trials.Number(q.BoilOffL), trials.Number(q.IntoL))
	}
	s.KappaMLPerG, s.Remembered = q.SorptionMLPerG, q.Remembered
	if q.Own != nil {
		s.OwnTrials[q.Own.Class] = &q.Own.Update.Combined
	}
	for i, p := range q.Passes {
		if err := p.ValidateIn(q.SpiritPct); err != nil {
			return s, trials.ProblemOf(fmt.Errorf("pass %d: %w", i+1, err))
		}
		pass, err := passOf(p, q.materialKey(materials), q.SpiritPct)
		if err != nil {
			return s, err
		}
		s.Passes = append(s.Passes, pass)
	}
	for _, t := range q.Treatments {
		pass, err := t.extraction(q.Method)
		if err != nil {
			return s, err
		}
		if lies(q.Method) {
			pass.ABVPct = q.Beer.strength()
		}
		s.Passes = append(s.Passes, pass)
	}
	if len(s.Passes) == 0 && s.Method.IsDirect() && s.Method != extraction.JuiceIn && s.Method != extraction.PureeIn {
		return s, trials.Refuse("add --time 5d", "how long the material is in is missing")
	}
	// first, because the solids are worked out from a run that needs the soluble share
	q.plant(materials, &s)
	return s, nil
}

// materialKey is the key of the material, empty if none is named.
func (q SteepRequest) materialKey(materials trials.Materials) string {
	if q.Material == "" {
		return ""
	}
	m, _ := materials.Find(q.Material) // it was found before
	return m.Key
}

// material fills in what belongs to the material.
func (q SteepRequest) material(materials trials.Materials) (extraction.Steep, error) {
	if err := trials.CheckPositive("mass", q.MassG, "g"); err != nil {
		return extraction.Steep{}, err
	}
	kind, err := extraction.ParseKind(q.Kind)
	if err != nil {
		return extraction.Steep{}, trials.ProblemOf(err)
	}
	if q.Material != "" {
		s, _, err := materialSteep(materials, materialUse{key: q.Material, form: q.Form, method: q.Method,
			massG: q.MassG, moisturePct: q.MoisturePct, moistureMeasured: q.MoistureMeasured})
		// whoever names the kind has the plant in hand
		if q.Kind != "" {
			s.Kind = kind
		}
		if q.Soluble != nil {
			s.Soluble = q.Soluble
		}
		return s, err
	}
	form, err := extraction.FormFor(extraction.FormWords{Word: q.Form})
	if err != nil {
		return extraction.Steep{}, trials.ProblemOf(err)
	}
	method, err := extraction.ParseMethod(q.Method)
	if err != nil {
		return extraction.Steep{}, trials.ProblemOf(err)
	}
	s := extraction.Steep{Method: method, Form: form, Kind: kind, MassG: q.MassG}
	if q.MoisturePct != nil {
		share := *q.MoisturePct / 100
		s.Moisture = &share
		if q.MoistureMeasured {
			s.MoistureOrigin = extraction.Measured
		}
	}
	return s, nil
}

// RankingReasons returns why the dose of a class is only good for a ranking.
func (a SteepAnswer) RankingReasons(class int) []string {
	return a.Result.RankingReasons(extraction.Class(class), a.Doubt.Dose[class])
}
