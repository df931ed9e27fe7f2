package store

import "hedgerow/trials"

// extracts is the layout of table extract.
var extracts = table[trials.Extract]{
	name:  "extract",
	order: "made_at, name",
	columns: []column[trials.Extract]{
		{"id", func(r *trials.Extract) any { return &r.ID }},
		{"name", func(r *trials.Extract) any { return &r.Name }},
		{"created_at", func(r *trials.Extract) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Extract) any { return moment{&r.ChangedAt} }},
		{"made_at", func(r *trials.Extract) any { return moment{&r.MadeAt} }},
		{"material_key", func(r *trials.Extract) any { return &r.MaterialKey }},
		{"method", func(r *trials.Extract) any { return &r.Method }},
		{"form", func(r *trials.Extract) any { return &r.Form }},
		{"mass_g", func(r *trials.Extract) any { return &r.MassG }},
		{"moisture_pct", func(r *trials.Extract) any { return &r.MoisturePct }},
		{"spirit_pct", func(r *trials.Extract) any { return &r.SpiritPct }},
		{"solids_g_per_l", func(r *trials.Extract) any { return &r.SolidsGPerL }},
		{"lot", func(r *trials.Extract) any { return &r.Lot }},
		{"note", func(r *trials.Extract) any { return &r.Note }},
	},
}

// passRow is a pass with its extract and its place among the passes.
type passRow struct {
	trials.Pass
	ExtractID string
	Place     int
}

// passes is the layout of table pass.
var passes = table[passRow]{
	name:  "pass",
	order: "extract_id, place",
	columns: []column[passRow]{
		{"id", func(r *passRow) any { return &r.ID }},
		{"extract_id", func(r *passRow) any { return &r.ExtractID }},
		{"place", func(r *passRow) any { return &r.Place }},
		{"volume_l", func(r *passRow) any { return &r.VolumeL }},
		{"volume_temp_c", func(r *passRow) any { return &r.VolumeTempC }},
		{"start_c", func(r *passRow) any { return &r.StartC }},
		{"end_c", func(r *passRow) any { return &r.EndC }},
		{"curve", func(r *passRow) any { return &r.Curve }},
		{"minutes", func(r *passRow) any { return &r.Minutes }},
		{"agitation", func(r *passRow) any { return &r.Agitation }},
		{"in_bag", func(r *passRow) any { return &r.InBag }},
		{"separation", func(r *passRow) any { return &r.Separation }},
		{"recovered_l", func(r *passRow) any { return &r.RecoveredL }},
		{"held_l", func(r *passRow) any { return &r.HeldL }},
		{"spent_g", func(r *passRow) any { return &r.SpentG }},
		{"tea_sg", func(r *passRow) any { return &r.TeaSG }},
		{"tea_sg_limit", func(r *passRow) any { return &r.TeaSGLimit }},
		{"water_sg", func(r *passRow) any { return &r.WaterSG }},
		{"tea_brix", func(r *passRow) any { return &r.TeaBrix }},
		{"tea_ph", func(r *passRow) any { return &r.TeaPH }},
		{"ended_at", func(r *passRow) any { return maybeMoment{&r.EndedAt} }},
		{"logged_at", func(r *passRow) any { return moment{&r.LoggedAt} }},
	},
}

// topUpRow is a top-up with its extract and its place among the top-ups.
type topUpRow struct {
	trials.TopUp
	ExtractID string
	Place     int
}

// topUps is the layout of table top_up.
var topUps = table[topUpRow]{
	name:  "top_up",
	order: "extract_id, place",
	columns: []column[topUpRow]{
		{"id", func(r *topUpRow) any { return &r.ID }},
		{"extract_id", func(r *topUpRow) any { return &r.ExtractID }},
		{"place", func(r *topUpRow) any { return &r.Place }},
		{"at", func(r *topUpRow) any { return moment{&r.At} }},
		{"volume_l", func(r *topUpRow) any { return &r.VolumeL }},
	},
}
