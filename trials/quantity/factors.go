package quantity

// US customary volumes in litres, exact [1]. All follow from the gallon of 231
// cubic inches of 16.387064 mL.
const (
	LPerUSGallon     = 3.785411784
	lPerUSQuart      = LPerUSGallon / 4
	lPerUSPint       = LPerUSGallon / 8
	lPerUSCup        = LPerUSGallon / 16
	lPerUSFluidOunce = LPerUSGallon / 128
	lPerUSTablespoon = LPerUSGallon / 256
	lPerUSTeaspoon   = LPerUSGallon / 768
	lPerUSBarrel     = LPerUSGallon * 31 // beer barrel [3]; a wine barrel is larger
)

// Imperial volumes in litres, exact [2]. The barrel of 36 gallons is the trade's
// and from memory.
const (
	lPerImpGallon     = 4.54609
	lPerImpQuart      = lPerImpGallon / 4
	lPerImpPint       = lPerImpGallon / 8
	lPerImpFluidOunce = lPerImpGallon / 160
	lPerImpCup        = lPerImpFluidOunce * 10 // half a pint; from memory, little used
	lPerUKBarrel      = lPerImpGallon * 36
)

// Metric kitchen measures in litres, by convention. British spoons sold today
// are these; Australia has a tablespoon of 20 mL.
const (
	lPerMetricTeaspoon   = 0.005
	lPerMetricTablespoon = 0.015
	lPerMetricCup        = 0.25
)

// Avoirdupois masses in grams, exact [1].
const (
	gPerPound = 453.59237
	gPerOunce = gPerPound / 16
	gPerGrain = gPerPound / 7000
)

// Times in minutes.
const (
	minPerHour = 60.0
	minPerDay  = 24 * minPerHour
	minPerWeek = 7 * minPerDay
)

// Limits of what is accepted.
const (
	maxNumber = 1e9  // larger numbers are slips of the keyboard
	minNumber = 1e-9 // so are smaller ones, except zero
	maxRunes  = 200  // of one text
)
