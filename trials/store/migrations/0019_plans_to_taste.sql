-- A plan can be of an evening of dosing to taste.

CREATE TABLE plan_new (
  id           TEXT PRIMARY KEY,
  name         TEXT NOT NULL UNIQUE,
  created_at   TEXT NOT NULL,
  changed_at   TEXT NOT NULL,
  kind         TEXT NOT NULL CHECK (kind IN ('bench', 'split', 'batch', 'taste')),
  material_key TEXT NOT NULL,
  batch_id     TEXT NOT NULL REFERENCES batch (id) ON DELETE CASCADE,
  extract_id   TEXT REFERENCES extract (id) ON DELETE SET NULL,
  tasting_id   TEXT REFERENCES tasting (id) ON DELETE SET NULL,
  at           TEXT NOT NULL,
  done_at      TEXT,
  design       TEXT NOT NULL, -- the amounts as planned, JSON
  digest       INTEGER
) STRICT;

INSERT INTO plan_new (id, name, created_at, changed_at, kind, material_key, batch_id, extract_id, tasting_id, at,
  done_at, design, digest)
SELECT id, name, created_at, changed_at, kind, material_key, batch_id, extract_id, tasting_id, at, done_at, design,
  digest FROM plan;
DROP TABLE plan;
ALTER TABLE plan_new RENAME TO plan;
