-- The wort in the kettle as a plant went in, where volume and gravity of the batch
-- were read before it did.
ALTER TABLE addition ADD COLUMN before_boil_l REAL CHECK (before_boil_l > 0);
