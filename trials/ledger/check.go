package ledger

import (
	"slices"

	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// CheckAccount refuses a change after which the account of a batch would not
// hold: an event before the batch began, more beer lost than there was, a value
// the arithmetic cannot take. The notebook n has the change, before has not; an
// account that did not hold before either is let pass, so that one bad record
// does not shut the batch.
func CheckAccount(n *trials.Notebook, before *trials.Notebook, b trials.Batch) error {
	return CheckAccounts(n, before, []trials.Batch{b})
}

// CheckAccounts is CheckAccount for many batches of one change, which is laid out once
// for all of them.
func CheckAccounts(n *trials.Notebook, before *trials.Notebook, list []trials.Batch) error {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return err
	}
	for _, b := range list {
		err := k.holds(b)
		if err == nil {
			continue
		}
		if old, ok := before.BatchByID(b.ID); ok && holds(before, old) != nil {
			continue
		}
		return err
	}
	return nil
}

// CheckPoured is CheckAccount for every batch that an extract went into.
func CheckPoured(n *trials.Notebook, before *trials.Notebook, x trials.Extract) error {
	for _, a := range n.Additions {
		b, ok := n.BatchByID(a.BatchID)
		if !ok || a.ExtractID == nil || *a.ExtractID != x.ID {
			continue
		}
		if err := CheckAccount(n, before, b); err != nil {
			return err
		}
	}
	return nil
}

// holds works out the account of a batch as far as it can be worked out yet.
func holds(n *trials.Notebook, b trials.Batch) error {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return err
	}
	return k.holds(b)
}

// holds is holds of the notebook that the book is of.
func (k *book) holds(b trials.Batch) error {
	for _, e := range k.ownEvents(b) {
		if e.At.Before(b.StartedAt) {
			event, start := trials.Apart(e.At, b.StartedAt)
			return trials.Refuse("correct "+e.Name+" first, or give an earlier --at",
				"%s at %s is before batch %s began at %s", e.Name, event, b.Name, start)
		}
	}
	// an original gravity that was not typed yet can still be: that is no fault of the change
	if err := k.check(b); trials.CodeOf(err) != trials.NotEnough {
		return err
	}
	return nil
}

// CheckSplit refuses a child with a bad name or volume, one split off before
// its parent began, and one larger than what the parent then holds.
func CheckSplit(n *trials.Notebook, parent, child trials.Batch) error {
	if err := child.Validate(); err != nil {
		return err
	}
	if err := n.CheckTime(parent, "split", child.StartedAt, true); err != nil {
		return err
	}
	with := *n
	child.ID = trials.NewID()
	// of one moment, the split is the last that was written
	child.CreatedAt = n.Now
	with.Batches = append(slices.Clone(n.Batches), child)
	if parent.OG == nil && parent.ParentID == nil {
		return nil
	}
	return check(&with, parent)
}
