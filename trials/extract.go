package trials

import (
	"encoding/json"
	"fmt"
	"time"
)

// Extract is a tea, cold infusion or tincture made from one material in one or
// more passes. An addition pours all or part of it into a batch.
type Extract struct {
	Record
	MadeAt      time.Time `json:"made_at"`        // when its first pass began
	MaterialKey string    `json:"material_key"`   // key of the material
	Method      string    `json:"method"`         // tea, cold-tea or tincture
	Form        string    `json:"form"`           // as the product is: whole, cut, crushed, powder, fresh ...
	MassG       float64   `json:"mass_g"`         // grams of material as weighed
	MoisturePct *float64  `json:"moisture_pct"`   // measured share of water by mass
	SpiritPct   *float64  `json:"spirit_pct"`     // strength of the spirit of a tincture, % vol at 20 C
	SolidsGPerL *float64  `json:"solids_g_per_l"` // measured dissolved solids of the extract, g/L
	Lot         string    `json:"lot"`            // the bag it came from, free text
	Note        string    `json:"note"`           // free text
	Passes      []Pass    `json:"passes"`         // in the order of the steeps
	TopUps      []TopUp   `json:"top_ups"`        // water added to it afterwards
}

// MarshalJSON writes an extract that was not steeped yet with an empty list of
// passes, not with null.
func (e Extract) MarshalJSON() ([]byte, error) {
	// a type without methods: to marshal Extract itself would come back here for ever
	type plain Extract
	if e.Passes == nil {
		e.Passes = []Pass{}
	}
	if e.TopUps == nil {
		e.TopUps = []TopUp{}
	}
	return json.Marshal(plain(e))
}

// Pass is one steep of the same material.
type Pass struct {
	ID          string   `json:"id"`            // stable random id
	VolumeL     float64  `json:"volume_l"`      // liquid put in, litres at VolumeTempC or at 20 C
	VolumeTempC *float64 `json:"volume_temp_c"` // temperature at which VolumeL was measured
	StartC      float64  `json:"start_c"`       // temperature at the start, C
	EndC        *float64 `json:"end_c"`         // temperature at the end, nil for constant
	Curve       string   `json:"curve"`         // thermometer readings "96C@0min,89C@5min", in place of StartC and EndC
	Minutes     float64  `json:"minutes"`       // how long
	Agitation   string   `json:"agitation"`     // boiling, stirred, now-and-then or still; empty when not said
	InBag       bool     `json:"in_bag"`        // in a bag or sock
	Separation  string   `json:"separation"`    // drained, squeezed or pressed
	RecoveredL  *float64 `json:"recovered_l"`   // liquid that came out, litres
	HeldL       *float64 `json:"held_l"`        // liquid that stayed in the material, litres
	SpentG      *float64 `json:"spent_g"`       // weighed spent material, grams
	TeaSG       *float64 `json:"tea_sg"`        // gravity of the liquid that came out
	TeaSGLimit  *float64 `json:"tea_sg_limit"`  // how far off TeaSG may be; nil when not said
	WaterSG     *float64 `json:"water_sg"`      // what its hydrometer shows in plain water; nil for 1.000
	TeaBrix     *float64 `json:"tea_brix"`      // what a refractometer shows of the liquid, degrees Brix
	TeaPH       *float64 `json:"tea_ph"`        // pH of the liquid that came out

	EndedAt  *time.Time `json:"ended_at"`  // when its liquid came out; nil while that was not said
	LoggedAt time.Time  `json:"logged_at"` // when it was written down

	// Efficiency is the share of the way to equilibrium in place of heat and time.
	// It is for calculations only and never stored: what was really done has a
	// temperature and a time.
	Efficiency *float64 `json:"-"`
}

// The methods of making an extract and of adding a material directly.
const (
	MethodBoil     = "boil"
	MethodFlameOut = "flame-out"
	MethodTea      = "tea"
	MethodColdTea  = "cold-tea"
	MethodContact  = "contact"
	MethodTincture = "tincture"
	MethodJuice    = "juice"
	MethodPuree    = "puree"
)

// Methods lists every way of getting a material into beer, extractMethods
// those that make an extract first.
var (
	Methods = []string{MethodBoil, MethodFlameOut, MethodTea, MethodColdTea, MethodContact, MethodTincture,
		MethodJuice, MethodPuree}
	extractMethods = []string{MethodTea, MethodColdTea, MethodTincture}
	separations    = []string{SeparationDrained, SeparationSqueezed, SeparationPressed}
	Forms          = []string{"whole", "cut", "crushed", "powder", "fresh", "fresh-cut", "frozen", "zest", "puree",
		"juice"}
	agitations = []string{"boiling", "stirred", "now-and-then", "still"}
)

// The ways of parting liquid and spent material.
const (
	SeparationDrained  = "drained"
	SeparationSqueezed = "squeezed"
	SeparationPressed  = "pressed"
)

// CheckMethod refuses a word that is no method, and names the nearest.
func CheckMethod(word string) error { return checkWord("method", word, Methods) }

// Validate refuses an extract whose words or amounts cannot be.
func (e Extract) Validate() error {
	if err := checkMaterialAmount(e.MassG, e.Form, e.MoisturePct); err != nil {
		return err
	}
	if err := checkWord("method", e.Method, extractMethods); err != nil {
		return err
	}
	if e.Method == MethodTincture && e.SpiritPct == nil {
		return Refuse("add --strength 40%", "a tincture needs the strength of its spirit")
	}
	if err := CheckRange("strength", e.SpiritPct, 0, 100, "% vol"); err != nil {
		return err
	}
	for _, t := range e.TopUps {
		if err := CheckPositive("top-up", t.VolumeL, "L"); err != nil {
			return err
		}
	}
	for i, p := range e.Passes {
		if p.Efficiency != nil {
			return Refuse("log its temperature and time, such as 95C>70C 20min; equilibrium and e= are for hedgerow steep",
				"pass %d has an efficiency, which is not logged", i+1)
		}
		if err := p.ValidateIn(e.SpiritPct); err != nil {
			return fmt.Errorf("pass %d: %w", i+1, err)
		}
	}
	return e.checkPassOrder()
}

// checkPassOrder refuses passes that would end before the extract was begun or
// before the pass that came first.
func (e Extract) checkPassOrder() error {
	before, what := e.MadeAt, "the extract was begun"
	for i, p := range e.Passes {
		// passes are often logged without their moment: only those that have one are compared
		if p.EndedAt == nil {
			continue
		}
		if p.EndedAt.Before(before) {
			end, start := Apart(*p.EndedAt, before)
			return Refuse("give the moment its liquid came out", "pass %d would end at %s, before %s at %s", i+1, end, what,
				start)
		}
		before, what = *p.EndedAt, fmt.Sprintf("pass %d ended", i+1)
	}
	return nil
}

// checkMaterialAmount refuses a mass, form or moisture that cannot be.
func checkMaterialAmount(massG float64, form string, moisturePct *float64) error {
	if err := CheckPositive("mass", massG, "g"); err != nil {
		return err
	}
	if form != "" {
		if err := checkWord("form", form, Forms); err != nil {
			return err
		}
	}
	if moisturePct != nil && (*moisturePct < 0 || *moisturePct >= 100) {
		return Refuse("give the share of water by mass, such as 10%",
			"moisture %s %% is outside 0 to under 100 %%", Number(*moisturePct))
	}
	return nil
}

// mostReadPct is the strength of liquid above which neither gravity nor refraction
// says what is dissolved in it, % vol.
const mostReadPct = 5.0

// CanBeRead reports whether the dissolved solids of a liquid of that strength, % vol,
// follow from its gravity: nil is no spirit.
func CanBeRead(spiritPct *float64) bool { return spiritPct == nil || *spiritPct <= mostReadPct }

// ValidateIn is Validate for a pass of a liquid of that strength, nil for water.
func (p Pass) ValidateIn(spiritPct *float64) error {
	if p.IsRead() && !CanBeRead(spiritPct) {
		return Refuse("leave the reading out, or weigh what is left of a spoonful dried",
			"a gravity or Brix in spirit of %s %% vol says nothing about what is dissolved", Number(*spiritPct))
	}
	return p.Validate()
}

// IsRead reports whether the strength of the liquid that came out was read.
func (p Pass) IsRead() bool { return p.TeaSG != nil || p.TeaBrix != nil }

// Validate refuses a pass without liquid or time, or hotter than boiling.
func (p Pass) Validate() error {
	if err := CheckPositive("volume", p.VolumeL, "L"); err != nil {
		return err
	}
	if p.IsHeated() {
		if err := CheckPositive("time", p.Minutes, "min"); err != nil {
			return err
		}
	}
	if err := checkWord("separation", p.Separation, separations); err != nil {
		return err
	}
	if p.Agitation != "" {
		if err := checkWord("agitation", p.Agitation, agitations); err != nil {
			return err
		}
	}
	for _, sg := range []*float64{p.TeaSG, p.WaterSG} {
		if sg != nil && !(*sg >= 0.99 && *sg <= 1.10) {
			return Refuse("read it again; most teas show 1.002 to 1.020", "the gravity %s of a tea is outside 0.990 to 1.100",
				Number(*sg))
		}
	}
	for _, t := range []*float64{&p.StartC, p.EndC, p.VolumeTempC} {
		if err := checkTemp("temperature", t); err != nil {
			return err
		}
	}
	if p.RecoveredL != nil && p.HeldL != nil {
		return Refuse("give only one of them, the other follows",
			"both the recovered and the held liquid are given")
	}
	if p.RecoveredL != nil && *p.RecoveredL < 0 || p.HeldL != nil && *p.HeldL < 0 {
		return Refuse("give what came out, in mL", "a recovered or held volume is below zero")
	}
	return nil
}

// IsHeated reports whether temperature and time of the pass are known: a pass of
// which only the efficiency is given may go without.
func (p Pass) IsHeated() bool { return p.Efficiency == nil || p.Minutes > 0 }

// TopUp is water added to an extract after it was made.
type TopUp struct {
	ID      string    `json:"id"`       // stable random id
	At      time.Time `json:"at"`       // when the water went in
	VolumeL float64   `json:"volume_l"` // litres at 20 C
}
