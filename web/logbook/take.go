package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"slices"
	"time"

	"asfound/web/entry"
)

// Taken says by their ids what became of entries that a device sent.
type Taken struct {
	Accepted  []string // on the disk
	Different []string // not kept: the id is that of an entry that says something else
	Stale     []string // not kept: a sketch or settings made in place of others than those that apply now
}

// Take adds entries that have passed Check, sent by a device ("": by none).
// Those that are stored already are left unchanged. When it returns without an
// error all that it accepted are on the disk; else none was added.
func (b *Store) Take(ctx context.Context, device string, entries []entry.Entry) (taken Taken, err error) {
	if len(entries) == 0 {
		return Taken{}, ctx.Err()
	}
	err = b.Write(ctx, func(tx *sql.Tx) error {
		taken = Taken{}
		for _, e := range entries {
			list, err := b.take(tx, device, e, &taken)
			if err != nil {
				return err
			}
			if !slices.Contains(*list, e.ID) {
				*list = append(*list, e.ID)
			}
		}
		return nil
	})
	if err != nil {
		return Taken{}, err
	}
	return taken, nil
}

// take adds one entry, and returns the list that its id belongs to.
func (b *Store) take(tx *sql.Tx, device string, e entry.Entry, taken *Taken) (list *[]string, err error) {
	switch was, err := stored(tx, e.ID); {
	case err == nil && entry.Same(was, e):
		return &taken.Accepted, nil
	case err == nil:
		return &taken.Different, nil
	case !errors.Is(err, sql.ErrNoRows):
		return nil, err
	}
	if e.Over != "" && (e.Kind == entry.KindSketch || e.Kind == entry.KindSettings) {
		switch now, err := latest(tx, e.Job, e.Kind); {
		case err == nil && now != e.Over:
			return &taken.Stale, nil
		case err != nil && !errors.Is(err, sql.ErrNoRows):
			return nil, err
		}
	}
	var arrived int64
	if err := tx.Stmt(b.insert).QueryRow(e.ID, e.Job, e.Kind, e.At.UnixMilli(), e.By, string(e.Body)).Scan(&e.Seq, &arrived); err != nil {
		return nil, err
	}
	e.Device, e.Arrived = device, time.UnixMilli(arrived)
	_, err = tx.Exec(`INSERT INTO arrivals (seq, id, device, over, sum) VALUES (?, ?, ?, ?, ?)`, e.Seq, e.ID, none(e.Device), none(e.Over), sumOf(e))
	return &taken.Accepted, err
}

// stored returns the entry with the id as its phone sent it.
func stored(tx *sql.Tx, id string) (e entry.Entry, err error) {
	var at int64
	var body []byte
	err = tx.QueryRow(`SELECT id, job, kind, at, by, body FROM entries WHERE id = ?`, id).Scan(&e.ID, &e.Job, &e.Kind, &at, &e.By, &body)
	e.At, e.Body = time.UnixMilli(at).UTC(), body
	return e, err
}

// latest returns the id of the entry of a kind that applies.
func latest(tx *sql.Tx, job, kind string) (id string, err error) {
	aside, err := setAside(context.Background(), tx, job)
	if err != nil {
		return "", err
	}
	err = tx.QueryRow(`SELECT id FROM entries WHERE seq = (`+lastOf+`?3 ORDER BY l.seq DESC LIMIT 1)`, job, aside, kind).Scan(&id)
	return id, err
}

// none returns NULL for "".
func none(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

// sumOf returns the SHA-256 of everything that is kept of an entry: the texts with
// their lengths before them, then the numbers.
func sumOf(e entry.Entry) []byte {
	var text []byte
	for _, s := range []string{e.ID, e.Job, e.Kind, e.By, string(e.Body), e.Device, e.Over} {
		text = append(binary.AppendUvarint(text, uint64(len(s))), s...)
	}
	for _, n := range []int64{e.At.UnixMilli(), e.Seq, e.Arrived.UnixMilli()} {
		text = binary.AppendVarint(text, n)
	}
	sum := sha256.Sum256(text)
	return sum[:]
}
