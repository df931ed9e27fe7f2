package ledger

import (
	"fmt"

	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// Folds works out the account of every batch and tells which cannot be told to
// the end. A batch without an original gravity has none, which is no damage.
func Folds(n *trials.Notebook) []trials.Damage {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return []trials.Damage{{Record: "materials", What: err.Error(), Do: "see hedgerow material list"}}
	}
	var found []trials.Damage
	for _, b := range n.Batches {
		if err := k.folds(b); err != nil {
			found = append(found, trials.Damage{Record: "batch " + b.Name, What: "has no ledger: " + err.Error(),
				Do: "see hedgerow ledger " + b.Name + " and correct what it names"})
		}
	}
	return found
}

// folds works out one account. A panic is a find like any other: whoever looks
// for damage must get to the end.
func (k *book) folds(b trials.Batch) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("it cannot be worked out (%v)", p)
		}
	}()
	_, err = k.ledger(b)
	if code := trials.CodeOf(err); err != nil && (code == trials.NotEnough || code == trials.Invalid) {
		return nil // something was not measured, or is still to come
	}
	return err
}
