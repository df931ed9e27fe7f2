package store

import "context"

// Write is a Change that reads nothing first.
func (s *Store) Write(ctx context.Context, what string, f func(*Tx) error) error {
	c, err := s.Begin(ctx)
	if err != nil {
		return err
	}
	return c.Write(what, f)
}
