// Package idiom knows the words that brewers have for a form, a way into the beer
// and a stage, and turns them into the words of a record: "ground" is powder,
// "whirlpool" is flame-out, "in secondary" is contact at the secondary stage,
// "soaked in vodka" is a tincture of 40 % vol.
//
// A word that is not known passes as it is, for the check of the record to refuse
// with its near misses. All of it is common practice, no source.
package idiom
