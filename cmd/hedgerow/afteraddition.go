package main

import (
	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// afterAddition says what is left of the extract that was poured, and what the
// dose acts like by own scores of its method. Both stand beside the effect of the
// addition, which rests on records alone.
func (e *env) afterAddition(n *trials.Notebook, l ledger.Ledger, a trials.Addition, x *trials.Extract) error {
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	key := handlingOf(a, x).MaterialKey
	if a.ExtractID != nil {
		extract, _ := n.ExtractByID(*a.ExtractID)
		key = extract.MaterialKey
		if err := e.sayLeft(n, materials, extract); err != nil {
			return err
		}
	}
	// own scores take reading and fitting: not where nobody sees what comes of it
	if key == "" || e.flags.quiet || e.flags.json {
		return nil
	}
	scored, err := e.readingScores()
	if err != nil || len(scored.Scores) == 0 {
		return err
	}
	own, err := ownPotencies(scored, materials, key)
	if err != nil {
		return err
	}
	if text := decisions.OwnDose(l, a.Name, own); text != "" {
		e.say("%s", document.Wrap(text, e.pageWidth()))
	}
	return nil
}

// sayLeft says what is left of an extract of which only a part was poured.
func (e *env) sayLeft(n *trials.Notebook, materials trials.Materials, x trials.Extract) error {
	jug, err := steeps.JugOf(n, materials, x)
	if err != nil {
		return err
	}
	if jug.LeftL > 0 {
		e.say("%s", report.JugWords(x.Name, jug, e.style()))
	}
	return nil
}

// checkJug refuses an addition that leaves too little of its extract for another
// one, in whatever batch.
func checkJug(n *trials.Notebook, a trials.Addition) error {
	if a.ExtractID == nil {
		return nil
	}
	x, _ := n.ExtractByID(*a.ExtractID)
	if len(x.Passes) == 0 {
		return nil // the ledger says so
	}
	materials, err := n.Catalogue()
	if err != nil {
		return err
	}
	jug, err := steeps.JugOf(n, materials, x)
	if err != nil {
		return err
	}
	return jug.Check()
}
