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
	Evidence      string // read, or secondary: another named text reports it
	SourceID      string // see Catalogue.Sources
	Note          string // what else to know
	Status        string // what to do before relying on it
	Article       string // of the instrument, as far as it was seen
	Version       string // date of the version that was read or reported
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
	{"toxic-plant-parts", []string{"marsh labrador tea"}},
	{"coumarin", []string{"coumarin"}},
	{"coumarin-high", []string{"coumarin"}},
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
	{"allergen-milk", []string{"milk, nuts"}},
	{"sulphites", []string{"sulphur dioxide", "sulphites"}},
}

var limitColumns = []string{
	"jurisdiction", "instrument", "instrument_date", "substance", "food_category", "max_level", "unit",
	"applies_to_beer", "evidence", "source_id", "note", "status", "article", "version_date",
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
			Article:       r.text("article"),
			Version:       r.text("version_date"),
		}
		l.Historical = strings.HasPrefix(l.AppliesToBeer, "historical")
		list = append(list, l)
		return nil
	})
	return list, err
}

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

// limitsNaming returns the rows whose substance has one of the words in it.
func (c *Catalogue) limitsNaming(words []string) []Limit {
	var list []Limit
	for _, l := range c.limits() {
		substance := strings.ToLower(l.Substance)
		if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(substance, w) }) {
			list = append(list, l)
		}
	}
	return list
}
