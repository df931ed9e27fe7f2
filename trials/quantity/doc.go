// Package quantity is the border where text with units becomes numbers in base
// units, and where numbers become text again.
//
// Base units are litres, grams, degrees Celsius, minutes, specific gravity
// 20/20, per cent and grams per litre. People write amounts in many ways:
// "1 1/2 oz", "600mL", "1,5 L", "half a teaspoon per gallon", "205F", "1h30".
// Every Parse function takes one such text and gives the number, what had to be
// assumed (which gallon, which barrel, which spoon weight), or an *Error that
// says what to type or to measure instead. What cannot be converted honestly (a
// bare pint, a handful, flower heads, fluid ounces of a dry material) is an
// error, never a guess.
//
// # Numbers
//
// A number is written in figures with a decimal point or a decimal comma, as a
// fraction or mixed number (3/4, 1 1/2, 1-1/2, ½), or in words (half a, one and
// a half, three quarters of an). A comma before exactly three digits ("1,500")
// could be either a decimal comma or a thousands separator and is refused,
// except in a gravity ("1,048"). There is no notation with an exponent. Letters
// may be large or small. Every accepted number is finite and between 1e-9 and
// 1e9 in the unit typed, or zero where zero means something.
//
// # Limits
//
// A number may carry the limit within which the true value lies, as +-, +/- or
// ±, before or after the unit:
//
//	12L+-0.2L   12+-0.2L    half-width 0.2 L
//	250mL+-2%   250+-2% mL  half-width 2 % of 250 mL
//	60+-1%      60%+-1%     half-width one percentage point, not 1 % of 60 %
//
// # Doses
//
//	dose    = [bound] amount [words] ["(" weight ")"] per volume ["(" volume ")"] [words]
//	bound   = "up to" | "at most" | "about" | ...
//	amount  = number [("-" | "to" | "or") number] unit, or two amounts so joined
//	per     = "/" | "per" | "in" | "for" | "to" | "a" ...
//
// Unit of the amount is a mass, a spoon of a material with a known spoon weight,
// or ppm, which needs no volume. A weight in brackets replaces the amount, a
// volume in brackets the volume before it: the writer measured those. Words
// that say fresh or dry are noted, words that change nothing are passed over,
// and other words are named in a warning, so that nothing is dropped silently.
//
// # Additions and passes
//
// A liquid or sugar put into a batch ("250mL+-2% spirit 60+-1% 10+-5g/L") and
// one steep ("400mL 96C>60C 30min drained") are lists of words and numbers in
// any order. The unit tells what a number is; each may stand once. See
// ParseAddition and ParsePass.
//
// # Printing
//
// The Format functions print in metric or in US units, with three significant
// digits and so that the text is read back, without any assumption, to the same
// value within that rounding.
//
// # Sources
//
//	[1] US customary units: National Institute of Standards and Technology,
//	    Handbook 44, appendix C (gallon of 231 cubic inches; pound of 453.59237 g)
//	[2] imperial units: Units of Measurement Regulations 1995 (gallon of 4.54609 L)
//	[3] US beer barrel of 31 US gallons: 27 CFR 25.11
//	[4] degree Fahrenheit: t(C) = (t(F) - 32) / 1.8, exact by definition [1]
//
// The factors are exact by definition; they were checked against a table of
// units made independently of this package (testdata/check_units.csv). The
// titles and paragraphs of [1] to [3] are from memory.
package quantity
