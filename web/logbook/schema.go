package logbook

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/ncruces/go-sqlite3"

	"asfound/web/entry"
)

// application marks a SQLite file as a logbook ("asfd" in ASCII), as
// https://www.sqlite.org/fileformat2.html#application_id has it.
const application = 0x61736664

// steps are the steps of the schema. Step n makes version n of version n-1. A
// step that was released is never changed.
//
//go:embed schema/*.sql
var steps embed.FS

// versions returns the files of the steps, in order of name: nine steps are
// enough for names of one digit.
func versions() ([]string, error) { return fs.Glob(steps, "schema/*.sql") }

// versionOf returns the version of a file, 0 of an empty one. It refuses the
// file of another program, and one of a newer version.
func versionOf(db *sql.DB) (version int, err error) {
	names, err := versions()
	if err != nil {
		return 0, err
	}
	var id, tables int
	if err := db.QueryRow(`SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema)
		FROM pragma_application_id, pragma_user_version`).Scan(&id, &version, &tables); err != nil {
		return 0, err
	}
	switch {
	case id != application && (id != 0 || version != 0 || tables != 0):
		return 0, fmt.Errorf("found the SQLite file of another program; want a logbook, or the name of a file that is not there yet")
	case version > len(names):
		return 0, fmt.Errorf("found a logbook of version %d, which a newer asfound made; this one knows versions up to %d: update asfound", version, len(names))
	}
	return version, nil
}

// migrate upgrades the file to the version of this program.
func migrate(db *sql.DB) error {
	version, err := versionOf(db)
	if err != nil {
		return err
	}
	names, err := versions()
	if err != nil {
		return err
	}
	if err := setWAL(db); err != nil {
		return err
	}
	for ; version < len(names); version++ {
		if err := step(db, names[version], version+1); err != nil {
			return fmt.Errorf("step to version %d: %w", version+1, err)
		}
	}
	return addSums(db)
}

// addSums works out the sums of entries that were kept before there were any,
// some at a time.
func addSums(db *sql.DB) error {
	for {
		var list []entry.Entry
		err := entriesOf(context.Background(), db, func(e entry.Entry) bool { list = append(list, e); return true }, pageBytes,
			`WHERE a.sum IS NULL AND a.seq IS NOT NULL ORDER BY e.seq LIMIT 1000`)
		if err != nil || len(list) == 0 {
			return err
		}
		tx, err := db.Begin()
		if err != nil {
			return err
		}
		for _, e := range list {
			if _, err := tx.Exec(`UPDATE arrivals SET sum = ? WHERE seq = ?`, sumOf(e), e.Seq); err != nil {
				return errors.Join(err, tx.Rollback())
			}
		}
		if err := tx.Commit(); err != nil {
			return err
		}
	}
}

// setWAL sets a persistent mode of the file; it must not be called within a
// transaction. If several processes do so at once on a new file, SQLite refuses
// some without waiting, whatever the busy timeout: each would wait for the
// others.
func setWAL(db *sql.DB) (err error) {
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		if _, err = db.Exec(`PRAGMA journal_mode = wal`); !errors.Is(err, sqlite3.BUSY) || time.Now().After(end) {
			return err
		}
	}
}

// step takes one step, whole or not at all.
func step(db *sql.DB, name string, version int) error {
	text, err := steps.ReadFile(name)
	if err != nil {
		return err
	}
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing once committed
	// Another process may have taken the step meanwhile.
	var found int
	if err := tx.QueryRow(`PRAGMA user_version`).Scan(&found); err != nil || found >= version {
		return err
	}
	if _, err := tx.Exec(string(text)); err != nil {
		return err
	}
	if _, err := tx.Exec(fmt.Sprintf(`PRAGMA application_id = %d; PRAGMA user_version = %d`, application, version)); err != nil {
		return err
	}
	return tx.Commit()
}
