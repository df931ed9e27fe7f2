// Package exchange takes the records of a notebook out and brings them in: as one
// JSON file that holds everything, and record by record into a notebook that has
// records of its own.
//
// The file, version 1:
//
//	{"format": "hedgerow-export", "version": 1, "notebook": ID, "records": {KIND: [RECORD, ...], ...}}
//
// ID is that of the notebook, by which its brews are known again. The kinds are
// material, meter, calibration, batch, loss, packaging, batch_note, extract (with its
// passes and top-ups), addition, reading, claim, taster, tasting, serving, place,
// score, taster_note, mark, plan, to_taste, dropper, dosing and setting. The keys of a record are its columns, with
// the SI unit in the key; times are RFC 3339 in UTC, null is not known. Records stand
// in the order of their ids, so that the same records make the same bytes.
//
// A reader refuses what it does not know: another format, a later version, a kind or
// a key that is new. What comes in is checked as typed input is.
package exchange
