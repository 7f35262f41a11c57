-- Who may see: see package access. Tokens are not here, only their SHA-256.
CREATE TABLE invites (
	id      TEXT    PRIMARY KEY,
	hash    BLOB    NOT NULL UNIQUE CHECK (length(hash) = 32),
	role    TEXT    NOT NULL,
	name    TEXT    NOT NULL, -- of the phone, as the lead calls it
	made    INTEGER NOT NULL, -- times are milliseconds since 1970
	expires INTEGER NOT NULL,
	used    INTEGER,
	revoked INTEGER
) STRICT, WITHOUT ROWID;
CREATE TABLE devices (
	id      TEXT    PRIMARY KEY,
	hash    BLOB    NOT NULL UNIQUE CHECK (length(hash) = 32), -- of its session
	invite  TEXT    NOT NULL UNIQUE REFERENCES invites (id),
	role    TEXT    NOT NULL,
	name    TEXT    NOT NULL,
	joined  INTEGER NOT NULL,
	seen    INTEGER NOT NULL,
	expires INTEGER NOT NULL,
	revoked INTEGER
) STRICT, WITHOUT ROWID;
