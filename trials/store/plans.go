package store

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"

	"hedgerow/trials"
)

// plans is the layout of table plan.
var plans = table[trials.Plan]{
	name:  "plan",
	order: "at, name",
	columns: []column[trials.Plan]{
		{"id", func(r *trials.Plan) any { return &r.ID }},
		{"name", func(r *trials.Plan) any { return &r.Name }},
		{"created_at", func(r *trials.Plan) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Plan) any { return moment{&r.ChangedAt} }},
		{"kind", func(r *trials.Plan) any { return &r.Kind }},
		{"material_key", func(r *trials.Plan) any { return &r.MaterialKey }},
		{"batch_id", func(r *trials.Plan) any { return &r.BatchID }},
		{"extract_id", func(r *trials.Plan) any { return &r.ExtractID }},
		{"tasting_id", func(r *trials.Plan) any { return &r.TastingID }},
		{"at", func(r *trials.Plan) any { return moment{&r.At} }},
		{"done_at", func(r *trials.Plan) any { return maybeMoment{&r.DoneAt} }},
		{"design", func(r *trials.Plan) any { return design{&r.Design} }},
	},
}

// design keeps the amounts of a plan as JSON text.
type design struct{ d *trials.Design }

// Value implements driver.Valuer.
func (v design) Value() (driver.Value, error) {
	text, err := json.Marshal(*v.d)
	return string(text), err
}

// Scan implements sql.Scanner.
func (v design) Scan(from any) error {
	text, ok := from.(string)
	if !ok {
		return fmt.Errorf("the amounts of a plan are stored as %T", from)
	}
	return json.Unmarshal([]byte(text), v.d)
}
