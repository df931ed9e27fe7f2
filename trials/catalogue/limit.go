package catalogue

import (
	"slices"
	"strings"
)

// Limit is a legal limit or rule as quoted from its instrument. It is shown,
// never computed with: whether a beer complies is for the local code.
type Limit struct {
	Jurisdiction  string // where it holds
	Instrument    string // law or regulation with its annex or part
	Date          string // of the instrument
	Substance     string // what is limited
	FoodCategory  string // in which food
	MaxLevel      string // a number or words, such as "may not be added as such"; empty if not known
	Unit          string // empty where MaxLevel is words
	AppliesToBeer string // in words: yes, no, label rule, historical only ...
	Evidence      string // how the figure was obtained: read, secondary source read, from memory ...
	SourceID      string // see Catalogue.Sources
	Note          string // what else to know
	Status        string // what to do before relying on it
	Historical    bool   // of a repealed instrument
}

// hazardSubstances are the words of the column substance that belong to a
// hazard code. Hazards without a rule in the table are not listed.
var hazardSubstances = []struct {
	code  string
	words []string
}{
	{"elder-cyanogenic", []string{"hydrocyanic acid", "cyanide"}},
	{"stone-kernel", []string{"hydrocyanic acid", "cyanide"}},
	{"thujone", []string{"thujone"}},
	{"coumarin", []string{"coumarin"}},
	{"safrole", []string{"safrole"}},
	{"safrole-trace", []string{"safrole"}},
	{"asarone", []string{"asarone", "calamus"}},
	{"methyleugenol", []string{"methyleugenol"}},
	{"estragole", []string{"estragole"}},
	{"glycyrrhizin", []string{"glycyrrhizinic acid"}},
	{"pulegone-mint", []string{"pulegone", "menthofuran"}},
	{"hypericin", []string{"hypericine", "hypericum"}},
	{"quassin", []string{"quassin", "quassia"}},
	{"capsaicin", []string{"capsaicin"}},
	{"caffeine", []string{"caffeine"}},
	{"sulphites", []string{"sulphur dioxide", "sulphites"}},
}

// generalSubstances are the rows that concern botanicals in beer as such.
var generalSubstances = []string{
	"marked substances", "fruit, herbs, spices, honey and similar in beer", "statement of composition",
	"natural toxicants",
}

var limitColumns = []string{
	"jurisdiction", "instrument", "instrument_date", "substance", "food_category", "max_level", "unit",
	"applies_to_beer", "evidence", "source_id", "note", "status",
}

// readLimits reads the limits in the order of the table.
func readLimits() ([]Limit, error) {
	var list []Limit
	err := readTable("limits.csv", limitColumns, func(r *record) error {
		l := Limit{
			Jurisdiction:  r.text("jurisdiction"),
			Instrument:    r.text("instrument"),
			Date:          withoutDash(r.text("instrument_date")),
			Substance:     r.text("substance"),
			FoodCategory:  r.text("food_category"),
			MaxLevel:      r.text("max_level"),
			Unit:          withoutDash(r.text("unit")),
			AppliesToBeer: r.text("applies_to_beer"),
			Evidence:      r.text("evidence"),
			SourceID:      r.text("source_id"),
			Note:          r.text("note"),
			Status:        r.text("status"),
		}
		l.Historical = strings.HasPrefix(l.AppliesToBeer, "historical")
		list = append(list, l)
		return nil
	})
	return list, err
}

// ForBeer reports whether the rule is in force for beer, or was when the table
// was made.
func (l Limit) ForBeer() bool { return strings.HasPrefix(l.AppliesToBeer, "yes") }

// Limits returns the limits of the substances for which the material has a
// hazard code, in the order of the table. They include rules for other foods
// and repealed ones, which put the ones for beer in proportion.
func (c *Catalogue) Limits(m Material) []Limit {
	var words []string
	for _, h := range hazardSubstances {
		if slices.Contains(m.CautionCodes, h.code) {
			words = append(words, h.words...)
		}
	}
	return c.limitsNaming(words)
}

// SubstanceLimits returns the limits that name a substance, such as
// "thujone".
func (c *Catalogue) SubstanceLimits(substance string) []Limit {
	if strings.TrimSpace(substance) == "" {
		return nil
	}
	return c.limitsNaming([]string{strings.ToLower(strings.TrimSpace(substance))})
}

// GeneralLimits returns the rules about botanicals in beer as such, whatever
// the material.
func (c *Catalogue) GeneralLimits() []Limit { return c.limitsNaming(generalSubstances) }

// limitsNaming returns the rows whose substance has one of the words in it.
func (c *Catalogue) limitsNaming(words []string) []Limit {
	var list []Limit
	for _, l := range c.limits {
		substance := strings.ToLower(l.Substance)
		if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(substance, w) }) {
			list = append(list, l)
		}
	}
	return list
}
