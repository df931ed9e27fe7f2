package store

import "hedgerow/trials"

// batches is the layout of table batch.
var batches = table[trials.Batch]{
	name:  "batch",
	order: "started_at, name",
	columns: []column[trials.Batch]{
		{"id", func(r *trials.Batch) any { return &r.ID }},
		{"name", func(r *trials.Batch) any { return &r.Name }},
		{"created_at", func(r *trials.Batch) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Batch) any { return moment{&r.ChangedAt} }},
		{"parent_id", func(r *trials.Batch) any { return &r.ParentID }},
		{"kind", func(r *trials.Batch) any { return &r.Kind }},
		{"started_at", func(r *trials.Batch) any { return moment{&r.StartedAt} }},
		{"volume_l", func(r *trials.Batch) any { return &r.VolumeL }},
		{"og", func(r *trials.Batch) any { return &r.OG }},
		{"fg", func(r *trials.Batch) any { return &r.FG }},
		{"ibu", func(r *trials.Batch) any { return &r.IBU }},
		{"srm", func(r *trials.Batch) any { return &r.SRM }},
		{"rated_bar", func(r *trials.Batch) any { return &r.RatedBar }},
		{"style", func(r *trials.Batch) any { return &r.Style }},
		{"note", func(r *trials.Batch) any { return &r.Note }},
		{"og_meter_id", func(r *trials.Batch) any { return &r.OGMeterID }},
		{"og_sample_temp_c", func(r *trials.Batch) any { return &r.OGSampleTempC }},
		{"brewer", func(r *trials.Batch) any { return &r.Brewer }},
	},
}

// losses is the layout of table loss.
var losses = table[trials.Loss]{
	name:  "loss",
	order: "at, name",
	columns: []column[trials.Loss]{
		{"id", func(r *trials.Loss) any { return &r.ID }},
		{"name", func(r *trials.Loss) any { return &r.Name }},
		{"created_at", func(r *trials.Loss) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Loss) any { return moment{&r.ChangedAt} }},
		{"batch_id", func(r *trials.Loss) any { return &r.BatchID }},
		{"at", func(r *trials.Loss) any { return moment{&r.At} }},
		{"kind", func(r *trials.Loss) any { return &r.Kind }},
		{"volume_l", func(r *trials.Loss) any { return &r.VolumeL }},
		{"note", func(r *trials.Loss) any { return &r.Note }},
	},
}

// packagings is the layout of table packaging.
var packagings = table[trials.Packaging]{
	name:  "packaging",
	order: "at, name",
	columns: []column[trials.Packaging]{
		{"id", func(r *trials.Packaging) any { return &r.ID }},
		{"name", func(r *trials.Packaging) any { return &r.Name }},
		{"created_at", func(r *trials.Packaging) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Packaging) any { return moment{&r.ChangedAt} }},
		{"batch_id", func(r *trials.Packaging) any { return &r.BatchID }},
		{"at", func(r *trials.Packaging) any { return moment{&r.At} }},
		{"highest_temp_c", func(r *trials.Packaging) any { return &r.HighestTempC }},
		{"note", func(r *trials.Packaging) any { return &r.Note }},
		{"storage_temp_c", func(r *trials.Packaging) any { return &r.StorageTempC }},
	},
}

// batchNotes is the layout of table batch_note.
var batchNotes = table[trials.BatchNote]{
	name:  "batch_note",
	order: "at, name",
	columns: []column[trials.BatchNote]{
		{"id", func(r *trials.BatchNote) any { return &r.ID }},
		{"name", func(r *trials.BatchNote) any { return &r.Name }},
		{"created_at", func(r *trials.BatchNote) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.BatchNote) any { return moment{&r.ChangedAt} }},
		{"batch_id", func(r *trials.BatchNote) any { return &r.BatchID }},
		{"at", func(r *trials.BatchNote) any { return moment{&r.At} }},
		{"text", func(r *trials.BatchNote) any { return &r.Text }},
	},
}
