// Package panel holds the statistics of a small tasting panel: means adjusted
// for who scored, comparisons between trials with their intervals, agreement
// between tasters, votes, difference tests, thresholds and blind serving
// orders.
//
// Plain numbers and names go in and come out; nothing here knows of batches,
// records or screens. Every result carries its doubts: how many scores it
// rests on, an interval where one can be given, and Warnings in words where
// the data say less than a reader may think. A value that cannot be computed
// is marked by an OK field or an error, never by a made-up number.
//
// # Which function answers which question
//
// How good was each beer, whoever happened to taste it: Adjusted. Always first;
// from one taster on, gaps and repeats allowed. Its SmallestSeen says what
// difference could have stood out at all, for the sentence "no difference
// smaller than 1.6 points could have been seen".
//
// Do the beers differ beyond noise: MixedModel, which treats the tasters as
// drawn from many, then Means.Tukey for every pair or Means.Dunnett against a
// control beer. With 3 or 4 tasters show the intervals; the power of tests
// that allow for many comparisons is tiny.
//
// Do the tasters agree on the order: Friedman, with Kendall's W, over
// those who scored all. Who is strict, who uses the whole scale, who follows the others:
// TasterTable. How large is the noise of one glass: RepeatNoise from hidden
// repeats. Did the first glass win because it came first: PositionEffect.
//
// Can we tell it from the beer without: the DifferenceTest methods. Where does
// the taste begin to show: AscendingThreshold, which is not the right dose.
//
// How strong is one form or method beside another: RelativePotency.
//
// Who drinks what when, unseen: ServingOrders, ForcedChoiceOrders, Codes.
//
// # Habits of the results
//
// "Trial" and "taster" are the words throughout; in other trades they are
// treatment and block. A level is a share, 0.95 and not 95. Every function is
// deterministic; those that draw at random take a seed and return the same for
// the same seed. Functions refuse what they cannot answer with an error that
// names the value; what they can answer only badly comes with Warnings.
//
// # Sources
//
// Cited as [n] beside the formulas:
//
//	[1]  Searle, S. R. (1971). Linear Models. Wiley. Chapter 7: the two-way
//	     classification without interaction, unbalanced data, connectedness.
//	[2]  Patterson, H. D. and Thompson, R. (1971). Recovery of inter-block
//	     information when block sizes are unequal. Biometrika 58, 545-554.
//	[3]  Tukey, J. W. (1953); the range distribution as in Copenhaver, M. D. and
//	     Holland, B. (1988). J. Statist. Comput. Simul. 30, 1-15. Unequal
//	     numbers: Kramer, C. Y. (1956). Biometrics 12, 307-310.
//	[4]  Dunnett, C. W. (1955). J. Amer. Statist. Assoc. 50, 1096-1121; unequal
//	     numbers: Dunnett (1964). Biometrics 20, 482-491.
//	[5]  Friedman, M. (1937). J. Amer. Statist. Assoc. 32, 675-701; ties as in
//	     Hollander, M. and Wolfe, D. A. (1973). Nonparametric Statistical Methods.
//	[6]  Kendall, M. G. and Babington Smith, B. (1939). Ann. Math. Statist. 10, 275-287.
//	[7]  European Pharmacopoeia 5.0, chapter 5.3: Statistical analysis of
//	     results of biological assays and tests.
//	[8]  Fieller, E. C. (1954). J. R. Statist. Soc. B 16, 175-185.
//	[9]  Ennis, D. M. (1993). J. Sensory Studies 8, 353-370: Thurstonian
//	     models of the difference tests; Bradley, R. A. (1963) for the triangle.
//	[10] FAO document V7180E, appendix A: minimum numbers correct, triangle test.
//	[11] Clopper, C. J. and Pearson, E. S. (1934). Biometrika 26, 404-413.
//	[12] MacFie, H. J., Bratchell, N., Greenhoff, K. and Vallis, L. V. (1989).
//	     J. Sensory Studies 4, 129-148; Williams, E. J. (1949). Aust. J. Sci.
//	     Res. A 2, 149-168.
//	[13] The best-estimate rule of ascending forced-choice series (the rule of
//	     ASTM E679, stated from the reference sheet, not from the standard).
//	[14] Scheffé, H. (1959). The Analysis of Variance.
//	[15] Abramowitz, M. and Stegun, I. A. (1964). Handbook of Mathematical
//	     Functions, equation 26.6.2.
package panel
