-- Entries, in order of arrival. They are never changed or deleted.
CREATE TABLE entries (
	seq     INTEGER PRIMARY KEY AUTOINCREMENT, -- order of arrival
	id      TEXT    NOT NULL UNIQUE CHECK (length(id) = 26),
	job     TEXT    NOT NULL CHECK (length(job) = 26),
	kind    TEXT    NOT NULL CHECK (kind <> ''),
	at      INTEGER NOT NULL, -- milliseconds since 1970, clock of the phone
	by      TEXT    NOT NULL,
	body    TEXT    NOT NULL CHECK (body <> ''), -- JSON, as it came
	arrived INTEGER NOT NULL DEFAULT (CAST(unixepoch('subsec') * 1000 AS INTEGER)) -- clock of the server
) STRICT;
CREATE INDEX entries_of_job ON entries (job, seq);
CREATE INDEX entries_latest ON entries (job, kind, at, id);

-- Also where somebody writes INSERT OR REPLACE.
CREATE TRIGGER entries_once BEFORE INSERT ON entries
WHEN EXISTS (SELECT 1 FROM entries WHERE id = NEW.id OR seq = NEW.seq)
BEGIN SELECT RAISE(IGNORE); END;
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entries_kept BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;

-- Files by their content. One without a sum is still being received: it is
-- given its sum with its last piece, once that is known to be right.
CREATE TABLE files (
	id     INTEGER PRIMARY KEY AUTOINCREMENT,
	sha256 TEXT    UNIQUE CHECK (length(sha256) = 64),
	size   INTEGER NOT NULL DEFAULT 0 -- bytes
) STRICT;
CREATE TABLE pieces (
	file INTEGER NOT NULL REFERENCES files (id),
	n    INTEGER NOT NULL, -- from 0
	data BLOB    NOT NULL,
	UNIQUE (file, n)
) STRICT;

CREATE TRIGGER files_once BEFORE INSERT ON files
WHEN EXISTS (SELECT 1 FROM files WHERE sha256 = NEW.sha256 OR id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'a file is kept once'); END;
CREATE TRIGGER files_stay BEFORE UPDATE ON files WHEN OLD.sha256 IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a file is never changed'); END;
CREATE TRIGGER files_kept BEFORE DELETE ON files WHEN OLD.sha256 IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a file is never deleted'); END;
CREATE TRIGGER pieces_once BEFORE INSERT ON pieces
WHEN EXISTS (SELECT 1 FROM files WHERE id = NEW.file AND sha256 IS NOT NULL)
	OR EXISTS (SELECT 1 FROM pieces WHERE file = NEW.file AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'a file is never changed'); END;
CREATE TRIGGER pieces_stay BEFORE UPDATE ON pieces
BEGIN SELECT RAISE(ABORT, 'a file is never changed'); END;
CREATE TRIGGER pieces_kept BEFORE DELETE ON pieces
WHEN EXISTS (SELECT 1 FROM files WHERE id = OLD.file AND sha256 IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a file is never deleted'); END;
