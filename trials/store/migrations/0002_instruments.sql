-- Instruments and what an addition is known by: how sure a hydrometer's zero is,
-- the hydrometer an original gravity was read with, whether a pH meter was set
-- to the buffers, the warmest place of a package, the share that fruit gives up,
-- and the limits that were typed with the figures of an addition.

ALTER TABLE meter ADD COLUMN zero_limit REAL CHECK (zero_limit >= 0);

ALTER TABLE calibration ADD COLUMN adjusted INTEGER NOT NULL DEFAULT 0 CHECK (adjusted IN (0, 1));

ALTER TABLE batch ADD COLUMN og_meter_id TEXT REFERENCES meter (id) ON DELETE SET NULL;
ALTER TABLE batch ADD COLUMN og_sample_temp_c REAL;

ALTER TABLE packaging ADD COLUMN storage_temp_c REAL;

ALTER TABLE addition ADD COLUMN extracted_pct REAL CHECK (extracted_pct BETWEEN 0 AND 100);
ALTER TABLE addition ADD COLUMN limits TEXT NOT NULL DEFAULT '{}'; -- half-widths by figure, JSON
