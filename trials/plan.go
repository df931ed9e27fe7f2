package trials

import "time"

// Plan is a bench series, split or batch that was planned and written down: its
// amounts stay as planned, while the records made from it say what was done.
type Plan struct {
	Record
	Kind        string     `json:"kind"` // bench, split or batch
	MaterialKey string     `json:"material_key"`
	BatchID     string     `json:"batch_id"`   // the beer it is made with
	ExtractID   *string    `json:"extract_id"` // the extract made for it
	TastingID   *string    `json:"tasting_id"` // the tasting set up with it
	At          time.Time  `json:"at"`         // when it was planned to be done
	DoneAt      *time.Time `json:"done_at"`    // when it was really done; nil while it only stands planned
	Design      Design     `json:"design"`
}

// The kinds of plan.
const (
	PlanBench = "bench"
	PlanSplit = "split"
	PlanBatch = "batch"
)
