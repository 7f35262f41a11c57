package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	"github.com/ncruces/go-sqlite3"

	"asfound/web/entry"
)

// ErrDamaged is returned where something is to be written to a logbook that is
// known to be damaged: it is only read from then on. The text is for people.
var ErrDamaged = errors.New("the store is damaged, and nothing is written to it any more; stop serve and run asfound salvage")

// most problems that are listed of a damaged file.
const mostWrong = 20

// Damage returns what is known to be wrong with the file, nil if nothing.
func (b *Store) Damage() error {
	if p := b.damage.Load(); p != nil {
		return *p
	}
	return nil
}

// Notice looks at an error of reading or writing the logbook, and stops all
// writing if it says that the file is damaged.
func (b *Store) Notice(err error) {
	if errors.Is(err, sqlite3.CORRUPT) || errors.Is(err, sqlite3.NOTADB) || errors.Is(err, ErrDamaged) {
		if !errors.Is(err, ErrDamaged) {
			err = fmt.Errorf("%w: %w", ErrDamaged, err)
		}
		b.damage.CompareAndSwap(nil, &err)
	}
}

// Check checks the whole file: its structure, that the server knows of each entry
// what it should, and that every entry and file has the content it arrived with.
// The error says what is wrong, and nothing is written from then on.
func (b *Store) Check(ctx context.Context) error {
	err := check(ctx, b.readers, "integrity_check")
	if err == nil {
		err = b.contents(ctx)
	}
	b.Notice(err)
	return err
}

// check has SQLite check the structure of a file, by the pragma named.
func check(ctx context.Context, db *sql.DB, pragma string) error {
	rows, err := db.QueryContext(ctx, fmt.Sprintf(`PRAGMA %s(%d)`, pragma, mostWrong))
	if err != nil {
		return err
	}
	defer rows.Close()
	var wrong []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return err
		}
		if s != "ok" {
			wrong = append(wrong, s)
		}
	}
	if len(wrong) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, strings.Join(wrong, "; "))
	}
	return rows.Err()
}

// contents checks entries and files against their sums.
func (b *Store) contents(ctx context.Context) error {
	version, err := versionOf(b.readers)
	if err != nil {
		return err
	}
	var wrong []string
	if version >= withSums {
		if wrong, err = b.wrongEntries(ctx); err != nil {
			return err
		}
	}
	files, err := b.wrongFiles(ctx)
	if err != nil {
		return err
	}
	if wrong = append(wrong, files...); len(wrong) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, strings.Join(wrong[:min(len(wrong), mostWrong)], "; "))
	}
	return nil
}

// withSums is the version from which on every entry has its sum.
const withSums = 3

func (b *Store) wrongEntries(ctx context.Context) (wrong []string, err error) {
	rows, err := b.readers.QueryContext(ctx, `SELECT ifnull(a.seq, e.seq), ifnull(a.id, e.id) FROM entries e FULL JOIN arrivals a ON a.seq = e.seq AND a.id = e.id
		WHERE a.seq IS NULL OR e.seq IS NULL OR a.sum IS NULL LIMIT ?`, mostWrong)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var seq int64
		var id string
		if err := rows.Scan(&seq, &id); err != nil {
			return nil, err
		}
		wrong = append(wrong, fmt.Sprintf("entry %d (%.40q) is not there whole", seq, id))
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	sums, err := b.readers.QueryContext(ctx, `SELECT sum FROM entries e JOIN arrivals a ON a.seq = e.seq ORDER BY e.seq`)
	if err != nil {
		return nil, err
	}
	defer sums.Close()
	err = b.entries(ctx, func(e entry.Entry) bool {
		var sum sql.RawBytes
		if !sums.Next() || sums.Scan(&sum) != nil || string(sum) != string(sumOf(e)) {
			wrong = append(wrong, fmt.Sprintf("entry %d (%.40q) is not what arrived", e.Seq, e.ID))
		}
		return len(wrong) < mostWrong
	}, 1<<62, `WHERE a.seq IS NOT NULL ORDER BY e.seq`)
	return wrong, errors.Join(err, sums.Err())
}

func (b *Store) wrongFiles(ctx context.Context) (wrong []string, err error) {
	rows, err := b.readers.QueryContext(ctx, `SELECT f.id, f.sha256, f.size, p.data FROM files f LEFT JOIN pieces p ON p.file = f.id WHERE f.sha256 IS NOT NULL ORDER BY f.id, p.n`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	hash := sha256.New()
	var last, size, length int64
	var name string
	end := func() {
		if last != 0 && (length != size || hex.EncodeToString(hash.Sum(nil)) != name) {
			wrong = append(wrong, fmt.Sprintf("file %.64s is not what arrived", name))
		}
		hash.Reset()
		length = 0
	}
	for rows.Next() {
		var id, bytes int64
		var sum string
		var data sql.RawBytes
		if err := rows.Scan(&id, &sum, &bytes, &data); err != nil {
			return nil, err
		}
		if id != last {
			end()
			last, name, size = id, sum, bytes
		}
		hash.Write(data)
		length += int64(len(data))
	}
	end()
	return wrong, rows.Err()
}

// State is which store this is, and how far it has come: a phone that has seen
// more of it, or another, knows that the store went back.
type State struct {
	Generation string // of the file; a copy has another
	Last       int64  // number of the entry that arrived last
}

// State returns the state of the logbook.
func (b *Store) State(ctx context.Context) (s State, err error) {
	err = b.readers.QueryRowContext(ctx, `SELECT id, (SELECT ifnull(max(seq), 0) FROM entries) FROM generation`).Scan(&s.Generation, &s.Last)
	return s, err
}
