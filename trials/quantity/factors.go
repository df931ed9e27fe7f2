package quantity

// US customary volumes in litres, exact [1]. All follow from the gallon of 231
// cubic inches of 16.387064 mL.
const (
	LPerUSGallon     = 3.785411784
	LPerUSQuart      = LPerUSGallon / 4
	LPerUSPint       = LPerUSGallon / 8
	LPerUSCup        = LPerUSGallon / 16
	LPerUSFluidOunce = LPerUSGallon / 128
	LPerUSTablespoon = LPerUSGallon / 256
	LPerUSTeaspoon   = LPerUSGallon / 768
	LPerUSBarrel     = LPerUSGallon * 31 // beer barrel [3]; a wine barrel is larger
)

// Imperial volumes in litres, exact [2]. The barrel of 36 gallons is the trade's
// and from memory.
const (
	LPerImpGallon     = 4.54609
	LPerImpQuart      = LPerImpGallon / 4
	LPerImpPint       = LPerImpGallon / 8
	LPerImpFluidOunce = LPerImpGallon / 160
	LPerImpCup        = LPerImpFluidOunce * 10 // half a pint; from memory, little used
	LPerUKBarrel      = LPerImpGallon * 36
)

// Metric kitchen measures in litres, by convention. British spoons sold today
// are these; Australia has a tablespoon of 20 mL.
const (
	LPerMetricTeaspoon   = 0.005
	LPerMetricTablespoon = 0.015
	LPerMetricCup        = 0.25
)

// Avoirdupois masses in grams, exact [1].
const (
	GPerPound = 453.59237
	GPerOunce = GPerPound / 16
	GPerGrain = GPerPound / 7000
)

// Times in minutes.
const (
	minPerHour = 60.0
	minPerDay  = 24 * minPerHour
	minPerWeek = 7 * minPerDay
)

// Limits of what is accepted. The gravity and temperature limits are those of
// the formulas that use the numbers; above SGWarn sugar tables are extrapolated.
const (
	SGMin, SGMax, SGWarn = 0.97, 1.20, 1.15
	TempMinC, TempMaxC   = -20.0, 110.0

	maxNumber = 1e9  // larger numbers are slips of the keyboard
	minNumber = 1e-9 // so are smaller ones, except zero
	maxRunes  = 200  // of one text
)
