package standing

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// batchRow is a batch in a list as --json prints it.
type batchRow struct {
	trials.Batch
	State   string   `json:"state"`    // in fermenter, in a jar, packaged ...
	LitresL *float64 `json:"litres_l"` // what is left; null where that cannot be worked out
}

// BatchList lists the batches with what is left of each.
func BatchList(n *trials.Notebook, u quantity.Units) (document.View, error) {
	left, err := ledger.LeftL(n)
	if err != nil {
		return document.View{}, err
	}
	t := document.Table{Columns: []document.Column{{Title: "batch", Wrap: true}, {Title: "begun"},
		{Title: "OG", Right: true}, {Title: "left", Right: true}, {Title: "state", Wrap: true}, {Title: "from", Wrap: true},
		{Title: "style", Wrap: true}, {Title: "volume", Right: true, Wide: true}}}
	var list []batchRow
	x, brewers := n.Index(), n.BrewerNames()
	for _, b := range n.Batches {
		row := batchRow{Batch: b}
		leftText := "-"
		v, known := left[b.ID]
		if known {
			row.LitresL = &v
			leftText = wording.VolumeText(v, u)
		}
		row.State = stateOf(x, b, known && ledger.Spent(b, v))
		list = append(list, row)
		from := brewers[b.Brewer]
		if b.ParentID != nil {
			parent, _ := x.BatchByID(*b.ParentID)
			from = parent.Name
		}
		t.Rows = append(t.Rows, []string{b.Name, wording.DateText(b.StartedAt), document.OrDash(b.OG, 3), leftText,
			row.State, from, b.Style, wording.VolumeText(b.VolumeL, u)})
	}
	return document.ListView(list, "There is no batch yet. Start one: hedgerow batch new NAME --volume 12L --og 1.048", t),
		nil
}
