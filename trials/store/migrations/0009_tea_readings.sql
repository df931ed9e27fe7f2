-- How good the gravity of a tea is, what its hydrometer shows in plain water, and
-- what a refractometer shows of the tea.

ALTER TABLE pass ADD COLUMN tea_sg_limit REAL CHECK (tea_sg_limit > 0);
ALTER TABLE pass ADD COLUMN water_sg REAL CHECK (water_sg BETWEEN 0.97 AND 1.20);
ALTER TABLE pass ADD COLUMN tea_brix REAL CHECK (tea_brix >= 0);
