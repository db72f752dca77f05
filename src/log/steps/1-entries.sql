CREATE TABLE entries (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  act TEXT NOT NULL CHECK (act IN ('add', 'fix', 'undo')),
  kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 40),
  target INTEGER REFERENCES entries (id),
  written INTEGER NOT NULL CHECK (written BETWEEN -62135596800000 AND 253402300799999),
  happened INTEGER NOT NULL CHECK (happened BETWEEN -62135596800000 AND 253402300799999),
  CHECK ((act = 'add') = (target IS NULL))
) STRICT;
CREATE TABLE figures (
  entry INTEGER NOT NULL REFERENCES entries (id),
  field TEXT NOT NULL CHECK (length(field) BETWEEN 1 AND 40),
  nth INTEGER NOT NULL CHECK (nth BETWEEN 0 AND 999),
  si REAL CHECK (si IS NULL OR abs(si) < 1e300),
  typed TEXT NOT NULL CHECK (length(typed) BETWEEN 1 AND 4000),
  PRIMARY KEY (entry, field, nth)
) STRICT, WITHOUT ROWID;
CREATE INDEX entries_target ON entries (target) WHERE target IS NOT NULL;
CREATE TRIGGER entries_stay BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never destroyed'); END;
CREATE TRIGGER entries_hold BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER figures_stay BEFORE DELETE ON figures BEGIN SELECT RAISE(ABORT, 'entries are never destroyed'); END;
CREATE TRIGGER figures_hold BEFORE UPDATE ON figures BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_look_back BEFORE INSERT ON entries WHEN NEW.target IS NOT NULL
BEGIN
  SELECT RAISE(ABORT, 'no such entry') WHERE NOT EXISTS (SELECT 1 FROM entries WHERE id = NEW.target);
END;
