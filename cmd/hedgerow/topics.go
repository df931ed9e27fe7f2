package main

import (
	"fmt"
	"strings"

	"hedgerow/trials/exchange"

	"github.com/spf13/cobra"
)

// topic is a page of help about a way of writing: examples that work, and rules.
type topic struct {
	name, short, intro string
	examples           []example
	rules              string
}

// example is a text as typed and what it means.
type example struct{ text, meaning string }

// command makes the page hedgerow help NAME.
func (t topic) command() *cobra.Command {
	width := 0
	for _, x := range t.examples {
		width = max(width, len(x.text))
	}
	var b strings.Builder
	b.WriteString(t.intro + "\n\n")
	for _, x := range t.examples {
		fmt.Fprintf(&b, "  %-*s  %s\n", width, x.text, x.meaning)
	}
	if t.rules != "" {
		if len(t.examples) > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(t.rules)
	}
	return &cobra.Command{Use: t.name, Short: t.short, Long: strings.TrimRight(b.String(), "\n")}
}

// topics are the pages about ways of writing.
func topics() []topic {
	return []topic{datesTopic, amountsTopic, passesTopic, wordsTopic, exportTopic(), studyTopic}
}

var datesTopic = topic{
	name:  "dates",
	short: "How to say when",
	intro: `Wherever --at is asked for. Left out, it is now. What was taken and not typed is
said with the answer; what can be read in two ways is asked about.`,
	examples: []example{
		{"yesterday 18:00", "also today, tomorrow, the day before yesterday"},
		{"last saturday", "the last one before today, at noon"},
		{"friday 6pm", "6pm, 6.30pm, 18:30 and 18h30 are hours"},
		{"yesterday evening", "18:00; morning 09:00, noon, afternoon 15:00, night 21:00"},
		{"3 days ago", "at the clock of now; 2h ago is real time"},
		{"day 9", "9 days after the brew began, at the same clock"},
		{"day 9 morning", "the same day at 09:00"},
		{"day 1.5", "36 hours after the brew began"},
		{"2026-03-05 18:30", "year first: year, month, day"},
		{"15.11.2025", "dots: day, month, year"},
		{"15/11/2025", "over 12 is the day; 3/4/2026 is asked about"},
		{"nov 15", "the last one that is not to come"},
	},
	rules: `A day without an hour is noon, on the day the batch began the start itself, and
today never later than now. What is still to come is kept, and said.`,
}

var amountsTopic = topic{
	name:  "amounts",
	short: "How to write volumes, masses and doses",
	intro: `A number with its unit, metric or customary. A limit may follow: 12L+-0.2L.`,
	examples: []example{
		{"12L", "also mL, cL, hL, gal, qt, cups, bbl (31 US gal)"},
		{"2.5 gal", "US unless said, as in 2.5 imp gal"},
		{"half a litre", "1 1/2 or 1½ too; an ounce and a half"},
		{"0,5 L", "a comma is a decimal mark; 1,500 is asked about"},
		{"36g", "also kg, mg, oz, lb; 1 lb 4 oz"},
		{"1.5 g/L", "a dose; also g/hL, mg/L, ppm"},
		{"3/4 oz per 5 gal", "a dose"},
		{"2 tbsp (5 g) per gallon", "the weight in brackets is used"},
		{"600mL water", "added; 200 ml vodka, 500g sugar, 1L juice 12P"},
	},
	rules: `A handful, a pinch, a bean or the zest of two has no weight: weigh it. Ounces of
a liquid and a bare pint are asked about. Spoons are level, and said in grams.`,
}

var passesTopic = topic{
	name:  "passes",
	short: "How to write one steep of a tea",
	intro: `A pass is one steep: how much liquid, how hot, how long, and how the liquid was
parted from the material. One --pass for each. What is not said is taken and
told, or asked for.`,
	examples: []example{
		{"400mL 96C>60C 30min drained", "from 96 to 60 degrees Celsius"},
		{"400 ml 95C cooling to 60, 30 min, wrung out", "the same in words"},
		{"300mL 92-64C 25min pressed", "a falling pair"},
		{"1L 96C@0min,89C@5min,72C@20min squeezed", "as a thermometer showed it"},
		{"1 quart at 175F for 20 minutes, strained", "strained is drained"},
		{"500ml just off the boil 10 min", "96 C is taken"},
		{"500ml cold overnight in the fridge", "4 C and 12 h are taken"},
		{"300ml 90C an hour, let cool", "cooling to about 41 C is taken"},
		{"1L at 70C for half an hour in a muslin bag", "in a bag"},
		{"250mL 95C 20min squeezed recovered=230mL", "measured: held=, spent=, sg=, ph="},
	},
	rules: `Stirring: boiling (a rolling boil), stirred, now-and-then, still. Boiling water
poured on is 98 C and no rolling boil.`,
}

var wordsTopic = topic{
	name:  "words",
	short: "What the words mean here",
	intro: "The words of the screens, in one line each.",
	examples: []example{
		{"addition", "what goes in: a plant, an extract, water, sugar, spirit"},
		{"claim", "advice heard or read about how much, before anything is tasted"},
		{"class, family", "what dissolves alike: acid, tannin, aroma, resin ..."},
		{"control", "the same beer without the plant"},
		{"drained", "left to run off by itself; also squeezed, pressed"},
		{"effective dose", "grams a litre as if all had come out of the plant"},
		{"extract", "a tea, cold infusion or tincture, kept as a jug with a history"},
		{"held liquid", "what the spent plant keeps back"},
		{"interval", "the true value lies within, at the level that is printed"},
		{"ledger", "volume, gravity and strength of a batch, event by event"},
		{"pass", "one steep of the same plant in one lot of liquid"},
		{"serving", "a coded glass of a tasting"},
		{"trial", "a batch, jar or glass with a known dose that was tasted"},
		{"verdict", "what the votes call for: bench, try, repeat, settled"},
		{"x/÷ 1.4", "within a factor of 1.4 either way"},
	},
}

// exportTopic is the page about the file that export writes.
func exportTopic() topic {
	return topic{
		name:  "export-format",
		short: "What stands in the file that export writes",
		intro: `The file is one JSON object, version 1:

  {"format": "hedgerow-export", "version": 1, "notebook": ID,
   "records": {KIND: [RECORD, ...], ...}}

ID is that of the notebook, by which its brews are known again. Times are RFC
3339 in UTC. A key ends in the unit of its number: _g grams, _l litres at 20 C,
_c degrees Celsius, _pct per cent, _bar bar, _g_per_l grams in a litre, _kg_kg
kilograms a kilogram; gravities are relative to water at 20 C. null is not
known. Records stand in the order of their ids, so that the same records make
the same bytes. Whoever reads the file refuses a later version, and kinds and
keys that are new.

The kinds, and what their keys hold:`,
		rules: exchange.Format(), // written from the records themselves
	}
}
