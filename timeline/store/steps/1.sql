-- Schema 1. Times are whole milliseconds from the recording's time zero.
-- study and recording hold one row each. A step that has been released is
-- never edited: a change of schema is a new step.
CREATE TABLE study (
  one         INTEGER PRIMARY KEY CHECK (one = 1),
  id          TEXT    NOT NULL CHECK (length(id) = 32 AND id NOT GLOB '*[^0-9a-f]*'),
  title       TEXT    NOT NULL CHECK (length(CAST(title AS BLOB)) <= 10000),
  language    TEXT    NOT NULL CHECK (length(language) BETWEEN 1 AND 64),
  stature_m   REAL    NOT NULL CHECK (stature_m > 0),
  mass_kg     REAL    NOT NULL CHECK (mass_kg > 0),
  sex         TEXT    NOT NULL CHECK (sex IN ('female', 'male')),
  revision    INTEGER NOT NULL CHECK (revision > 0),
  last_mark   INTEGER NOT NULL CHECK (last_mark >= 0),   -- the highest mark ID ever given
  last_change INTEGER NOT NULL CHECK (last_change >= 0)  -- the change that undo takes back; 0 for none
) STRICT;

CREATE TABLE recording (
  one         INTEGER PRIMARY KEY CHECK (one = 1) REFERENCES study (one),
  path        TEXT    NOT NULL CHECK (path <> ''),
  fingerprint TEXT    NOT NULL,
  size        INTEGER NOT NULL CHECK (size >= 0),
  duration_ms INTEGER NOT NULL CHECK (duration_ms BETWEEN 0 AND 3599999999),
  kind        TEXT    NOT NULL CHECK (kind IN ('audio', 'video')),
  frame_rate  REAL    NOT NULL CHECK (frame_rate >= 0),
  variable    INTEGER NOT NULL CHECK (variable IN (0, 1)),
  frames      INTEGER NOT NULL CHECK (frames >= 0),
  width       INTEGER NOT NULL CHECK (width >= 0),
  height      INTEGER NOT NULL CHECK (height >= 0)
) STRICT;

CREATE TABLE mark (
  id    INTEGER PRIMARY KEY CHECK (id > 0),
  at_ms INTEGER NOT NULL CHECK (at_ms BETWEEN 0 AND 3599999999),
  title TEXT    NOT NULL CHECK (length(CAST(title AS BLOB)) <= 10000),
  words TEXT    NOT NULL CHECK (length(CAST(words AS BLOB)) <= 10000),
  note  TEXT    NOT NULL CHECK (length(CAST(note AS BLOB)) <= 100000)
) STRICT;

-- What undo and redo need: one row for each change, numbered without gaps.
-- Rows above study.last_change have been undone and wait for redo.
CREATE TABLE history (
  change INTEGER PRIMARY KEY CHECK (change > 0),
  label  TEXT NOT NULL,
  delta  TEXT NOT NULL CHECK (json_valid(delta))
) STRICT;
