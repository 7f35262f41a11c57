//go:build unix

package logbook_test

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/ncruces/go-sqlite3/vfs"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// watched looks at the modes of all files of a folder at every write to the
// disk.
type watched struct {
	vfs.VFSFilename
	folder string
	look   func(name string, mode fs.FileMode, size int64)
}

func (w *watched) OpenFilename(name *vfs.Filename, flags vfs.OpenFlag) (vfs.File, vfs.OpenFlag, error) {
	f, out, err := w.VFSFilename.OpenFilename(name, flags)
	return &watchedFile{f, w}, out, err
}

type watchedFile struct {
	vfs.File
	w *watched
}

func (f *watchedFile) Unwrap() vfs.File { return f.File }

func (f *watchedFile) SharedMemory() vfs.SharedMemory {
	return f.File.(vfs.FileSharedMemory).SharedMemory()
}

func (f *watchedFile) WriteAt(p []byte, at int64) (int, error) {
	n, err := f.File.WriteAt(p, at)
	f.w.all()
	return n, err
}

func (w *watched) all() {
	_ = filepath.WalkDir(w.folder, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			if info, err := d.Info(); err == nil { // it may be gone
				w.look(name, info.Mode().Perm(), info.Size())
			}
		}
		return nil
	})
}

// Whatever the umask, no file of the store can ever be read by other users of
// the machine: not the one that SQLite makes, nor what it puts beside it, nor a
// copy, after each single write.
func TestForTheOwnerAlone(t *testing.T) {
	old := syscall.Umask(0)
	defer syscall.Umask(old)
	folder := t.TempDir()
	seen := map[string]bool{}
	w := &watched{vfs.Find("").(vfs.VFSFilename), folder, func(name string, mode fs.FileMode, _ int64) {
		seen[filepath.Base(name)] = true
		require.Equal(t, fs.FileMode(0o600), mode, name)
	}}
	vfs.Register(t.Name(), w)
	defer vfs.Unregister(t.Name())
	path := filepath.Join(folder, "jobs.db")
	for round := range 2 { // the second time the file is there already
		b, err := logbook.OpenThrough(path, t.Name())
		require.NoError(t, err)
		_, err = b.Append(t.Context(), []entry.Entry{level(round, lot)})
		require.NoError(t, err)
		w.all()
		require.NoError(t, b.Backup(t.Context(), filepath.Join(folder, []string{"one.db", "two.db"}[round])))
		w.all()
		require.NoError(t, b.Close())
		w.all()
	}
	for _, name := range []string{"jobs.db", "jobs.db-journal", "jobs.db-wal", "jobs.db-shm", "jobs.db-lock", "one.db", "two.db"} {
		assert.True(t, seen[name], "%s was not looked at", name)
	}
	// One that was copied by hand is narrowed, by a reader as well.
	for _, open := range []func(string) (*logbook.Store, error){logbook.Open, logbook.OpenToRead} {
		require.NoError(t, os.Chmod(path, 0o644))
		b, err := open(path)
		require.NoError(t, err)
		_, _, err = b.Since(t.Context(), lot, 0, 1)
		require.NoError(t, err)
		w.all()
		require.NoError(t, b.Close())
	}
}

// A second process is refused while the first is receiving a file, and the
// file arrives whole; once the first has died, it gets in.
func TestSecondProcess(t *testing.T) {
	path := filepath.Join(t.TempDir(), "jobs.db")
	first, err := logbook.Open(path)
	require.NoError(t, err)
	arriving := make(chan struct{})
	done := make(chan error, 1)
	data := strings.Repeat("photo", 200_000)
	go func() {
		done <- first.PutFile(t.Context(), sumOf(data), &held{strings.NewReader(data), 600 << 10, arriving})
	}()
	<-arriving
	_, pieces := stored(t, first)
	require.NotZero(t, pieces)

	second := exec.Command(os.Args[0])
	second.Env = append(os.Environ(), childFile+"="+path, childRound+"=0")
	began := time.Now()
	out, err := second.CombinedOutput()
	require.Error(t, err)
	assert.Contains(t, string(out), "in use by another asfound")
	assert.Less(t, time.Since(began), time.Minute)
	_, after := stored(t, first)
	assert.Equal(t, pieces, after, "what the first is receiving is left alone")

	reader, err := logbook.OpenToRead(path)
	require.NoError(t, err)
	assert.ErrorIs(t, reader.PutFile(t.Context(), abc, strings.NewReader("abc")), logbook.ErrReading)
	require.NoError(t, reader.Close())

	arriving <- struct{}{}
	require.NoError(t, <-done)
	require.NoError(t, first.Close())
	answered := map[string]bool{}
	for round := 0; len(answered) == 0 && round < 20; round++ { // on a busy machine it is killed before it has sent anything
		run(t, path, round, 50*time.Millisecond, answered)
	}
	assert.NotEmpty(t, answered)
}

// held is a reader that waits after so many bytes.
type held struct {
	r     *strings.Reader
	after int
	turn  chan struct{}
}

func (h *held) Read(p []byte) (int, error) {
	if h.after <= 0 && h.turn != nil {
		h.turn <- struct{}{}
		<-h.turn
		h.turn = nil
	}
	n, err := h.r.Read(p)
	h.after -= n
	return n, err
}
