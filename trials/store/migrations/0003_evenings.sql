-- Serving orders and plans. An order is a row for each glass of a taster; a plan
-- keeps what was worked out beforehand beside what was really done.

ALTER TABLE tasting ADD COLUMN flight_size INTEGER NOT NULL DEFAULT 6 CHECK (flight_size > 0);

CREATE TABLE place (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  taster_id  TEXT NOT NULL REFERENCES taster (id) ON DELETE RESTRICT,
  serving_id TEXT NOT NULL REFERENCES serving (id) ON DELETE CASCADE,
  position   INTEGER NOT NULL CHECK (position > 0),
  UNIQUE (tasting_id, taster_id, position),
  UNIQUE (serving_id, taster_id)
) STRICT;

CREATE TABLE plan (
  id           TEXT PRIMARY KEY,
  name         TEXT NOT NULL UNIQUE,
  created_at   TEXT NOT NULL,
  changed_at   TEXT NOT NULL,
  kind         TEXT NOT NULL CHECK (kind IN ('bench', 'split', 'batch')),
  material_key TEXT NOT NULL,
  batch_id     TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  extract_id   TEXT REFERENCES extract (id) ON DELETE SET NULL,
  tasting_id   TEXT REFERENCES tasting (id) ON DELETE SET NULL,
  at           TEXT NOT NULL,
  done_at      TEXT,
  design       TEXT NOT NULL -- the amounts as planned, JSON
) STRICT;
