// Package steeps works out what a steep gives, and a plant put straight in: it
// turns extracts, additions and requests into steeps of package extraction and
// names what comes out as a Yield, with the liquid of a jug followed from pour to
// pour. It stores nothing and knows nothing of the account of a batch.
package steeps
