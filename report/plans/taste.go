package plans

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// TasteRequest asks for an evening of dosing to taste.
type TasteRequest struct {
	Base       trials.Batch    // the beer in the glasses
	Extract    *trials.Extract // at hand; nil for one to be made
	Used       bool            // it goes into the beer at packaging
	Tasters    int             // how many taste
	VolumeL    float64         // the beer that it is for
	Attribute  string          // what it is to be right of; may be empty
	DosesGPerL []float64       // lowest and highest advice; empty for what was heard
	GlassL     float64         // beer in each glass; 0 for enough
	PourStepL  float64         // a drop, or the step of the syringe
	ScaleStepG float64         // what the scale shows
	Factor     float64         // from step to step
	Name       string          // of the evening; empty for one that is not recorded
	Planned    bool            // a plan of it is recorded too
	Units      quantity.Units  // of the reader
}

// TastePlan is an evening of dosing to taste as it is worked out.
type TastePlan struct {
	ToTaste trials.ToTaste // its steps
	Extract trials.Extract // what is dropped in
	Design  trials.Design  // its amounts, as they are kept
	sheet   tasteSheet
}

// Made reports whether the extract is yet to be made.
func (p TastePlan) Made() bool { return p.Design.Taste.Made }

// tasteSheet is the plan as --json prints it.
type tasteSheet struct {
	Material string               `json:"material"`
	Class    string               `json:"class"`
	Name     string               `json:"tasting"` // empty for one that was not recorded
	Beer     string               `json:"batch"`
	At       *time.Time           `json:"at"` // when it is to be done; null for one that was not recorded
	DoneAt   *time.Time           `json:"done_at"`
	Used     bool                 `json:"used"`
	Extract  tasteExtract         `json:"extract"`
	GlassML  float64              `json:"glass_ml"`
	SipML    float64              `json:"sip_ml"`
	Factor   float64              `json:"step_factor"`
	Share    float64              `json:"extract_share"` // of what is in the stronger dropper
	Up       []tasteStep          `json:"up"`
	Down     []tasteStep          `json:"down"`
	Droppers []tasteDropper       `json:"droppers"`
	BeerML   float64              `json:"beer_ml"`
	Steps    []planStep           `json:"steps"`
	Kit      []string             `json:"kit"`
	Cautions []wording.CautionRow `json:"cautions"`
	Warnings []string             `json:"warnings"`
	tasters  int
	units    quantity.Units
}

// tasteExtract is the extract of an evening.
type tasteExtract struct {
	Name         string  `json:"name"`            // of one at hand; empty for one to be made
	MassG        float64 `json:"mass_g"`          // to weigh, of one to be made
	CarriesGPerL float64 `json:"carries_g_per_l"` // effective
	DropsML      float64 `json:"droppers_ml"`     // for both droppers
	BatchML      float64 `json:"batch_ml"`        // for the beer at the highest advice; 0 where it does not go in
	ThereML      float64 `json:"there_ml"`        // that there is, or will be
}

// tasteStep is one step of a glass.
type tasteStep struct {
	Step   int     `json:"step"`
	InML   float64 `json:"in_ml"`            // from the dropper, going down of beer
	Weak   float64 `json:"weaker_g_per_l"`   // the dose with the weaker dropper
	Strong float64 `json:"stronger_g_per_l"` // and with the stronger
}

// tasteDropper is how much of a dropper is filled.
type tasteDropper struct {
	Strength int     `json:"strength"`
	Extract  float64 `json:"extract_share"`
	FillML   float64 `json:"fill_ml"`
}

// DesignTaste works out an evening of dosing to taste.
func DesignTaste(n *trials.Notebook, s ledger.TrialSet, r TasteRequest) (TastePlan, error) {
	var p TastePlan
	materials, err := n.Catalogue()
	if err != nil {
		return p, err
	}
	if err := cmp.Or(checkDosed(materials, s.Material), checkSteeped(s.Material)); err != nil {
		return p, err
	}
	if slices.Contains(ledger.MaterialsOf(n, r.Base), s.Material.Key) {
		return p, trials.Refuse("name a beer without it: its dose would come on top",
			"there is %s in %s already", s.Material.Key, r.Base.Name)
	}
	if s, err = s.In(trials.FamilyOf(r.Attribute)); err != nil {
		return p, err
	}
	low, high, err := r.span(n, s)
	if err != nil {
		return p, err
	}
	p.Design = trials.Design{MaterialKey: s.Material.Key, Class: s.Class, PourStepL: r.PourStepL,
		ScaleStepG: r.ScaleStepG, ScaleUpL: r.VolumeL, Taste: &trials.TasteDesign{Warnings: []string{}}}
	left, err := p.extract(n, materials, s, r, low, high)
	if err != nil {
		return p, err
	}
	var remarks []string
	p.ToTaste, remarks, err = planning.Ladder(planning.Drops{CarriesGPerL: p.Design.CarriesGPerL, LowGPerL: low,
		HighGPerL: high, GlassL: r.GlassL, PourStepL: r.PourStepL, Factor: r.Factor})
	if err != nil {
		return p, err
	}
	p.warn(remarks...)
	p.ToTaste.Used = r.Used
	p.Design.Taste.Steps = p.ToTaste
	p.ToTaste.BatchID, p.ToTaste.ExtractID = r.Base.ID, p.Extract.ID
	if err := p.amounts(n, materials, s, r, low, high, left); err != nil {
		return p, err
	}
	if err := p.doses(n, s); err != nil {
		return p, err
	}
	p.keep(r)
	sheet := tasteSheet{Name: r.Name, Beer: r.Base.Name, units: r.Units}
	if at := n.Now; r.Planned {
		sheet.At = &at
	}
	p.draw(n, materials, sheet)
	return p, nil
}

// Record is the plan as it is kept, of an evening that is set up as a tasting.
func (p TastePlan) Record(n *trials.Notebook, r TasteRequest, t trials.Tasting) trials.Plan {
	x := trials.Plan{Record: trials.Record{ID: trials.NewID(), Name: r.Name}, Kind: trials.PlanTaste,
		MaterialKey: p.Design.MaterialKey, BatchID: r.Base.ID, TastingID: &t.ID, At: n.Now, Design: p.Design}
	if p.Made() {
		x.ExtractID = &p.Extract.ID
	}
	return x
}

// warn adds remarks.
func (p *TastePlan) warn(remarks ...string) {
	p.Design.Taste.Warnings = append(p.Design.Taste.Warnings, remarks...)
}

// keep puts the extract and the glasses into the design.
func (p *TastePlan) keep(r TasteRequest) {
	x, d := p.Extract, &p.Design
	d.Method, d.Form, d.MassG, d.MoisturePct, d.SpiritPct = x.Method, x.Form, x.MassG, x.MoisturePct, x.SpiritPct
	d.Passes, d.Taste.Extract = x.Passes, x.Name
	for i := range 2 * r.Tasters {
		d.Vessels = append(d.Vessels, trials.Vessel{Number: i + 1, BeerL: p.ToTaste.GlassL})
	}
}

// span is the lowest and the highest dose between which the steps go.
func (r TasteRequest) span(n *trials.Notebook, s ledger.TrialSet) (low, high float64, err error) {
	switch len(r.DosesGPerL) {
	case 0:
		return decisions.AdvisedDoses(n, s, r.Attribute)
	case 2:
		low, high = r.DosesGPerL[0], r.DosesGPerL[1]
		// before anything is worked out from them
		return low, high, planning.CheckTasteSpan(planning.TasteSpan{LowGPerL: low, HighGPerL: high})
	}
	return 0, 0, trials.Refuse("write the lowest and the highest, such as --dose 0.5,8",
		"--dose names %s, not two", document.Count(len(r.DosesGPerL), "dose"))
}

// extract settles what is dropped in and what it carries, and tells how much is left of one
// at hand; of one to be made the amounts come later.
func (p *TastePlan) extract(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r TasteRequest, low,
	high float64) (left float64, err error) {
	if r.Extract != nil {
		if err := checkLike(s, *r.Extract); err != nil {
			return 0, err
		}
		p.Extract = *r.Extract
		p.Design.CarriesGPerL, left, err = planning.CarriesNow(n, materials, p.Extract, s.Class)
		return left, err
	}
	c, err := planning.Choose(n, materials, s, planning.Ask{Kind: trials.PlanBench, DoseGPerL: math.Sqrt(low * high),
		Taste: &planning.TasteSpan{LowGPerL: low, HighGPerL: high}})
	if err != nil {
		return 0, err
	}
	if c.Pattern.Extract == nil {
		return 0, trials.Refuse("plan jars with: hedgerow plan split "+s.Material.Key,
			"no extract of %s can be dropped into a glass", s.Material.Key)
	}
	p.Extract = *c.Pattern.Extract
	p.Design.Like, p.Design.Taste.Made = c.Pattern.Like, true
	p.Design.CarriesGPerL, _, err = planning.Carries(n, materials, p.Extract, s.Class)
	return 0, err
}

// amounts works out what the evening takes, and how much of the extract is made.
func (p *TastePlan) amounts(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r TasteRequest, low,
	high, left float64) error {
	// half of the tasters go up with the one, half with the other; of an odd one the stronger is reckoned
	more, less := (r.Tasters+1)/2, r.Tasters/2
	f := p.ToTaste.FillingOf(map[int]map[string]int{
		2: {trials.DirectionUp: more, trials.DirectionDown: more}, 1: {trials.DirectionUp: more,
			trials.DirectionDown: max(less, 1)}})
	d, t := &p.Design, p.Design.Taste
	t.DropsL, t.WeakerL, t.StrongL = f.ExtractL, f.DropperL[1], f.DropperL[2]
	t.BeerL = float64(r.Tasters) * (2*p.ToTaste.GlassL + float64(p.ToTaste.DownSteps-1)*p.ToTaste.FillL)
	if err := planning.CheckGlasses(n, r.Base, t.BeerL); err != nil {
		return err
	}
	if r.Used {
		t.BatchL = min(planning.DosePour(d.CarriesGPerL, high, r.VolumeL), mostAdded*r.VolumeL)
		if share := planning.DosePour(d.CarriesGPerL, math.Sqrt(low*high), r.VolumeL) / r.VolumeL; share > muchAdded {
			p.warn(fmt.Sprintf("at the middle of the advice it adds %s %% of liquid to the beer: a stronger extract thins it "+
				"less", document.Significant(100*share, 2)))
		}
	}
	if !t.Made {
		d.ExtractL = left
		return p.enough(r)
	}
	x, err := planning.ExtractFor(n, materials, planning.Pattern{Extract: &p.Extract}, t.DropsL+t.BatchL, r.ScaleStepG)
	if err != nil {
		return err
	}
	x.Record = trials.Record{ID: trials.NewID(), Name: cmp.Or(r.Name, "new") + "-" + x.Method}
	x.MadeAt = n.Now
	p.Extract, p.ToTaste.ExtractID = x, x.ID
	d.CarriesGPerL, d.ExtractL, err = planning.Carries(n, materials, x, s.Class)
	return err
}

// enough refuses an extract of which the droppers cannot be filled, and warns of one that
// does not do for the beer as well.
func (p *TastePlan) enough(r TasteRequest) error {
	t, left := p.Design.Taste, p.Design.ExtractL
	if left < t.DropsL {
		return trials.Refuse("fewer tasters, less in each glass with --glass, or more extract",
			"the droppers need %s of %s, but %s are left", wording.VolumeText(t.DropsL, r.Units), p.Extract.Name,
			wording.VolumeText(left, r.Units))
	}
	if left < t.DropsL+t.BatchL {
		p.warn(fmt.Sprintf("%s are left of %s: after the evening that is not enough for %s of beer at the highest advice, "+
			"which takes %s", wording.VolumeText(left, r.Units), p.Extract.Name, wording.VolumeText(r.VolumeL, r.Units),
			wording.VolumeText(t.BatchL, r.Units)))
	}
	return nil
}

// muchAdded is the share of added liquid past which a beer tastes thin, mostAdded the one
// past which no extract is made for it (judgement).
const muchAdded, mostAdded = 0.05, 0.10

// doses fills in the doses of the steps with either dropper.
func (p *TastePlan) doses(n *trials.Notebook, s ledger.TrialSet) error {
	with := n
	if p.Made() {
		with = n.With(p.Extract)
	}
	var err error
	of := func(direction string) []trials.StepDoses {
		var list []trials.StepDoses
		for strength := 1; strength <= 2 && err == nil; strength++ {
			var doses []float64
			doses, err = ledger.TasteDoses(with, ledger.TasteGlass{Evening: p.ToTaste, At: n.Now, Strength: strength,
				Direction: direction}, s.Class)
			if strength == 1 {
				list = make([]trials.StepDoses, len(doses))
			}
			for i, dose := range doses {
				if strength == 1 {
					list[i].WeakerGPerL = dose
					continue
				}
				list[i].StrongGPerL = dose
			}
		}
		return list
	}
	p.Design.Taste.Up, p.Design.Taste.Down = of(trials.DirectionUp), of(trials.DirectionDown)
	return err
}
