package store

import "hedgerow/trials"

// readings is the layout of table reading.
var readings = table[trials.Reading]{
	name:  "reading",
	order: "at, name",
	columns: []column[trials.Reading]{
		{"id", func(r *trials.Reading) any { return &r.ID }},
		{"name", func(r *trials.Reading) any { return &r.Name }},
		{"created_at", func(r *trials.Reading) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Reading) any { return moment{&r.ChangedAt} }},
		{"batch_id", func(r *trials.Reading) any { return &r.BatchID }},
		{"at", func(r *trials.Reading) any { return moment{&r.At} }},
		{"sg", func(r *trials.Reading) any { return &r.SG }},
		{"sample_temp_c", func(r *trials.Reading) any { return &r.SampleTempC }},
		{"ph", func(r *trials.Reading) any { return &r.PH }},
		{"beer_temp_c", func(r *trials.Reading) any { return &r.BeerTempC }},
		{"volume_l", func(r *trials.Reading) any { return &r.VolumeL }},
		{"meter_id", func(r *trials.Reading) any { return &r.MeterID }},
		{"note", func(r *trials.Reading) any { return &r.Note }},
	},
}

// meters is the layout of table meter.
var meters = table[trials.Meter]{
	name:  "meter",
	order: "name",
	columns: []column[trials.Meter]{
		{"id", func(r *trials.Meter) any { return &r.ID }},
		{"name", func(r *trials.Meter) any { return &r.Name }},
		{"created_at", func(r *trials.Meter) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Meter) any { return moment{&r.ChangedAt} }},
		{"kind", func(r *trials.Meter) any { return &r.Kind }},
		{"scale_temp_c", func(r *trials.Meter) any { return &r.ScaleTempC }},
		{"zero_error", func(r *trials.Meter) any { return &r.ZeroError }},
		{"note", func(r *trials.Meter) any { return &r.Note }},
		{"zero_limit", func(r *trials.Meter) any { return &r.ZeroLimit }},
	},
}

// calibrations is the layout of table calibration.
var calibrations = table[trials.Calibration]{
	name:  "calibration",
	order: "at, name",
	columns: []column[trials.Calibration]{
		{"id", func(r *trials.Calibration) any { return &r.ID }},
		{"name", func(r *trials.Calibration) any { return &r.Name }},
		{"created_at", func(r *trials.Calibration) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Calibration) any { return moment{&r.ChangedAt} }},
		{"meter_id", func(r *trials.Calibration) any { return &r.MeterID }},
		{"at", func(r *trials.Calibration) any { return moment{&r.At} }},
		{"buffer1", func(r *trials.Calibration) any { return &r.Buffer1 }},
		{"read1", func(r *trials.Calibration) any { return &r.Read1 }},
		{"buffer2", func(r *trials.Calibration) any { return &r.Buffer2 }},
		{"read2", func(r *trials.Calibration) any { return &r.Read2 }},
		{"buffer_temp_c", func(r *trials.Calibration) any { return &r.BufferTempC }},
		{"untouched", func(r *trials.Calibration) any { return &r.Untouched }},
		{"note", func(r *trials.Calibration) any { return &r.Note }},
		{"adjusted", func(r *trials.Calibration) any { return &r.Adjusted }},
	},
}
