-- Dosing to taste: an extract is dropped into glasses of a beer until it is right, and
-- on until it is too much. What was dropped in stands in steps; doses are worked out.

CREATE TABLE to_taste (
  id          TEXT PRIMARY KEY,
  tasting_id  TEXT NOT NULL UNIQUE REFERENCES tasting (id) ON DELETE CASCADE,
  batch_id    TEXT NOT NULL REFERENCES batch (id) ON DELETE RESTRICT,
  extract_id  TEXT NOT NULL REFERENCES extract (id) ON DELETE RESTRICT,
  used        INTEGER NOT NULL CHECK (used IN (0, 1)),
  step_factor REAL NOT NULL CHECK (step_factor >= 1.05 AND step_factor <= 3),
  glass_l     REAL NOT NULL CHECK (glass_l > 0),
  sip_l       REAL NOT NULL CHECK (sip_l > 0),
  up_l        TEXT NOT NULL, -- from the dropper at each step, JSON
  down_l      REAL NOT NULL CHECK (down_l > 0),
  fill_l      REAL NOT NULL CHECK (fill_l > 0),
  down_steps  INTEGER NOT NULL CHECK (down_steps > 0)
) STRICT;

CREATE TABLE dropper (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  code       TEXT NOT NULL,
  strength   INTEGER NOT NULL CHECK (strength IN (1, 2)),
  UNIQUE (tasting_id, code)
) STRICT;

CREATE TABLE dosing (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  taster_id  TEXT NOT NULL REFERENCES taster (id) ON DELETE RESTRICT,
  number     INTEGER NOT NULL CHECK (number > 0),
  dropper_id TEXT NOT NULL REFERENCES dropper (id) ON DELETE CASCADE,
  direction  TEXT NOT NULL CHECK (direction IN ('up', 'down')),
  right_step INTEGER CHECK (right_step > 0),
  past_step  INTEGER CHECK (past_step > right_step),
  stopped_at INTEGER CHECK (stopped_at > 0),
  at         TEXT,
  UNIQUE (tasting_id, taster_id, number)
) STRICT;
