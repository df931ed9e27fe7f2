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
// Besides single amounts there are two small languages: ParseAddition reads a
// liquid or sugar put into a batch ("250mL+-2% spirit 60+-1% 10+-5g/L"), and
// ParsePass reads one steep ("400mL 96C>60C 30min drained").
//
// Numbers are written with a decimal point or a decimal comma. A comma before
// exactly three digits ("1,500") could be either a decimal comma or a thousands
// separator and is refused, except in a gravity ("1,048"). Letters may be large
// or small. Every accepted number is finite and between 1e-9 and 1e9 in the unit
// typed, or zero where zero means something.
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
// titles of [1] to [3] are from memory.
package quantity
