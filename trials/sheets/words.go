package sheets

import (
	"slices"
	"strings"
	"sync"
	"unicode"
)

// role is what the cells of a column mean.
type role string

// The roles. roleMark is the intensity of an attribute; roleUnknown is a column
// that is not read.
const (
	roleUnknown    role = ""
	roleBatch      role = "beer"
	roleTaster     role = "taster"
	roleCode       role = "code"
	roleDate       role = "date"
	roleClock      role = "time of day"
	roleTasting    role = "tasting"
	roleAttribute  role = "attribute"
	roleValue      role = "score"
	roleMark       role = "intensity"
	roleLiking     role = "liking"
	roleVote       role = "vote"
	roleTooLittle  role = "too little"
	roleTooMuch    role = "too much"
	roleNote       role = "note"
	rolePosition   role = "position"
	roleRowNumber  role = "row number"
	roleDerived    role = "worked out"
	roleVolume     role = "volume"
	roleOG         role = "original gravity"
	roleFG         role = "final gravity"
	roleIBU        role = "bitterness"
	roleSRM        role = "colour"
	roleStyle      role = "style"
	roleMaterial   role = "material"
	roleAmount     role = "weight"
	roleDose       role = "dose"
	roleForm       role = "form"
	roleMethod     role = "way"
	roleStage      role = "stage"
	roleTime       role = "time"
	roleTemp       role = "temperature"
	roleWater      role = "water"
	roleSeparation role = "separation"
	roleLot        role = "lot"
	roleSG         role = "gravity"
	rolePH         role = "pH"
	roleSampleTemp role = "sample temperature"
	roleBeerTemp   role = "beer temperature"
	roleAdvice     role = "advice"
	roleBasis      role = "basis"
	roleSource     role = "source"
)

// titles are the words that columns go by, in any order of the words. The names of
// columns that the program itself writes are among them.
var titles = map[role][]string{
	roleBatch: {"beer", "batch", "sample", "brew", "batch name", "beer name", "sample name", "brew name", "name", "trial",
		"jar", "keg", "batch no", "batch number", "batch id", "beer id", "brew no"},
	roleTaster: {"taster", "panelist", "panellist", "judge", "who", "assessor", "taster name", "judge name", "name taster",
		"drinker", "scored by", "tasted by"},
	roleCode: {"code", "serving", "glass", "cup", "sample code", "glass code", "serving code", "blind code"},
	roleDate: {"date", "when", "day", "brew date", "brew day", "brewed", "brewed on", "brewed at", "started", "start date",
		"started at", "started on", "at", "date brewed", "tasting date", "tasted", "tasted on", "date tasted", "date added",
		"added", "added on", "added at", "reading date", "date time", "datetime", "timestamp", "date read"},
	roleClock:     {"hour", "clock", "time of day"},
	roleTasting:   {"tasting", "session", "evening", "event", "night", "tasting name", "meeting"},
	roleAttribute: {"attribute", "descriptor", "characteristic", "trait", "aspect", "quality scored"},
	roleValue:     {"score", "intensity", "value", "rating", "mark", "marks", "points", "strength"},
	roleLiking: {"liking", "like", "liked", "overall", "overall liking", "hedonic", "stars", "enjoyment", "preference",
		"how much liked"},
	roleVote:      {"vote", "verdict", "dose vote", "just right", "votes"},
	roleTooLittle: {"too little", "not enough", "too weak"},
	roleTooMuch:   {"too much", "too strong"},
	roleNote: {"note", "notes", "comment", "comments", "remark", "remarks", "brewers note", "brewers notes",
		"text", "tasting notes", "tasting note", "observation", "observations"},
	rolePosition:  {"position", "place", "order", "serving order", "glass no"},
	roleRowNumber: {"no", "nr", "row", "index", "id", "line", "row no", "row number"},
	roleDerived: {"abv", "mean", "average", "avg", "total", "sum", "median", "alcohol", "attenuation",
		"alcohol volume", "std dev", "sd", "rank", "abv pct"},
	roleVolume: {"volume", "vol", "size", "batch size", "litres", "liters", "gallons", "batch volume",
		"volume fermenter"},
	roleOG:    {"og", "original gravity", "starting gravity", "start gravity", "original extract", "initial gravity"},
	roleFG:    {"fg", "final gravity", "end gravity", "finishing gravity", "terminal gravity", "final extract"},
	roleIBU:   {"ibu", "ibus", "bitterness"},
	roleSRM:   {"srm", "colour", "color"},
	roleStyle: {"style", "beer style", "type", "beer type"},
	roleMaterial: {"material", "ingredient", "botanical", "plant", "herb", "spice", "fruit", "flower", "adjunct",
		"material key", "what went"},
	roleAmount: {"amount", "weight", "mass", "quantity", "grams", "ounces", "qty", "how much"},
	roleDose:   {"dose", "dosage", "dose rate", "rate"},
	roleForm:   {"form", "state", "prep", "preparation", "cut"},
	roleMethod: {"how", "method", "way", "added as", "process", "as", "way", "technique", "use", "how added"},
	roleStage:  {"stage", "phase"},
	roleTime: {"time", "duration", "days", "minutes", "hours", "weeks", "contact time", "steep time", "how long",
		"time in"},
	roleTemp:       {"temp", "temperature", "steep temp", "start temp", "start temperature", "start", "steep temperature"},
	roleWater:      {"water", "water volume", "tea water", "water added", "steeping water", "liquid"},
	roleSeparation: {"separation", "separated", "strained", "how strained"},
	roleLot:        {"lot", "bag", "lot number", "lot no"},
	roleSG: {"sg", "gravity", "hydrometer", "specific gravity", "reading", "hydrometer reading",
		"current gravity", "plato"},
	rolePH:         {"ph", "ph value", "ph reading"},
	roleSampleTemp: {"sample temp", "sample temperature", "hydrometer temp", "hydrometer temperature"},
	roleBeerTemp:   {"beer temp", "beer temperature", "fermenter temp", "fermenter temperature"},
	roleAdvice: {"advice", "claim", "recommendation", "recommended dose", "as written", "suggestion", "dose advice",
		"advised dose"},
	roleBasis:  {"basis", "dry or fresh", "fresh or dry", "dry fresh"},
	roleSource: {"source", "heard from", "from", "who said", "where", "reference", "said by", "heard"},
}

// rolesOfKind are the columns that each kind of rows may have, besides those that
// are passed over.
var rolesOfKind = map[string][]role{
	KindScores: {roleBatch, roleTaster, roleCode, roleDate, roleClock, roleTasting, roleAttribute, roleValue, roleMark,
		roleLiking, roleVote, roleTooLittle, roleTooMuch, roleNote, rolePosition},
	KindBatches: {roleBatch, roleDate, roleClock, roleVolume, roleOG, roleFG, roleIBU, roleSRM, roleStyle, roleNote},
	KindAdditions: {roleBatch, roleDate, roleMaterial, roleAmount, roleDose, roleForm, roleMethod, roleStage, roleTime,
		roleTemp, roleWater, roleSeparation, roleLot, roleNote},
	KindReadings: {roleBatch, roleDate, roleClock, roleSG, rolePH, roleSampleTemp, roleBeerTemp, roleVolume, roleNote},
	kindClaims:   {roleMaterial, roleAdvice, roleBasis, roleForm, roleSource, roleNote},
}

// renamed are the roles that a title has in one kind of rows and not in others:
// "Time" is how long in a list of additions, and an hour elsewhere.
var renamed = map[string]map[role]role{
	KindScores:   {roleTime: roleClock},
	KindBatches:  {roleTime: roleClock, roleSG: roleOG},
	KindReadings: {roleTime: roleClock, roleTemp: roleBeerTemp, roleValue: roleSG},
	kindClaims:   {roleDose: roleAdvice, roleAmount: roleAdvice, roleTaster: roleSource},
}

// vocabulary finds the role of a title by its words in the order of the alphabet.
var vocabulary = sync.OnceValue(func() map[string]role {
	all := map[string]role{}
	for r, phrases := range titles {
		for _, p := range phrases {
			all[sortedWords(p)] = r
		}
	}
	return all
})

// fillers are words that change nothing about a title; "a" is no filler, since it may be the letter of a taster.
var fillers = []string{"the", "of", "in", "to"}

// apostrophes takes them away. It is made once: it is asked about every name of a sheet.
var apostrophes = strings.NewReplacer("'", "", "\u2019", "")

// wordsOf returns the words of a text in lower case; an apostrophe joins.
func wordsOf(text string) []string {
	text = apostrophes.Replace(strings.ToLower(text))
	return strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%' })
}

// sortedWords returns the words of a title in the order of the alphabet, without
// those that change nothing.
func sortedWords(text string) string {
	words := slices.DeleteFunc(wordsOf(text), func(w string) bool { return slices.Contains(fillers, w) })
	slices.Sort(words)
	return strings.Join(words, " ")
}

// dimension is what a unit measures.
type dimension string

const (
	dimNone     dimension = ""
	dimVolume   dimension = "volume"
	dimMass     dimension = "mass"
	dimTemp     dimension = "temperature"
	dimGravity  dimension = "gravity"
	dimDuration dimension = "duration"
	dimDose     dimension = "dose"
)

// unitWords are the words of units, as they stand in titles.
var unitWords = map[dimension][]string{
	dimVolume: {"l", "ltr", "litre", "litres", "liter", "liters", "ml", "hl", "gal", "gals", "gallon", "gallons", "us gal",
		"us gallons", "imp gal", "uk gal", "imperial gallons", "qt", "quarts", "bbl"},
	dimMass:    {"g", "gr", "gram", "grams", "kg", "mg", "oz", "ounce", "ounces", "lb", "lbs", "pound", "pounds"},
	dimTemp:    {"c", "f", "celsius", "fahrenheit", "deg c", "deg f", "degrees c", "degrees f"},
	dimGravity: {"p", "plato", "sg", "deg p", "degrees plato", "brix"},
	dimDuration: {"min", "mins", "minute", "minutes", "h", "hr", "hrs", "hour", "hours", "d", "day", "days", "week",
		"weeks"},
	dimDose: {"g l", "g per l", "g litre", "g per litre", "grams per litre", "oz gal", "oz per gal", "oz 5 gal",
		"oz per 5 gal"},
}

// measures are the roles whose amounts have units, with what those measure.
var measures = map[role][]dimension{
	roleVolume: {dimVolume}, roleWater: {dimVolume}, roleAmount: {dimMass}, roleDose: {dimDose}, roleAdvice: {dimDose},
	roleTemp: {dimTemp}, roleSampleTemp: {dimTemp}, roleBeerTemp: {dimTemp}, roleTime: {dimDuration},
	roleOG: {dimGravity}, roleFG: {dimGravity}, roleSG: {dimGravity},
}

// unitDimension returns what a unit in a title measures, dimNone where it is none.
func unitDimension(text string) dimension {
	words := strings.Join(wordsOf(strings.ReplaceAll(text, "\u00b0", " ")), " ")
	for d, list := range unitWords {
		if slices.Contains(list, words) {
			return d
		}
	}
	return dimNone
}
