-- How much of what is in the stronger dropper is extract, the rest being water or
-- plain spirit: a strong extract is thinned, so that its smallest step can be measured.
ALTER TABLE to_taste ADD COLUMN share REAL NOT NULL DEFAULT 1 CHECK (share > 0 AND share <= 1);
