package store

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"

	"hedgerow/trials"
)

// toTastes is the layout of table to_taste.
var toTastes = table[trials.ToTaste]{
	name:  "to_taste",
	order: "tasting_id",
	columns: []column[trials.ToTaste]{
		{"id", func(r *trials.ToTaste) any { return &r.ID }},
		{"tasting_id", func(r *trials.ToTaste) any { return &r.TastingID }},
		{"batch_id", func(r *trials.ToTaste) any { return &r.BatchID }},
		{"extract_id", func(r *trials.ToTaste) any { return &r.ExtractID }},
		{"used", func(r *trials.ToTaste) any { return &r.Used }},
		{"step_factor", func(r *trials.ToTaste) any { return &r.StepFactor }},
		{"glass_l", func(r *trials.ToTaste) any { return &r.GlassL }},
		{"sip_l", func(r *trials.ToTaste) any { return &r.SipL }},
		{"up_l", func(r *trials.ToTaste) any { return litres{&r.UpL} }},
		{"down_l", func(r *trials.ToTaste) any { return &r.DownL }},
		{"fill_l", func(r *trials.ToTaste) any { return &r.FillL }},
		{"down_steps", func(r *trials.ToTaste) any { return &r.DownSteps }},
		{"share", func(r *trials.ToTaste) any { return &r.Share }},
	},
}

// droppers is the layout of table dropper.
var droppers = table[trials.Dropper]{
	name:  "dropper",
	order: "tasting_id, code",
	columns: []column[trials.Dropper]{
		{"id", func(r *trials.Dropper) any { return &r.ID }},
		{"tasting_id", func(r *trials.Dropper) any { return &r.TastingID }},
		{"code", func(r *trials.Dropper) any { return &r.Code }},
		{"strength", func(r *trials.Dropper) any { return &r.Strength }},
	},
}

// dosings is the layout of table dosing.
var dosings = table[trials.Dosing]{
	name:  "dosing",
	order: "tasting_id, taster_id, number",
	columns: []column[trials.Dosing]{
		{"id", func(r *trials.Dosing) any { return &r.ID }},
		{"tasting_id", func(r *trials.Dosing) any { return &r.TastingID }},
		{"taster_id", func(r *trials.Dosing) any { return &r.TasterID }},
		{"number", func(r *trials.Dosing) any { return &r.Number }},
		{"dropper_id", func(r *trials.Dosing) any { return &r.DropperID }},
		{"direction", func(r *trials.Dosing) any { return &r.Direction }},
		{"right_step", func(r *trials.Dosing) any { return &r.Right }},
		{"past_step", func(r *trials.Dosing) any { return &r.Past }},
		{"stopped_at", func(r *trials.Dosing) any { return &r.Stopped }},
		{"at", func(r *trials.Dosing) any { return maybeMoment{&r.At} }},
	},
}

// litres keeps a list of volumes as JSON text.
type litres struct{ list *[]float64 }

// Value implements driver.Valuer.
func (v litres) Value() (driver.Value, error) {
	text, err := json.Marshal(*v.list)
	return string(text), err
}

// Scan implements sql.Scanner.
func (v litres) Scan(from any) error {
	text, ok := from.(string)
	if !ok {
		return fmt.Errorf("a list of volumes is stored as %T", from)
	}
	return json.Unmarshal([]byte(text), v.list)
}
