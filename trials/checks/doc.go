// Package checks holds values from outside the project, published or computed
// independently, and runs them through the functions that the commands call: a
// row on steeps through SteepRequest.Steep or Steep.Run, a row on dilution through
// Dilute or Account.MonteCarlo. No formula is written out a second time here.
// What a row gives is turned into what a command is given, and the figure is read
// off the answer, so that an error in the answer is an error of the row.
//
// Files, from the top down: evaluate.go finds the evaluator of a quantity,
// request.go, onesteep.go and potency.go are about extraction, mixing.go,
// story.go, beer.go, liquids.go and condition.go about dilution, amounts.go about units, and
// inputs.go reads what a row gives.
package checks
