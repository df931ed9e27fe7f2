// Package plot draws pictures from plain numbers: as SVG for a page and in
// characters for a terminal, both from one description, a Plot.
//
// # What a picture is
//
// Panels stand above one another and share the axis across; lanes below them hold
// intervals and strips on the same axis. A picture with lanes alone is a list of
// intervals. Every picture has a title and a description, which are read to those who
// cannot see it, and whoever draws it on a page puts its numbers into a table too.
//
// # The SVG
//
// Across everything is in per cent, upright in pixels, and there is no view box: type
// keeps its size at every width, so that one picture serves a phone, a desk and paper.
// All looks are attributes. There is no style attribute, no style element, no class, no
// id and no script, so that a picture may stand under a strict content policy, alone in
// a file, or as an image. What was measured with the plotting library of gonum (v0.17.0)
// speaks against it: 9.7 MB of program and 1 ms at every start, style attributes that a
// strict policy drops, which leaves a black box, and fixed sizes that shrink 13 px of
// type to 7 on a phone.
//
// # Labels
//
// Text is measured with the widths of Helvetica, which Arial and Liberation Sans share
// [1]. A label takes the first place beside its mark that nothing else holds at any of
// some widths, the narrowest that of a phone; one without a place is left out, for its
// numbers are in the table.
//
// # Colours
//
// Six, told apart by lightness in grey, by hue for the colour-blind (green-blue, blue
// and orange keep apart in the three common kinds), and never by colour alone: dashes,
// shapes and words differ too. On white each has a contrast of 3.8 or more, text 4.9.
//
// # Sources
//
//	[1] Adobe Systems, Core 14 AFM files, Helvetica.afm, 1997: widths of the
//	    characters in thousandths of the size (from memory, compared with the
//	    advance widths of Liberation Sans 2.1.5)
package plot
