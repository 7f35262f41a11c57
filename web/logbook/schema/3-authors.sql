-- What the server knows of an entry beside what its phone says: one row each,
-- written with it and never changed. The sum lets damage be noticed that SQLite
-- does not, and the id names an entry whose own row cannot be read any more.
CREATE TABLE arrivals (
	seq    INTEGER PRIMARY KEY REFERENCES entries (seq),
	id     TEXT    NOT NULL UNIQUE,
	device TEXT,   -- that sent it; NULL: none did, or it came before this was kept
	over   TEXT,   -- of a sketch or settings: the entry in whose place it was made
	sum    BLOB    CHECK (length(sum) = 32) -- SHA-256; NULL: not yet worked out, of an entry from before this was kept
) STRICT;
INSERT INTO arrivals (seq, id) SELECT seq, id FROM entries;

CREATE TRIGGER arrivals_once BEFORE INSERT ON arrivals
WHEN EXISTS (SELECT 1 FROM arrivals WHERE id = NEW.id OR seq = NEW.seq)
BEGIN SELECT RAISE(ABORT, 'an arrival is kept once'); END;
CREATE TRIGGER arrivals_stay BEFORE UPDATE ON arrivals
WHEN OLD.sum IS NOT NULL OR NEW.seq IS NOT OLD.seq OR NEW.id IS NOT OLD.id OR NEW.device IS NOT OLD.device OR NEW.over IS NOT OLD.over
BEGIN SELECT RAISE(ABORT, 'an arrival is never changed'); END;
CREATE TRIGGER arrivals_kept BEFORE DELETE ON arrivals
BEGIN SELECT RAISE(ABORT, 'an arrival is never deleted'); END;

-- The latest of a kind is the one that arrived last.
DROP INDEX entries_latest;
CREATE INDEX entries_of_kind ON entries (job, kind, seq);

-- Acts of people on the store itself. They are never changed or deleted.
CREATE TABLE acts (
	seq     INTEGER PRIMARY KEY AUTOINCREMENT,
	at      INTEGER NOT NULL, -- milliseconds since 1970, clock of the server
	act     TEXT    NOT NULL, -- see package access
	device  TEXT    NOT NULL, -- who did it; '' where it has not joined
	name    TEXT    NOT NULL, -- of the device
	address TEXT    NOT NULL, -- that it came from
	about   TEXT    NOT NULL  -- what it was done to
) STRICT;
CREATE TRIGGER acts_once BEFORE INSERT ON acts
WHEN EXISTS (SELECT 1 FROM acts WHERE seq = NEW.seq)
BEGIN SELECT RAISE(ABORT, 'an act is kept once'); END;
CREATE TRIGGER acts_stay BEFORE UPDATE ON acts
BEGIN SELECT RAISE(ABORT, 'an act is never changed'); END;
CREATE TRIGGER acts_kept BEFORE DELETE ON acts
BEGIN SELECT RAISE(ABORT, 'an act is never deleted'); END;

-- Which store this is. A copy of it is another one, so that a phone notices that
-- a store went back to a copy.
CREATE TABLE generation (
	one INTEGER PRIMARY KEY CHECK (one = 1),
	id  TEXT    NOT NULL
) STRICT;
INSERT INTO generation VALUES (1, lower(hex(randomblob(16))));
