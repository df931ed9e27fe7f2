-- The notebook as it first was. Units are in the column names; times are
-- RFC 3339 UTC text; NULL means not known.

CREATE TABLE setting (
  key        TEXT PRIMARY KEY,
  value      TEXT NOT NULL,
  changed_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE batch (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL UNIQUE,
  created_at TEXT NOT NULL,
  changed_at TEXT NOT NULL,
  parent_id  TEXT REFERENCES batch (id) ON DELETE RESTRICT,
  kind       TEXT NOT NULL CHECK (kind IN ('batch', 'jar', 'glass')),
  started_at TEXT NOT NULL,
  volume_l   REAL NOT NULL CHECK (volume_l > 0),
  og         REAL CHECK (og BETWEEN 0.97 AND 1.20),
  fg         REAL CHECK (fg BETWEEN 0.97 AND 1.20),
  ibu        REAL CHECK (ibu >= 0),
  srm        REAL CHECK (srm >= 0),
  rated_bar  REAL CHECK (rated_bar > 0),
  style      TEXT NOT NULL,
  note       TEXT NOT NULL
) STRICT;

CREATE TABLE loss (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL UNIQUE,
  created_at TEXT NOT NULL,
  changed_at TEXT NOT NULL,
  batch_id   TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  at         TEXT NOT NULL,
  kind       TEXT NOT NULL CHECK (kind IN ('sample', 'trub', 'transfer', 'evaporation')),
  volume_l   REAL NOT NULL CHECK (volume_l > 0),
  note       TEXT NOT NULL
) STRICT;

CREATE TABLE packaging (
  id             TEXT PRIMARY KEY,
  name           TEXT NOT NULL UNIQUE,
  created_at     TEXT NOT NULL,
  changed_at     TEXT NOT NULL,
  batch_id       TEXT NOT NULL UNIQUE REFERENCES batch (id) ON DELETE CASCADE,
  at             TEXT NOT NULL,
  highest_temp_c REAL,
  note           TEXT NOT NULL
) STRICT;

CREATE TABLE batch_note (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL UNIQUE,
  created_at TEXT NOT NULL,
  changed_at TEXT NOT NULL,
  batch_id   TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  at         TEXT NOT NULL,
  text       TEXT NOT NULL
) STRICT;

CREATE TABLE extract (
  id             TEXT PRIMARY KEY,
  name           TEXT NOT NULL UNIQUE,
  created_at     TEXT NOT NULL,
  changed_at     TEXT NOT NULL,
  made_at        TEXT NOT NULL,
  material_key   TEXT NOT NULL,
  method         TEXT NOT NULL CHECK (method IN ('tea', 'cold-tea', 'tincture')),
  form           TEXT NOT NULL,
  mass_g         REAL NOT NULL CHECK (mass_g > 0),
  moisture_pct   REAL CHECK (moisture_pct >= 0 AND moisture_pct < 100),
  spirit_pct     REAL CHECK (spirit_pct BETWEEN 0 AND 100),
  solids_g_per_l REAL CHECK (solids_g_per_l >= 0),
  lot            TEXT NOT NULL,
  note           TEXT NOT NULL
) STRICT;

CREATE TABLE pass (
  id            TEXT PRIMARY KEY,
  extract_id    TEXT NOT NULL REFERENCES extract (id) ON DELETE CASCADE,
  place         INTEGER NOT NULL CHECK (place > 0),
  volume_l      REAL NOT NULL CHECK (volume_l > 0),
  volume_temp_c REAL,
  start_c       REAL NOT NULL CHECK (start_c BETWEEN -20 AND 110),
  end_c         REAL CHECK (end_c BETWEEN -20 AND 110),
  curve         TEXT NOT NULL,
  minutes       REAL NOT NULL CHECK (minutes > 0),
  agitation     TEXT NOT NULL,
  in_bag        INTEGER NOT NULL CHECK (in_bag IN (0, 1)),
  separation    TEXT NOT NULL CHECK (separation IN ('drained', 'squeezed', 'pressed')),
  recovered_l   REAL CHECK (recovered_l >= 0),
  held_l        REAL CHECK (held_l >= 0),
  spent_g       REAL CHECK (spent_g >= 0),
  tea_sg        REAL CHECK (tea_sg BETWEEN 0.97 AND 1.20),
  tea_ph        REAL CHECK (tea_ph BETWEEN 0 AND 14),
  UNIQUE (extract_id, place)
) STRICT;

CREATE TABLE addition (
  id             TEXT PRIMARY KEY,
  name           TEXT NOT NULL UNIQUE,
  created_at     TEXT NOT NULL,
  changed_at     TEXT NOT NULL,
  batch_id       TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  at             TEXT NOT NULL,
  stage          TEXT NOT NULL CHECK (stage IN ('boil', 'flame-out', 'primary', 'secondary', 'packaging', 'glass')),
  lot            TEXT NOT NULL,
  note           TEXT NOT NULL,
  material_key   TEXT NOT NULL,
  method         TEXT NOT NULL,
  form           TEXT NOT NULL,
  mass_g         REAL CHECK (mass_g > 0),
  moisture_pct   REAL CHECK (moisture_pct >= 0 AND moisture_pct < 100),
  minutes        REAL CHECK (minutes > 0),
  start_c        REAL CHECK (start_c BETWEEN -20 AND 110),
  end_c          REAL CHECK (end_c BETWEEN -20 AND 110),
  boil_off_l     REAL CHECK (boil_off_l >= 0),
  in_bag         INTEGER NOT NULL CHECK (in_bag IN (0, 1)),
  agitation      TEXT NOT NULL,
  retain_kg_kg   REAL CHECK (retain_kg_kg >= 0),
  extract_id     TEXT REFERENCES extract (id) ON DELETE RESTRICT,
  poured_l       REAL CHECK (poured_l > 0),
  liquid_kind    TEXT NOT NULL,
  volume_l       REAL CHECK (volume_l > 0),
  volume_temp_c  REAL,
  liquid_mass_g  REAL CHECK (liquid_mass_g > 0),
  strength_pct   REAL CHECK (strength_pct BETWEEN 0 AND 100),
  solids_g_per_l REAL CHECK (solids_g_per_l >= 0),
  plato          REAL,
  liquid_sg      REAL CHECK (liquid_sg BETWEEN 0.97 AND 1.20),
  liquid_og      REAL CHECK (liquid_og BETWEEN 0.97 AND 1.20),
  ferments_pct   REAL CHECK (ferments_pct BETWEEN 0 AND 100),
  volume_limit_l REAL CHECK (volume_limit_l >= 0)
) STRICT;

CREATE TABLE meter (
  id           TEXT PRIMARY KEY,
  name         TEXT NOT NULL UNIQUE,
  created_at   TEXT NOT NULL,
  changed_at   TEXT NOT NULL,
  kind         TEXT NOT NULL CHECK (kind IN ('hydrometer', 'ph')),
  scale_temp_c REAL,
  zero_error   REAL,
  note         TEXT NOT NULL
) STRICT;

CREATE TABLE calibration (
  id            TEXT PRIMARY KEY,
  name          TEXT NOT NULL UNIQUE,
  created_at    TEXT NOT NULL,
  changed_at    TEXT NOT NULL,
  meter_id      TEXT NOT NULL REFERENCES meter (id) ON DELETE CASCADE,
  at            TEXT NOT NULL,
  buffer1       REAL NOT NULL,
  read1         REAL NOT NULL,
  buffer2       REAL NOT NULL,
  read2         REAL NOT NULL,
  buffer_temp_c REAL,
  untouched     INTEGER NOT NULL CHECK (untouched IN (0, 1)),
  note          TEXT NOT NULL
) STRICT;

CREATE TABLE reading (
  id            TEXT PRIMARY KEY,
  name          TEXT NOT NULL UNIQUE,
  created_at    TEXT NOT NULL,
  changed_at    TEXT NOT NULL,
  batch_id      TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  at            TEXT NOT NULL,
  sg            REAL CHECK (sg BETWEEN 0.97 AND 1.20),
  sample_temp_c REAL,
  ph            REAL CHECK (ph BETWEEN 0 AND 14),
  beer_temp_c   REAL,
  volume_l      REAL CHECK (volume_l > 0),
  meter_id      TEXT REFERENCES meter (id) ON DELETE SET NULL,
  note          TEXT NOT NULL
) STRICT;

CREATE TABLE claim (
  id           TEXT PRIMARY KEY,
  name         TEXT NOT NULL UNIQUE,
  created_at   TEXT NOT NULL,
  changed_at   TEXT NOT NULL,
  material_key TEXT NOT NULL,
  as_written   TEXT NOT NULL,
  basis        TEXT NOT NULL,
  per_tea      INTEGER NOT NULL CHECK (per_tea IN (0, 1)),
  low_g_per_l  REAL CHECK (low_g_per_l >= 0),
  high_g_per_l REAL CHECK (high_g_per_l >= low_g_per_l),
  source       TEXT NOT NULL,
  note         TEXT NOT NULL
) STRICT;

CREATE TABLE material (
  id            TEXT PRIMARY KEY,
  name          TEXT NOT NULL UNIQUE,
  created_at    TEXT NOT NULL,
  changed_at    TEXT NOT NULL,
  common_name   TEXT NOT NULL,
  part_used     TEXT NOT NULL,
  category      TEXT NOT NULL,
  class         TEXT NOT NULL,
  hard_whole    INTEGER NOT NULL CHECK (hard_whole IN (0, 1)),
  moisture_pct  REAL CHECK (moisture_pct >= 0 AND moisture_pct < 100),
  sugar_pct     REAL CHECK (sugar_pct BETWEEN 0 AND 100),
  grams_per_tsp REAL CHECK (grams_per_tsp > 0),
  note          TEXT NOT NULL
) STRICT;

CREATE TABLE taster (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL UNIQUE,
  created_at TEXT NOT NULL,
  changed_at TEXT NOT NULL,
  note       TEXT NOT NULL
) STRICT;

CREATE TABLE tasting (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL UNIQUE,
  created_at TEXT NOT NULL,
  changed_at TEXT NOT NULL,
  at         TEXT NOT NULL,
  attributes TEXT NOT NULL, -- JSON list of words
  blind      INTEGER NOT NULL CHECK (blind IN (0, 1)),
  closed_at  TEXT,
  peeked_at  TEXT,
  seed       INTEGER NOT NULL,
  note       TEXT NOT NULL
) STRICT;

CREATE TABLE serving (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  batch_id   TEXT NOT NULL REFERENCES batch (id) ON DELETE RESTRICT,
  code       TEXT NOT NULL,
  repeat     INTEGER NOT NULL CHECK (repeat IN (0, 1)),
  UNIQUE (tasting_id, code)
) STRICT;

CREATE TABLE score (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  serving_id TEXT NOT NULL REFERENCES serving (id) ON DELETE CASCADE,
  taster_id  TEXT NOT NULL REFERENCES taster (id) ON DELETE RESTRICT,
  attribute  TEXT NOT NULL,
  intensity  REAL CHECK (intensity BETWEEN 0 AND 10),
  vote       INTEGER CHECK (vote IN (-1, 0, 1)),
  liking     REAL CHECK (liking BETWEEN 1 AND 9),
  position   INTEGER CHECK (position > 0),
  at         TEXT NOT NULL,
  UNIQUE (serving_id, taster_id, attribute)
) STRICT;

CREATE TABLE taster_note (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL REFERENCES tasting (id) ON DELETE CASCADE,
  serving_id TEXT NOT NULL REFERENCES serving (id) ON DELETE CASCADE,
  taster_id  TEXT NOT NULL REFERENCES taster (id) ON DELETE RESTRICT,
  at         TEXT NOT NULL,
  text       TEXT NOT NULL
) STRICT;

-- The journal: for each write, the statements that take it back.
CREATE TABLE journal_write (
  write_id INTEGER PRIMARY KEY,
  at       TEXT NOT NULL,
  what     TEXT NOT NULL
) STRICT;

CREATE TABLE journal_step (
  step_id  INTEGER PRIMARY KEY,
  write_id INTEGER NOT NULL REFERENCES journal_write (write_id) ON DELETE CASCADE,
  sql      TEXT NOT NULL
) STRICT;

CREATE INDEX loss_batch ON loss (batch_id);
CREATE INDEX addition_batch ON addition (batch_id);
CREATE INDEX reading_batch ON reading (batch_id);
CREATE INDEX pass_extract ON pass (extract_id);
CREATE INDEX serving_tasting ON serving (tasting_id);
CREATE INDEX score_tasting ON score (tasting_id, serving_id, attribute);
CREATE INDEX journal_step_write ON journal_step (write_id);
