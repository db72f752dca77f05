ALTER TABLE entries ADD COLUMN mark TEXT CHECK (mark IS NULL OR length(mark) BETWEEN 1 AND 80);
CREATE UNIQUE INDEX entries_mark ON entries (mark) WHERE mark IS NOT NULL;
