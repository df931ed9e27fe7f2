package trials

import "time"

// Addition is something put into a batch. Exactly one of three shapes is
// filled: a material put in directly (MaterialKey), a volume of an extract
// (ExtractID), or a plain liquid or sugar (LiquidKind).
type Addition struct {
	Record
	BatchID string
	At      time.Time
	Stage   string // boil, flame-out, primary, secondary, packaging or glass
	Lot     string
	Note    string

	// a material put in directly
	MaterialKey string
	Method      string // boil, flame-out, contact, juice or puree
	Form        string
	MassG       *float64
	MoisturePct *float64
	Minutes     *float64 // time in the boil, hot stand or fermenter; nil while it is still in
	StartC      *float64
	EndC        *float64
	BoilOffL    *float64 // water boiled off while it was in, litres
	InBag       bool
	Agitation   string
	RetainKgKg  *float64 // liquid kept back by the pulp when it is taken out, kg/kg

	// an extract poured in
	ExtractID *string
	PouredL   *float64 // litres at 20 C, nil for all of it

	// a plain liquid, sugar or spirit
	LiquidKind   string // water, sugar, dextrose, honey, spirit, juice, tea, beer ...
	VolumeL      *float64
	VolumeTempC  *float64
	LiquidMassG  *float64
	StrengthPct  *float64 // % vol at 20 C
	SolidsGPerL  *float64
	Plato        *float64
	LiquidSG     *float64 // another beer: its final gravity
	LiquidOG     *float64 // another beer: its original gravity
	FermentsPct  *float64 // share of the sugar that will ferment, nil for all
	VolumeLimitL *float64 // half-width of the volume, litres
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

// Stages lists the stages in time order; DirectMethods are the ways of adding
// a material without an extract.
var (
	Stages        = []string{StageBoil, StageFlameOut, StagePrimary, StageSecondary, StagePackaging, StageGlass}
	DirectMethods = []string{MethodBoil, MethodFlameOut, MethodContact, MethodJuice, MethodPuree}
)

// InWort reports whether the addition went into hot wort, before the original
// gravity was read: what it brought in is then already part of that reading.
func (a Addition) InWort() bool { return a.Stage == StageBoil || a.Stage == StageFlameOut }

// Validate refuses an addition with an impossible word or amount.
func (a Addition) Validate() error {
	if err := checkWord("stage", a.Stage, Stages); err != nil {
		return err
	}
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
		return invalid("write how much, such as 40g", "the addition has no mass")
	}
	if err := checkMaterialAmount(*a.MassG, a.Form, a.MoisturePct); err != nil {
		return err
	}
	if err := checkWord("method", a.Method, DirectMethods); err != nil {
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
	if a.Agitation != "" {
		if err := checkWord("agitation", a.Agitation, Agitations); err != nil {
			return err
		}
	}
	return checkRange("liquid kept back", a.RetainKgKg, 0, 10, "kg/kg")
}

// validateLiquid checks the fields of a plain liquid or sugar.
func (a Addition) validateLiquid() error {
	if a.VolumeL == nil && a.LiquidMassG == nil {
		return invalid("write how much, such as 600mL or 500g", "the addition has no amount")
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
	if err := checkRange("strength", a.StrengthPct, 0, 100, "% vol"); err != nil {
		return err
	}
	return checkGravityPair(a.LiquidOG, a.LiquidSG)
}

// checkOptionalPositive is checkPositive for a value that may be missing.
func checkOptionalPositive(what string, v *float64, unit string) error {
	if v == nil {
		return nil
	}
	return checkPositive(what, *v, unit)
}
