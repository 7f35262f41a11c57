package logbook

import (
	"context"
	"database/sql"
	"errors"
)

// write is a request to the writer.
type write struct {
	ctx  context.Context
	do   func(*sql.Tx) error
	err  error
	done chan error
}

// most is the largest number of writes committed together: few enough that the
// first does not wait long for the last.
const most = 256

// Write calls do within a transaction that is on the disk when Write returns
// nil. Others write in the same transaction; if do returns an error its writes
// are rolled back, and theirs are not. It must not end the transaction, nor
// wait for anything.
func (b *Store) Write(ctx context.Context, do func(*sql.Tx) error) error {
	if err := b.Damage(); err != nil {
		return err
	}
	if b.writer == nil {
		return ErrReading
	}
	w := &write{ctx: ctx, do: do, done: make(chan error, 1)}
	select {
	case b.queue <- w:
		return <-w.done
	case <-ctx.Done():
		return ctx.Err()
	case <-b.closing:
		return ErrClosed
	}
}

// write is the writer: it takes what is queued, writes it, has it synced, and
// only then answers. While the disk syncs, more is queued.
func (b *Store) write() {
	defer close(b.stopped)
	for {
		var batch []*write
		select {
		case w := <-b.queue:
			batch = append(batch, w)
		case <-b.closing:
			return
		}
	waiting:
		for len(batch) < most {
			select {
			case w := <-b.queue:
				batch = append(batch, w)
			default:
				break waiting
			}
		}
		err := b.commit(batch)
		b.Notice(err)
		for _, w := range batch {
			if w.err == nil {
				w.err = err
			}
			b.Notice(w.err)
			w.done <- w.err
		}
	}
}

// commit writes a batch in one transaction. Its error is that of all; that of
// one is in the write itself.
func (b *Store) commit(batch []*write) error {
	// Not the context of a phone: one that disconnects must not abort the
	// others.
	if err := b.Damage(); err != nil { // noticed while these waited
		return err
	}
	tx, err := b.writer.Begin()
	if err != nil {
		return err
	}
	for _, w := range batch {
		if w.err = w.ctx.Err(); w.err != nil {
			continue
		}
		if err := each(tx, w); err != nil {
			return errors.Join(err, tx.Rollback())
		}
	}
	return tx.Commit()
}

// each writes one write; the error is for what breaks the whole transaction.
func each(tx *sql.Tx, w *write) error {
	if _, err := tx.Exec(`SAVEPOINT one`); err != nil {
		return err
	}
	if w.err = w.do(tx); w.err != nil {
		if _, err := tx.Exec(`ROLLBACK TO one`); err != nil {
			return err
		}
	}
	_, err := tx.Exec(`RELEASE one`)
	return err
}
