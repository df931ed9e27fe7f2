package extraction

// Form is a row of the table of forms: how the material is broken up.
type Form int

// The forms, finest dried form first.
const (
	Powder Form = iota
	Crushed
	Cut
	WholeThin    // whole leaves, petals, calyces, needles, thin peel
	WholeHard    // whole berries, seeds, quills, pods, nibs, roots, wood
	FreshWhole   // fresh fruit, leaves or roots as they are
	FreshChopped // fresh, cut
	Frozen       // frozen and thawed, whole
	zest         // outer peel in shreds
	Puree        // sieved or blended
	Juice        // nothing solid left
	formCount
)

// formRow is what the model needs to know about a form.
type formRow struct {
	// Name is the word of the row.
	Name string
	// LengthMM is the characteristic length: thickness of flakes, diameter of
	// grains.
	LengthMM float64
	// Washed is w, the share given up at once.
	Washed float64
	// K80 is the rate at 80 C, 1/min.
	K80 float64
	// Skin is the rate over that of the bare size.
	Skin float64
	// Live is the rate factor below 50 C while membranes live; 1 = none.
	Live float64
	// Grade says how sure the row is.
	Grade string
}

// anchorKPer80 is k_u, 1/min at 80 C and 1 mm: geometric mean 0.47 at 1.5 mm of
// seven published rates [2][3][4], size exponent 1.
const anchorKPer80 = 0.70

// formRows are the defaults by form, indexed by Form. Rates follow
// k80 = 0.70/min * (1 mm/L) * skin, rounded as in the table of defaults; the
// anchor is the mean of seven published rates [2][3][4]. Grades: B derived
// from read data, C judgement.
var formRows = [formCount]formRow{
	Powder:       {"powder", 0.3, 0.50, 2.33, 1, 1, "C"},
	Crushed:      {"crushed", 1.0, 0.30, 0.70, 1, 1, "B"},
	Cut:          {"cut", 2.0, 0.15, 0.35, 1, 1, "B"},
	WholeThin:    {"whole thin", 3.5, 0.10, 0.20, 1, 1, "C"},
	WholeHard:    {"whole hard", 6.0, 0.03, 0.05, 0.43, 1, "C"},
	FreshWhole:   {"fresh whole", 10, 0.02, 0.03, 0.43, 0.1, "C"},
	FreshChopped: {"fresh chopped", 3.5, 0.20, 0.20, 1, 0.3, "C"},
	Frozen:       {"frozen-thawed", 10, 0.30, 0.15, 2.1, 1, "C"},
	zest:         {"zest", 1.4, 0.25, 0.50, 1, 1, "C"},
	Puree:        {"puree", 0.7, 0.70, 1.0, 1, 1, "C"},
	Juice:        {"juice", 0, 1, 0, 1, 1, "definition"},
}

// liveMembraneC is the temperature that kills the membranes of fresh tissue; a
// judgement. Below it fresh whole and fresh chopped material is slow for its first
// day, and once it has been reached the penalty is gone for good.
const liveMembraneC = 50.0

// String returns the name of the row, as FormFor reads it.
func (f Form) String() string {
	if f < 0 || f >= formCount {
		return "unknown"
	}
	return formRows[f].Name
}

// Forms returns all rows in table order.
func Forms() []Form {
	forms := make([]Form, formCount)
	for i := range forms {
		forms[i] = Form(i)
	}
	return forms
}

// isFresh reports whether the form carries the plant's own water, so that the
// default moisture of dried goods does not apply.
func (f Form) isFresh() bool { return f >= FreshWhole }

// FormWords are what is known about a form as a brewer says it.
type FormWords struct {
	// Word is whole, cut, crushed, powder, fresh, frozen, zest, puree or juice.
	Word string
	// HardKind says that the material is a berry, seed, quill, pod, nib, root or
	// wood: a property of the material, not of this lot.
	HardKind bool
	// IsCut says that fresh material was cut.
	IsCut bool
}

// FormFor returns the row for a form word. Whole is whole hard for hard kinds
// and whole thin otherwise; fresh is fresh whole or, if cut, fresh chopped;
// frozen is frozen-thawed. The names of the rows are read as well. An unknown
// word is an inputError that lists the allowed ones.
func FormFor(w FormWords) (Form, error) {
	switch word := plain(w.Word); word {
	case "whole":
		if w.HardKind {
			return WholeHard, nil
		}
		return WholeThin, nil
	case "fresh":
		if w.IsCut {
			return FreshChopped, nil
		}
		return FreshWhole, nil
	case "fresh cut", "chopped", "fresh crushed":
		return FreshChopped, nil
	case "cracked":
		return Cut, nil
	case "frozen", "thawed":
		return Frozen, nil
	default:
		for _, f := range Forms() {
			if word == plain(f.String()) {
				return f, nil
			}
		}
	}
	return 0, unknownWord("form", w.Word, formWordsAllowed())
}

// formWordsAllowed returns the form words in the order help shows them.
func formWordsAllowed() []string {
	return []string{"whole", "cut", "crushed", "powder", "fresh", "frozen", "zest", "puree", "juice"}
}
