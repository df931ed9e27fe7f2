package extraction

// Default is one default of the model with how sure it is.
type Default struct {
	// Key is a stable name, such as "form.cut.k80".
	Key string
	// Name says in words what it is.
	Name string
	// Value is the default in Unit.
	Value float64
	// Unit is that of the value, "1" for a share or factor.
	Unit string
	// Range is the plausible range; nil if none is given.
	Range *span
	// SD is the standard deviation in Unit, or of ln if SDIsLn; 0 if none is
	// given.
	SD float64
	// SDIsLn says that SD is that of the logarithm.
	SDIsLn bool
	// Grade is A measured in a cited source, B worked out from one, C our judgement.
	Grade string
	// Source says where the value comes from, in words.
	Source string
}

// span is a plausible range.
type span struct{ Low, High float64 }

// Sources as they are printed beside a default.
const (
	sourceRates    = "seven published rates at 80 C: black tea, rooibos, green tea and others, granular tea in two sizes"
	sourceForm     = "size law through the anchor rate; washed share judged"
	sourceJudged   = "common practice, no source"
	sourceHeld     = "spent tea, hops, coffee, root tinctures, dry-hop losses; the rest of the kinds judged"
	sourceSoluble  = "tea, citrus leaf, hops, gentian, liquorice and coffee; the rest of the kinds judged"
	sourceSpirit   = "one citrus leaf, hibiscus, sage, grape and ginger in spirit; sizes judged"
	sourceFamilies = "activation energies and cold steeps of tea and hibiscus; the rest judged"
	sourceTransfer = "hop transfer measured hot and dry; tea 0.86 to 0.98"
	sourceStirring = "direction read (stirred leaf is leaf-controlled, still liquid is not); number judged"
	sourceLossA    = "no half-life found; anchored on linalool 60 % late hot against 80 % dry"
	sourceLossC    = "anthocyanin half-lives 3.0 h at 100 C and 1.96 h at 95 C; Ea 56 to 96 kJ/mol"
	sourceEa       = "mean and sd of eight published midpoints, tea and hibiscus"
	sourceEthanol  = "viscosity of ethanol and water at 20 C; above 40 % from memory"
)

// Defaults returns every default of the model, in the order in which a steep uses
// them. The list is made on each call, from the constants that the model itself
// uses, so that what is printed cannot drift from what is computed.
func Defaults() []Default {
	list := []Default{
		{"reference.temperature", "reference temperature", refTempC, "C", nil, 0, false, "definition", ""},
		{"reference.moisture", "moisture of \"as dried\"", RefMoisture, "1", nil, 0, false, "definition",
			"growers dry herbs to about 10 %"},
		{"arrhenius.ea", "activation energy", EaKJ, "kJ/mol", &span{15, 50}, eaSDKJ, false, "B", sourceEa},
		{"rate.anchor", "rate at 80 C of a 1 mm piece", anchorKPer80, "/min", nil, soluteSDLn, true, "B", sourceRates},
		{"rate.size-exponent", "size exponent", 1, "1", &span{0.5, 2}, sizeSDLn, true, "B",
			"tea 1.52, granular tea 0.55, cold-brew coffee about 0"},
	}
	list = append(list, formDefaults()...)
	list = append(list, agitationDefaults()...)
	list = append(list, heldDefaults()...)
	list = append(list, classDefaults()...)
	list = append(list, lossDefaults()...)
	return append(list, otherDefaults()...)
}

// DefaultFor returns one default by its key, and false if there is none.
func DefaultFor(key string) (Default, bool) {
	for _, d := range Defaults() {
		if d.Key == key {
			return d, true
		}
	}
	return Default{}, false
}

// formDefaults lists the table of forms.
func formDefaults() []Default {
	var list []Default
	for _, f := range Forms() {
		row := &formRows[f]
		key := "form." + row.Name + "."
		list = append(list, Default{key + "washed", "share washed off at once, " + row.Name, row.Washed, "1", nil, 0,
			false, row.Grade, sourceForm})
		// juice dissolves nothing: it has neither a size nor a rate
		if f == Juice {
			continue
		}
		list = append(list,
			Default{key + "length", "characteristic length, " + row.Name, row.LengthMM, "mm", nil, 0, false, row.Grade,
				sourceJudged},
			Default{key + "k80", "rate at 80 C, " + row.Name, row.K80, "/min", nil, soluteSDLn, true, row.Grade,
				sourceRates + "; scaled by size"},
			Default{key + "skin", "rate over that of the bare size, " + row.Name, row.Skin, "1", nil, 0, false,
				row.Grade, sourceJudged})
		if row.Live != 1 {
			list = append(list, Default{key + "live", "rate factor below 50 C, " + row.Name, row.Live, "1", nil, 0,
				false, row.Grade, "live membranes; " + sourceJudged})
		}
	}
	return list
}

// agitationDefaults lists the rate factors of agitation.
func agitationDefaults() []Default {
	row := func(key, name string, v float64) Default {
		return Default{"agitation." + key, "agitation, " + name, v, "1", nil, agitateSDLn, true, "C", sourceStirring}
	}
	return []Default{
		row("stirred", "boiling or stirred", rateStirred),
		row("now-and-then", "stirred now and then", rateNowAndThen),
		row("still-hot", "still, hot", rateStillHot),
		row("still-cold", "still, cold", rateStillCold),
		row("bag", "in a bag or sock, times", rateInBag),
	}
}

// heldDefaults lists, kind by kind, the liquid that stays in spent material and the
// share of it that dissolves.
func heldDefaults() []Default {
	var list []Default
	for k := range kindCount {
		row := &kindRows[k]
		for _, by := range []Separation{Drained, Squeezed, ScrewPressed} {
			list = append(list, Default{heldKey(k, by), "held liquid, " + row.Word + " " + by.String(), k.HeldMLPerG(by),
				"mL/g dry", nil, row.HeldSDLn, true, row.Grade, sourceHeld})
		}
		list = append(list, Default{solubleKey(k), "dissolved solids, " + row.Word, row.Soluble, "1", nil, row.SolubleSDLn,
			true, "B/C", sourceSoluble})
	}
	return list
}

// heldKey is the key of the held liquid of a kind. What is left in counts as drained.
func heldKey(k Kind, by Separation) string {
	if by == LeftIn {
		by = Drained
	}
	return "held." + k.String() + "." + by.String()
}

// solubleKey is the key of the soluble share of a kind.
func solubleKey(k Kind) string { return "solids." + k.String() }

// classDefaults lists ceilings and rate factors of the solute classes.
func classDefaults() []Default {
	var list []Default
	for _, c := range everyClass {
		row, spirit, key := &classRows[c], &spiritRows[c], "class."+c.String()+"."
		list = append(list,
			Default{key + "u-water", "share that water or beer can carry, " + row.Word, row.UWater, "1", nil,
				row.USDLn, true, row.Grade, sourceTransfer},
			// asked of the function, for the table behind it holds ceilings of some classes and factors of
			// others
			Default{key + "u-spirit", "share that spirit of 40 % can carry, " + row.Word, c.Ceiling(40), "1", nil,
				c.ceilingSDLn(40), true, spirit.Grade, sourceSpirit},
			Default{key + "rate", "rate over that of the water class, " + row.Word, row.RateFactor, "1", nil, 0,
				false, row.Grade, sourceFamilies},
			Default{key + "ea", "activation energy, " + row.Word, row.EaKJ, "kJ/mol", nil, eaSDKJ, false, row.Grade,
				sourceFamilies})
	}
	return append(list, Default{"class.water.kappa", "sorption", 0, "mL/g", &span{0, 9}, 0, false, "B",
		"tea 0.9 to 8.5, hibiscus about 3; off because the ceiling already contains it"})
}

// lossDefaults lists the half-lives of dissolved solute.
func lossDefaults() []Default {
	return []Default{
		{"loss.aroma-boil", "half-life of aroma at a rolling boil", aromaBoilHalfLifeMin, "min", &span{5, 60},
			aromaBoilSDLn, true, "C", sourceLossA},
		{"loss.aroma-hot", "half-life of aroma in a hot stand", aromaHotHalfLifeMin, "min", &span{40, 400},
			aromaHotSDLn, true, "C", sourceLossA},
		{"loss.aroma-border", "below this aroma stays", hotStandC, "C", nil, 0, false, "C", sourceJudged},
		{"loss.colour-boil", "half-life of colour at 100 C", colourBoilHalfLifeMin, "min", nil, colourSDLn, true, "B",
			sourceLossC},
		{"loss.colour-ea", "activation energy of colour loss", colourLossEaKJ, "kJ/mol", &span{55.8, 95.7}, 0, false,
			"B", sourceLossC},
	}
}

// otherDefaults lists solvent factors and the room that solids take.
func otherDefaults() []Default {
	list := []Default{{"solids.volume", "apparent volume of dissolved solids", apparentMLPerG, "mL/g",
		&span{0.55, 0.66}, 0, false, "B", "sugars and acids"}}
	for i, abv := range viscosity.ABVPct {
		grade := "B"
		if abv > 40 {
			grade = "C"
		}
		list = append(list, Default{"solvent." + number(abv), "rate factor at " + number(abv) + " % vol",
			viscosity.Factor[i], "1", nil, 0, false, grade, sourceEthanol})
	}
	return list
}
