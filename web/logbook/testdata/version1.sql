-- A logbook of version 1, as a program of that version left it.
PRAGMA application_id = 1634952804;
PRAGMA user_version = 1;
BEGIN TRANSACTION;
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
INSERT INTO "entries" VALUES(1,'01JX4W8Z0K3V5T7Q9R2B4D6F81','01JX4W7M5N6P8S0V2X4Z6B8D0F','settings',1777888800000,'Phone 1','{"title": "Invented lot 4", "permit": "INVENTED-0417"}',1777888803000);
INSERT INTO "entries" VALUES(2,'01JX4W8Z0K3V5T7Q9R2B4D6F82','01JX4W7M5N6P8S0V2X4Z6B8D0F','reading',1777888801000,'Phone 1','{"kind": "tape", "from": "A", "to": "H1", "value": "43''6\""}',1777888803000);
INSERT INTO "entries" VALUES(3,'01JX4W8Z0K3V5T7Q9R2B4D6F83','01JX4W7M5N6P8S0V2X4Z6B8D0F','file',1777888802000,'Phone 2','{"sha256": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "name": "note.txt", "type": "text/plain", "size": 3, "for": ""}',1777888803000);
CREATE TABLE files (
	id     INTEGER PRIMARY KEY AUTOINCREMENT,
	sha256 TEXT    UNIQUE CHECK (length(sha256) = 64),
	size   INTEGER NOT NULL DEFAULT 0 -- bytes
) STRICT;
INSERT INTO "files" VALUES(1,'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',3);
CREATE TABLE pieces (
	file INTEGER NOT NULL REFERENCES files (id),
	n    INTEGER NOT NULL, -- from 0
	data BLOB    NOT NULL,
	UNIQUE (file, n)
) STRICT;
INSERT INTO "pieces" VALUES(1,0,X'616263');
CREATE INDEX entries_of_job ON entries (job, seq);
CREATE INDEX entries_latest ON entries (job, kind, at, id);
CREATE TRIGGER entries_once BEFORE INSERT ON entries
WHEN EXISTS (SELECT 1 FROM entries WHERE id = NEW.id OR seq = NEW.seq)
BEGIN SELECT RAISE(IGNORE); END;
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entries_kept BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;
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
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('entries',3);
INSERT INTO "sqlite_sequence" VALUES('files',1);
COMMIT;
