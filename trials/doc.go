// Package trials holds the records of the notebook (batches, extracts,
// additions, readings, meters, claims, plans, tastings and scores) and checks
// them. Field names carry the unit; a nil pointer means "not known", which is
// not the same as zero.
//
// Nothing derived is stored: what a steep gives is worked out in
// hedgerow/trials/steeps, the account of a batch in hedgerow/trials/ledger,
// plans in hedgerow/trials/planning, each time they are asked for, so that a
// corrected pass or a meter calibrated afterwards changes every number that
// rests on it. The built-in materials are in hedgerow/trials/catalogue. Storage
// is in hedgerow/trials/store, the only package that knows SQL.
package trials
