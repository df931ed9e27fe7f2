package idiom

import (
	"slices"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// Way is a way into the beer in the words of a record.
type Way struct {
	Method    string   // the method, or the text itself where it is not understood
	Stage     string   // a stage that the words say too, else empty
	InBag     bool     // in a bag or sock
	SpiritPct float64  // % vol of a spirit by its name, 0 for none
	Notes     []string // what was taken that was not typed
}

// saying is a phrase with the way it means.
type saying struct {
	phrases []string
	way     Way
}

// sayings are the phrases without "in", "at" and articles.
var sayings = []saying{
	{[]string{"whirlpool", "hop stand", "hopstand", "flameout", "flame out", "knockout", "knock out", "after the boil",
		"end of boil"}, Way{Method: trials.MethodFlameOut}},
	{[]string{"dry hop", "dry hopped", "dry hopping", "dry addition", "fermenter"}, Way{Method: trials.MethodContact}},
	{[]string{"primary"}, Way{Method: trials.MethodContact, Stage: trials.StagePrimary}},
	{[]string{"secondary"}, Way{Method: trials.MethodContact, Stage: trials.StageSecondary}},
	{[]string{"keg"}, Way{Method: trials.MethodContact, Stage: trials.StagePackaging}},
	{[]string{"sock", "bag", "muslin bag", "hop bag"}, Way{Method: trials.MethodContact, InBag: true}},
	{[]string{"kettle", "boiled", "boiling"}, Way{Method: trials.MethodBoil}},
	{[]string{"first wort"}, Way{Method: trials.MethodBoil,
		Notes: []string{"first wort is read as boiled: the time before the boil is not modelled"}}},
	{[]string{"steep", "steeped", "hot steep", "infusion", "infused", "brewed as tea"}, Way{Method: trials.MethodTea}},
	{[]string{"cold steep", "cold steeped", "cold infusion", "cold brew", "cold brewed", "cold tea"},
		Way{Method: trials.MethodColdTea}},
	{[]string{"soaked in spirit", "in spirit", "spirit"}, Way{Method: trials.MethodTincture}},
	{[]string{"pulp", "pulped", "mashed fruit", "crushed fruit"}, Way{Method: trials.MethodPuree}},
	{[]string{"juiced", "pressed juice"}, Way{Method: trials.MethodJuice}},
}

// WayOf returns the way that text means. The mash is a Problem: what comes out
// there is not modelled.
func WayOf(text string) (Way, error) {
	phrase := plain(text)
	if strings.Contains(phrase, "mash") && !strings.Contains(phrase, "mashed") {
		return Way{}, trials.Refuse("log it with `hedgerow batch note`, or as boiled with --as boil",
			"%q: what comes out in the mash is not modelled", text)
	}
	for _, s := range sayings {
		if slices.Contains(s.phrases, phrase) {
			return s.way, nil
		}
	}
	for _, name := range quantity.SpiritNames {
		if slices.Contains([]string{name, "soaked in " + name, "steeped in " + name, name + " tincture"}, phrase) {
			return Way{Method: trials.MethodTincture, SpiritPct: quantity.NamedSpiritPct,
				Notes: []string{name + " is taken at 40 % vol; write --strength to say otherwise"}}, nil
		}
	}
	return Way{Method: strings.TrimSpace(text)}, nil
}

// Stage returns the stage that text means, or text itself.
func Stage(text string) string {
	switch plain(text) {
	case "bottling", "kegging", "keg", "bottle", "package", "packaged", "priming":
		return trials.StagePackaging
	case "whirlpool", "hop stand", "flameout", "flame out", "knockout":
		return trials.StageFlameOut
	case "kettle", "boiling":
		return trials.StageBoil
	case "fermenter", "fermentation", "primary", "pitching":
		return trials.StagePrimary
	case "secondary", "conditioning":
		return trials.StageSecondary
	}
	return strings.TrimSpace(text)
}

// plain returns text in lower case without the words that change nothing.
func plain(text string) string {
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, "-", " ")))
	for len(words) > 1 && slices.Contains([]string{"in", "into", "at", "the", "a", "as", "during", "on"}, words[0]) {
		words = words[1:]
	}
	return strings.Join(words, " ")
}
