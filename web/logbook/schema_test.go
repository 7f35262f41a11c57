package logbook_test

import (
	"database/sql"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// raw runs SQL on a file as some other program would.
func raw(t *testing.T, path, query string) {
	db, err := sql.Open("sqlite3", path)
	require.NoError(t, err)
	_, err = db.Exec(query)
	require.NoError(t, err)
	require.NoError(t, db.Close())
}

// The oldest version still opens, is upgraded, and has everything.
func TestVersion1Opens(t *testing.T) {
	path := filepath.Join(t.TempDir(), "old.db")
	dump, err := os.ReadFile("testdata/version1.sql")
	require.NoError(t, err)
	raw(t, path, string(dump))
	for range 2 { // once to upgrade, once as it is
		b, err := logbook.Open(path)
		require.NoError(t, err)
		j, err := b.Job(t.Context(), lot)
		require.NoError(t, err)
		assert.JSONEq(t, `{"title": "Invented lot 4", "permit": "INVENTED-0417"}`, string(j.Settings))
		require.NotEmpty(t, j.Rows)
		assert.Equal(t, map[string]string{"id": "01JX4W8Z0K3V5T7Q9R2B4D6F82", "kind": "tape", "from": "A", "to": "H1", "value": `43'6"`}, j.Rows[0])
		require.Len(t, j.Files, 1)
		f, err := b.File(t.Context(), j.Files[0].SHA256)
		require.NoError(t, err)
		data, err := io.ReadAll(f)
		require.NoError(t, err)
		assert.Equal(t, "abc", string(data))
		var version, invites int
		require.NoError(t, b.DB().QueryRow(`SELECT user_version, (SELECT count(*) FROM invites) FROM pragma_user_version`).Scan(&version, &invites))
		assert.Equal(t, 3, version)
		_, err = b.Append(t.Context(), []entry.Entry{level(1, lot)})
		assert.NoError(t, err)
		var bare int
		require.NoError(t, b.DB().QueryRow(`SELECT count(*) FROM entries e LEFT JOIN arrivals a ON a.seq = e.seq AND a.id = e.id WHERE a.sum IS NULL`).Scan(&bare))
		assert.Zero(t, bare, "each entry has its sum")
		assert.NoError(t, b.Check(t.Context()))
		require.NoError(t, b.Close())
	}
}

// A released step is never changed: the version 1 file of the tests has the
// schema that a new file gets.
func TestStepsStayAsReleased(t *testing.T) {
	schema := func(path string) (all []string) {
		db, err := sql.Open("sqlite3", path)
		require.NoError(t, err)
		defer db.Close()
		rows, err := db.Query(`SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name`)
		require.NoError(t, err)
		defer rows.Close()
		for rows.Next() {
			var s string
			require.NoError(t, rows.Scan(&s))
			all = append(all, s)
		}
		require.NoError(t, rows.Err())
		return all
	}
	old, fresh := filepath.Join(t.TempDir(), "old.db"), filepath.Join(t.TempDir(), "new.db")
	dump, err := os.ReadFile("testdata/version1.sql")
	require.NoError(t, err)
	raw(t, old, string(dump))
	for _, path := range []string{old, fresh} {
		b, err := logbook.Open(path)
		require.NoError(t, err)
		require.NoError(t, b.Close())
	}
	assert.Equal(t, schema(fresh), schema(old))
}

func TestOtherFilesAreRefused(t *testing.T) {
	for _, tt := range []struct{ name, sql, text, want string }{
		{"newer", `PRAGMA application_id = 1634952804; PRAGMA user_version = 99`, "", "version 99, which a newer asfound made; this one knows versions up to 3: update asfound"},
		{"SQLite of another program", `CREATE TABLE t (x)`, "", "the SQLite file of another program"},
		{"marked by another program", `PRAGMA application_id = 1196444487`, "", "the SQLite file of another program"},
		{"no SQLite", "", "kind,from,to,value\n" + string(make([]byte, 4096)), "found a file of another kind"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "x.db")
			if tt.sql != "" {
				raw(t, path, tt.sql)
			} else {
				require.NoError(t, os.WriteFile(path, []byte(tt.text), 0o600))
			}
			require.NoError(t, os.Chmod(path, 0o644))
			before, err := os.ReadFile(path)
			require.NoError(t, err)
			_, err = logbook.Open(path)
			assert.ErrorContains(t, err, tt.want)
			assert.ErrorContains(t, err, path)
			info, err := os.Stat(path)
			require.NoError(t, err)
			if want := map[bool]os.FileMode{true: 0o600, false: 0o644}[tt.name == "newer"]; runtime.GOOS != "windows" {
				assert.Equal(t, want, info.Mode().Perm(), "of a logbook alone")
			}
			after, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, before, after, "left as it was")
		})
	}
	_, err := logbook.Open(filepath.Join(t.TempDir(), "no such folder", "x.db"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// Two processes may create the same file at the same time.
func TestOpenedAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	var wg sync.WaitGroup
	for n := range 4 {
		wg.Go(func() {
			b, err := logbook.Open(path)
			if assert.NoError(t, err) {
				_, err = b.Append(t.Context(), []entry.Entry{level(n, lot)})
				assert.NoError(t, err)
				time.Sleep(10 * time.Millisecond)
				assert.NoError(t, b.Close())
			}
		})
	}
	wg.Wait()
	b, err := logbook.Open(path)
	require.NoError(t, err)
	defer b.Close()
	assert.Len(t, all(t, b, lot), 4)
}
