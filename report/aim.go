package report

import (
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// aimView is how to reach what is aimed at, as --json prints it.
type aimView struct {
	ABVPct *float64      `json:"target_abv_pct"`    // strength, % vol
	SG     *float64      `json:"target_gravity_sg"` // specific gravity 20/20
	Water  *aimedWater   `json:"water"`
	Wort   *aimedWort    `json:"wort"`
	After  wording.State `json:"after"`
}

// aimedWater is water to add as --json prints it.
type aimedWater struct {
	VolumeL float64 `json:"volume_l"` // litres at 20 C
	MassKg  float64 `json:"mass_kg"`  // kilograms
	TempC   float64 `json:"temp_c"`   // degrees Celsius
}

// aimedWort is a wort to brew as --json prints it.
type aimedWort struct {
	OG float64 `json:"original_gravity_sg"` // original gravity, SG 20/20
	FG float64 `json:"final_gravity_sg"`    // final gravity, SG 20/20
}

// viewOfAim turns an answer into its printed form.
func viewOfAim(a ledger.Aimed) *aimView {
	v := aimView{ABVPct: a.ABVPct, SG: a.SG, After: wording.StateView(a.After)}
	if a.Water != nil {
		v.Water = &aimedWater{a.Water.VolumeL, a.Water.MassKg, a.Water.TempC}
	}
	if a.Wort != nil {
		v.Wort = &aimedWort{a.Wort.OG, a.Wort.FG}
	}
	return &v
}

// section says in words how to reach what is aimed at.
func (v aimView) section(additions int, u quantity.Units) document.Section {
	aim := ""
	if v.SG != nil {
		aim = "a gravity of " + wording.GravityText(*v.SG)
	} else {
		aim = document.Fixed(*v.ABVPct, 2) + " % vol"
	}
	s := document.Section{Heading: "To reach " + aim}
	switch {
	case v.Wort != nil:
		s.Paragraphs = []string{"Brew the same volume at an original gravity of " + document.Fixed(v.Wort.OG, 4) +
			"; at the same attenuation it ends at " + document.Fixed(v.Wort.FG, 4) + " before " +
			additionsWord(additions) + "."}
		s.Notes = []string{"a stronger wort may stop at a higher gravity than this; then the strength falls short"}
	// an answer of its own: "add 0 mL" reads like a fault
	case v.Water.VolumeL == 0:
		s.Paragraphs = []string{"Add nothing: it is there already."}
	default:
		s.Paragraphs = []string{"Add " + wording.VolumeText(v.Water.VolumeL, u) + " of water, measured at " +
			wording.TempText(v.Water.TempC, u) + onTop(additions) + "."}
		s.Notes = []string{"tea counts as water: up to 5 g/L of solids in a twentieth of the beer change the gravity " +
			"by less than 0.00002"}
	}
	s.Paragraphs = append(s.Paragraphs, "The beer is then "+wording.VolumeEstimate(v.After.VolumeL, u)+" "+
		wording.VolumeUnit(u)+" with "+document.PlusMinusOrDash(v.After.ABVPct, 1, 2)+" % vol and a gravity of "+
		document.GravityEstimate(v.After.GravitySG)+".")
	return s
}

// additionsWord names the additions.
func additionsWord(n int) string {
	switch n {
	case 0:
		return "anything goes in"
	case 1:
		return "the addition"
	}
	return "the additions"
}

// onTop says that water comes on top of the additions.
func onTop(n int) string {
	if n == 0 {
		return ""
	}
	return ", on top of " + additionsWord(n)
}

// phAnswer is the answer to the question after a pH as --json prints it.
type phAnswer struct {
	Predicted *float64 `json:"predicted"` // always null
	Why       string   `json:"why"`
	SampleL   float64  `json:"sample_l"`
	Add       []string `json:"add"`
}

// answerOfPH says why no pH is predicted and what to mix instead.
func answerOfPH(t ledger.PHTrial) *phAnswer {
	return &phAnswer{Why: ledger.PHWhy, SampleL: t.SampleL, Add: append([]string{}, t.Parts...)}
}

// section is the answer in words.
func (p phAnswer) section(u quantity.Units) document.Section {
	mix := "what is to go in, in proportion"
	if len(p.Add) > 0 {
		mix = strings.Join(p.Add, ", ")
	}
	return document.Section{Heading: "pH", Paragraphs: []string{p.Why,
		"Mix a measured sample instead: degas " + wording.VolumeText(p.SampleL, u) +
			" of the beer by stirring, add " + mix + ", wait until the fruit or tea has given what it gives, " +
			"and read beer and mix at the same temperature with a meter calibrated on the day."}}
}

// Jars shows the water that makes the jars of a split alike. State is the beer
// afterwards where its gravities were given.
func Jars(jars []ledger.Jar, state *ledger.State, u quantity.Units) document.View {
	type jar struct {
		BeerL  float64 `json:"beer_l"`
		AddedL float64 `json:"treatment_l"`
		WaterL float64 `json:"water_l"`
		TotalL float64 `json:"total_l"`
	}
	t := document.Table{Columns: []document.Column{{Title: "jar", Right: true}, {Title: "beer", Right: true},
		{Title: "treatment", Right: true}, {Title: "water to add", Right: true}, {Title: "in all", Right: true}}}
	list := make([]jar, len(jars))
	for i, j := range jars {
		list[i] = jar{j.BeerL, j.AddedL, j.WaterL, j.BeerL + j.AddedL + j.WaterL}
		t.Rows = append(t.Rows, []string{document.Fixed(float64(i+1), 0), wording.VolumeText(j.BeerL, u),
			zeroOr(j.AddedL, u), zeroOr(j.WaterL, u), wording.VolumeText(list[i].TotalL, u)})
	}
	// any jar would do: the water was chosen so that they are alike
	perL := (jars[0].AddedL + jars[0].WaterL) / jars[0].BeerL
	s := document.Section{Table: &t, Notes: []string{"each jar then has " + wording.VolumeText(perL, u) +
		" of added liquid for a litre of beer, the control too, so that only the treatment differs"}}
	var after *wording.State
	if state != nil {
		v := wording.StateView(*state)
		after = &v
		s.Notes = append(s.Notes, "the beer in every jar is then "+document.PlusMinusOrDash(v.ABVPct, 1, 2)+
			" % vol, as far as the treatments count as water")
	}
	return document.View{
		Document: document.Document{Sections: []document.Section{s}},
		Payload: struct {
			Jars     []jar          `json:"jars"`
			PerLitre float64        `json:"added_l_per_l"`
			After    *wording.State `json:"after"`
			Warnings []string       `json:"warnings"`
		}{list, perL, after, []string{}},
	}
}

// zeroOr prints a volume that may be none.
func zeroOr(l float64, u quantity.Units) string {
	if l == 0 {
		return "0"
	}
	return wording.VolumeText(l, u)
}
