package store

import "hedgerow/trials"

// claims is the layout of table claim.
var claims = table[trials.Claim]{
	name:  "claim",
	order: "created_at, name",
	columns: []column[trials.Claim]{
		{"id", func(r *trials.Claim) any { return &r.ID }},
		{"name", func(r *trials.Claim) any { return &r.Name }},
		{"created_at", func(r *trials.Claim) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Claim) any { return moment{&r.ChangedAt} }},
		{"material_key", func(r *trials.Claim) any { return &r.MaterialKey }},
		{"as_written", func(r *trials.Claim) any { return &r.AsWritten }},
		{"basis", func(r *trials.Claim) any { return &r.Basis }},
		{"per_tea", func(r *trials.Claim) any { return &r.PerTea }},
		{"low_g_per_l", func(r *trials.Claim) any { return &r.LowGPerL }},
		{"high_g_per_l", func(r *trials.Claim) any { return &r.HighGPerL }},
		{"source", func(r *trials.Claim) any { return &r.Source }},
		{"note", func(r *trials.Claim) any { return &r.Note }},
	},
}

// materials is the layout of table material.
var materials = table[trials.OwnMaterial]{
	name:  "material",
	order: "name",
	columns: []column[trials.OwnMaterial]{
		{"id", func(r *trials.OwnMaterial) any { return &r.ID }},
		{"name", func(r *trials.OwnMaterial) any { return &r.Name }},
		{"created_at", func(r *trials.OwnMaterial) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.OwnMaterial) any { return moment{&r.ChangedAt} }},
		{"common_name", func(r *trials.OwnMaterial) any { return &r.CommonName }},
		{"part_used", func(r *trials.OwnMaterial) any { return &r.PartUsed }},
		{"category", func(r *trials.OwnMaterial) any { return &r.Category }},
		{"class", func(r *trials.OwnMaterial) any { return &r.Class }},
		{"hard_whole", func(r *trials.OwnMaterial) any { return &r.HardWhole }},
		{"moisture_pct", func(r *trials.OwnMaterial) any { return &r.MoisturePct }},
		{"sugar_pct", func(r *trials.OwnMaterial) any { return &r.SugarPct }},
		{"grams_per_tsp", func(r *trials.OwnMaterial) any { return &r.GramsPerTsp }},
		{"note", func(r *trials.OwnMaterial) any { return &r.Note }},
		{"reason", func(r *trials.OwnMaterial) any { return &r.Reason }},
	},
}
