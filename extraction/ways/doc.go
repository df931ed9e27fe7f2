// Package ways asks what other ways with one material would give: several methods side
// by side (Compare), what would get more out of a steep (Improve), what would make it
// less astringent (Gentler), and what the brewer's own scores say of a method beside
// another (TrialEvidence). A way is a steep of package extraction with where it goes;
// here nothing is known of passes, heat or held liquid but what that package answers.
//
// The figures that ways for one material share are drawn once for all of them
// (extraction.Together), so that a difference is not blurred by what they have in
// common. Where the draws or the evidence give no number, a way has a place.
package ways
