package dilution

import "math/bits"

// Notes is a set of remarks on a result. It is a bit set so that computing many
// draws allocates nothing; Each takes it apart, and Code and Text put one remark in words.
type Notes uint32

// The remarks.
const (
	NoteGravityRose Notes = 1 << iota // a gravity above the present one was not used
	NoteFurther                       // fermentation went further than expected
	NoteDense                         // SG above 1.15
	NoteStrongSweet                   // E > 15 % mass with X > 5 %
	NoteSpirit                        // original gravity is only an equivalent
	NoteFermenting                    // something fermentable went in
	NoteColour                        // colour of the addition not counted
	noteVolumeUp                      // measured volume above the computed one
	noteVolumeDown                    // measured volume below the computed one
	NoteUnfermented                   // no gravity read yet: state is the wort
	noteNoExtract                     // gravity below what the extract can reach
	notePulp                          // pulp keeps back more than half of the batch
	NoteStrong                        // strength from gravities above 10 % vol
)

// noteIdle is said by a step that did nothing for the best values; the draws follow
// and no one else hears of it.
const noteIdle Notes = 1 << 31

// noteTexts are the codes and texts in the order of the bits. A code is stable:
// programs may look for it.
var noteTexts = [...]struct{ code, text string }{
	{"gravity-rose", "the gravity is above the one before it; fermentation does not go backwards, so " +
		"the state was kept"},
	{"fermented-further", "fermentation went further than the expected final gravity"},
	{"dense", "the gravity is above 1.15, outside what the formulas were checked for"},
	{"strong-and-sweet", "more than 15 % ethanol by mass with more than 5 % extract; densities there are " +
		"unverified and may be 0.001 or more too high or low"},
	{"equivalent", "ethanol came in as spirit, so the original gravity is only an equivalent; do " +
		"not compute strength from the two gravities"},
	{"fermentable", "sugar that can ferment went in; gas and pressure rise if it is packaged before " +
		"it has fermented out"},
	{"colour", "the colour that this addition brings is not counted, only its dilution"},
	{"volume-up", "the measured volume is above the computed one; the batch is taken to have been " +
		"larger all along"},
	{"volume-down", "the measured volume is below the computed one; the difference is taken as a " +
		"loss that was not noted"},
	{"unfermented", "no gravity has been read since the start, so the batch is still taken as wort"},
	{"no-extract", "the gravity is below the lowest this wort can reach; check the readings"},
	{"pulp", "the pulp keeps back more than half of the batch"},
	{"strong", "above 10 % vol a strength from two gravities is less sure: the yield of the yeast counts for " +
		"more, and what evaporated is not in it; have it measured where it matters"},
}

// Each returns the remarks one by one, in a fixed order; nil for none.
func (n Notes) Each() []Notes {
	var out []Notes
	for i := range noteTexts {
		if one := Notes(1) << i; n&one != 0 {
			out = append(out, one)
		}
	}
	return out
}

// Code returns the code of the first remark, "" of none.
func (n Notes) Code() string {
	if n == 0 {
		return ""
	}
	return noteTexts[bits.TrailingZeros32(uint32(n))].code
}

// Text returns the text of the first remark, "" of none.
func (n Notes) Text() string {
	if n == 0 {
		return ""
	}
	return noteTexts[bits.TrailingZeros32(uint32(n))].text
}

// notes returns the remarks on the validity of the state itself: SG above
// 1.15, and E above 15 % mass with X above 5 %, where the explicit volume reads
// low [17].
func (s State) notes() Notes {
	var n Notes
	if s.SG() > 1.15 || s.OriginalSG() > 1.15 {
		n |= NoteDense
	}
	if s.ABWPct() > 15 && s.realExtractPct() > 5 {
		n |= NoteStrongSweet
	}
	if s.SpiritKg > 0 {
		n |= NoteSpirit
	}
	return n
}
