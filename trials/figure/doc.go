// Package figure holds the shapes that numbers have everywhere: a value with its
// interval, a value with the limit that was written with it, a reading of a
// thermometer; and the limits within which a gravity or a temperature is taken,
// which the text, the records and the formulas must agree on. They are here so
// that a figure passes from the text that was typed, through the calculations, to
// the table that is printed without being copied from one look-alike into another.
//
// It imports nothing of ours and stands at the bottom of the house: every other
// package may import it, the leaves too.
package figure
