package trials

import (
	"slices"
	"time"
)

// CheckAccount refuses a change after which the account of a batch would not
// hold: an event before the batch began, more beer lost than there was, a value
// the arithmetic cannot take. The notebook n has the change, before has not; an
// account that did not hold before either is let pass, so that one bad record
// does not shut the batch.
func (n *Notebook) CheckAccount(before *Notebook, b Batch) error {
	err := n.holds(b)
	if err == nil {
		return nil
	}
	if old, ok := before.BatchByID(b.ID); ok && before.holds(old) != nil {
		return nil
	}
	return err
}

// CheckPoured is CheckAccount for every batch that an extract went into.
func (n *Notebook) CheckPoured(before *Notebook, x Extract) error {
	for _, a := range n.Additions {
		b, ok := n.BatchByID(a.BatchID)
		if !ok || a.ExtractID == nil || *a.ExtractID != x.ID {
			continue
		}
		if err := n.CheckAccount(before, b); err != nil {
			return err
		}
	}
	return nil
}

// holds works out the account of a batch as far as it can be worked out yet.
func (n *Notebook) holds(b Batch) error {
	for _, e := range n.ownEvents(b) {
		if e.At.Before(b.StartedAt) {
			return Refuse("correct "+e.Name+" first, or give an earlier --at",
				"%s at %s is before batch %s began at %s", e.Name, e.At.Format(time.DateOnly), b.Name, b.StartedAt.Format(time.DateOnly))
		}
	}
	if err := n.checkLedger(b); CodeOf(err) != NotEnough {
		return err
	}
	return nil
}

// CheckSplit refuses a child with a bad name or volume, one split off before
// its parent began, and one larger than what the parent then holds.
func (n *Notebook) CheckSplit(parent, child Batch) error {
	if err := child.Validate(); err != nil {
		return err
	}
	if err := n.CheckTime(parent, "split", child.StartedAt, true); err != nil {
		return err
	}
	with := *n
	child.ID = NewID()
	child.CreatedAt = n.Now
	with.Batches = append(slices.Clone(n.Batches), child)
	if parent.OG == nil && parent.ParentID == nil {
		return nil
	}
	return with.checkLedger(parent)
}
