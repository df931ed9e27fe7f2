-- Water added to an extract after it was made, and thermometer readings of a
-- material put in itself.

CREATE TABLE top_up (
  id         TEXT PRIMARY KEY,
  extract_id TEXT NOT NULL REFERENCES extract (id) ON DELETE CASCADE,
  place      INTEGER NOT NULL CHECK (place > 0),
  at         TEXT NOT NULL,
  volume_l   REAL NOT NULL CHECK (volume_l > 0),
  UNIQUE (extract_id, place)
) STRICT;

ALTER TABLE addition ADD COLUMN curve TEXT NOT NULL DEFAULT '';
