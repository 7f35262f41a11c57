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
	query, args := `WHERE e.seq > ? ORDER BY e.seq LIMIT ?`, []any{seq, limit}
	if job != "" {
		query, args = `WHERE e.job = ? AND e.seq > ? ORDER BY e.seq LIMIT ?`, []any{job, seq, limit}
	}
	next = seq
	err = b.entries(ctx, func(e entry.Entry) bool {
		entries, next = append(entries, e), e.Seq
		return true
	}, pageBytes, query, args...)
	return entries, next, err
}

// all is the query of entries with what the server knows of each; a condition
// follows.
const all = `SELECT e.seq, e.id, e.job, e.kind, e.at, e.by, e.body, e.arrived, ifnull(a.over, ''), ifnull(a.device, ''), ifnull(d.name, '')
	FROM entries e LEFT JOIN arrivals a ON a.seq = e.seq LEFT JOIN devices d ON d.id = a.device `

// entries passes entries that a condition holds for to take until take returns false or so many bytes of
// bodies are read.
func (b *Store) entries(ctx context.Context, take func(entry.Entry) bool, bytes int, query string, args ...any) error {
	return entriesOf(ctx, b.readers, take, bytes, query, args...)
}

func entriesOf(ctx context.Context, q querier, take func(entry.Entry) bool, bytes int, query string, args ...any) error {
	rows, err := q.QueryContext(ctx, all+query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for bytes > 0 && rows.Next() {
		var e entry.Entry
		var at, arrived int64
		var body sql.RawBytes
		if err := rows.Scan(&e.Seq, &e.ID, &e.Job, &e.Kind, &at, &e.By, &body, &arrived, &e.Over, &e.Device, &e.Sender); err != nil {
			return err
		}
		e.At, e.Arrived, e.Body = time.UnixMilli(at).UTC(), time.UnixMilli(arrived).UTC(), append(json.RawMessage(nil), body...)
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
	Aside    bool      `json:"aside"`    // the lead has set it aside
}

// Jobs returns all jobs, the one changed last first.
func (b *Store) Jobs(ctx context.Context) ([]JobSummary, error) {
	rows, err := b.readers.QueryContext(ctx, `
		SELECT job, sum(kind = 'reading'), max(at),
			(SELECT body FROM entries s WHERE s.job = e.job AND s.kind = 'settings' ORDER BY seq DESC LIMIT 1)
		FROM entries e GROUP BY job ORDER BY max(at) DESC, job DESC`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var asides []entry.Entry
	err = b.entries(ctx, func(e entry.Entry) bool { asides = append(asides, e); return true }, 1<<62, `WHERE e.kind = ?`, entry.KindAside)
	if err != nil {
		return nil, err
	}
	aside := entry.SetAside(asides)
	jobs := []JobSummary{}
	for rows.Next() {
		var j JobSummary
		var changed int64
		var settings sql.NullString
		if err := rows.Scan(&j.ID, &j.Readings, &changed, &settings); err != nil {
			return nil, err
		}
		j.Changed, j.Aside = time.UnixMilli(changed).UTC(), aside[j.ID].Whole()
		var s struct{ Title, Permit string }
		if json.Unmarshal([]byte(settings.String), &s) == nil { // where it has neither, the list has neither
			j.Title, j.Permit = s.Title, s.Permit
		}
		jobs = append(jobs, j)
	}
	return jobs, rows.Err()
}

// lastOf is the number of the entry of a job (?1) and a kind that arrived last and is
// not from a device that is set aside (?2, a JSON array); the kind follows.
const lastOf = `SELECT l.seq FROM entries l LEFT JOIN arrivals s ON s.seq = l.seq WHERE l.job = ?1
	AND ifnull(s.device, '') NOT IN (SELECT value FROM json_each(?2)) AND l.kind = `

// querier is a transaction or the readers.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// setAside returns the ids of the devices that are set aside in a job, as a JSON
// array.
func setAside(ctx context.Context, q querier, job string) (string, error) {
	var list []entry.Entry
	err := entriesOf(ctx, q, func(e entry.Entry) bool { list = append(list, e); return true }, 1<<62, `WHERE e.job = ? AND e.kind = ?`, job, entry.KindAside)
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(entry.SetAside(list)[job].Devices())
	return string(text), err
}

// Job returns the job with the id; an error that is fs.ErrNotExist where it has
// no entry.
func (b *Store) Job(ctx context.Context, id string) (*entry.Job, error) {
	aside, err := setAside(ctx, b.readers, id)
	if err != nil {
		return nil, err
	}
	// Of sketches and settings, which may be large, only those that apply.
	var entries []entry.Entry
	err = b.entries(ctx, func(e entry.Entry) bool { entries = append(entries, e); return true }, 1<<62,
		`WHERE e.job = ?1 AND (e.kind NOT IN ('sketch', 'settings') OR e.seq = (`+lastOf+`e.kind ORDER BY l.seq DESC LIMIT 1))`, id, aside)
	if err != nil {
		return nil, err
	}
	var changed sql.NullInt64
	if err := b.readers.QueryRowContext(ctx, `SELECT max(at) FROM entries WHERE job = ?`, id).Scan(&changed); err != nil {
		return nil, err
	}
	j := entry.Fold(entries)[id]
	if j == nil {
		return nil, fmt.Errorf("job %q: %w", id, fs.ErrNotExist)
	}
	j.Changed = time.UnixMilli(changed.Int64).UTC()
	return j, nil
}
