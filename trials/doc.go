// Package trials holds the records of the notebook (batches, extracts,
// additions, readings, meters, claims, tastings and scores), checks them, and
// folds the events of a batch into its ledger.
//
// Nothing derived is stored: a ledger is computed from the events each time it
// is asked for, so that a corrected pass or a meter calibrated afterwards
// changes every number that rests on it. Field names carry the unit; a nil
// pointer means "not known", which is not the same as zero.
//
// The arithmetic itself is in the leaves hedgerow/dilution and
// hedgerow/extraction; the built-in materials are in
// hedgerow/trials/catalogue. Storage is in hedgerow/trials/store, the only
// package that knows SQL.
package trials
