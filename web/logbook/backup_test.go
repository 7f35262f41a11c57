package logbook_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// Copies made while phones send contain all that was acknowledged before each
// was begun, no partial batch, and nothing out of order.
func TestBackupWhileServing(t *testing.T) {
	b, path := open(t)
	require.NoError(t, b.PutFile(t.Context(), abc, strings.NewReader("abc")))
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	var mu sync.Mutex
	var answered []string
	var wg sync.WaitGroup
	for phone := range 4 {
		wg.Go(func() {
			for n := 0; ctx.Err() == nil; n++ {
				k := phone<<20 + 3*n
				accepted, err := b.Append(context.Background(), []entry.Entry{level(k, lot), level(k+1, lot), level(k+2, lot)})
				if !assert.NoError(t, err) {
					return
				}
				mu.Lock()
				answered = append(answered, accepted...)
				mu.Unlock()
			}
		})
	}
	count := func() int {
		mu.Lock()
		defer mu.Unlock()
		return len(answered)
	}
	grown := 0
	for _, name := range []string{"one.db", "two.db", "three.db"} {
		// On a busy machine the phones may not have written anything yet.
		require.Eventually(t, func() bool { return count() > grown }, time.Minute, time.Millisecond)
		mu.Lock()
		before := append([]string(nil), answered...)
		mu.Unlock()
		copied := filepath.Join(filepath.Dir(path), name)
		require.NoError(t, b.Backup(t.Context(), copied))
		c, err := logbook.Open(copied)
		require.NoError(t, err)
		assert.NoError(t, c.Check(t.Context()))
		entries := all(t, c, "")
		assert.Zero(t, len(entries)%3, "a sending is there whole or not at all")
		held := map[string]bool{}
		for i, e := range entries {
			held[e.ID] = true
			assert.Equal(t, int64(i+1), e.Seq, "a prefix of what arrived")
		}
		for _, id := range before {
			assert.True(t, held[id], "answered before the copy was begun, and missing in it")
		}
		f, err := c.File(t.Context(), abc)
		require.NoError(t, err)
		assert.Equal(t, int64(3), f.Size())
		require.NoError(t, c.Close())
		assert.Greater(t, len(entries), grown)
		grown = len(entries)
		assert.ErrorIs(t, b.Backup(t.Context(), copied), fs.ErrExist, "does not write over a file")
	}
	stop()
	wg.Wait()
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".backup-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
	info, err := os.Stat(filepath.Join(filepath.Dir(path), "one.db"))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
}
