package logbook_test

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/ncruces/go-sqlite3"
	"github.com/ncruces/go-sqlite3/vfs"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// frail is a VFS that knows what the disk would contain if the power failed:
// what was synced, and any part of what was not. (What SQLite assumes of a
// disk: https://www.sqlite.org/atomiccommit.html, section 2.)
type frail struct {
	vfs.VFSFilename
	lies bool // reports a sync that it did not do

	mu    sync.Mutex
	full  bool // is full
	disks map[string]*disk
}

// disk is the state of one file.
type disk struct {
	synced []byte
	since  []change
	syncs  int
}

// change is a write, or where data is nil a truncation.
type change struct {
	at   int64
	data []byte
}

func (c change) on(file []byte) []byte {
	end := int(c.at) + len(c.data)
	if n := end - len(file); n > 0 {
		file = append(file, make([]byte, n)...)
	}
	if c.data == nil {
		return file[:end]
	}
	copy(file[c.at:], c.data)
	return file
}

func (f *frail) OpenFilename(name *vfs.Filename, flags vfs.OpenFlag) (vfs.File, vfs.OpenFlag, error) {
	file, out, err := f.VFSFilename.OpenFilename(name, flags)
	if err != nil || flags&(vfs.OPEN_MAIN_DB|vfs.OPEN_WAL) == 0 {
		return file, out, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	d := f.disks[name.String()]
	if d == nil {
		d = &disk{}
		f.disks[name.String()] = d
	}
	return &frailFile{file, f, d}, out, nil
}

// frailFile is an open file of a frail disk.
type frailFile struct {
	vfs.File
	frail *frail
	disk  *disk
}

func (f *frailFile) Unwrap() vfs.File { return f.File }

func (f *frailFile) SharedMemory() vfs.SharedMemory {
	return f.File.(vfs.FileSharedMemory).SharedMemory()
}

func (f *frailFile) WriteAt(p []byte, at int64) (int, error) {
	f.frail.mu.Lock()
	defer f.frail.mu.Unlock()
	if f.frail.full {
		return 0, sqlite3.FULL
	}
	f.disk.since = append(f.disk.since, change{at, slices.Clone(p)})
	return f.File.WriteAt(p, at)
}

func (f *frailFile) Truncate(size int64) error {
	f.frail.mu.Lock()
	defer f.frail.mu.Unlock()
	f.disk.since = append(f.disk.since, change{size, nil})
	return f.File.Truncate(size)
}

func (f *frailFile) Sync(vfs.SyncFlag) error {
	f.frail.mu.Lock()
	defer f.frail.mu.Unlock()
	f.disk.syncs++
	if !f.frail.lies {
		for _, c := range f.disk.since {
			f.disk.synced = c.on(f.disk.synced)
		}
		f.disk.since = nil
	}
	return nil
}

// cut writes to a folder what the disk would contain if the power failed now.
func (f *frail) cut(t *testing.T, folder string, dice *rand.Rand) (path string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for name, d := range f.disks {
		file := slices.Clone(d.synced)
		part := dice.Float64() // a disk writes in an order of its own
		for _, c := range d.since {
			if dice.Float64() < part {
				file = c.on(file)
			}
		}
		copied := filepath.Join(folder, filepath.Base(name))
		require.NoError(t, os.WriteFile(copied, file, 0o600))
		if !strings.HasSuffix(name, "-wal") {
			path = copied
		}
	}
	return path
}

// newFrail opens a logbook on a frail disk.
func newFrail(t *testing.T, f *frail) *logbook.Store {
	f.VFSFilename, f.disks = vfs.Find("").(vfs.VFSFilename), map[string]*disk{}
	vfs.Register(t.Name(), f)
	t.Cleanup(func() { vfs.Unregister(t.Name()) })
	b, err := logbook.OpenThrough(filepath.Join(t.TempDir(), "frail.db"), t.Name())
	require.NoError(t, err)
	return b
}

// cuts has phones send, cuts the power so many times, and returns how many
// acknowledged entries were lost in all, and how many times the file could not
// be read at all.
func cuts(t *testing.T, lies bool, times int) (lost, broken int) {
	f := &frail{lies: lies}
	b := newFrail(t, f)
	defer func() { require.NoError(t, b.Close()) }()
	ctx, stop := context.WithCancel(t.Context())
	var mu sync.Mutex
	var answered []string
	var pause sync.RWMutex // while the disk is being checked, to make time for more cuts
	var wg sync.WaitGroup
	note := strings.Repeat("x", 2000) // so that the write-ahead log fills and is moved into the file many times
	for phone := range 4 {
		wg.Go(func() {
			for n := 0; ctx.Err() == nil; n++ {
				e := level(phone<<20+n, lot)
				e.Body = json.RawMessage(`{"note": "` + note + `"}`)
				pause.RLock()
				accepted, err := b.Append(context.Background(), []entry.Entry{e})
				pause.RUnlock()
				if !assert.NoError(t, err) {
					return
				}
				mu.Lock()
				answered = append(answered, accepted...)
				mu.Unlock()
			}
		})
	}
	defer wg.Wait()
	defer stop()
	dice := rand.New(rand.NewPCG(1, 2))
	until := 0
	for range times {
		for until += 1 + dice.IntN(60); ; {
			mu.Lock()
			n := len(answered)
			mu.Unlock()
			if n >= until {
				break
			}
			time.Sleep(100 * time.Microsecond)
		}
		mu.Lock()
		before := slices.Clone(answered)
		mu.Unlock()
		path := f.cut(t, t.TempDir(), dice)
		pause.Lock()
		held, err := after(t, path)
		pause.Unlock()
		if err != nil {
			broken++
			continue
		}
		for _, id := range before {
			if !held[id] {
				lost++
			}
		}
	}
	mu.Lock()
	defer mu.Unlock()
	f.mu.Lock()
	defer f.mu.Unlock()
	for name, d := range f.disks {
		t.Logf("%s synced %d times", filepath.Base(name), d.syncs)
	}
	t.Logf("%d cuts, %d entries answered: %d lost, %d times nothing could be read", times, len(answered), lost, broken)
	return lost, broken
}

// after returns the ids that a logbook has after a power cut.
func after(t *testing.T, path string) (held map[string]bool, err error) {
	b, err := logbook.Open(path)
	if err != nil {
		return nil, err
	}
	defer b.Close()
	if err := b.Check(t.Context()); err != nil {
		return nil, err
	}
	rows, err := b.DB().Query(`SELECT id FROM entries`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	held = map[string]bool{}
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		held[id] = true
	}
	return held, rows.Err()
}

// Nothing that was acknowledged is lost when the power fails at any moment, and
// the file is sound, whatever part of the unsynced writes the disk had done.
func TestSyncedBeforeAnswered(t *testing.T) {
	times := long.Size(t, 10, 40)
	lost, broken := cuts(t, false, times)
	assert.Zero(t, lost)
	assert.Zero(t, broken)
}

// The same with a disk that falsely reports a sync: this shows that the test
// above can fail.
func TestLyingDiskIsFoundOut(t *testing.T) {
	lost, broken := cuts(t, true, 10)
	assert.NotZero(t, lost+broken)
}

// While the disk is full nothing is acknowledged, what was written before can
// be read, and once there is room it goes on.
func TestFullDisk(t *testing.T) {
	f := &frail{}
	b := newFrail(t, f)
	defer b.Close()
	_, err := b.Append(t.Context(), []entry.Entry{level(1, lot)})
	require.NoError(t, err)
	set := func(full bool) {
		f.mu.Lock()
		defer f.mu.Unlock()
		f.full = full
	}
	set(true)
	var wg sync.WaitGroup
	for n := 2; n < 20; n++ {
		wg.Go(func() {
			accepted, err := b.Append(context.Background(), []entry.Entry{level(n, lot)})
			assert.ErrorIs(t, err, sqlite3.FULL)
			assert.Empty(t, accepted)
		})
	}
	wg.Wait()
	assert.Len(t, all(t, b, lot), 1)
	set(false)
	for n := 2; n < 20; n++ {
		_, err := b.Append(t.Context(), []entry.Entry{level(n, lot)})
		require.NoError(t, err)
	}
	assert.Len(t, all(t, b, lot), 19)
	assert.NoError(t, b.Check(t.Context()))
}
