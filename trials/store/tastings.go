package store

import "hedgerow/trials"

// tasters is the layout of table taster.
var tasters = table[trials.Taster]{
	name:  "taster",
	order: "name",
	columns: []column[trials.Taster]{
		{"id", func(r *trials.Taster) any { return &r.ID }},
		{"name", func(r *trials.Taster) any { return &r.Name }},
		{"created_at", func(r *trials.Taster) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Taster) any { return moment{&r.ChangedAt} }},
		{"note", func(r *trials.Taster) any { return &r.Note }},
	},
}

// tastings is the layout of table tasting.
var tastings = table[trials.Tasting]{
	name:  "tasting",
	order: "at, name",
	columns: []column[trials.Tasting]{
		{"id", func(r *trials.Tasting) any { return &r.ID }},
		{"name", func(r *trials.Tasting) any { return &r.Name }},
		{"created_at", func(r *trials.Tasting) any { return moment{&r.CreatedAt} }},
		{"changed_at", func(r *trials.Tasting) any { return moment{&r.ChangedAt} }},
		{"at", func(r *trials.Tasting) any { return moment{&r.At} }},
		{"attributes", func(r *trials.Tasting) any { return words{&r.Attributes} }},
		{"blind", func(r *trials.Tasting) any { return &r.Blind }},
		{"closed_at", func(r *trials.Tasting) any { return maybeMoment{&r.ClosedAt} }},
		{"peeked_at", func(r *trials.Tasting) any { return maybeMoment{&r.PeekedAt} }},
		{"seed", func(r *trials.Tasting) any { return &r.Seed }},
		{"flight_size", func(r *trials.Tasting) any { return &r.FlightSize }},
		{"note", func(r *trials.Tasting) any { return &r.Note }},
		{"alone", func(r *trials.Tasting) any { return &r.Alone }},
		{"places_read_at", func(r *trials.Tasting) any { return maybeMoment{&r.PlacesReadAt} }},
	},
}

// marks is the layout of table mark.
var marks = table[trials.Mark]{
	name:  "mark",
	order: "at, id",
	columns: []column[trials.Mark]{
		{"id", func(r *trials.Mark) any { return &r.ID }},
		{"tasting_id", func(r *trials.Mark) any { return &r.TastingID }},
		{"kind", func(r *trials.Mark) any { return &r.Kind }},
		{"at", func(r *trials.Mark) any { return moment{&r.At} }},
		{"count", func(r *trials.Mark) any { return &r.Count }},
	},
}

// servings is the layout of table serving.
var servings = table[trials.Serving]{
	name:  "serving",
	order: "tasting_id, code",
	columns: []column[trials.Serving]{
		{"id", func(r *trials.Serving) any { return &r.ID }},
		{"tasting_id", func(r *trials.Serving) any { return &r.TastingID }},
		{"batch_id", func(r *trials.Serving) any { return &r.BatchID }},
		{"code", func(r *trials.Serving) any { return &r.Code }},
		{"repeat", func(r *trials.Serving) any { return &r.Repeat }},
	},
}

// places is the layout of table place.
var places = table[trials.Place]{
	name:  "place",
	order: "tasting_id, taster_id, position",
	columns: []column[trials.Place]{
		{"id", func(r *trials.Place) any { return &r.ID }},
		{"tasting_id", func(r *trials.Place) any { return &r.TastingID }},
		{"taster_id", func(r *trials.Place) any { return &r.TasterID }},
		{"serving_id", func(r *trials.Place) any { return &r.ServingID }},
		{"position", func(r *trials.Place) any { return &r.Position }},
	},
}

// scores is the layout of table score.
var scores = table[trials.Score]{
	name:  "score",
	order: "tasting_id, at, id",
	columns: []column[trials.Score]{
		{"id", func(r *trials.Score) any { return &r.ID }},
		{"tasting_id", func(r *trials.Score) any { return shared{&r.TastingID} }},
		{"serving_id", func(r *trials.Score) any { return shared{&r.ServingID} }},
		{"taster_id", func(r *trials.Score) any { return shared{&r.TasterID} }},
		{"attribute", func(r *trials.Score) any { return shared{&r.Attribute} }},
		{"intensity", func(r *trials.Score) any { return &r.Intensity }},
		{"vote", func(r *trials.Score) any { return &r.Vote }},
		{"liking", func(r *trials.Score) any { return &r.Liking }},
		{"position", func(r *trials.Score) any { return &r.Position }},
		{"at", func(r *trials.Score) any { return moment{&r.At} }},
	},
}

// tasterNotes is the layout of table taster_note.
var tasterNotes = table[trials.TasterNote]{
	name:  "taster_note",
	order: "at, id",
	columns: []column[trials.TasterNote]{
		{"id", func(r *trials.TasterNote) any { return &r.ID }},
		{"tasting_id", func(r *trials.TasterNote) any { return &r.TastingID }},
		{"serving_id", func(r *trials.TasterNote) any { return &r.ServingID }},
		{"taster_id", func(r *trials.TasterNote) any { return &r.TasterID }},
		{"at", func(r *trials.TasterNote) any { return moment{&r.At} }},
		{"text", func(r *trials.TasterNote) any { return &r.Text }},
	},
}
