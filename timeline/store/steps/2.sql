-- Schema 2. What is said beside the marks: remarks, postures kept by name, and
-- angles read off the picture. A mark of 0 means none.
ALTER TABLE study ADD COLUMN last_remark  INTEGER NOT NULL DEFAULT 0 CHECK (last_remark >= 0);   -- the highest IDs ever given
ALTER TABLE study ADD COLUMN last_posture INTEGER NOT NULL DEFAULT 0 CHECK (last_posture >= 0);
ALTER TABLE study ADD COLUMN last_angle   INTEGER NOT NULL DEFAULT 0 CHECK (last_angle >= 0);

CREATE TABLE remark (
  id        INTEGER PRIMARY KEY CHECK (id > 0),
  mark      INTEGER NOT NULL CHECK (mark >= 0),
  at_ms     INTEGER NOT NULL CHECK (at_ms BETWEEN 0 AND 3599999999 AND (mark = 0 OR at_ms = 0)),
  by        TEXT    NOT NULL CHECK (length(CAST(by AS BLOB)) <= 1000),
  text      TEXT    NOT NULL CHECK (length(CAST(text AS BLOB)) BETWEEN 1 AND 10000),
  answer    TEXT    NOT NULL CHECK (length(CAST(answer AS BLOB)) <= 10000),
  answer_by TEXT    NOT NULL CHECK (length(CAST(answer_by AS BLOB)) <= 1000),
  settled   INTEGER NOT NULL CHECK (settled IN (0, 1))
) STRICT;

CREATE TABLE posture (
  id    INTEGER PRIMARY KEY CHECK (id > 0),
  name  TEXT    NOT NULL CHECK (length(CAST(name AS BLOB)) BETWEEN 1 AND 1000),
  words TEXT    NOT NULL CHECK (length(CAST(words AS BLOB)) BETWEEN 1 AND 10000)
) STRICT;

-- Pixels of the recording, x to the right, y down.
CREATE TABLE angle (
  id        INTEGER PRIMARY KEY CHECK (id > 0),
  mark      INTEGER NOT NULL CHECK (mark > 0),
  at_ms     INTEGER NOT NULL CHECK (at_ms BETWEEN 0 AND 3599999999),
  joint     TEXT    NOT NULL CHECK (length(CAST(joint AS BLOB)) <= 1000),
  angle_rad REAL    NOT NULL CHECK (angle_rad BETWEEN -6.3 AND 6.3),
  points    INTEGER NOT NULL CHECK (points IN (3, 4)),
  x1 REAL NOT NULL, y1 REAL NOT NULL,
  x2 REAL NOT NULL, y2 REAL NOT NULL,
  x3 REAL NOT NULL, y3 REAL NOT NULL,
  x4 REAL NOT NULL, y4 REAL NOT NULL
) STRICT;
