package logbook_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// SHA-256 of "abc" and of no bytes: NIST, examples of FIPS 180-4.
const (
	abc   = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
)

func sumOf(data string) string {
	sum := sha256.Sum256([]byte(data))
	return hex.EncodeToString(sum[:])
}

// stored counts files and pieces.
func stored(t *testing.T, b *logbook.Store) (files, pieces int) {
	require.NoError(t, b.DB().QueryRow(`SELECT (SELECT count(*) FROM files), (SELECT count(*) FROM pieces)`).Scan(&files, &pieces))
	return files, pieces
}

func TestFiles(t *testing.T) {
	b, _ := open(t)
	random := make([]byte, 1<<20)
	rand.NewChaCha8([32]byte{1}).Read(random)
	for _, n := range []int{0, 1, 256<<10 - 1, 256 << 10, 256<<10 + 1, 1 << 20} {
		data := random[:n]
		sum := sha256.Sum256(data)
		name := hex.EncodeToString(sum[:])
		require.NoError(t, b.PutFile(t.Context(), name, iotest.HalfReader(bytes.NewReader(data))))
		require.NoError(t, b.PutFile(t.Context(), name, iotest.ErrReader(errors.New("read though it is there"))))
		f, err := b.File(t.Context(), name)
		require.NoError(t, err)
		assert.Equal(t, int64(n), f.Size())
		assert.NoError(t, iotest.TestReader(f, data), "%d bytes", n)
	}
	_, err := b.File(t.Context(), abc)
	assert.ErrorIs(t, err, fs.ErrNotExist)
	assert.NoError(t, b.Check(t.Context()))
}

// A file that does not arrive complete and correct leaves nothing.
func TestFilesWholeOrNotAtAll(t *testing.T) {
	b, _ := open(t)
	long := strings.Repeat("x", 700<<10)
	broken := errors.New("coverage gone")
	for _, tt := range []struct {
		name, sum string
		r         io.Reader
		want      error
	}{
		{"other bytes", abc, strings.NewReader("abd"), logbook.ErrSum},
		{"other bytes, long", abc, strings.NewReader(long), logbook.ErrSum},
		{"broken off", abc, io.MultiReader(strings.NewReader(long), iotest.ErrReader(broken)), broken},
		{"too long", abc, io.LimitReader(zeros{}, entry.MaxFile+1), logbook.ErrLarge},
	} {
		assert.ErrorIs(t, b.PutFile(t.Context(), tt.sum, tt.r), tt.want, tt.name)
		files, pieces := stored(t, b)
		assert.Zero(t, files+pieces, tt.name)
	}
	assert.ErrorContains(t, b.PutFile(t.Context(), "../"+abc, strings.NewReader("abc")), "64 lower-case hexadecimal digits")
}

// zeros has no end.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// What was received in part when the process died is gone after it starts again.
func TestOpenRemovesParts(t *testing.T) {
	b, path := open(t)
	ctx, cancel := context.WithCancel(t.Context())
	r, w := io.Pipe()
	done := make(chan error)
	go func() { done <- b.PutFile(ctx, abc, r) }()
	_, err := w.Write(make([]byte, 600<<10))
	require.NoError(t, err)
	files, pieces := stored(t, b)
	assert.Equal(t, 1, files)
	assert.Equal(t, 2, pieces)
	require.NoError(t, b.Close()) // as if it had died: PutFile cannot remove anything now
	cancel()
	require.NoError(t, w.Close())
	require.Error(t, <-done)
	b, err = logbook.Open(path)
	require.NoError(t, err)
	defer b.Close()
	files, pieces = stored(t, b)
	assert.Zero(t, files+pieces)
}

// Phones that send the same photo at one time.
func TestSameFileAtOnce(t *testing.T) {
	b, _ := open(t)
	data := bytes.Repeat([]byte("photo"), 100_000)
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() { assert.NoError(t, b.PutFile(t.Context(), name, bytes.NewReader(data))) })
	}
	wg.Wait()
	files, pieces := stored(t, b)
	assert.Equal(t, 1, files)
	assert.Equal(t, 2, pieces)
	f, err := b.File(t.Context(), name)
	require.NoError(t, err)
	got, err := io.ReadAll(f)
	require.NoError(t, err)
	assert.Equal(t, data, got)
}
