// Package ledger keeps the account of a batch through time: it folds the events
// of a batch, its ancestors' included, through package dilution, answers the
// same for a beer that is not in the notebook (Dilute, Reach), and gathers the
// trials of one material for a comparison. Nothing of it is stored.
package ledger
