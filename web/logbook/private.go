package logbook

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
)

// The endings of the files that stand beside a logbook while it is open; the
// first two are SQLite's.
const (
	logEnding   = "-wal"
	indexEnding = "-shm"
	lockEnding  = "-lock"
)

// private makes sure that other users of the machine cannot read the logbook in
// the file, nor what SQLite puts beside it: SQLite creates its files as wide as
// the umask allows, so they are made here, empty, before it does. A file that
// was copied here by hand, as wide as that made it, is narrowed. Where create is
// false the logbook must be there.
func private(path string, create bool) error {
	head, err := header(path)
	if err != nil && !(create && errors.Is(err, fs.ErrNotExist)) {
		return err
	}
	ours := len(head) == headerBytes && binary.BigEndian.Uint32(head[68:]) == application
	if len(head) > 0 && !ours {
		return nil // that of another program, which is refused: it stays as it is, and nothing is put beside it
	}
	if err := narrow(path, create); err != nil {
		return err
	}
	if ours && bytes.Equal(head[18:20], []byte{2, 2}) { // it has a write-ahead log
		if err := narrow(path+logEnding, true); err != nil {
			return err
		}
	}
	return narrow(path+indexEnding, true)
}

// headerBytes is the size of the header of an SQLite file
// (https://www.sqlite.org/fileformat2.html#the_database_header).
const headerBytes = 100

// header returns the header of a file, or what there is of it.
func header(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, headerBytes)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, err
	}
	return head[:n], nil
}

// narrow has a file be readable for its owner alone.
func narrow(path string, create bool) error {
	flags := os.O_RDWR
	if create {
		flags |= os.O_CREATE
	}
	f, err := os.OpenFile(path, flags, 0o600)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Mode().Perm()&0o077 == 0 || runtime.GOOS == "windows" { // whose files have no such mode
		return nil
	}
	if err := f.Chmod(0o600); err != nil {
		return fmt.Errorf("found a file that other users of the machine can read (mode %04o), and it cannot be changed; want 0600: %w", info.Mode().Perm(), err)
	}
	return nil
}
