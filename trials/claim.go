package trials

import "strings"

// Claim is advice heard or read about how much of a material to use.
type Claim struct {
	Record
	MaterialKey string   `json:"material_key"` // key of the material
	AsWritten   string   `json:"as_written"`   // the advice as typed
	Basis       string   `json:"basis"`        // fresh, dry or as-is
	PerTea      bool     `json:"per_tea"`      // per litre of tea, not of beer
	LowGPerL    *float64 `json:"low_g_per_l"`  // nil where the advice cannot be converted
	HighGPerL   *float64 `json:"high_g_per_l"` // upper end, g/L
	Source      string   `json:"source"`       // who said it or where it is written
	Note        string   `json:"note"`         // free text
}

// The bases a claim may have.
const (
	BasisFresh = "fresh"
	BasisDry   = "dry"
	BasisAsIs  = "as-is"
)

// bases lists the bases of a claim.
var bases = []string{BasisFresh, BasisDry, BasisAsIs}

// Validate refuses an unknown basis and a low end above the high end.
func (c Claim) Validate() error {
	if c.Basis != "" {
		if err := checkWord("basis", c.Basis, bases); err != nil {
			return err
		}
	}
	if c.LowGPerL != nil && c.HighGPerL != nil && *c.LowGPerL > *c.HighGPerL {
		return Refuse("write the lower figure first", "claim %q runs from %s down to %s g/L", c.AsWritten,
			Number(*c.LowGPerL), Number(*c.HighGPerL))
	}
	return nil
}

// OwnMaterial is a material the user added, or own figures for a built-in one.
type OwnMaterial struct {
	Record               // Name is the key
	CommonName  string   `json:"common_name"`   // as people call it
	PartUsed    string   `json:"part_used"`     // flower, leaf, root ...
	Category    string   `json:"category"`      // flower, fruit, leaf herb ...
	Class       string   `json:"class"`         // solute class: water, aroma or resin
	HardWhole   bool     `json:"hard_whole"`    // whole pieces are hard: berries, seeds, roots, wood
	MoisturePct *float64 `json:"moisture_pct"`  // as bought
	SugarPct    *float64 `json:"sugar_pct"`     // share of sugar by mass
	GramsPerTsp *float64 `json:"grams_per_tsp"` // weight of a teaspoon, g
	Note        string   `json:"note"`          // free text
	Reason      string   `json:"reason"`        // why a plant of the stop list is kept all the same
}

// Validate refuses a material whose figures cannot be.
func (m OwnMaterial) Validate() error {
	if err := CheckName("material", m.Name); err != nil {
		return err
	}
	// a material is one word within the text of an addition: "2.5kg blood-orange"
	if strings.ContainsAny(m.Name, " '") {
		return Refuse("join the words with hyphens, such as blood-orange", "material name %q cannot be used", m.Name)
	}
	if m.Class != "" {
		if err := checkWord("solute class", m.Class, []string{"water", "aroma", "resin"}); err != nil {
			return err
		}
	}
	if err := CheckRange("moisture", m.MoisturePct, 0, 99.9, "%"); err != nil {
		return err
	}
	if err := CheckRange("sugar", m.SugarPct, 0, 100, "%"); err != nil {
		return err
	}
	if m.SugarPct != nil && m.MoisturePct != nil && *m.SugarPct > 100-*m.MoisturePct {
		return Refuse("give both as shares of the material as weighed, water included",
			"sugar %s %% is more than the solids, %s %%, that %s %% of water leave", Number(*m.SugarPct),
			Number(100-*m.MoisturePct), Number(*m.MoisturePct))
	}
	return checkOptionalPositive("spoon weight", m.GramsPerTsp, "g")
}
