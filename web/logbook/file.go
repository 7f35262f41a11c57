package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"github.com/ncruces/go-sqlite3"

	"asfound/web/entry"
)

// piece is the size in bytes of the pieces that a file is kept in: only that
// much of it is in memory at a time.
const piece = 256 << 10

// ErrSum is returned where the bytes of a file are not those of its SHA-256.
var ErrSum = errors.New("the bytes are not those of the SHA-256 they came with")

// ErrLarge is returned where a file has more than entry.MaxFile bytes.
var ErrLarge = fmt.Errorf("more than %d MB", entry.MaxFile>>20)

// ErrFull is returned where the disk has no room for what is written.
var ErrFull error = sqlite3.FULL

// PutFile stores the bytes of r under their SHA-256, which the caller states
// and which is checked. It is on the disk when PutFile returns nil. A file that
// is there already is not read.
func (b *Store) PutFile(ctx context.Context, sum string, r io.Reader) (err error) {
	if !entry.ValidSHA256(sum) {
		return fmt.Errorf("found %q; want a SHA-256 as 64 lower-case hexadecimal digits", sum)
	}
	if _, _, err := b.find(ctx, sum); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	in := incoming{store: b, sum: sum}
	hash := sha256.New()
	buffer := make([]byte, piece)
	for n := 0; ; n++ {
		k, err := io.ReadFull(r, buffer)
		last := errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
		if err != nil && !last {
			return errors.Join(err, in.drop())
		}
		hash.Write(buffer[:k])
		if in.size += int64(k); in.size > entry.MaxFile {
			return errors.Join(ErrLarge, in.drop())
		}
		if last && hex.EncodeToString(hash.Sum(nil)) != sum {
			return errors.Join(ErrSum, in.drop())
		}
		if err := b.Write(ctx, func(tx *sql.Tx) error { return in.add(tx, n, buffer[:k], last) }); err != nil {
			return errors.Join(err, in.drop())
		}
		if last {
			return nil
		}
	}
}

// incoming is a file that is being received. Its pieces are committed as they
// come, so that a slow phone does not hold up the writer.
type incoming struct {
	store *Store
	sum   string
	id    int64 // 0: nothing written yet
	size  int64 // bytes so far
}

// add writes a piece, and with the last one the sum, unless another phone has
// sent the same file meanwhile.
func (in *incoming) add(tx *sql.Tx, n int, data []byte, last bool) error {
	id := in.id
	if id == 0 {
		res, err := tx.Exec(`INSERT INTO files DEFAULT VALUES`)
		if err != nil {
			return err
		}
		if id, err = res.LastInsertId(); err != nil {
			return err
		}
	}
	if last {
		var there bool
		if err := tx.QueryRow(`SELECT EXISTS (SELECT 1 FROM files WHERE sha256 = ?)`, in.sum).Scan(&there); err != nil {
			return err
		}
		if there {
			return remove(tx, id)
		}
	}
	if len(data) > 0 {
		if _, err := tx.Exec(`INSERT INTO pieces (file, n, data) VALUES (?, ?, ?)`, id, n, data); err != nil {
			return err
		}
	}
	if last {
		if _, err := tx.Exec(`UPDATE files SET sha256 = ?, size = ? WHERE id = ?`, in.sum, in.size, id); err != nil {
			return err
		}
	}
	in.id = id
	return nil
}

// drop removes what was written of a file that did not arrive whole. What it
// cannot remove, Open will.
func (in *incoming) drop() error {
	if in.id == 0 {
		return nil
	}
	return in.store.Write(context.Background(), func(tx *sql.Tx) error { return remove(tx, in.id) })
}

func remove(tx *sql.Tx, id int64) error {
	if _, err := tx.Exec(`DELETE FROM pieces WHERE file = ?`, id); err != nil {
		return err
	}
	_, err := tx.Exec(`DELETE FROM files WHERE id = ?`, id)
	return err
}

// find returns the number and the size in bytes of a file; an error that is
// fs.ErrNotExist where it is missing or incomplete.
func (b *Store) find(ctx context.Context, sum string) (id, size int64, err error) {
	err = b.readers.QueryRowContext(ctx, `SELECT id, size FROM files WHERE sha256 = ?`, sum).Scan(&id, &size)
	if errors.Is(err, sql.ErrNoRows) {
		err = fmt.Errorf("file %.80q: %w", sum, fs.ErrNotExist)
	}
	return id, size, err
}

// File returns the bytes of a file by its SHA-256, an error that is
// fs.ErrNotExist where it is not there. It reads them as they are asked for,
// until ctx is done.
func (b *Store) File(ctx context.Context, sum string) (*File, error) {
	id, size, err := b.find(ctx, sum)
	if err != nil {
		return nil, err
	}
	return &File{ctx: ctx, store: b, id: id, size: size, held: -1}, nil
}

// File is a file being read. It is an io.ReadSeekCloser.
type File struct {
	ctx   context.Context
	store *Store
	id    int64
	size  int64
	at    int64
	held  int64 // number of the piece in data, -1: none
	data  []byte
}

// Size returns the number of bytes.
func (f *File) Size() int64 { return f.size }

// Read reads on from the current offset.
func (f *File) Read(p []byte) (int, error) {
	if f.at >= f.size {
		return 0, io.EOF
	}
	if n := f.at / piece; n != f.held {
		f.held = -1
		err := f.store.readers.QueryRowContext(f.ctx, `SELECT data FROM pieces WHERE file = ? AND n = ?`, f.id, n).Scan(&f.data)
		if err != nil {
			return 0, err
		}
		f.held = n
	}
	within := f.at % piece
	if within >= int64(len(f.data)) {
		return 0, io.ErrUnexpectedEOF
	}
	n := copy(p, f.data[within:])
	f.at += int64(n)
	return n, nil
}

// Seek sets the offset of the next Read.
func (f *File) Seek(offset int64, whence int) (int64, error) {
	switch whence {
	case io.SeekCurrent:
		offset += f.at
	case io.SeekEnd:
		offset += f.size
	}
	if offset < 0 {
		return f.at, fmt.Errorf("seek to byte %d: %w", offset, fs.ErrInvalid)
	}
	f.at = offset
	return offset, nil
}

// Close releases the bytes that were read.
func (f *File) Close() error {
	f.data, f.held = nil, -1
	return nil
}
