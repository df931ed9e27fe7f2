// Package spelling guesses which of the known words a mistyped one was meant to
// be. It knows no word itself: units, methods, plants and the names of records
// are compared alike, by one distance and one rule of how far is too far, so
// that the same slip is met with the same question everywhere.
//
// It imports nothing of ours and stands at the bottom of the house: every other
// package may import it, the leaves too.
//
// Source:
//
//	[1] F. J. Damerau, A technique for computer detection and correction of
//	    spelling errors, Communications of the ACM 7 (1964) 171-176: four errors
//	    in five are one letter wrong, one missing, one too many, or two
//	    neighbours swapped (from memory).
package spelling
