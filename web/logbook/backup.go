package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup writes a snapshot of the logbook, whole or not at all, while others go
// on writing. It does not overwrite an existing file. Everything that was in
// the logbook when Backup was called is in the copy. The logbook is checked
// first: of a damaged one there is no copy.
//
// The copy is of a generation of its own, so that phones notice when it takes the
// place of the logbook, and send what it lacks.
func (b *Store) Backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s: %w", path, fs.ErrExist)
	}
	if err := b.Damage(); err != nil {
		return err
	}
	if err := b.Check(ctx); err != nil {
		return err
	}
	folder, err := os.MkdirTemp(filepath.Dir(path), ".backup-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	part := filepath.Join(folder, "part")
	if err := narrow(part, true); err != nil { // before SQLite writes to it
		return err
	}
	// https://www.sqlite.org/lang_vacuum.html#vacuuminto. The copy is not
	// synced by it, and it is not under the name wanted until it is.
	db, err := sql.Open("sqlite3", source(b.path, "")) // the readers may write nothing, not even elsewhere
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, `VACUUM INTO ?`, part)
	if err = errors.Join(err, db.Close()); err != nil {
		return err
	}
	if err := regenerate(ctx, part); err != nil {
		return err
	}
	f, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err = errors.Join(f.Sync(), f.Close()); err != nil {
		return err
	}
	if err = os.Rename(part, path); err == nil {
		syncFolder(filepath.Dir(path))
	}
	return err
}

// regenerate gives a file a generation of its own, if its version has one.
func regenerate(ctx context.Context, path string) error {
	db, err := sql.Open("sqlite3", source(path, ""))
	if err != nil {
		return err
	}
	version, err := versionOf(db)
	if err == nil && version >= withSums {
		_, err = db.ExecContext(ctx, `UPDATE generation SET id = lower(hex(randomblob(16)))`)
	}
	return errors.Join(err, db.Close())
}
