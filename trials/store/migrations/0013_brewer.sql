-- Whose brew a batch is: empty for the notebook's own brewer, else the id of the
-- notebook that it came from in a merge. Each notebook has an id of its own, by which
-- its brews are known again wherever they go.
ALTER TABLE batch ADD COLUMN brewer TEXT NOT NULL DEFAULT '';
INSERT INTO setting (key, value, changed_at)
  VALUES ('notebook-id', lower(hex(randomblob(16))), strftime('%Y-%m-%dT%H:%M:%S', 'now') || '.000000000Z');
