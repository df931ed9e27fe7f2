-- A plant of the stop list is kept only with the reason that was given for it.

ALTER TABLE material ADD COLUMN reason TEXT NOT NULL DEFAULT '';
