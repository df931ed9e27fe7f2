// Package extraction computes how much of a botanical reaches the beer: steeps
// in one or several passes, cooling, held liquid, losses by heat, and the
// effective dose with its doubt. It is pure calculation and imports nothing of
// this module.
//
// The one axis is the effective dose, in grams of fully extracted, as-dried
// material per litre of beer, kept apart for each solute class c:
//
//	ED_c = m_eq * u_c * Y_c * S_c * f / V_mix * prod(V_before/V_after)
//	m_eq = m * (1 - M) / (1 - 0.10)
//
// with m the mass weighed in (g), M its moisture (mass fraction), u_c the share
// of the class that the solvent can ever carry, Y_c the yield into the liquid
// that is kept, S_c what survives the heat, f the share of the extract poured
// in, V_mix the volume of beer right after mixing (L) and the product over
// later dilutions or boil-off. Losses after mixing take solute and beer alike
// and change nothing.
//
// Effective doses compare doses of one ingredient. They say nothing about two
// different plants, and little about two lots of one.
//
// # Sources
//
// Most papers were read as abstracts only; the literature table that goes with
// this model says which. A figure called a judgement is common practice
// without a source. Numbers that are not in the list belonged to formulas that have left.
//
//	[1]  Spiro and Jago 1982, J. Chem. Soc. Faraday Trans. 1, 78, 295: rotating disc, steady state of tea infusion
//	[2]  Jaganyi and Price 1999, Food Chem., 27-31: caffeine from black tea, 0.99 /min at 80 C, Ea 40.3 kJ/mol
//	[3]  Jaganyi and Wheeler 2003, Food Chem., 121-126: aspalathin from rooibos, 23.4e-4 /s at 80 C
//	[4]  Farakte et al. 2015, Int. J. Food Eng.: granular tea, two sizes, D at 60 and 80 C
//	[5]  Price and Spiro 1985, J. Sci. Food Agric. 36, 1309-1314: effect of leaf size
//	[6]  J. Food Eng. 109 (2012) 16-21: D of roselle anthocyanins, 25 to 90 C
//
// [7]  Crank 1975, The Mathematics of Diffusion, 2nd ed.: plane sheet, cylinder, sphere;
// limited-volume forms from memory
// [8]  LEACH theory pages (rpi.edu) and a handbook chapter on leaching (globalspec): constant
// underflow, stage efficiency
//
//	[9]  Forster and Gahr 2013, BrewingScience 66: transfer of hop substances in dry hopping
//	[10] Gahr, Forster, De Clippeleer, Van Opstaele 2019, BrewingScience, part 3: late hot and dry hop transfer
//	[11] Antioxidants 10 (2021) 1337, table 1: half-lives of anthocyanins (rows that agree with themselves only)
//	[12] Dominguez-Lopez et al. 2008 and Wu et al. 2018: activation energy of anthocyanin loss, 56 to 96 kJ/mol
//	[13] Bingham and Jackson: viscosity of ethanol and water at 20 C
//	[17] Kell 1975, J. Chem. Eng. Data 20, 97: density of water
//	[18] Fieller 1954, J. R. Stat. Soc. B 16, 175: limits of a ratio
//	[19] Abramowitz and Stegun 1964, table 25.4: Gauss-Legendre abscissas and weights
//	[20] Trade texts: liquid held by spent coffee, tea and hops; drying herbs to about 10 % water
//	[21] Setford, Jeffery, Grbin and Muhlack 2018, Molecules 24, 73: forced and natural convection
//	[22] McKay, Beckman and Conover 1979, Technometrics 21, 239-245: Latin hypercube sampling
//
// [23] Published spent-leaf, hop, coffee, root-tincture and dry-hop figures, read as abstracts or
// excerpts, converted to dry matter
//
//	[24] Published cold-brew plateaus, tea steeps at 4 to 20 C, dry-hop and oak-chip time courses, and activation
//	    energies of anthocyanins, caffeine and flavanols, read as abstracts or excerpts
package extraction
