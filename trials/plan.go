package trials

import (
	"math"
	"time"
)

// Plan is a bench series, split, batch or evening of dosing to taste that was planned and written down: its
// amounts stay as planned, while the records made from it say what was done.
type Plan struct {
	Record
	Kind        string     `json:"kind"`         // bench, split, batch or taste
	MaterialKey string     `json:"material_key"` // key of the material
	BatchID     string     `json:"batch_id"`     // the beer it is made with
	ExtractID   *string    `json:"extract_id"`   // the extract made for it
	TastingID   *string    `json:"tasting_id"`   // the tasting set up with it
	At          time.Time  `json:"at"`           // when it was planned to be done
	DoneAt      *time.Time `json:"done_at"`      // when it was really done; nil while it only stands planned
	Design      Design     `json:"design"`       // its amounts as planned
}

// The kinds of plan.
const (
	PlanBench = "bench"
	PlanSplit = "split"
	PlanBatch = "batch"
	PlanTaste = "taste"
)

// planKinds lists the kinds of plan.
var planKinds = []string{PlanBench, PlanSplit, PlanBatch, PlanTaste}

// Validate refuses a plan whose amounts cannot be shown: of no kind, without a vessel, or
// of a solute class that there is not.
func (p Plan) Validate() error {
	if err := checkWord("kind of plan", p.Kind, planKinds); err != nil {
		return err
	}
	d := p.Design
	switch {
	case len(d.Vessels) == 0:
		return Refuse("plan at least one glass, jar or batch", "plan %s has no vessel", p.Name)
	case d.Class < 0 || d.Class >= ClassCount:
		return Refuse("it counts from 0", "plan %s has solute class %d of %d", p.Name, d.Class, ClassCount)
	case (p.Kind == PlanTaste) != (d.Taste != nil):
		return Refuse("plan it anew with: hedgerow plan taste", "plan %s of kind %s has the wrong steps", p.Name, p.Kind)
	}
	if d.Taste != nil {
		if err := d.Taste.validate(); err != nil {
			return err
		}
	}
	for _, v := range d.Vessels {
		if err := CheckPositive("beer in a vessel of plan "+p.Name, v.BeerL, "L"); err != nil {
			return err
		}
	}
	return nil
}

// Design is the amounts of a bench series, a split or a batch.
type Design struct {
	MaterialKey string `json:"material"`   // key of the material
	Class       int    `json:"class"`      // solute class that the doses are of
	Method      string `json:"method"`     // tea, cold-tea, tincture, contact ...
	Form        string `json:"form"`       // of the material
	Like        string `json:"like_trial"` // the trial whose way it follows; empty for a plain one
	// to weigh for the extract; the sum of the vessels where there is none
	MassG         float64   `json:"mass_g"`
	MoisturePct   *float64  `json:"moisture_pct"`    // measured on the material of the extract that is followed
	Passes        []Pass    `json:"passes"`          // of the extract; none for a material put in itself
	SpiritPct     *float64  `json:"spirit_pct"`      // of a tincture
	Direct        *Addition `json:"direct"`          // pattern of a material put in itself
	ExtractL      float64   `json:"extract_l"`       // extract to expect
	CarriesGPerL  float64   `json:"carries_g_per_l"` // effective grams in a litre of it
	AddedL        float64   `json:"added_l"`         // liquid added to each vessel, the same in all
	PourStepL     float64   `json:"pour_step_l"`     // what the syringe or jug is marked in, L
	ScaleStepG    float64   `json:"scale_step_g"`    // what the scale shows, g
	ScaleDoubtPct float64   `json:"scale_doubt_pct"` // what half a step of the scale does to every dose
	ScaleUpL      float64   `json:"scale_up_l"`      // the batch that the doses are for in the end; 0 for none
	BaseOG        *float64  `json:"base_og"`         // of the beer as it would be brewed without the addition
	BaseFG        *float64  `json:"base_fg"`         // as BaseOG, at the end
	Vessels       []Vessel  `json:"vessels"`         // glasses, jars or the batch
	// of an evening of dosing to taste; left out of any other, which is stored as ever.
	Taste *TasteDesign `json:"to_taste,omitempty"`
}

// TasteDesign is what the plan of an evening of dosing to taste has beside its extract; its
// vessels are the glasses, two for each taster.
type TasteDesign struct {
	Steps    ToTaste     `json:"steps"`    // of the glasses, without ids
	Extract  string      `json:"extract"`  // name of what is dropped in
	Made     bool        `json:"made"`     // it is yet to be made
	WeakerL  float64     `json:"weaker_l"` // to fill into the weaker dropper
	StrongL  float64     `json:"strong_l"` // and into the stronger
	DropsL   float64     `json:"drops_l"`  // extract that both droppers take
	BeerL    float64     `json:"beer_l"`   // that all glasses take
	BatchL   float64     `json:"batch_l"`  // extract for the beer at the highest advice; 0 where it does not go in
	Up       []StepDoses `json:"up"`       // doses after each step of the glass that goes up
	Down     []StepDoses `json:"down"`     // and of the one that goes down
	Warnings []string    `json:"warnings"` // what could not be had, one sentence each
}

// StepDoses are the effective doses of a step, with either dropper.
type StepDoses struct {
	WeakerGPerL float64 `json:"weaker_g_per_l"`   // with the weaker dropper
	StrongGPerL float64 `json:"stronger_g_per_l"` // with the stronger
}

// validate refuses steps without their doses.
func (d TasteDesign) validate() error {
	s := d.Steps
	if len(d.Up) != len(s.UpL) || len(d.Down) != s.DownSteps {
		return Refuse("plan it anew with: hedgerow plan taste", "an evening of %d and %d steps has doses for %d and %d",
			len(s.UpL), s.DownSteps, len(d.Up), len(d.Down))
	}
	return s.Validate()
}

// Vessel is one glass, jar or keg of a plan.
type Vessel struct {
	Number       int      `json:"number"`          // on the sheet, from 1
	Name         string   `json:"name"`            // of the trial made for it; empty for a plan that was not recorded
	BatchID      string   `json:"batch_id"`        // as Name
	AdditionIDs  []string `json:"addition_ids"`    // what went into it, as records
	BeerL        float64  `json:"beer_l"`          // beer in it before anything is added
	AimGPerL     float64  `json:"aim_g_per_l"`     // effective dose wanted, after mixing
	PourL        float64  `json:"pour_l"`          // extract, to the nearest step
	WaterL       float64  `json:"water_l"`         // water, or spirit beside a tincture, so that all get the same
	MassG        float64  `json:"mass_g"`          // of a material put in itself, to the nearest step
	ReachedGPerL float64  `json:"reached_g_per_l"` // effective dose with the rounded amounts
}

// WorstPct is the largest distance of a dose reached from the one wanted, in
// per cent of it.
func (d Design) WorstPct() float64 {
	worst := 0.0
	for _, v := range d.Vessels {
		// a control has no aim to be off from
		if v.AimGPerL > 0 {
			worst = max(worst, 100*math.Abs(v.ReachedGPerL/v.AimGPerL-1))
		}
	}
	return worst
}

// PouredL is the extract that all vessels take together.
func (d Design) PouredL() float64 {
	var sum float64
	for _, v := range d.Vessels {
		sum += v.PourL
	}
	return sum
}
