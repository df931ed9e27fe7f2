// Package catalogue holds the built-in materials of the notebook: fruits,
// flowers, herbs, spices, roots, woods, peels, teas and sugars, with published
// doses, moistures, sugar contents and spoon weights, cautions, legal limits
// and the sources of all of these.
//
// The tables are embedded CSV files, read once and only when [Load] is first
// called. A figure that is not known is a nil pointer or ok == false, never
// zero. Every figure carries a source id, which [Catalogue.Sources] resolves.
// Nothing here is medical or legal advice, and a typical dose is not a safety
// limit.
//
// Main sources of the tables:
//
//	[1] USDA National Nutrient Database for Standard Reference, release 26
//	    (abbreviated file); ids "SR26:" and the NDB number.
//	[2] Longvah et al., Indian Food Composition Tables 2017, National
//	    Institute of Nutrition; ids "IFCT17:" and the food code.
//	[3] Regulation (EC) No 1334/2008, annexes III and IV; 21 CFR 172.510 and
//	    189; ids beginning with "L" or a country code.
//	[4] Published brewing advice; ids beginning with "D". Advice differs up to
//	    fifty-fold, which is why a dose has two ends and a word for its
//	    evidence.
//	[5] "common practice, no source" and "from memory" are written out where
//	    nothing better is known.
//
// # What the columns mean
//
// A dose is grams of material per litre of beer, on the basis that the material
// names: fresh, dry or as it is sold. Moistures are mass fractions of water; a
// "dried" moisture is that of the material as sold where it has only one state
// (honey, dates). A spoon is a level US one. Sugar is what beer yeast ferments,
// but for lactose. The absorption column is from memory and only to be shown;
// the loss of a steep is measured or comes from package extraction. The default
// basis is what a claim is taken for that names none. The evidence of a caution
// or limit says what was done to check it; its scope, beside which entries it is
// shown. The stop list and the names of allergens are matched by whole names.
//
// # Where the tables were corrected
//
// Maple syrup had 32.39 % water and 67.90 % sugar under one number, more than
// the whole; it has the figures of NDB 19911 now. A spoon of fresh thyme stood
// twice. The title of the source "from memory" had lost its quotes and ran over
// two columns.
package catalogue
