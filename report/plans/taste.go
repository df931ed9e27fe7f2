package plans

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
	Units      quantity.Units  // of the reader
}

// TastePlan is an evening of dosing to taste as it is worked out.
type TastePlan struct {
	ToTaste trials.ToTaste // its steps
	Extract trials.Extract // what is dropped in
	Made    bool           // it is yet to be made
	Sheet   tasteSheet     // as --json prints it
	Design  trials.Design  // its amounts, as they are kept
}

// tasteSheet is the plan as --json prints it.
type tasteSheet struct {
	Material string               `json:"material"`
	Class    string               `json:"class"`
	Name     string               `json:"tasting"` // empty for one that was not recorded
	Beer     string               `json:"batch"`
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
	low      float64
	high     float64
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
	sheet := tasteSheet{Material: s.Material.Key, Class: trials.ClassNames[s.Class], Name: r.Name, Beer: r.Base.Name,
		Used: r.Used, Warnings: []string{}, low: low, high: high, tasters: r.Tasters, units: r.Units}
	carries, left, err := p.extract(n, materials, s, r, low, high)
	if err != nil {
		return p, err
	}
	var remarks []string
	p.ToTaste, remarks, err = planning.Ladder(planning.Drops{CarriesGPerL: carries, LowGPerL: low, HighGPerL: high,
		GlassL: r.GlassL, PourStepL: r.PourStepL, Factor: r.Factor})
	if err != nil {
		return p, err
	}
	sheet.Warnings = append(sheet.Warnings, remarks...)
	p.ToTaste.BatchID, p.ToTaste.ExtractID, p.ToTaste.Used = r.Base.ID, p.Extract.ID, r.Used
	if err := p.amounts(n, materials, s, r, &sheet, carries, left); err != nil {
		return p, err
	}
	if err := p.doses(n, s, &sheet); err != nil {
		return p, err
	}
	p.Sheet = sheet
	p.describe(n, materials, s, r)
	return p, nil
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

// extract settles what is dropped in, and tells what it carries and how much is left of
// one at hand; of one to be made the amounts come later.
func (p *TastePlan) extract(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r TasteRequest, low,
	high float64) (carries, left float64, err error) {
	if r.Extract != nil {
		if err := checkLike(s, *r.Extract); err != nil {
			return 0, 0, err
		}
		p.Extract = *r.Extract
		return planning.CarriesNow(n, materials, p.Extract, s.Class)
	}
	c, err := planning.Choose(n, materials, s, planning.Ask{Kind: trials.PlanBench, DoseGPerL: math.Sqrt(low * high),
		Taste: &planning.TasteSpan{LowGPerL: low, HighGPerL: high}})
	if err != nil {
		return 0, 0, err
	}
	if c.Pattern.Extract == nil {
		return 0, 0, trials.Refuse("plan jars with: hedgerow plan split "+s.Material.Key,
			"no extract of %s can be dropped into a glass", s.Material.Key)
	}
	p.Made = true
	p.Extract = *c.Pattern.Extract
	p.Design.Like = c.Pattern.Like
	return planning.Carries(n, materials, p.Extract, s.Class)
}

// amounts works out what the evening takes, and how much of the extract is made.
func (p *TastePlan) amounts(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, r TasteRequest,
	sheet *tasteSheet, carries, left float64) error {
	// half of the tasters go up with the one, half with the other; of an odd one the stronger is reckoned
	more, less := (r.Tasters+1)/2, r.Tasters/2
	f := p.ToTaste.FillingOf(map[int]map[string]int{
		2: {trials.DirectionUp: more, trials.DirectionDown: more}, 1: {trials.DirectionUp: more,
			trials.DirectionDown: max(less, 1)}})
	sheet.Extract = tasteExtract{CarriesGPerL: carries, DropsML: 1000 * f.ExtractL}
	for _, strength := range []int{2, 1} {
		sheet.Droppers = append(sheet.Droppers, tasteDropper{strength, p.ToTaste.InDropper(strength),
			1000 * f.DropperL[strength]})
	}
	sheet.BeerML = 1000 * float64(r.Tasters) * (2*p.ToTaste.GlassL + float64(p.ToTaste.DownSteps-1)*p.ToTaste.FillL)
	need := f.ExtractL
	if r.Used {
		batch := min(planning.DosePour(carries, sheet.high, r.VolumeL), mostAdded*r.VolumeL)
		sheet.Extract.BatchML = 1000 * batch
		need += batch
		if share := planning.DosePour(carries, math.Sqrt(sheet.low*sheet.high), r.VolumeL) / r.VolumeL; share > muchAdded {
			sheet.Warnings = append(sheet.Warnings, fmt.Sprintf("at the middle of the advice it adds %s %% of liquid to the "+
				"beer: a stronger extract thins it less", document.Significant(100*share, 2)))
		}
	}
	if !p.Made {
		sheet.Extract.Name, sheet.Extract.ThereML = p.Extract.Name, 1000*left
		if left < f.ExtractL {
			return trials.Refuse("fewer tasters, less in each glass with --glass, or more extract",
				"the droppers need %s of %s, but %s are left", wording.VolumeText(f.ExtractL, r.Units), p.Extract.Name,
				wording.VolumeText(left, r.Units))
		}
		if left < need {
			sheet.Warnings = append(sheet.Warnings, fmt.Sprintf("%s are left of %s: after the evening that is not enough for "+
				"%s of beer at the highest advice, which takes %s", wording.VolumeText(left, r.Units), p.Extract.Name,
				wording.VolumeText(r.VolumeL, r.Units), wording.VolumeText(sheet.Extract.BatchML/1000, r.Units)))
		}
		return nil
	}
	x, err := planning.ExtractFor(n, materials, planning.Pattern{Extract: &p.Extract}, need, r.ScaleStepG)
	if err != nil {
		return err
	}
	name := r.Name
	if name == "" {
		name = "new"
	}
	x.Record = trials.Record{ID: trials.NewID(), Name: name + "-" + x.Method}
	x.MadeAt = n.Now
	p.Extract, p.ToTaste.ExtractID = x, x.ID
	sheet.Extract.MassG = x.MassG
	gPerL, made, err := planning.Carries(n, materials, x, s.Class)
	sheet.Extract.CarriesGPerL, sheet.Extract.ThereML = gPerL, 1000*made
	return err
}

// muchAdded is the share of added liquid past which a beer tastes thin, mostAdded the one
// past which no extract is made for it (judgement).
const muchAdded, mostAdded = 0.05, 0.10

// doses fills in the doses of the steps with either dropper.
func (p *TastePlan) doses(n *trials.Notebook, s ledger.TrialSet, sheet *tasteSheet) error {
	with := n
	if p.Made {
		with = n.With(p.Extract)
	}
	sheet.GlassML, sheet.SipML, sheet.Factor, sheet.Share = 1000*p.ToTaste.GlassL, 1000*p.ToTaste.SipL,
		p.ToTaste.StepFactor, p.ToTaste.Share
	of := func(strength int, direction string) ([]float64, error) {
		return ledger.TasteDoses(with, ledger.TasteGlass{Evening: p.ToTaste, At: n.Now, Strength: strength,
			Direction: direction}, s.Class)
	}
	for _, direction := range []string{trials.DirectionUp, trials.DirectionDown} {
		weak, err := of(1, direction)
		if err != nil {
			return err
		}
		strong, err := of(2, direction)
		if err != nil {
			return err
		}
		for i := range weak {
			step := tasteStep{i + 1, 1000 * p.ToTaste.FillL, weak[i], strong[i]}
			if direction == trials.DirectionUp {
				step.InML = 1000 * p.ToTaste.UpL[i]
				sheet.Up = append(sheet.Up, step)
				continue
			}
			if i == 0 {
				step.InML = 1000 * p.ToTaste.DownL
			}
			sheet.Down = append(sheet.Down, step)
		}
	}
	return nil
}
