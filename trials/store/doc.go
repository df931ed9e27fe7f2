// Package store keeps the notebook in one SQLite file and is the only package
// that knows SQL.
//
// Open makes the file if it is not there, brings an older one up to date
// (after writing a copy beside it) and refuses a file that is not a hedgerow
// notebook or was written by a newer version. Reads give whole records of
// package trials as they were at one moment; a write is one transaction, and a
// Change reads before it writes in the same one.
//
// The journal holds each row that a write changed as it was before and after, as
// data: undo makes its statements of the tables and columns that the program
// knows, and takes nothing but values from the file. Triggers fill it, so that
// it misses nothing that foreign keys do. A new table or column needs a
// migration and a place in the layouts of this package; nothing else.
//
// Units are in the column names, times are RFC 3339 UTC text and NULL means
// not known.
package store
