package catalogue

import (
	"fmt"
	"strings"
)

// Material is something a brewer may put into beer. Fields of unknown value
// are nil or empty. A Material of a Catalogue shares its slices and pointers
// with it and must not be changed in place.
type Material struct {
	Key           string   // stable short name, such as "hawthorn-berry"
	CommonName    string   // other names follow after commas
	BotanicalName string   // empty for sugars
	PartUsed      string   // the part that is food
	Category      string   // one of Categories for a built-in material
	TypicalForms  []string // as sold or picked

	DoseLowGPerL   *float64 // g of material per litre of beer, low end of the advice
	DoseLowSource  string   // source ids, see Catalogue.Sources
	DoseHighGPerL  *float64 // high end of the advice
	DoseHighSource string   // the two ends may come from two sources
	DoseBasis      string   // fresh, dry or as-is: what the grams are grams of
	DoseEvidence   string   // how good the advice is, in words
	DoseWithheld   bool     // no dose is given on purpose
	DefaultBasis   string   // fresh, dry or as-is: what a claim that names none is taken for
	BasisAsk       bool     // both fresh and dry are usual, so that a claim without a basis is worth a question

	MoistureFresh       *float64 // water, mass fraction of the fresh material
	MoistureFreshSource string   // source id
	MoistureDried       *float64 // water, mass fraction of the dried (or as sold) material
	MoistureDriedSource string   // source id
	DryYieldKgPer100Kg  *float64 // kg of dried from 100 kg of fresh material
	DryYieldSource      string   // source id

	SugarPct    *float64 // sugars, % of mass in SugarState
	SugarState  string   // fresh, dried, as-is ...
	SugarSource string   // source id, empty for a user's own figure

	LiquidAbsorbedMLPerG *float64 // liquid held per g of dry herb: from memory, only shown
	LiquidAbsorbedSource string   // "from memory" throughout

	DominantSolute string // acid-colour-tannin, volatile-aroma, bitter-resin or sugar
	Class          string // solute class of DominantSolute: water, aroma, resin, or empty if not known
	Kind           string // of tissue: leaf, flower, root, fruit ...; empty if not known
	HardWhole      bool   // whole pieces are hard (berry, seed, quill, pod, nib, root, wood), not thin (leaf, petal)

	HeatNotes    string   // how it takes heat
	HeatSource   string   // source ids
	CautionCodes []string // hazard codes, see Catalogue.Cautions
	Allergens    []string // listed allergens in it; one that it may hold ends in "?"
	Notes        string   // doubts and odd cases of the figures

	// of the user's own materials only
	Own              bool     // added by the user
	MoistureAsBought *float64 // measured water, mass fraction, whatever the form
	GramsPerTsp      *float64 // weighed level teaspoon, g
	Reason           string   // why a plant of the stop list is kept all the same
}

// The solute classes, in the words of package extraction.
const (
	classWater = "water"
	classAroma = "aroma"
	classResin = "resin"
)

// The categories of the built-in materials.
const (
	categoryFruit     = "fruit"
	categoryFlower    = "flower"
	categoryLeafHerb  = "leaf herb"
	categorySeedSpice = "seed spice"
	categoryRoot      = "root"
	categoryBarkWood  = "bark-wood"
	categoryPeel      = "peel"
	categoryTea       = "tea-coffee-cacao"
	categorySweet     = "sweet"
)

// IsLiquidOrSugar reports whether the material dissolves in beer as a whole
// (honey, syrups, sugars), so that it is an addition and never a steep.
func (m Material) IsLiquidOrSugar() bool { return m.Category == categorySweet }

// classOfSolute returns the solute class of a word of the column
// dominant_solute, empty if the word is not known. Sugar goes with the water
// class: it dissolves like acid and colour.
func classOfSolute(word string) string {
	switch word {
	case "acid-colour-tannin", "sugar":
		return classWater
	case "volatile-aroma":
		return classAroma
	case "bitter-resin":
		return classResin
	}
	return ""
}

var materialColumns = []string{
	"key", "common_name", "botanical_name", "part_used", "category", "typical_forms",
	"dose_low_g_per_l", "dose_low_src", "dose_high_g_per_l", "dose_high_src", "dose_basis", "dose_evidence",
	"moisture_fresh_pct", "moisture_fresh_src", "moisture_dried_pct", "moisture_dried_src",
	"dry_yield_kg_per_100kg_fresh", "dry_yield_src", "sugar_pct", "sugar_state", "sugar_src",
	"liquid_absorbed_ml_per_g", "liquid_absorbed_src", "dominant_solute", "heat_notes", "heat_src",
	"caution_codes", "notes", "default_basis", "basis_ask", "kind", "allergens",
}

// readMaterials reads the table of materials.
func readMaterials() ([]Material, error) {
	var list []Material
	err := readTable("catalogue.csv", materialColumns, func(r *record) error {
		m := materialOf(r)
		if m.Class == "" {
			return fmt.Errorf("%s line %d: dominant solute %q is not known", r.file, r.line, m.DominantSolute)
		}
		list = append(list, m)
		return nil
	})
	return list, err
}

// doseWithheld begins the note of a material that has no dose on purpose.
const doseWithheld = "No dose given on purpose"

// materialOf turns a row into a Material.
func materialOf(r *record) Material {
	m := Material{
		Key:                  r.text("key"),
		CommonName:           r.text("common_name"),
		BotanicalName:        withoutDash(r.text("botanical_name")),
		PartUsed:             r.text("part_used"),
		Category:             r.text("category"),
		TypicalForms:         r.list("typical_forms"),
		DoseLowGPerL:         r.number("dose_low_g_per_l"),
		DoseLowSource:        r.text("dose_low_src"),
		DoseHighGPerL:        r.number("dose_high_g_per_l"),
		DoseHighSource:       r.text("dose_high_src"),
		DoseBasis:            r.text("dose_basis"),
		DoseEvidence:         r.text("dose_evidence"),
		MoistureFresh:        r.fraction("moisture_fresh_pct"),
		MoistureFreshSource:  r.text("moisture_fresh_src"),
		MoistureDried:        r.fraction("moisture_dried_pct"),
		MoistureDriedSource:  r.text("moisture_dried_src"),
		DryYieldKgPer100Kg:   r.number("dry_yield_kg_per_100kg_fresh"),
		DryYieldSource:       r.text("dry_yield_src"),
		SugarPct:             r.number("sugar_pct"),
		SugarState:           r.text("sugar_state"),
		SugarSource:          r.text("sugar_src"),
		LiquidAbsorbedMLPerG: r.number("liquid_absorbed_ml_per_g"),
		LiquidAbsorbedSource: r.text("liquid_absorbed_src"),
		DominantSolute:       r.text("dominant_solute"),
		HeatNotes:            withoutDash(r.text("heat_notes")),
		HeatSource:           r.text("heat_src"),
		CautionCodes:         r.list("caution_codes"),
		Notes:                r.text("notes"),
		DefaultBasis:         r.text("default_basis"),
		BasisAsk:             r.yes("basis_ask"),
		Kind:                 r.text("kind"),
		Allergens:            r.list("allergens"),
	}
	m.DoseWithheld = strings.HasPrefix(m.Notes, doseWithheld)
	m.Class = classOfSolute(m.DominantSolute)
	m.HardWhole = isHardWhole(m.Category, m.PartUsed)
	// the source of no remark would be listed as one that was used
	if m.HeatNotes == "" {
		m.HeatSource = ""
	}
	return m
}

// withoutDash turns the "-" that the tables use for "none" into nothing.
func withoutDash(text string) string {
	if text == "-" {
		return ""
	}
	return text
}
