package trials

import (
	"encoding/json"
	"time"
)

// Addition is something put into a batch. Exactly one of three shapes is
// filled: a material put in directly (MaterialKey), a volume of an extract
// (ExtractID), or a plain liquid or sugar (LiquidKind).
type Addition struct {
	Record
	BatchID string    `json:"batch_id"` // id of the batch
	At      time.Time `json:"at"`       // when it went in
	Stage   string    `json:"stage"`    // boil, flame-out, primary, secondary, packaging or glass
	Lot     string    `json:"lot"`      // the bag it came from, free text
	Note    string    `json:"note"`     // free text

	// a material put in directly
	MaterialKey string   `json:"material_key"`
	Method      string   `json:"method"`        // boil, flame-out, contact, juice or puree
	Form        string   `json:"form"`          // as the product is
	MassG       *float64 `json:"mass_g"`        // grams of material as weighed
	MoisturePct *float64 `json:"moisture_pct"`  // measured share of water by mass
	Minutes     *float64 `json:"minutes"`       // time in the boil, hot stand or fermenter; nil while it is still in
	StartC      *float64 `json:"start_c"`       // temperature of the beer or wort at the start, C
	EndC        *float64 `json:"end_c"`         // temperature at the end, C
	Curve       string   `json:"curve"`         // thermometer readings "98C@0min,92C@10min", in place of StartC and EndC
	BoilOffL    *float64 `json:"boil_off_l"`    // water boiled off while it was in, litres
	BeforeBoilL *float64 `json:"before_boil_l"` // wort as it went into the kettle, litres at 20 C; see InReadings
	InBag       bool     `json:"in_bag"`        // in a bag or sock
	Agitation   string   `json:"agitation"`     // boiling, stirred, now-and-then or still
	RetainKgKg  *float64 `json:"retain_kg_kg"`  // liquid kept back by the pulp when it is taken out, kg/kg

	// how it came out again
	OutAt  *time.Time `json:"out_at"`  // when it was taken out; nil while that is not logged
	OutBy  string     `json:"out_by"`  // drained, squeezed or pressed; empty for drained
	SpentG *float64   `json:"spent_g"` // weight of the wet spent plant, g

	// an extract poured in
	ExtractID *string  `json:"extract_id"`
	PouredL   *float64 `json:"poured_l"` // litres at 20 C, nil for all of it

	// a plain liquid, sugar or spirit
	LiquidKind   string   `json:"liquid_kind"`    // water, sugar, dextrose, honey, spirit, juice, tea, beer ...
	VolumeL      *float64 `json:"volume_l"`       // litres of a plain liquid
	VolumeTempC  *float64 `json:"volume_temp_c"`  // temperature at which VolumeL was measured, C
	LiquidMassG  *float64 `json:"liquid_mass_g"`  // grams of a weighed liquid or sugar
	StrengthPct  *float64 `json:"strength_pct"`   // % vol at 20 C
	SolidsGPerL  *float64 `json:"solids_g_per_l"` // dissolved solids, g/L
	Plato        *float64 `json:"plato"`          // degrees Plato
	LiquidSG     *float64 `json:"liquid_sg"`      // another beer: its final gravity
	LiquidOG     *float64 `json:"liquid_og"`      // another beer: its original gravity
	FermentsPct  *float64 `json:"ferments_pct"`   // share of the sugar that will ferment, nil for all
	VolumeLimitL *float64 `json:"volume_limit_l"` // half-width of the volume, litres
	ExtractedPct *float64 `json:"extracted_pct"`  // share of juice and solubles that fruit gives up, nil for all

	// Limits are half-widths that were typed with other figures.
	Limits Limits `json:"limits"`
}

// Limits are half-widths by the name of their figure, as in JSON: mass_g,
// strength_pct, solids_g_per_l ... None at all is written as {}.
type Limits map[string]float64

// MarshalJSON implements json.Marshaler.
func (l Limits) MarshalJSON() ([]byte, error) {
	// a reader of the JSON looks fields up in it, which null would not allow
	if l == nil {
		return []byte("{}"), nil
	}
	return json.Marshal(map[string]float64(l))
}

// The stages of a batch at which something is added.
const (
	StageBoil      = "boil"
	StageFlameOut  = "flame-out"
	StagePrimary   = "primary"
	StageSecondary = "secondary"
	StagePackaging = "packaging"
	StageGlass     = "glass"
)

// stages lists the stages in time order; directMethods are the ways of adding
// a material without an extract.
var (
	stages        = []string{StageBoil, StageFlameOut, StagePrimary, StageSecondary, StagePackaging, StageGlass}
	directMethods = []string{MethodBoil, MethodFlameOut, MethodContact, MethodJuice, MethodPuree}
)

// InWort reports whether the addition went into hot wort.
func (a Addition) InWort() bool { return a.Stage == StageBoil || a.Stage == StageFlameOut }

// InReadings reports whether volume and original gravity of the batch were read
// after the addition came out of hot wort: what it brought and kept is then part of
// those readings. One that tells the wort it went into (BeforeBoilL) was put in after
// them.
func (a Addition) InReadings() bool { return a.InWort() && a.BeforeBoilL == nil }

// Beyond these an addition was mistyped: spirit does not come stronger from a still, and
// a figure of held liquid above 30 is above that of any slime (both common practice, no
// source).
const (
	mostSpiritPct  = 96.0
	mostRetainKgKg = 30.0
)

// IsPlant reports whether the addition is a plant put straight in, which can be
// taken out again: not juice or puree, which dissolve in the beer.
func (a Addition) IsPlant() bool {
	return a.MaterialKey != "" && a.ExtractID == nil && a.Method != MethodJuice && a.Method != MethodPuree &&
		a.Form != "juice"
}

// TakenOut returns when a plant put straight in was taken out of the fermenter,
// by its own event or by the time it was said to be in; false while it is in.
func (a Addition) TakenOut() (time.Time, bool) {
	switch {
	case !a.IsPlant() || a.InReadings():
		return time.Time{}, false
	case a.OutAt != nil:
		return *a.OutAt, true
	// what boiled stays behind in the kettle unless it is said to have come out
	case a.Minutes != nil && !a.InWort():
		return a.At.Add(time.Duration(*a.Minutes * float64(time.Minute))), true
	}
	return time.Time{}, false
}

// ContactMinutes is how long a material was in up to a moment: until it was taken
// out, else the time given, else until then; at least a minute.
func (a Addition) ContactMinutes(until time.Time) float64 {
	switch {
	// a kettle is emptied once the wort has cooled: the plant was hot for the time given
	case a.OutAt != nil && !(a.InWort() && a.Minutes != nil):
		until = *a.OutAt
	case a.Minutes != nil:
		return *a.Minutes
	}
	// a material looked at in the moment it went in still needs a time that a formula accepts
	return max(until.Sub(a.At).Minutes(), 1)
}

// validateOut checks how a plant came out.
func (a Addition) validateOut() error {
	if a.OutBy != "" {
		if err := checkWord("way to take it out", a.OutBy,
			[]string{SeparationDrained, SeparationSqueezed, SeparationPressed}); err != nil {
			return err
		}
	}
	switch {
	case a.OutAt != nil && !a.OutAt.After(a.At):
		out, in := Apart(*a.OutAt, a.At)
		return Refuse("give the moment it came out with --at", "%s would be out at %s, but it went in at %s", a.Name, out, in)
	case a.SpentG != nil && a.OutAt == nil:
		return Refuse("hedgerow addition out "+a.Name+" --spent 140g", "%s was weighed, but not taken out", a.Name)
	}
	return checkOptionalPositive("weight of the spent plant", a.SpentG, "g")
}

// Validate refuses an addition with an impossible word or amount.
func (a Addition) Validate() error {
	if err := checkWord("stage", a.Stage, stages); err != nil {
		return err
	}
	// a pour has its mass and form in its extract, and a liquid has none: each kind has fields of its own to
	// check
	switch {
	case a.ExtractID != nil:
		return checkOptionalPositive("poured volume", a.PouredL, "L")
	case a.LiquidKind != "":
		return a.validateLiquid()
	default:
		return a.validateDirect()
	}
}

// validateDirect checks the fields of a material put in directly.
func (a Addition) validateDirect() error {
	if a.MassG == nil {
		return Refuse("write how much, such as 40g", "the addition has no mass")
	}
	if err := checkMaterialAmount(*a.MassG, a.Form, a.MoisturePct); err != nil {
		return err
	}
	if err := checkWord("method", a.Method, directMethods); err != nil {
		return err
	}
	if err := checkOptionalPositive("time", a.Minutes, "min"); err != nil {
		return err
	}
	for _, t := range []*float64{a.StartC, a.EndC} {
		if err := checkTemp("temperature", t); err != nil {
			return err
		}
	}
	if err := a.checkCurve(); err != nil {
		return err
	}
	if a.Agitation != "" {
		if err := checkWord("agitation", a.Agitation, agitations); err != nil {
			return err
		}
	}
	if err := CheckRange("extracted share", a.ExtractedPct, 0, 100, "%"); err != nil {
		return err
	}
	if err := CheckRange("liquid kept back", a.RetainKgKg, 0, mostRetainKgKg, "kg/kg"); err != nil {
		return err
	}
	if err := a.validateKettle(); err != nil {
		return err
	}
	return a.validateOut()
}

// validateKettle checks the wort that a material went into.
func (a Addition) validateKettle() error {
	switch {
	case a.BeforeBoilL == nil:
		return nil
	case !a.InWort():
		return Refuse("leave it out: the ledger knows what is in the fermenter",
			"wort before the boil is for what goes in at boil or flame-out, not at %s", a.Stage)
	case !a.IsPlant():
		return Refuse("leave it out", "wort before the boil is for a plant that comes out again, not for %s", a.Method)
	case a.BoilOffL != nil && *a.BoilOffL >= *a.BeforeBoilL:
		return Refuse("give what boiled off while it was in, such as 1.5L",
			"%s L boiled off is not below the %s L of wort it went into", Number(*a.BoilOffL), Number(*a.BeforeBoilL))
	}
	return CheckPositive("wort before the boil", *a.BeforeBoilL, "L")
}

// validateLiquid checks the fields of a plain liquid or sugar.
func (a Addition) validateLiquid() error {
	if a.VolumeL == nil && a.LiquidMassG == nil {
		return Refuse("write how much, such as 600mL or 500g", "the addition has no amount")
	}
	if err := checkOptionalPositive("volume", a.VolumeL, "L"); err != nil {
		return err
	}
	if err := checkOptionalPositive("mass", a.LiquidMassG, "g"); err != nil {
		return err
	}
	if err := checkTemp("temperature", a.VolumeTempC); err != nil {
		return err
	}
	if err := CheckRange("strength", a.StrengthPct, 0, mostSpiritPct, "% vol"); err != nil {
		return err
	}
	return CheckGravityPair(a.LiquidOG, a.LiquidSG)
}

// checkOptionalPositive is checkPositive for a value that may be missing.
func checkOptionalPositive(what string, v *float64, unit string) error {
	if v == nil {
		return nil
	}
	return CheckPositive(what, *v, unit)
}

// checkCurve refuses thermometer readings that last longer than the material was
// in.
func (a Addition) checkCurve() error {
	if a.Curve == "" {
		return nil
	}
	curve, err := KeptCurve(a.Curve)
	if err != nil {
		return err
	}
	if last := curve[len(curve)-1].Minutes; a.Minutes != nil && *a.Minutes < last {
		return Refuse("leave --time out, or make it at least that of the last reading",
			"the last reading is at %s min, but the material was in for %s min", Number(last), Number(*a.Minutes))
	}
	return nil
}
