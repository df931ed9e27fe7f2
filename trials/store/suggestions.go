package store

import (
	"context"

	"hedgerow/trials"
)

// suggestions is the layout of table suggestion.
var suggestions = table[trials.Suggestion]{
	name:  "suggestion",
	order: "at, material_key",
	columns: []column[trials.Suggestion]{
		{"id", func(r *trials.Suggestion) any { return &r.ID }},
		{"material_key", func(r *trials.Suggestion) any { return &r.MaterialKey }},
		{"at", func(r *trials.Suggestion) any { return moment{&r.At} }},
		{"text", func(r *trials.Suggestion) any { return &r.Text }},
		{"verdict", func(r *trials.Suggestion) any { return &r.Verdict }},
		{"method", func(r *trials.Suggestion) any { return &r.Method }},
		{"dose_g_per_l", func(r *trials.Suggestion) any { return &r.DoseGPerL }},
		{"volume_l", func(r *trials.Suggestion) any { return &r.VolumeL }},
	},
}

// Suggested keeps a suggestion in the place of the one that was given before for its
// material. It is no write that undo could take back.
func (s *Store) Suggested(ctx context.Context, given trials.Suggestion) error {
	c, err := s.Begin(ctx)
	if err != nil {
		return err
	}
	defer c.Rollback()
	given.ID = trials.NewID()
	return s.explain(inTurn(
		func() error {
			_, err := c.tx.ExecContext(ctx, "DELETE FROM suggestion WHERE material_key = ?", given.MaterialKey)
			return err
		},
		func() error { return suggestions.insert(ctx, c.tx, &given) },
		c.tx.Commit,
	))
}
