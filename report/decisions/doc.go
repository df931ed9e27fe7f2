// Package decisions makes what the trials of a material say into views: the
// comparison of trials, the claims judged by them, and the suggestion of the
// next dose.
package decisions
