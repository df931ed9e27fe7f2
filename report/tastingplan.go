package report

import (
	"fmt"
	"math/rand/v2"

	"hedgerow/report/panel"
	"hedgerow/trials"
)

// MostServings is how many glasses a tasting may have at most; past six the
// tongue tires (common practice, no source).
const MostServings, WarnServings = 12, 6

// PlanServings puts codes on the servings of a tasting: random three-digit
// numbers with different digits, the same for the same seed. Repeats get a code
// of their own.
func PlanServings(t trials.Tasting, batches []trials.Batch, repeats []trials.Batch) ([]trials.Serving, error) {
	total := len(batches) + len(repeats)
	switch {
	case total < 2:
		return nil, trials.Refuse("add another --serving, such as the beer without the material", "a tasting needs at least two servings, not %d", total)
	case total > MostServings:
		return nil, trials.Refuse("make two tastings of it", "%d servings are more than %d", total, MostServings)
	}
	if err := checkServed(batches, repeats); err != nil {
		return nil, err
	}
	codes, err := panel.Codes(total, uint64(t.Seed), nil)
	if err != nil {
		return nil, err
	}
	// Codes go to the servings in random order, so that their order in the
	// notebook tells nothing.
	rand.New(rand.NewPCG(uint64(t.Seed), 1)).Shuffle(total, func(i, j int) { codes[i], codes[j] = codes[j], codes[i] })
	var list []trials.Serving
	for i, b := range append(append([]trials.Batch{}, batches...), repeats...) {
		list = append(list, trials.Serving{TastingID: t.ID, BatchID: b.ID, Code: fmt.Sprint(codes[i]), Repeat: i >= len(batches)})
	}
	return list, nil
}

// checkServed refuses a beer that is served twice without being a repeat, and a
// repeat of one that is not served.
func checkServed(batches, repeats []trials.Batch) error {
	served := map[string]bool{}
	for _, b := range batches {
		if served[b.ID] {
			return trials.Refuse("serve it again with --repeat "+b.Name, "batch %s is named twice", b.Name)
		}
		served[b.ID] = true
	}
	for _, b := range repeats {
		if !served[b.ID] {
			return trials.Refuse("add --serving "+b.Name, "batch %s cannot be repeated, since it is not served", b.Name)
		}
	}
	return nil
}

// servingWarnings are remarks on how a tasting is laid out.
func servingWarnings(servings int) []string {
	if servings <= WarnServings {
		return []string{}
	}
	return []string{fmt.Sprintf("%d servings in one flight: past %d the tongue tires", servings, WarnServings)}
}
