package logbook_test

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	_ "github.com/ncruces/go-sqlite3/driver"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/web/entry"
	"asfound/web/logbook"
)

const lot = "01JX4W7M5N6P8S0V2X4Z6B8D0F"

var noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

// id makes the nth id.
func id(n int) string {
	return entry.NewID(noon, [10]byte{6: byte(n >> 24), 7: byte(n >> 16), 8: byte(n >> 8), 9: byte(n)})
}

// level is the nth entry of a job: a height that somebody read.
func level(n int, job string) entry.Entry {
	return entry.Entry{ID: id(n), Job: job, Kind: entry.KindReading, At: noon.Add(time.Duration(n) * time.Second), By: "Phone 1",
		Body: json.RawMessage(fmt.Sprintf(`{"kind": "level", "point": "P%d", "value": "1.50"}`, n))}
}

// open opens a new logbook.
func open(t testing.TB) (*logbook.Store, string) {
	path := filepath.Join(t.TempDir(), "a log%20?#é.db")
	b, err := logbook.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = b.Close() })
	return b, path
}

// all returns every entry, page by page.
func all(t testing.TB, b *logbook.Store, job string) (entries []entry.Entry) {
	seq := int64(0)
	for {
		page, next, err := b.Since(t.Context(), job, seq, 100)
		require.NoError(t, err)
		if len(page) == 0 {
			require.Equal(t, seq, next)
			return entries
		}
		entries, seq = append(entries, page...), next
	}
}

func TestEntriesComeBackAsTheyWere(t *testing.T) {
	b, path := open(t)
	first, second := level(1, lot), level(2, lot)
	second.Body = json.RawMessage("{\n\t\"note\": \"ü \\u00fc <&>\", \"n\": 1.50, \"n\": 1e2 }")
	accepted, err := b.Append(t.Context(), []entry.Entry{first, second, first})
	require.NoError(t, err)
	assert.Equal(t, []string{first.ID, second.ID}, accepted)
	require.NoError(t, b.Close())
	assert.ErrorIs(t, b.Close(), logbook.ErrClosed)
	_, err = b.Append(t.Context(), []entry.Entry{first})
	assert.ErrorIs(t, err, logbook.ErrClosed)

	names, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{path, path + "-lock"}, names, "one file and its lock once it is closed")
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm(), "for its owner alone")

	b, err = logbook.Open(path)
	require.NoError(t, err)
	defer b.Close()
	got := all(t, b, "")
	require.Len(t, got, 2)
	assert.WithinDuration(t, time.Now(), got[1].Arrived, time.Minute)
	first.Seq, first.Arrived, second.Seq, second.Arrived = got[0].Seq, got[0].Arrived, got[1].Seq, got[1].Arrived
	assert.Equal(t, []entry.Entry{first, second}, got, "byte for byte")
	assert.Less(t, got[0].Seq, got[1].Seq)
	assert.Positive(t, got[0].Seq)
}

// An id that comes again with the same content, however its JSON is written, is
// accepted; with other content it is not, and what was there stays.
func TestSameIDAgain(t *testing.T) {
	b, _ := open(t)
	first := level(1, lot)
	_, err := b.Append(t.Context(), []entry.Entry{first})
	require.NoError(t, err)
	again := first
	again.Body = json.RawMessage(`{"value":"1.50","point":"P1","kind":"level"}`)
	for name, change := range map[string]func(*entry.Entry){
		"body": func(e *entry.Entry) { e.Body = json.RawMessage(`{"kind": "void"}`) },
		"time": func(e *entry.Entry) { e.At = e.At.Add(time.Millisecond) },
		"name": func(e *entry.Entry) { e.By = "Phone 2" },
		"kind": func(e *entry.Entry) { e.Kind = "order" },
		"job":  func(e *entry.Entry) { e.Job = "01JX4W7M5N6P8S0V2X4Z6B8D0G" },
	} {
		other := first
		change(&other)
		taken, err := b.Take(t.Context(), "", []entry.Entry{again, level(2, lot)})
		require.NoError(t, err)
		assert.Equal(t, logbook.Taken{Accepted: []string{id(1), id(2)}}, taken)
		taken, err = b.Take(t.Context(), "", []entry.Entry{other, level(2, lot)})
		require.NoError(t, err)
		assert.Equal(t, logbook.Taken{Accepted: []string{id(2)}, Different: []string{id(1)}}, taken, name)
	}
	got := all(t, b, lot)
	require.Len(t, got, 2)
	assert.Equal(t, string(first.Body), string(got[0].Body))
}

// A sketch or settings that were made in place of others than those that apply
// are not taken, however late or early their phone believes it is; the rest of
// the sending is.
func TestStale(t *testing.T) {
	b, _ := open(t)
	settings := func(n int, over, title string) entry.Entry {
		e := level(n, lot)
		e.Kind, e.Over, e.Body = entry.KindSettings, over, json.RawMessage(`{"title": "`+title+`"}`)
		return e
	}
	take := func(want logbook.Taken, entries ...entry.Entry) {
		t.Helper()
		taken, err := b.Take(t.Context(), "", entries)
		require.NoError(t, err)
		assert.Equal(t, want, taken)
	}
	take(logbook.Taken{Accepted: []string{id(1), id(2)}}, settings(1, "", "first"), settings(2, id(1), "second"))
	ahead := settings(3, id(1), "made without coverage over the first")
	ahead.At = noon.AddDate(30, 0, 0)
	take(logbook.Taken{Accepted: []string{id(9)}, Stale: []string{id(3)}}, ahead, level(9, lot))
	take(logbook.Taken{Stale: []string{id(4)}}, settings(4, id(3), "over what was not taken"))
	take(logbook.Taken{Accepted: []string{id(2)}}, settings(2, id(1), "second")) // sent again after a lost answer
	behind := settings(5, id(2), "by a clock that is behind")
	behind.At = noon.AddDate(-30, 0, 0)
	take(logbook.Taken{Accepted: []string{id(5)}}, behind)
	j, err := b.Job(t.Context(), lot)
	require.NoError(t, err)
	assert.JSONEq(t, `{"title": "by a clock that is behind"}`, string(j.Settings))
}

func TestAllOrNone(t *testing.T) {
	b, _ := open(t)
	bad := level(2, lot)
	bad.ID = "short"
	accepted, err := b.Append(t.Context(), []entry.Entry{level(1, lot), bad})
	assert.Error(t, err)
	assert.Empty(t, accepted)
	assert.Empty(t, all(t, b, ""))
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = b.Append(gone, []entry.Entry{level(1, lot)})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, all(t, b, ""))
}

// One phone's bad entry does not take another's with it, though both are
// written in one transaction.
func TestOthersAreNotTaken(t *testing.T) {
	b, _ := open(t)
	var wg sync.WaitGroup
	for n := range 100 {
		wg.Go(func() {
			e := level(n, lot)
			if n%2 == 1 {
				e.Kind = ""
			}
			_, err := b.Append(t.Context(), []entry.Entry{e})
			assert.Equal(t, n%2 == 1, err != nil)
		})
	}
	wg.Wait()
	assert.Len(t, all(t, b, lot), 50)
}

func TestNothingIsChanged(t *testing.T) {
	b, path := open(t)
	_, err := b.Append(t.Context(), []entry.Entry{level(1, lot), level(2, lot)})
	require.NoError(t, err)
	require.NoError(t, b.PutFile(t.Context(), abc, strings.NewReader("abc")))
	require.NoError(t, b.Write(t.Context(), func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO acts (at, act, device, name, address, about) VALUES (1, 'joined', '', '', '', '')`)
		return err
	}))
	want := all(t, b, "")
	_, err = b.DB().Exec(`INSERT INTO entries (id, job, kind, at, by, body) SELECT '` + id(9) + `', job, kind, at, by, body FROM entries`)
	assert.ErrorContains(t, err, "readonly", "the readers cannot write")

	db, err := sql.Open("sqlite3", "file:"+strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(path))
	require.NoError(t, err)
	defer db.Close()
	for _, q := range []string{
		`UPDATE entries SET body = '{}'`,
		`UPDATE entries SET seq = seq + 10`,
		`DELETE FROM entries WHERE seq = 1`,
		`UPDATE pieces SET data = x'00'`,
		`DELETE FROM pieces`,
		`INSERT INTO pieces (file, n, data) VALUES (1, 1, x'00')`,
		`INSERT OR REPLACE INTO pieces (file, n, data) VALUES (1, 0, x'00')`,
		`UPDATE files SET sha256 = NULL`,
		`DELETE FROM files`,
		`INSERT OR REPLACE INTO files (id, size) VALUES (1, 0)`,
		`UPDATE arrivals SET device = 'x'`,
		`UPDATE arrivals SET sum = x'` + strings.Repeat("00", 32) + `'`,
		`DELETE FROM arrivals`,
		`INSERT OR REPLACE INTO arrivals (seq, id) SELECT seq, id FROM arrivals`,
		`UPDATE acts SET name = 'x'`,
		`DELETE FROM acts`,
		`INSERT OR REPLACE INTO acts SELECT * FROM acts`,
	} {
		_, err := db.Exec(q)
		assert.ErrorContains(t, err, "is ", q)
	}
	// These two are empty, and do nothing.
	for _, q := range []string{
		`INSERT OR REPLACE INTO entries (seq, id, job, kind, at, by, body) SELECT 1, '` + id(9) + `', job, kind, at, by, body FROM entries WHERE seq = 2`,
		`INSERT OR REPLACE INTO entries (id, job, kind, at, by, body) SELECT id, job, kind, 0, by, '{}' FROM entries`,
	} {
		_, err := db.Exec(q)
		assert.NoError(t, err)
	}
	assert.Equal(t, want, all(t, b, ""))
	assert.NoError(t, b.Check(t.Context()))
}

func TestSince(t *testing.T) {
	b, _ := open(t)
	other := "01JX4W7M5N6P8S0V2X4Z6B8D0G"
	for n := range 10 {
		_, err := b.Append(t.Context(), []entry.Entry{level(n, []string{lot, other}[n%2])})
		require.NoError(t, err)
	}
	page, next, err := b.Since(t.Context(), lot, 0, 3)
	require.NoError(t, err)
	require.Len(t, page, 3)
	assert.Equal(t, page[2].Seq, next)
	page, _, err = b.Since(t.Context(), lot, next, 3)
	require.NoError(t, err)
	assert.Len(t, page, 2)
	assert.Len(t, all(t, b, ""), 10)

	large := level(20, lot)
	large.Body = json.RawMessage(`{"note": "` + strings.Repeat("x", 3<<20) + `"}`)
	large2 := large
	large2.ID = id(21)
	_, err = b.Append(t.Context(), []entry.Entry{large, large2, level(22, lot)})
	require.NoError(t, err)
	page, next, err = b.Since(t.Context(), lot, 10, 100)
	require.NoError(t, err)
	assert.Len(t, page, 2, "a page has not many megabytes")
	page, _, err = b.Since(t.Context(), lot, next, 100)
	require.NoError(t, err)
	assert.Len(t, page, 1)
}

func TestJobs(t *testing.T) {
	b, _ := open(t)
	settings := func(n, ms int, job, body string) entry.Entry {
		e := level(n, job)
		e.Kind, e.At, e.Body = entry.KindSettings, noon.Add(time.Duration(ms)*time.Millisecond), json.RawMessage(body)
		return e
	}
	other := "01JX4W7M5N6P8S0V2X4Z6B8D0G"
	_, err := b.Append(t.Context(), []entry.Entry{
		settings(2, 2, lot, `{"title": "came earlier, though its clock is ahead"}`),
		settings(1, 1, lot, `{"title": "Invented lot 4", "permit": "INVENTED-0417"}`),
		level(3, lot), level(4, lot), level(5, other), settings(6, 1, other, `[]`)})
	require.NoError(t, err)
	jobs, err := b.Jobs(t.Context())
	require.NoError(t, err)
	assert.Equal(t, []logbook.JobSummary{
		{ID: other, Readings: 1, Changed: noon.Add(5 * time.Second)},
		{ID: lot, Title: "Invented lot 4", Permit: "INVENTED-0417", Readings: 2, Changed: noon.Add(4 * time.Second)},
	}, jobs)
	j, err := b.Job(t.Context(), lot)
	require.NoError(t, err)
	assert.Equal(t, entry.Fold(all(t, b, ""))[lot], j)
	_, err = b.Job(t.Context(), id(1))
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

// The logbook makes the same job as a phone that has fetched everything, in
// whatever order the entries came and however they were split into batches.
func TestSameJobAsOnAPhone(t *testing.T) {
	b, _ := open(t)
	devices := []string{"", "01JX4W7M5N6P8S0V2X4Z6B8D0H", "01JX4W7M5N6P8S0V2X4Z6B8D0J"}
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		job := entry.NewID(noon, [10]byte{0: 1, 8: byte(n >> 8), 9: byte(n)})
		var made []entry.Entry
		for range rapid.IntRange(1, 12).Draw(t, "entries") {
			e := level(n, job)
			n++
			e.Kind = rapid.SampledFrom([]string{entry.KindSketch, entry.KindSettings, entry.KindReading, entry.KindAside}).Draw(t, "kind")
			e.At = noon.Add(time.Duration(rapid.IntRange(0, 3).Draw(t, "ms")) * time.Millisecond)
			if e.Kind == entry.KindAside {
				e.Body = json.RawMessage(fmt.Sprintf(`{"device": %q, "aside": %v}`, rapid.SampledFrom(devices).Draw(t, "aside"), rapid.Bool().Draw(t, "is aside")))
			}
			made = append(made, e)
		}
		sent := rapid.Permutation(append(made, made[0])).Draw(t, "sent")
		cut := rapid.IntRange(0, len(sent)).Draw(t, "cut")
		for _, part := range [][]entry.Entry{sent[:cut], sent[cut:]} {
			_, err := b.Take(context.Background(), rapid.SampledFrom(devices).Draw(t, "device"), part)
			require.NoError(t, err)
		}
		phone, _, err := b.Since(context.Background(), job, 0, 100)
		require.NoError(t, err)
		require.Len(t, phone, len(made))
		got, err := b.Job(context.Background(), job)
		require.NoError(t, err)
		require.Equal(t, entry.Fold(rapid.Permutation(phone).Draw(t, "fetched"))[job], got)
	})
}
