package plans

import (
	"fmt"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// planSheet is a plan as --json prints it, and all that its page needs.
type planSheet struct {
	Kind     string               `json:"kind"`     // what it is
	Material string               `json:"material"` // key of the material
	Class    string               `json:"class"`    // solute class, an index into ClassNames
	Name     string               `json:"plan"`     // empty for one that was not recorded
	Beer     string               `json:"batch"`    // the beer it is made with
	Tasting  string               `json:"tasting"`  // set up with it
	Why      string               `json:"doses_are"`
	At       *time.Time           `json:"at"` // when it happened
	DoneAt   *time.Time           `json:"done_at"`
	Design   trials.Design        `json:"design"`    // its amounts as planned
	AddedPct float64              `json:"added_pct"` // added liquid as a share of what is in each vessel
	RoundPct float64              `json:"rounding_pct"`
	ScaledUp []scaledDose         `json:"scale_up"`
	Wort     *wortView            `json:"brew"`
	Steps    []planStep           `json:"steps"`
	Kit      []string             `json:"kit"`
	Cautions []wording.CautionRow `json:"cautions"`
	Warnings []string             `json:"warnings"` // remarks, one sentence each
	units    quantity.Units       `json:"-"`
}

// scaledDose is what a dose of the series means in the batch it is for.
type scaledDose struct {
	GPerL   float64 `json:"dose_g_per_l"` // grams per litre
	MassG   float64 `json:"mass_g"`       // grams as weighed
	LiquidL float64 `json:"liquid_l"`
}

// wortView is what to brew so that the strength stays.
type wortView struct {
	OG         float64 `json:"og"` // original gravity, SG 20/20
	FG         float64 `json:"fg"` // final gravity, SG 20/20
	PlainPct   float64 `json:"abv_pct"`
	ThinnedPct float64 `json:"abv_thinned_pct"`
}

// PlanView is a plan that was not recorded.
func PlanView(n *trials.Notebook, kind string, d trials.Design, why string, u quantity.Units) (document.View, error) {
	return planView(n, planSheet{Kind: kind, Design: d, Why: why, units: u})
}

// PlanOf is a recorded plan.
func PlanOf(n *trials.Notebook, p trials.Plan, why string, u quantity.Units) (document.View, error) {
	if p.Kind == trials.PlanTaste {
		v, err := tastePlanOf(n, p, u)
		return v.View(), err
	}
	b, _ := n.BatchByID(p.BatchID)
	s := planSheet{Kind: p.Kind, Design: p.Design, Why: why, Name: p.Name, Beer: b.Name, At: &p.At, DoneAt: p.DoneAt,
		units: u}
	if p.TastingID != nil {
		t, _ := n.TastingByID(*p.TastingID)
		s.Tasting = t.Name
	}
	return planView(n, s)
}

// planView fills in what follows from the design.
func planView(n *trials.Notebook, s planSheet) (document.View, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return document.View{}, err
	}
	d := s.Design
	s.Material, s.Class, s.RoundPct, s.Warnings = d.MaterialKey, trials.ClassNames[d.Class], d.WorstPct(), []string{}
	s.AddedPct = 100 * d.AddedL / (d.Vessels[0].BeerL + d.AddedL)
	s.Steps, s.Kit, s.Cautions = s.steps(), s.kit(), wording.CautionRows(planning.Cautions(n, materials, s.Kind, d))
	s.scaleUp(n, materials)
	if err := s.brew(n, materials); err != nil {
		return document.View{}, err
	}
	s.warn()
	return document.View{Document: s.document(), Payload: s}, nil
}

// scaleUp works out what each dose means in the batch in the end.
func (s *planSheet) scaleUp(n *trials.Notebook, materials trials.Materials) {
	s.ScaledUp = []scaledDose{}
	d := s.Design
	if d.ScaleUpL <= 0 {
		return
	}
	for _, v := range d.Vessels {
		if v.AimGPerL <= 0 {
			continue
		}
		r, err := planning.RecipeFor(n, materials, planning.PatternOf(n, d), v.AimGPerL, d.Class, d.ScaleUpL)
		// a dose that cannot be made at that scale is left out; the plan itself does not hang on it
		if err == nil {
			s.ScaledUp = append(s.ScaledUp, scaledDose{v.AimGPerL, r.MassG, r.LiquidL})
		}
	}
}

// brew works out how strong to brew.
func (s *planSheet) brew(n *trials.Notebook, materials trials.Materials) error {
	d := s.Design
	// glasses are filled from a beer that is brewed already; of wort the gravities are read with the plant
	// out again
	if s.Kind != trials.PlanBatch || d.BaseOG == nil || d.BaseFG == nil || d.Direct != nil && d.Direct.InWort() {
		return nil
	}
	w, err := planning.StrongerFor(n, materials, d, *d.BaseOG, *d.BaseFG, d.Vessels[0].BeerL)
	if err != nil {
		return err
	}
	s.Wort = &wortView{w.OG, w.FG, w.PlainABVPct, w.ThinnedABVPct}
	return nil
}

// warn collects what to keep in mind.
func (s *planSheet) warn() {
	d := s.Design
	const muchRounding = 10 // per cent; judgement
	if s.RoundPct > muchRounding {
		s.Warnings = append(s.Warnings, fmt.Sprintf("rounding moves a dose by %s %%: take a finer syringe or scale, "+
			"or more beer in each", document.Fixed(s.RoundPct, 0)))
	}
	if d.ScaleDoubtPct > muchRounding {
		s.Warnings = append(s.Warnings, fmt.Sprintf("half a step of the scale is %s %% of what is weighed: take a "+
			"finer scale", document.Fixed(d.ScaleDoubtPct, 0)))
	}
	const muchPct = 5.5 // per cent of what is in it; rounding to handy amounts is let pass
	if s.AddedPct > muchPct {
		s.Warnings = append(s.Warnings, fmt.Sprintf("%s %% of each is added liquid: the beer tastes thin, in the "+
			"control too, and no stronger way was found", document.Fixed(s.AddedPct, 0)))
	}
	if s.Kind == trials.PlanBench {
		s.Warnings = append(s.Warnings, "glasses and batches differ: a tea tasted ten minutes after pouring is not a "+
			"beer that stood on it for weeks, so take the best glass as a guess for jars or a batch")
	}
}

// PlanList lists the recorded plans.
func PlanList(n *trials.Notebook) document.View {
	type row struct {
		Plan     string     `json:"plan"`
		Kind     string     `json:"kind"`
		Material string     `json:"material"`
		Batch    string     `json:"batch"`
		Vessels  int        `json:"vessels"`
		At       time.Time  `json:"at"`
		DoneAt   *time.Time `json:"done_at"`
	}
	t := document.Table{Columns: []document.Column{{Title: "plan", Wrap: true}, {Title: "kind"},
		{Title: "material", Wrap: true}, {Title: "beer", Wrap: true}, {Title: "vessels", Right: true},
		{Title: "planned for"}, {Title: "done"}}}
	var list []row
	for _, p := range n.Plans {
		b, _ := n.BatchByID(p.BatchID)
		r := row{p.Name, p.Kind, p.MaterialKey, b.Name, len(p.Design.Vessels), p.At, p.DoneAt}
		done := "not yet"
		if p.DoneAt != nil {
			done = wording.DateText(*p.DoneAt)
		}
		list = append(list, r)
		t.Rows = append(t.Rows, []string{r.Plan, r.Kind, r.Material, r.Batch, fmt.Sprint(r.Vessels),
			wording.DateText(r.At), done})
	}
	return document.ListView(list, "There is no plan yet: hedgerow plan bench MATERIAL --from BATCH --record NAME", t)
}
