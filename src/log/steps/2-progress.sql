CREATE TABLE progress (
  revision INTEGER PRIMARY KEY AUTOINCREMENT,
  step TEXT NOT NULL CHECK (length(step) BETWEEN 1 AND 40),
  at INTEGER NOT NULL CHECK (at BETWEEN 0 AND 1000000000),
  state TEXT NOT NULL CHECK (length(state) <= 8000),
  written INTEGER NOT NULL CHECK (written BETWEEN -62135596800000 AND 253402300799999)
) STRICT;
CREATE INDEX progress_step ON progress (step, revision);
CREATE TRIGGER progress_stays BEFORE DELETE ON progress BEGIN SELECT RAISE(ABORT, 'progress is never destroyed'); END;
CREATE TRIGGER progress_holds BEFORE UPDATE ON progress BEGIN SELECT RAISE(ABORT, 'progress is never changed'); END;
