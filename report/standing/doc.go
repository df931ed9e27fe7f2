// Package standing shows where things stand: what is in which vessel, what is due,
// what was suggested last, where the notebook is; it finds records by their words, and
// tells what was done as a recipe. It fits nothing and draws nothing at random, so that
// a look is quick however long the notebook is.
package standing
