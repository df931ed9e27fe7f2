package evidence

// Kind says what a trial was poured from.
type Kind string

// The kinds of trial.
const (
	Batch Kind = "batch" // a whole brew
	Jar   Kind = "jar"   // a part of a brew, dosed by itself
	Glass Kind = "glass" // dosed in the glass at a bench series
)

// A Study is the trials of one material gathered for one inference. Its
// doses and its claims are effective doses in one unit.
type Study struct {
	ID          string       `json:"id"`
	Material    string       `json:"material"`
	ClaimsGPerL [][2]float64 `json:"claims_g_per_l"` // advice heard: lowest and highest dose of each, g/L
	Attribute   string       `json:"attribute"`      // the taste that the scores are about
	Trials      []Trial      `json:"trials"`
	// DosedToTaste are the series in which a taster dosed the glass until it was right.
	DosedToTaste []ToTaste `json:"dosed_to_taste"`

	MethodPrior map[string]MethodPrior `json:"method_prior"` // by method; absent: ln 0, SD 0.5
	Wish        *Wish                  `json:"wish"`         // nil: liking 6

	// Remembered tells what earlier studies taught about a taster, by name;
	// a taster without an entry starts fresh.
	Remembered map[string]TasterPrior `json:"remembered_tasters"`
	// TargetIntensity asks for this panel mean intensity (0-10) in place of
	// the highest share of "just right".
	TargetIntensity *float64 `json:"target_intensity"`
	Avoid           []Avoid  `json:"avoid"` // tastes that must stay below a limit
	// DrinkAtDays is the age at which the beer will be drunk; nil: the age at
	// which most was tasted.
	DrinkAtDays *float64 `json:"drink_at_days"`

	// Panel names the own tasters, where trials of other brewers are in the study;
	// none: those who scored the own trials.
	Panel  []string    `json:"panel"`
	Others []OtherDose `json:"others"` // what other brewers print of their right dose
}

// A Trial is one beer as it was dosed, with all its scores.
type Trial struct {
	ID        string   `json:"id"`
	Brewer    string   `json:"brewer"`       // another brewer who made it; "" or Me: one's own
	DoseGPerL float64  `json:"dose_g_per_l"` // 0: a control
	DoseSDLn  float64  `json:"dose_sd_ln"`   // SD of the ln of the effective dose
	Kind      Kind     `json:"kind"`         // "" is a batch
	Group     string   `json:"group"`        // the brew it came from; "": a brew of its own
	Method    string   `json:"method"`       // how the flavour got in
	DaysOld   *float64 `json:"days_old"`     // age when tasted, days
	// ContactDays is how long the plant had been in the beer when it was tasted;
	// it is read of the method contact alone.
	ContactDays *float64 `json:"contact_days"`
	Lot         string   `json:"lot"` // the bag or harvest; "" is not known
	// Conditions are what else may differ between trials, each by its name: sugar,
	// another plant, the base.
	Conditions map[string]string `json:"conditions"`
	Scores     []Score           `json:"scores"`
}

// A Score is what one taster said about one glass; a nil field was not asked.
type Score struct {
	Taster    string   `json:"taster"`
	Vote      *int     `json:"vote"`      // -1 too little, 0 just right, 1 too much
	Intensity *float64 `json:"intensity"` // 0-10
	Liking    *float64 `json:"liking"`    // 1-9
}

// A MethodPrior is what is known beforehand of the potency of a method: the
// ln of its flavour per gram of effective dose, and the SD of that ln. Only
// differences between methods matter.
type MethodPrior struct {
	Ln float64 `json:"ln"`
	SD float64 `json:"sd"`
}

// A Wish is what the brewer wants to reach.
type Wish struct {
	Liking float64 `json:"liking"` // panel mean on the 1-9 scale
}

// A TasterPrior is what is remembered of a taster. See Remember.
type TasterPrior struct {
	OffsetLn   float64 `json:"offset_ln"`    // right dose against the panel's, ln
	OffsetSDLn float64 `json:"offset_sd_ln"` // its SD; must be above 0
	Scale      float64 `json:"scale"`        // intensity points above the panel's
	ScaleSD    float64 `json:"scale_sd"`     // its SD; must be above 0
	Sharpness  float64 `json:"sharpness"`    // steepness of the votes against a common taster; 0 means 1
}

// An Avoid is a taste that must stay at or below a limit, with its scores.
type Avoid struct {
	Attribute string       `json:"attribute"`
	AtMost    float64      `json:"at_most"` // panel mean intensity, 0-10
	Scores    []AvoidScore `json:"scores"`
}

// An AvoidScore is the intensity of an unwanted taste in one trial.
type AvoidScore struct {
	Trial     string  `json:"trial"` // ID of the trial
	Taster    string  `json:"taster"`
	Intensity float64 `json:"intensity"` // 0-10
}
