// Package store keeps the notebook in one SQLite file and is the only package
// that knows SQL.
//
// Open makes the file if it is not there, brings an older one up to date
// (after writing a copy beside it) and refuses a file that is not a hedgerow
// notebook or was written by a newer version. Reads give whole records of
// package trials; a write is one transaction, recorded in a journal so that it
// can be taken back.
//
// Units are in the column names, times are RFC 3339 UTC text and NULL means
// not known.
package store
