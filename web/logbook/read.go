package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"io/fs"
	"time"

	"asfound/web/entry"
)

// pageBytes is about how many bytes of bodies Since returns at once, so that a
// phone with poor coverage makes progress, and the memory of the server is
// bounded.
const pageBytes = 4 << 20

// Since returns the entries of a job ("": of all) that arrived after number
// seq, in order of arrival, at most limit of them and not many megabytes. next
// is the number to go on from: that of the last entry returned, else seq. There
// may be more until none comes.
func (b *Store) Since(ctx context.Context, job string, seq int64, limit int) (entries []entry.Entry, next int64, err error) {
	query, args := `SELECT seq, id, job, kind, at, by, body FROM entries WHERE seq > ? ORDER BY seq LIMIT ?`, []any{seq, limit}
	if job != "" {
		query, args = `SELECT seq, id, job, kind, at, by, body FROM entries WHERE job = ? AND seq > ? ORDER BY seq LIMIT ?`, []any{job, seq, limit}
	}
	next = seq
	err = b.entries(ctx, func(e entry.Entry) bool {
		entries, next = append(entries, e), e.Seq
		return true
	}, pageBytes, query, args...)
	return entries, next, err
}

// entries passes entries to take until take returns false or so many bytes of
// bodies are read.
func (b *Store) entries(ctx context.Context, take func(entry.Entry) bool, bytes int, query string, args ...any) error {
	rows, err := b.readers.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for bytes > 0 && rows.Next() {
		var e entry.Entry
		var at int64
		var body sql.RawBytes
		if err := rows.Scan(&e.Seq, &e.ID, &e.Job, &e.Kind, &at, &e.By, &body); err != nil {
			return err
		}
		e.At, e.Body = time.UnixMilli(at).UTC(), append(json.RawMessage(nil), body...)
		bytes -= len(body)
		if !take(e) {
			break
		}
	}
	return rows.Err()
}

// IDs returns the ids of the entries of a job that are of a kind.
func (b *Store) IDs(ctx context.Context, job, kind string) (ids []string, err error) {
	rows, err := b.readers.QueryContext(ctx, `SELECT id FROM entries WHERE job = ? AND kind = ? ORDER BY seq`, job, kind)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, rows.Err()
}

// JobSummary is a job as a list has it.
type JobSummary struct {
	ID       string    `json:"id" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
	Title    string    `json:"title"`    // of job.json, "" if none
	Permit   string    `json:"permit"`   // of job.json, "" if none
	Readings int       `json:"readings"` // logged, voids and voided ones among them
	Changed  time.Time `json:"changed"`  // time of the latest entry
}

// Jobs returns all jobs, the one changed last first.
func (b *Store) Jobs(ctx context.Context) ([]JobSummary, error) {
	rows, err := b.readers.QueryContext(ctx, `
		SELECT job, sum(kind = 'reading'), max(at),
			(SELECT body FROM entries s WHERE s.job = e.job AND s.kind = 'settings' ORDER BY at DESC, id DESC LIMIT 1)
		FROM entries e GROUP BY job ORDER BY max(at) DESC, job DESC`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	jobs := []JobSummary{}
	for rows.Next() {
		var j JobSummary
		var changed int64
		var settings sql.NullString
		if err := rows.Scan(&j.ID, &j.Readings, &changed, &settings); err != nil {
			return nil, err
		}
		j.Changed = time.UnixMilli(changed).UTC()
		var s struct{ Title, Permit string }
		if json.Unmarshal([]byte(settings.String), &s) == nil { // where it has neither, the list has neither
			j.Title, j.Permit = s.Title, s.Permit
		}
		jobs = append(jobs, j)
	}
	return jobs, rows.Err()
}

// Job returns the job with the id; an error that is fs.ErrNotExist where it has
// no entry.
func (b *Store) Job(ctx context.Context, id string) (*entry.Job, error) {
	var entries []entry.Entry
	err := b.entries(ctx, func(e entry.Entry) bool {
		entries = append(entries, e)
		return true
	}, 1<<62, `SELECT seq, id, job, kind, at, by, body FROM entries e WHERE job = ?1 AND (kind NOT IN ('sketch', 'settings')
		OR id = (SELECT id FROM entries l WHERE l.job = ?1 AND l.kind = e.kind ORDER BY at DESC, id DESC LIMIT 1))`, id)
	if err != nil {
		return nil, err
	}
	if j := entry.Fold(entries)[id]; j != nil {
		return j, nil
	}
	return nil, fmt.Errorf("job %q: %w", id, fs.ErrNotExist)
}
