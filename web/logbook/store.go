package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gofrs/flock"
	"github.com/ncruces/go-sqlite3"
	_ "github.com/ncruces/go-sqlite3/driver" // registers "sqlite3"
)

// ErrClosed is returned by the methods of a closed logbook.
var ErrClosed = errors.New("the logbook is closed")

// ErrReading is returned where something is to be written to a logbook that was
// opened for reading.
var ErrReading = errors.New("the logbook was opened for reading alone")

// Store is an open logbook. Its methods are safe for concurrent use.
type Store struct {
	path    string
	lock    *flock.Flock
	readers *sql.DB
	writer  *sql.DB // of one connection
	insert  *sql.Stmt
	queue   chan *write
	once    sync.Once // closes
	closing chan struct{}
	stopped chan struct{}
	damage  atomic.Pointer[error]
}

// patience is how long to wait for another process that has the file locked.
const patience = 10 * time.Second

// journal is the size in bytes to which a longer write-ahead log is truncated
// when it restarts.
const journal = 16 << 20

// Open opens the logbook in the file named, and creates it where there is none.
// Other users of the machine cannot read it. One process at a time may have it
// open: another waits a little, and is then refused.
func Open(path string) (*Store, error) { return open(path, "") }

// open opens a logbook through a way to the disk (a VFS of SQLite), "" for
// that of the system.
func open(path, way string) (_ *Store, err error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	b := &Store{path: abs, queue: make(chan *write), closing: make(chan struct{}), stopped: make(chan struct{})}
	if b.lock, err = hold(abs); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, b.lock.Unlock())
		}
	}()
	if err := private(abs, true); err != nil {
		return nil, fmt.Errorf("the logbook cannot be opened: %w", err)
	}
	syncFolder(filepath.Dir(abs))
	if b.writer, err = sql.Open("sqlite3", source(abs, way, "synchronous(full)", fmt.Sprintf("journal_size_limit(%d)", journal))); err != nil {
		return nil, err
	}
	b.writer.SetMaxOpenConns(1)
	if sound, err := b.sound(way); err != nil || !sound {
		if err = errors.Join(err, b.writer.Close()); err != nil {
			return nil, plainly(path, err)
		}
		b.writer = nil
		return b, nil
	}
	if err = migrate(b.writer); err == nil {
		b.insert, err = b.writer.Prepare(`INSERT INTO entries (id, job, kind, at, by, body) VALUES (?, ?, ?, ?, ?, ?) RETURNING seq, arrived`)
	}
	if err == nil {
		// Received in part before a crash: no other process is receiving, see hold.
		_, err = b.writer.Exec(`DELETE FROM pieces WHERE file IN (SELECT id FROM files WHERE sha256 IS NULL);
			DELETE FROM files WHERE sha256 IS NULL`)
	}
	if err == nil {
		b.readers, err = openReaders(abs, way)
	}
	if err != nil {
		return nil, errors.Join(plainly(path, err), b.writer.Close())
	}
	go b.write()
	return b, nil
}

// sound reports whether the structure of the file is sound. If not, but if it can
// be read, the logbook is opened for reading alone, and says so.
func (b *Store) sound(way string) (bool, error) {
	version, err := versionOf(b.writer)
	if err != nil || version == 0 {
		return err == nil, err
	}
	damage := check(context.Background(), b.writer, "quick_check")
	b.Notice(damage)
	if b.Damage() == nil {
		return damage == nil, damage
	}
	if names, err := versions(); err != nil || version < len(names) {
		return false, errors.Join(damage, err)
	}
	b.readers, err = openReaders(b.path, way)
	return false, err
}

// OpenToRead opens the logbook in the file named for reading alone, also while
// another process has it open. Nothing can be written to it.
func OpenToRead(path string) (*Store, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if err := private(abs, false); err != nil {
		return nil, fmt.Errorf("the logbook cannot be opened: %w", err)
	}
	b := &Store{path: abs, closing: make(chan struct{})}
	if b.readers, err = openReaders(abs, ""); err != nil {
		return nil, err
	}
	if _, err := versionOf(b.readers); err != nil {
		return nil, errors.Join(plainly(path, err), b.readers.Close())
	}
	return b, nil
}

// openReaders opens a file for reading alone.
func openReaders(abs, way string) (*sql.DB, error) {
	db, err := sql.Open("sqlite3", source(abs, way, "query_only(on)"))
	if err == nil {
		db.SetMaxOpenConns(max(4, runtime.NumCPU()))
		db.SetMaxIdleConns(max(4, runtime.NumCPU()))
	}
	return db, err
}

// hold takes the lock of a logbook, which the system releases when the process
// ends in whatever way. It is on a file of its own, which stays: SQLite has its
// own locks on the others, and who removes a file that another process waits
// for would leave the two with a lock each.
func hold(abs string) (*flock.Flock, error) {
	if err := narrow(abs+lockEnding, true); err != nil {
		return nil, fmt.Errorf("the logbook cannot be opened: %w", err)
	}
	lock := flock.New(abs+lockEnding, flock.SetPermissions(0o600))
	ctx, stop := context.WithTimeout(context.Background(), patience)
	defer stop()
	switch ok, err := lock.TryLockContext(ctx, 20*time.Millisecond); {
	case ok:
		return lock, nil
	case errors.Is(err, context.DeadlineExceeded):
		return nil, fmt.Errorf("found it in use by another asfound for %s; want that one stopped, or another file", patience)
	default:
		return nil, err
	}
}

// source names a file and how to open it, as the driver reads it.
func source(abs, way string, pragmas ...string) string {
	// The busy timeout comes first. recursive_triggers lets the triggers
	// see rows that REPLACE would delete.
	pragmas = append([]string{fmt.Sprintf("busy_timeout(%d)", patience.Milliseconds()), "foreign_keys(on)", "recursive_triggers(on)", "trusted_schema(off)"}, pragmas...)
	// What SQLite creates beside the file is no wider than the file.
	query := url.Values{"_pragma": pragmas, "modeof": {abs}}
	if way != "" {
		query.Set("vfs", way)
	}
	// SQLite reads %20 as a space, and + as itself.
	u := url.URL{Scheme: "file", OmitHost: true, Path: filepath.ToSlash(abs), RawQuery: strings.ReplaceAll(query.Encode(), "+", "%20")}
	return u.String()
}

// plainly says in plain words what is wrong with the file.
func plainly(path string, err error) error {
	switch {
	case errors.Is(err, sqlite3.NOTADB):
		return fmt.Errorf("%s: found a file of another kind; want a logbook, or the name of a file that is not there yet (a logbook whose beginning is damaged looks so too: asfound salvage)", path)
	case errors.Is(err, sqlite3.CORRUPT):
		return fmt.Errorf("%s: %w: %w", path, ErrDamaged, err)
	case errors.Is(err, sqlite3.BUSY):
		return fmt.Errorf("%s: found it locked by another program for %s; want it closed there: %w", path, patience, err)
	}
	return fmt.Errorf("%s: %w", path, err)
}

// syncFolder syncs the names in a folder to the disk. Where the system cannot
// do that, the name was on the disk already or there is nothing to do.
func syncFolder(name string) {
	if f, err := os.Open(name); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}

// DB returns the logbook for reading: it refuses writes.
func (b *Store) DB() *sql.DB { return b.readers }

// Close finishes the pending writes and closes the file.
func (b *Store) Close() error {
	err := ErrClosed
	b.once.Do(func() {
		close(b.closing)
		if b.writer == nil {
			err = b.readers.Close()
			if b.lock != nil {
				err = errors.Join(err, b.lock.Unlock())
			}
			return
		}
		<-b.stopped
		// Readers first: the last to close moves the write-ahead log into the file.
		err = errors.Join(b.readers.Close(), b.insert.Close(), b.writer.Close(), b.lock.Unlock())
	})
	return err
}
