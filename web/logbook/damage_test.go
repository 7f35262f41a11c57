package logbook_test

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// filled makes a logbook of many pages in a closed file, and returns what was
// acknowledged: entries, some larger than a page, from two devices, and files.
func filled(t *testing.T) (path string, entries map[string]entry.Entry, files map[string]string) {
	path = filepath.Join(t.TempDir(), "filled.db")
	b, err := logbook.Open(path)
	require.NoError(t, err)
	for _, device := range []string{"01JX4W7M5N6P8S0V2X4Z6B8D0H", "01JX4W7M5N6P8S0V2X4Z6B8D0J"} {
		var sent []entry.Entry
		for n := range 150 {
			e := level(len(device)+n+1000*int(device[25]), lot)
			if n%10 == 0 {
				e.Body = json.RawMessage(`{"kind": "condition", "target": "box", "note": "` + strings.Repeat(fmt.Sprint(n, " seen "), 100+100*n) + `"}`)
			}
			sent = append(sent, e)
		}
		_, err := b.Take(t.Context(), device, sent)
		require.NoError(t, err)
	}
	files = map[string]string{}
	for n := range 3 {
		data := strings.Repeat(fmt.Sprintf("photo %d. ", n), 1000+30_000*n)
		require.NoError(t, b.PutFile(t.Context(), sumOf(data), strings.NewReader(data)))
		files[sumOf(data)] = data
		e := level(9000+n, lot)
		e.Kind, e.Body = entry.KindFile, json.RawMessage(fmt.Sprintf(`{"sha256": %q, "name": "photo-%d.jpg", "type": "image/jpeg", "size": %d}`, sumOf(data), n, len(data)))
		_, err := b.Take(t.Context(), "", []entry.Entry{e})
		require.NoError(t, err)
	}
	entries = map[string]entry.Entry{}
	for _, e := range all(t, b, "") {
		entries[e.ID] = e
	}
	require.NoError(t, b.Check(t.Context()))
	require.NoError(t, b.Close())
	return path, entries, files
}

// saved salvages a file, and holds the result to what had been acknowledged: all
// of it is there as it was, or named, and the new logbook is sound.
func saved(t *testing.T, path string, entries map[string]entry.Entry, files map[string]string) *logbook.Salvaged {
	to := filepath.Join(t.TempDir(), "salvaged.db")
	s, err := logbook.Salvage(t.Context(), path, to)
	require.NoError(t, err)
	b, err := logbook.Open(to)
	require.NoError(t, err)
	defer b.Close()
	require.NoError(t, b.Damage())
	require.NoError(t, b.Check(t.Context()))
	got := map[string]entry.Entry{}
	for _, e := range all(t, b, "") {
		got[e.ID] = e
	}
	assert.Len(t, got, s.Entries)
	named := func(spans []logbook.Span, e entry.Entry) bool {
		for _, m := range spans {
			if m.First <= e.Seq && e.Seq <= m.Last {
				return m.ID == "" || m.ID == e.ID
			}
		}
		return false
	}
	for _, want := range entries {
		e, ok := got[want.ID]
		switch {
		case !ok:
			require.True(t, named(s.Missing, want) || !s.LastKnown && want.Seq > s.Last, "entry %d was acknowledged and is lost, and nothing says so", want.Seq)
		case !entry.Same(want, e) || want.Device != e.Device || !want.Arrived.Equal(e.Arrived):
			require.True(t, named(s.Unverified, want), "entry %d is not what arrived, and nothing says so", want.Seq)
		}
	}
	missing := strings.Join(s.MissingFiles, " ")
	for sum, data := range files {
		f, err := b.File(t.Context(), sum)
		if err != nil {
			require.Contains(t, missing, sum, "a file was acknowledged and is lost, and nothing says so")
			continue
		}
		var text bytes.Buffer
		_, err = text.ReadFrom(f)
		require.NoError(t, err)
		require.Equal(t, data, text.String())
	}
	return s
}

// A sound file is salvaged whole, with every device's name and nobody let in.
func TestSalvageOfASoundFile(t *testing.T) {
	path, entries, files := filled(t)
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	s := saved(t, path, entries, files)
	assert.True(t, s.Whole(), "%+v", s)
	assert.Equal(t, len(entries), s.Entries)
	assert.Equal(t, len(files), s.Files)
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(before, after), "the file is left as it was")
}

// What is only in the write-ahead log, since the process was killed, is salvaged too.
func TestSalvageOfALog(t *testing.T) {
	path := filepath.Join(t.TempDir(), "killed.db")
	b, err := logbook.Open(path)
	require.NoError(t, err)
	defer b.Close()
	_, err = b.Append(t.Context(), []entry.Entry{level(1, lot), level(2, lot)})
	require.NoError(t, err)
	folder := t.TempDir() // as the disk is when the process is killed now
	for _, ending := range []string{"", "-wal"} {
		data, err := os.ReadFile(path + ending)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, "killed.db"+ending), data, 0o600))
	}
	s, err := logbook.Salvage(t.Context(), filepath.Join(folder, "killed.db"), filepath.Join(folder, "new.db"))
	require.NoError(t, err)
	assert.Equal(t, 2, s.Entries)
	assert.False(t, s.LastKnown, "more may have been in the end of the log")
}

// Pages of a real file are damaged at random: zeros, noise, single bytes, a lost
// end. Whatever is hit, there is no panic, what the store acknowledges is there
// afterwards, it writes nothing once it knows, and what is lost is named.
func TestDamagedPages(t *testing.T) {
	path, entries, files := filled(t)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	dice := rand.New(rand.NewPCG(5, 6))
	noticed, refused, lost, losses := 0, 0, 0, 0
	rounds := long.Size(t, 20, 300)
	for round := range rounds {
		data := bytes.Clone(whole)
		for range 1 + dice.IntN(4) {
			page := data[4096*dice.IntN(len(data)/4096):][:4096]
			if round%7 == 0 {
				page = data[:4096] // which all reading begins at
			}
			switch dice.IntN(3) {
			case 0:
				clear(page)
			case 1:
				for i := range page {
					page[i] = byte(dice.Uint32())
				}
			default:
				for range 1 + dice.IntN(20) {
					page[dice.IntN(len(page))] ^= byte(1 << dice.IntN(8))
				}
			}
		}
		if round%10 == 9 {
			data = data[:len(data)-dice.IntN(len(data)/2)]
		}
		folder := t.TempDir()
		damaged := filepath.Join(folder, "damaged.db")
		require.NoError(t, os.WriteFile(damaged, data, 0o600))

		more := level(20_000, lot)
		acknowledged := false
		b, err := logbook.Open(damaged)
		if err != nil {
			refused++
		} else {
			err := b.Check(t.Context())
			if err != nil {
				noticed++
				require.ErrorIs(t, b.Damage(), logbook.ErrDamaged)
				_, err := b.Append(t.Context(), []entry.Entry{more})
				require.ErrorIs(t, err, logbook.ErrDamaged, "nothing is acknowledged")
				require.ErrorIs(t, b.Backup(t.Context(), filepath.Join(folder, "copy.db")), logbook.ErrDamaged)
			} else {
				for _, e := range all(t, b, "") {
					require.True(t, entry.Same(entries[e.ID], e), "round %d: sound, it says", round)
				}
				taken, err := b.Append(t.Context(), []entry.Entry{more})
				require.NoError(t, err)
				acknowledged = len(taken) == 1
			}
			_, _ = b.Jobs(t.Context()) // may fail, and not panic
			_, _ = b.Job(t.Context(), lot)
			_ = b.Close()
		}
		want := entries
		if acknowledged {
			r, err := logbook.OpenToRead(damaged)
			require.NoError(t, err)
			want = map[string]entry.Entry{}
			for _, e := range all(t, r, "") {
				want[e.ID] = e
			}
			require.Contains(t, want, more.ID)
			require.NoError(t, r.Close())
		}
		s := saved(t, damaged, want, files)
		if n := len(want) - s.Entries; n > 0 {
			lost, losses = lost+n, losses+1
		}
	}
	t.Logf("%d rounds: %d files could not be opened, %d were noticed to be damaged; %d entries in %d of the rounds were lost, all of them named", rounds, refused, noticed, lost, losses)
	assert.Greater(t, refused+noticed, rounds*2/3)
	assert.NotZero(t, losses)
}

// Damage is noticed at the start by its structure, later by the sums; while a
// store is open, by the first error that tells of it.
func TestDamageIsNoticed(t *testing.T) {
	path, _, _ := filled(t)
	b, err := logbook.Open(path)
	require.NoError(t, err)
	b.Notice(errors.New("something else"))
	require.NoError(t, b.Damage())
	require.NoError(t, b.Close())

	// The page that leads to the entries is gone: noticed when the store is opened.
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	gone := bytes.Clone(data)
	clear(gone[4096:8192])
	broken := filepath.Join(t.TempDir(), "broken.db")
	require.NoError(t, os.WriteFile(broken, gone, 0o600))
	b, err = logbook.Open(broken)
	require.NoError(t, err)
	require.ErrorIs(t, b.Damage(), logbook.ErrDamaged)
	_, err = b.Append(t.Context(), []entry.Entry{level(1, lot)})
	require.ErrorIs(t, err, logbook.ErrDamaged)
	require.NoError(t, b.Close())
	after, err := os.ReadFile(broken)
	require.NoError(t, err)
	require.True(t, bytes.Equal(gone, after), "it is left as it is")

	// A letter of a note: SQLite finds nothing wrong with it.
	note := []byte(" seen 10 seen ")
	require.True(t, bytes.Contains(data, note))
	data = bytes.ReplaceAll(data, note, bytes.ToUpper(note))
	require.NoError(t, os.WriteFile(path, data, 0o600))
	b, err = logbook.Open(path)
	require.NoError(t, err)
	require.NoError(t, b.Damage(), "the structure is sound")
	err = b.Check(t.Context())
	require.ErrorIs(t, err, logbook.ErrDamaged)
	assert.ErrorContains(t, err, "is not what arrived")
	_, err = b.Append(t.Context(), []entry.Entry{level(1, lot)})
	assert.ErrorIs(t, err, logbook.ErrDamaged)
	_, _, err = b.Since(t.Context(), lot, 0, 10)
	assert.NoError(t, err, "it can be read")
	require.NoError(t, b.Close())
}

// Where every page that has the id of an entry is gone, its number is still named.
func TestSalvageNamesByNumber(t *testing.T) {
	path, entries, files := filled(t)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	lost := entries[numbered(entries, 150)]
	for at := 0; at < len(data); at += 4096 {
		if page := data[at : at+4096]; bytes.Contains(page, []byte(lost.ID)) {
			clear(page)
		}
	}
	require.NoError(t, os.WriteFile(path, data, 0o600))
	s := saved(t, path, entries, files)
	assert.True(t, s.LastKnown)
	found := false
	for _, m := range s.Missing {
		found = found || m.First <= lost.Seq && lost.Seq <= m.Last && m.ID == ""
	}
	assert.True(t, found, "%+v", s.Missing)
}

// numbered returns the id of an entry by its number.
func numbered(entries map[string]entry.Entry, seq int64) string {
	for id, e := range entries {
		if e.Seq == seq {
			return id
		}
	}
	return ""
}

// A copy is of another generation than its original, which keeps its own.
func TestGeneration(t *testing.T) {
	b, path := open(t)
	_, err := b.Append(t.Context(), []entry.Entry{level(1, lot), level(2, lot)})
	require.NoError(t, err)
	was, err := b.State(t.Context())
	require.NoError(t, err)
	assert.Len(t, was.Generation, 32)
	assert.Equal(t, int64(2), was.Last)
	copied := filepath.Join(filepath.Dir(path), "copy.db")
	require.NoError(t, b.Backup(t.Context(), copied))
	require.NoError(t, b.Close())
	for _, tt := range []struct {
		path string
		same bool
	}{{path, true}, {copied, false}} {
		b, err := logbook.Open(tt.path)
		require.NoError(t, err)
		now, err := b.State(t.Context())
		require.NoError(t, err)
		assert.Equal(t, was.Last, now.Last)
		assert.Equal(t, tt.same, was.Generation == now.Generation, tt.path)
		require.NoError(t, b.Close())
	}
}

// Devices of a damaged store keep their names, and none of them is let in.
func TestSalvageOfDevices(t *testing.T) {
	b, path := open(t)
	require.NoError(t, b.Write(t.Context(), func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO invites VALUES ('01JX4W7M5N6P8S0V2X4Z6B8D0A', randomblob(32), 'tech', 'Phone 3', 1, 2, 1, NULL);
			INSERT INTO devices VALUES ('01JX4W7M5N6P8S0V2X4Z6B8D0H', randomblob(32), '01JX4W7M5N6P8S0V2X4Z6B8D0A', 'tech', 'Phone 3', 1, 2, 3, NULL);
			INSERT INTO acts (at, act, device, name, address, about) VALUES (1, 'joined', '01JX4W7M5N6P8S0V2X4Z6B8D0H', 'Phone 3', '127.0.0.1', 'tech')`)
		return err
	}))
	_, err := b.Take(t.Context(), "01JX4W7M5N6P8S0V2X4Z6B8D0H", []entry.Entry{level(1, lot)})
	require.NoError(t, err)
	require.NoError(t, b.Close())
	to := filepath.Join(t.TempDir(), "new.db")
	s, err := logbook.Salvage(t.Context(), path, to)
	require.NoError(t, err)
	assert.Equal(t, 1, s.Devices)
	b, err = logbook.Open(to)
	require.NoError(t, err)
	defer b.Close()
	assert.Equal(t, "Phone 3", all(t, b, lot)[0].Sender)
	var let, acts int
	require.NoError(t, b.DB().QueryRow(`SELECT (SELECT count(*) FROM devices WHERE revoked IS NULL), (SELECT count(*) FROM acts WHERE name = 'Phone 3')`).Scan(&let, &acts))
	assert.Zero(t, let)
	assert.Equal(t, 1, acts)
}
