// Package sheets reads records out of spreadsheets as clubs keep them: scores,
// batches, additions, readings and claims, as CSV. Nothing is written here: [Read]
// returns a [Sheet], which says what was understood, line by line, what has to be
// asked, what is at fault, and which records would be new.
//
// The way of a file through the package:
//
//	bytes -> text (text.go) -> cells with their lines (grid.go) -> columns with a
//	meaning (words.go, header.go, shape.go) -> values (number.go, unit.go, date.go,
//	scale.go, vote.go, name.go) -> rows of one kind (scores.go, batches.go ...) ->
//	records (record.go, evening.go)
//
// The rule above all others: of two meanings that give different numbers none is
// guessed; the whole column is asked about, once. What has one possible meaning is
// taken and said. All faults are reported together, and a sheet with a fault or an
// open question gives no records.
//
// What follows from the custom of spreadsheets (day numbers from 1899-12-30, sep=
// lines, #N/A, an apostrophe before text) is common practice, no source.
package sheets
